"""One meter or gauge on its wire: who it is, whether it is set as the profile wants, and its next reading.

A meter that speaks SCPI is asked as IEEE Std 488.2-1992 and SCPI 1999 have it (from memory): ``*IDN?``,
``READ?`` or another query of the profile, ``SYSTem:ERRor?`` after what was sent. It is never reset and
nothing is set but what the profile says.
"""

from __future__ import annotations

import re
from contextlib import suppress
from dataclasses import dataclass, field

from barwise.errors import BarwiseError
from barwise.files.text import plain, shown
from barwise.measure.spoken import Spoken
from barwise.talk.profile import MeterProfile
from barwise.talk.wires import LIBRARY, SilentError, Wire, open_wire

_MOST_ERRORS = 30
"""A queue that is longer never ends."""
_FIRST_WORD = re.compile(r"[^\s,]*")


class WrongMeterError(BarwiseError):
    """It is another meter than the profile's, or set to measure something else."""


@dataclass
class Meter:
    """A meter that is open.

    Attributes
    ----------
    profile : MeterProfile
    wire : Wire
    identity : str
        What it says it is; empty for a gauge.
    range_moved : bool
        Whether it changed its range since the reading before: then it has to settle anew.
    """

    profile: MeterProfile
    wire: Wire
    identity: str = ""
    range_moved: bool = False
    _range: str = field(default="", repr=False)

    def begin(self) -> None:
        """Ask who it is, and set it up.

        Raises
        ------
        WrongMeterError
            If it is not the profile's meter, or refuses what the profile sends.
        SilentError, UnpluggedError
            If it does not answer, or is not there.
        """
        if self.profile.speaks != "scpi":
            return
        scpi = self.profile.scpi
        self.identity = plain(self._ask("*IDN?"))
        if scpi.identity is not None and scpi.identity.casefold() not in self.identity.casefold():
            raise WrongMeterError(
                f"meter: found {shown(self.identity)}, expected {shown(scpi.identity)} in it"
            )
        self._errors()
        for command in (("*RST",) if scpi.reset else ()) + scpi.set_up:
            self.wire.write(command)
            refused = self._errors()
            if refused:
                raise WrongMeterError(
                    f"meter: found it refuses {shown(command)} ({refused}): mend the profile"
                )

    def reading(self) -> Spoken:
        """The next reading.

        Raises
        ------
        WrongMeterError
            If it is set to measure something else.
        InputError
            If what it says is no reading.
        SilentError, UnpluggedError
            If it does not answer in time, or is not there.
        """
        if self.profile.speaks == "scpi":
            return self._scpi_reading()
        if self.profile.request is not None:
            self.wire.write(self.profile.request)
        return self.profile.read(self.wire.line())

    def close(self) -> None:
        """Let go of it."""
        self.wire.close()

    def _scpi_reading(self) -> Spoken:
        scpi = self.profile.scpi
        if scpi.function is not None:
            self._check_function(self._ask(scpi.function), scpi.function_is)
        try:
            spoken = self.profile.read(self._ask(scpi.read))
        except SilentError:
            with suppress(SilentError):
                refused = self._errors()
                if refused:
                    raise WrongMeterError(f"meter: found it refuses {shown(scpi.read)} ({refused})") from None
            raise
        if scpi.range is not None:
            now = self._ask(scpi.range)
            self.range_moved, self._range = bool(self._range) and now != self._range, now
        return spoken

    def _check_function(self, answer: str, allowed: tuple[str, ...]) -> None:
        if _function(answer) not in map(_function, allowed):
            known = " or ".join(allowed)
            found = plain(answer.strip("\"' "))
            raise WrongMeterError(f"meter: found it set to {found}, expected {known}: set it back")

    def _ask(self, query: str) -> str:
        self.wire.write(query)
        return self.wire.line().strip()

    def _errors(self) -> str:
        """What stood first in its queue of errors, which is emptied; empty where there was none."""
        if not self.profile.scpi.errors:
            return ""
        first = ""
        for _ in range(_MOST_ERRORS):
            said = self._ask("SYST:ERR?")
            if re.match(r"[+-]?0\b", said):
                break
            first = first or plain(said)
        return first


def open_meter(profile: MeterProfile, address: str = "", library: str = LIBRARY) -> Meter:
    """A meter on its wire, known and set up. Raises as `open_wire` and `Meter.begin`."""
    where = address or profile.address
    if not where:
        raise BarwiseError("address: found none, expected one in the profile, or --address")
    meter = Meter(profile, open_wire(where, profile.port, library))
    try:
        meter.begin()
    except BaseException:
        meter.close()
        raise
    return meter


def _function(written: str) -> str:
    """The name alone of ``"FRES"``, ``FRES +1.0E+02,+1.0E-04`` and ``"SENS:FRES"``."""
    first = _FIRST_WORD.match(written.strip().strip("\"'").upper())
    return first[0].strip("\"'").removeprefix("SENS:") if first else ""
