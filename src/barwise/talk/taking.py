"""When a reading of the meter is one to take: by itself when it is steady, or when the pedal is pressed.

By itself, the rule is `measure.steadiness`. After the pedal the same holds but for the lifting: the first
readings that agree for long enough are it. Off the scale is never taken, and a meter that changes its range
begins to settle anew.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Literal

from barwise.measure.spoken import Spoken
from barwise.measure.steadiness import Sample, Touch, heard
from barwise.talk.profile import MeterProfile

How = Literal["steady", "pedal"]
State = Literal["ready", "settling", "lift", "off scale"]
PEDAL_WAIT_S = 5.0
"""So long after the pedal a reading may take to settle [s]; a slow meter as long as five of its timeouts."""


@dataclass
class Taking:
    """What was heard of one meter, and what is to be taken next.

    Attributes
    ----------
    profile : MeterProfile
    how : {"steady", "pedal"}
    state : str
        What the hand should know: touch, hold still, lift, or off the scale.
    """

    profile: MeterProfile
    how: How = "steady"
    state: State = "lift"
    _touch: Touch = field(default_factory=Touch, repr=False)
    _pressed_at_s: float | None = field(default=None, repr=False)

    def begin(self, how: How) -> None:
        """Begin anew, as when another page listens."""
        self.how, self._touch, self._pressed_at_s = how, Touch(), None
        self.state = "ready" if how == "pedal" or self.profile.settle.each else "lift"

    def press(self, at_s: float) -> None:
        """The pedal: the next reading that settles is taken."""
        self._touch, self._pressed_at_s, self.state = Touch(lifted=True), at_s, "settling"

    def hear(self, spoken: Spoken, at_s: float, *, range_moved: bool = False) -> Spoken | None:
        """The reading to take where this one makes it so."""
        if range_moved:
            self._touch = replace(self._touch, agreeing=())
        if self.profile.settle.each and self.how == "steady":
            self.state = "off scale" if spoken.number is None else "ready"
            return None if spoken.number is None else spoken
        if self.how == "pedal" and self._pressed_at_s is None:
            self.state = "off scale" if spoken.number is None else "ready"
            return None
        return self._settled(spoken, at_s)

    def is_late(self, at_s: float) -> bool:
        """Whether the pedal was pressed and nothing settled; it must be pressed again then."""
        wait_s = max(PEDAL_WAIT_S, 5 * self.profile.port.timeout_s)
        if self._pressed_at_s is None or at_s - self._pressed_at_s < wait_s:
            return False
        self._pressed_at_s = None
        return True

    def _settled(self, spoken: Spoken, at_s: float) -> Spoken | None:
        sample = Sample(at_s, spoken.value_si, spoken.line)
        self._touch, settled = heard(self._touch, sample, self.profile.rule)
        if not self._touch.lifted:
            self.state = "lift"
        elif self._touch.agreeing:
            self.state = "settling"
        else:
            self.state = "off scale" if self.how == "pedal" else "ready"
        if settled is None:
            return None
        if self.how == "pedal":
            self._pressed_at_s, self.state = None, "ready"
        return self.profile.read(settled.text)
