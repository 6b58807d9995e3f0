"""Brush gear: how worn the brushes are, how long they last, what the springs press, how holders stand."""
