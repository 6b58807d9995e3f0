"""What is printed: the rebuild record, bench sheet and label, set into PDF."""
