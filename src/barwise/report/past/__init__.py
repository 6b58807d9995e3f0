"""The shop's history in words and pictures."""
