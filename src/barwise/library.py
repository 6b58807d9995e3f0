"""What `import barwise` offers: its names, in one place. What is not named here may move.

The page docs/library.md shows each at work.
"""

from barwise.errors import (
    BarwiseError,
    InputError,
    MeasurementError,
    WindingError,
)
from barwise.files.commutator_file import load_commutator
from barwise.files.cranking_file import load_cranking
from barwise.files.fields_file import load_fields
from barwise.files.profile_file import load_profile
from barwise.files.readings_file import load_readings
from barwise.files.run_file import load_run
from barwise.files.winding_file import load_winding
from barwise.inspect.armature import diagnose
from barwise.inspect.commutator.plan import plan_cut
from barwise.inspect.cranking import crank
from barwise.inspect.fields import assess as assess_fields
from barwise.inspect.run_test import assess as assess_run
from barwise.machine.faults import (
    BarBridge,
    GroundedCoil,
    HighResistanceJoint,
    OpenCoil,
    ReversedCoil,
    ShortedCoil,
    TurnShort,
)
from barwise.machine.feed import Feed
from barwise.machine.motor import Motor
from barwise.machine.network import Network
from barwise.machine.winding import Winding
from barwise.measure.decision import Limit, decide, what_settles
from barwise.measure.gauge_study import gauge_study
from barwise.measure.instrument import Instrument, measured
from barwise.measure.length import parse_length
from barwise.measure.quantity import parse_quantity
from barwise.measure.readings import Reading
from barwise.measure.wear import WearPoint, WearScale
from barwise.report.armature.picture import armature_picture
from barwise.report.armature.text import armature_text
from barwise.report.commutator.picture import commutator_picture
from barwise.report.commutator.text import commutator_text
from barwise.report.run.picture import curve_picture
from barwise.report.run.text import run_text

__all__ = [
    "BarBridge",
    "BarwiseError",
    "Feed",
    "GroundedCoil",
    "HighResistanceJoint",
    "InputError",
    "Instrument",
    "Limit",
    "MeasurementError",
    "Motor",
    "Network",
    "OpenCoil",
    "Reading",
    "ReversedCoil",
    "ShortedCoil",
    "TurnShort",
    "WearPoint",
    "WearScale",
    "Winding",
    "WindingError",
    "armature_picture",
    "armature_text",
    "assess_fields",
    "assess_run",
    "commutator_picture",
    "commutator_text",
    "crank",
    "curve_picture",
    "decide",
    "diagnose",
    "gauge_study",
    "load_commutator",
    "load_cranking",
    "load_fields",
    "load_profile",
    "load_readings",
    "load_run",
    "load_winding",
    "measured",
    "parse_length",
    "parse_quantity",
    "plan_cut",
    "run_text",
    "what_settles",
]
