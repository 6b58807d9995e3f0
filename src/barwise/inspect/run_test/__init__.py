"""The run test: readings of the run bench as one motor, its curve, and what is wrong with it."""

from barwise.inspect.run_test.assessment import Curve, Interval, RankedCause, RunTest, assess
from barwise.inspect.run_test.nominal import motor_from_points
from barwise.inspect.run_test.points import Point, Sheet, figure, from_limit
from barwise.inspect.run_test.possible import PossibleMotors, WeightedMotor

__all__ = [
    "Curve",
    "Interval",
    "Point",
    "PossibleMotors",
    "RankedCause",
    "RunTest",
    "Sheet",
    "WeightedMotor",
    "assess",
    "figure",
    "from_limit",
    "motor_from_points",
]
