"""The bench file for people who rebuild starter motors."""

__version__ = "0.1.0"
