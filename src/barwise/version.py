"""Which barwise this is: it stands with every result, so that one can be worked out again."""

__version__ = "0.1.0"
