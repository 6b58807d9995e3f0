"""Every other part in words, as JSON and drawn: the findings of its checks."""
