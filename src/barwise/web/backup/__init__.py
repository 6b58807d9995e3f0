"""Backups of a whole shop: taken while it is in use, thinned out with time, checked, and put back."""
