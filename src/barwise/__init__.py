"""The bench file for people who rebuild starter motors.

As a library it offers the names of `barwise.library`. They are loaded when the first is asked for, so that
the command line need not wait for them.

Examples
--------
>>> import barwise
>>> lap = barwise.Winding("lap", poles=4, bars=16)
>>> shorted = barwise.Network(lap, (barwise.ShortedCoil(6),), coil_resistance_ohm=1.0)
>>> round(float(shorted.resistance(1, 2)), 6)
0.933333
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

from barwise.version import __version__ as __version__

if TYPE_CHECKING:
    from barwise.library import *  # noqa: F403


def __getattr__(name: str) -> Any:
    if not name.startswith("_") and name in (library := import_module("barwise.library")).__all__:
        return getattr(library, name)
    raise AttributeError(f"module 'barwise' has no attribute {name!r}")


def __dir__() -> list[str]:
    return ["__version__", *import_module("barwise.library").__all__]
