"""Will it crank: speed and current in the vehicle, where the volts go, and whose fault a slow crank is."""

from barwise.inspect.cranking.assessment import CrankAnswer, crank
from barwise.inspect.cranking.blame import Blame, blame
from barwise.inspect.cranking.drops import DropFit, DropReadings, fit_drops
from barwise.inspect.cranking.prediction import Interval, LegDrop, Outlook, outlook
from barwise.inspect.cranking.vehicle import Vehicle, WayLeg

__all__ = [
    "Blame",
    "CrankAnswer",
    "DropFit",
    "DropReadings",
    "Interval",
    "LegDrop",
    "Outlook",
    "Vehicle",
    "WayLeg",
    "blame",
    "crank",
    "fit_drops",
    "outlook",
]
