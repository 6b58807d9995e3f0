"""The run test and the start in the vehicle, in words and pictures."""
