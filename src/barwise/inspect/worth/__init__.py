"""Put it back or not: what a rebuild costs against another unit, what must be done, and what life it buys."""

from barwise.inspect.worth.needs import Needed, PartStanding, needed
from barwise.inspect.worth.quote import Alternative, Price, Quote, Service, WearSoFar, WorkItem
from barwise.inspect.worth.weighing import Added, Choice, Life, Weighed, weigh

__all__ = [
    "Added",
    "Alternative",
    "Choice",
    "Life",
    "Needed",
    "PartStanding",
    "Price",
    "Quote",
    "Service",
    "WearSoFar",
    "Weighed",
    "WorkItem",
    "needed",
    "weigh",
]
