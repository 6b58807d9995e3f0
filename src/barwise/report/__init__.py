"""Words and pictures for people."""
