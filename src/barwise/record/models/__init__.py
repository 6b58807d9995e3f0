"""The tables of the record; docs/record.md says why they are as they are."""

from barwise.record.models.approval import Approval
from barwise.record.models.change import Change
from barwise.record.models.job import CheckStanding, Job, Part, Photo, SheetVersion, Unit
from barwise.record.models.meter import Meter
from barwise.record.models.reading import Reading
from barwise.record.models.result import Disposition, Result
from barwise.record.models.seal import BroughtSeal, Seal, ShopKey
from barwise.record.models.shop import Customer, Instrument, Person, Shop

__all__ = [
    "Approval",
    "BroughtSeal",
    "Change",
    "CheckStanding",
    "Customer",
    "Disposition",
    "Instrument",
    "Job",
    "Meter",
    "Part",
    "Person",
    "Photo",
    "Reading",
    "Result",
    "Seal",
    "SheetVersion",
    "Shop",
    "ShopKey",
    "Unit",
]
