"""The cut plan in words and pictures."""
