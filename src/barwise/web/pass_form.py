"""What was found after a pass, as it stands in the form; kept as typed until it is on the disk."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Any
from uuid import UUID, uuid4

from django.http import QueryDict

from barwise.errors import InputError
from barwise.record.cutting import FoundAfterPass, bars_named
from barwise.record.models import Instrument

CLEAN, SOME, NOT_SEEN = "clean", "some", "not-seen"


@dataclass(frozen=True)
class PassForm:
    """A pass as typed.

    Attributes
    ----------
    left : str
        ``clean``, ``some`` or ``not-seen``: what was seen of the old metal.
    bars : frozenset of int
        Bars tapped.
    named : str
        Bars typed, such as ``14, 40-48``; both count.
    """

    key: str = field(default_factory=lambda: str(uuid4()))
    diameter: str = ""
    unit: str = ""
    instrument: str = ""
    left: str = ""
    bars: frozenset[int] = frozenset()
    named: str = ""
    confirmed: bool = False

    def found(self, count: int) -> FoundAfterPass:
        """As the record takes it, on a commutator of `count` bars. Raises InputError with the field."""
        if self.left not in (CLEAN, SOME, NOT_SEEN):
            raise InputError("left", "nothing", "whether old metal is still seen")
        untouched = set(self.bars) | set(bars_named(self.named, count))
        if self.left != SOME and untouched:
            said = "none left" if self.left == CLEAN else "not looked at"
            raise InputError("untouched", f"{len(untouched)} bars named, and {said}", "one of the two")
        if self.left == SOME and not untouched:
            raise InputError("untouched", "no bar", "the bars that still show old metal, tapped or typed")
        if untouched and not 1 <= min(untouched) <= max(untouched) <= count:
            raise InputError("untouched", f"bar {max(untouched)}", f"bars from 1 to {count}")
        return FoundAfterPass(
            key=self._uuid(),
            diameter=self.diameter,
            unit=self.unit,
            looked=self.left != NOT_SEEN,
            untouched=tuple(sorted(untouched)),
            instrument=self._tool(),
            confirmed=self.confirmed,
        )

    def again(self) -> dict[str, Any]:
        """Its fields, to be sent again with an answer to a question."""
        kept = ("key", "diameter", "unit", "instrument", "left", "named")
        return {name: getattr(self, name) for name in kept}

    def under_another_key(self) -> PassForm:
        """The same to be sent as a pass of its own."""
        return replace(self, key=str(uuid4()))

    def _uuid(self) -> UUID:
        try:
            return UUID(self.key)
        except ValueError:
            raise InputError("key", "a damaged form", "one as it was sent: reload the page") from None

    def _tool(self) -> Instrument | None:
        if not self.instrument:
            return None
        number = int(self.instrument) if self.instrument.isdecimal() and len(self.instrument) < 12 else 0
        tool = Instrument.objects.filter(pk=number, retired=False, quantity="length").first()
        if tool is None:
            raise InputError("instrument", "one not in use for this", "an instrument for length, or none")
        return tool


def sent(posted: QueryDict) -> PassForm:
    """What the form sent; `meant` is the answer to a question and takes the place of the diameter."""
    typed = {name: str(posted.get(name, "")) for name in ("diameter", "unit", "instrument", "left", "named")}
    typed["diameter"] = str(posted.get("meant", "")) or typed["diameter"]
    bars = frozenset(int(one) for one in posted.getlist("bar") if one.isdecimal() and len(one) < 6)
    key = str(posted.get("key", "")) or str(uuid4())
    return PassForm(key=key, bars=bars, confirmed=bool(posted.get("confirmed")), **typed)
