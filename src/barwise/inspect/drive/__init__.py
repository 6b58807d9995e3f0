"""The drive: pinion teeth, clutch, spline, springs, travel and lever."""
