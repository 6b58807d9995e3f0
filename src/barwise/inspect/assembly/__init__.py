"""Putting it together: shims, pinion and ring gear, bolts."""
