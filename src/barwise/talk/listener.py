"""A meter listened to, on the computer that it is plugged into, for the page of the bench that asks for it.

The meter has a thread of its own, so that one that is slow, silent or pulled out holds up nothing: not the
bench, which hears at once what is wrong, and no other meter.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any
from uuid import uuid4

from barwise.errors import BarwiseError, InputError
from barwise.measure.spoken import LONGEST_LINE, Spoken
from barwise.talk.bench import AwayError, Bench
from barwise.talk.meter import Meter, WrongMeterError, open_meter
from barwise.talk.profile import MeterProfile
from barwise.talk.taking import Taking
from barwise.talk.wires import LIBRARY, SilentError, UnpluggedError

EVERY_S = 0.25
"""How often the bench is asked [s]; at once when something changes."""
AGAIN_AFTER_S = 1.0
"""How soon what is unplugged is looked for again [s]."""
FRESH_S = 4.5
"""A reading that the bench did not hear of for so long is dropped [s]: the hand is elsewhere by then."""
SHORTEST_S = 0.02
_LATE = "It did not settle: press again."
_OF_TAKING = ("ready", "settling", "lift", "off scale")
_SILENCES = 2
"""So many answers that did not come make a meter silent, and its wire is opened anew."""


@dataclass(frozen=True)
class _Taken:
    """A reading to hand over."""

    key: str
    spoken: Spoken
    at_s: float


class Listener:
    """One meter, heard for the bench until it is stopped.

    Parameters
    ----------
    profile : MeterProfile
    bench : Bench
    tag : str
        Of the shop's instrument.
    rule : str
        When it takes a reading, in words for the bench.
    say : callable
        Prints a line for whoever started it.
    address, library : str
        As of `open_meter`.
    """

    def __init__(
        self,
        profile: MeterProfile,
        bench: Bench,
        tag: str,
        rule: str,
        say: Callable[[str], None],
        address: str = "",
        library: str = LIBRARY,
    ) -> None:
        self._profile, self._bench, self._tag, self._rule, self._say = profile, bench, tag, rule, say
        self._address, self._library = address, library
        self._taking = Taking(profile)
        self._lock, self._news, self._ended = threading.Lock(), threading.Event(), threading.Event()
        self._state, self._words = "silent", ""
        self._taken: _Taken | None = None
        self._page: str | None = None
        self._how, self._presses = "steady", 0
        self._printed = ""

    def run(self) -> None:
        """Listen until `stop` or an interrupt.

        Raises
        ------
        BarwiseError
            If the bench refuses this meter, such as for a tag that no instrument has.
        """
        threading.Thread(target=self._hear, name=f"meter {self._tag}", daemon=True).start()
        try:
            while not self._ended.is_set():
                self._exchange()
                self._news.wait(EVERY_S)
                self._news.clear()
        finally:
            self._ended.set()
            self._last_word()

    def stop(self) -> None:
        """End it."""
        self._ended.set()
        self._news.set()

    # What the bench hears.

    def _exchange(self) -> None:
        with self._lock:
            taken, said = self._taken, self._said(self._state, self._words)
        if taken is not None:
            ago = time.monotonic() - taken.at_s
            if ago > FRESH_S:
                self._forget(taken)
            else:
                said["reading"] = _offer(taken, ago)
        try:
            orders = self._bench.report(said)
        except AwayError as away:
            self._print(str(away))
            return
        except BarwiseError as refused:
            if taken is None or "reading" not in said:
                raise
            self._forget(taken)
            self._print(str(refused))
            return
        if taken is not None and "reading" in said:
            self._forget(taken)
            self._say(f"{self._tag}: {taken.spoken.text} {taken.spoken.unit.name}")
        self._print(f"{self._tag}: {said['state']} {said['words']}".rstrip())
        self._follow(orders)

    def _follow(self, orders: dict[str, Any]) -> None:
        """Do what the bench wants: for which page, how, and whether the pedal was pressed."""
        page, how, presses = orders.get("page"), str(orders.get("how")), int(orders.get("presses", 0))
        with self._lock:
            if (page, how) != (self._page, self._how):
                self._taking.begin("pedal" if how == "pedal" else "steady")
                self._page, self._how, self._taken = page, how, None
                self._state = self._taking.state if self._state in _OF_TAKING else self._state
                self._news.set()
            elif presses != self._presses and how == "pedal":
                self._taking.press(time.monotonic())
            self._presses = presses

    def _said(self, state: str, words: str) -> dict[str, Any]:
        about = {"tag": self._tag, "quantity": self._profile.quantity, "rule": self._rule}
        return {**about, "state": state, "words": words, "page": self._page}

    def _last_word(self) -> None:
        try:
            self._bench.report(self._said("stopped", ""))
        except BarwiseError:
            return

    def _forget(self, taken: _Taken) -> None:
        with self._lock:
            if self._taken is taken:
                self._taken = None

    def _print(self, line: str) -> None:
        if line != self._printed:
            self._printed = line
            self._say(line)

    # What the meter says; in its own thread.

    def _hear(self) -> None:
        while not self._ended.is_set():
            try:
                meter = open_meter(self._profile, self._address, self._library)
            except UnpluggedError:
                self._is("unplugged")
            except SilentError:
                self._is("silent")
            except BarwiseError as error:
                self._is("wrong", str(error))
            else:
                self._say(f"{self._tag}: {meter.identity or self._profile.title}")
                try:
                    self._hear_out(meter)
                finally:
                    meter.close()
                continue
            self._ended.wait(AGAIN_AFTER_S)

    def _hear_out(self, meter: Meter) -> None:
        """Read until the wire is gone."""
        with self._lock:
            self._taking.begin(self._taking.how)
            state = self._taking.state
        self._is(state)
        silences = 0
        while not self._ended.is_set():
            begun = time.monotonic()
            try:
                self._heard(meter.reading(), meter.range_moved)
                silences = 0
            except UnpluggedError:
                return self._is("unplugged")
            except SilentError:
                silences += meter.profile.asks
                if meter.profile.asks:
                    self._is("silent")
                else:
                    self._is(self._taking.state)
                if silences >= _SILENCES:
                    return None
            except (WrongMeterError, InputError) as error:
                self._is("wrong", str(error))
                self._ended.wait(EVERY_S)
            self._ended.wait(max(0.0, SHORTEST_S - (time.monotonic() - begun)))
        return None

    def _heard(self, spoken: Spoken, range_moved: bool) -> None:
        now = time.monotonic()
        with self._lock:
            taken = self._taking.hear(spoken, now, range_moved=range_moved)
            state = self._taking.state
            again = self._words == _LATE and state != "settling"
            words = _LATE if self._taking.is_late(now) or again else ""
            if taken is not None and self._page is not None:
                self._taken = _Taken(str(uuid4()), taken, now)
                self._news.set()
        self._is(state, words)

    def _is(self, state: str, words: str = "") -> None:
        words = "".join(sign if sign.isprintable() else " " for sign in words)[:280]
        with self._lock:
            changed = (state, words) != (self._state, self._words)
            self._state, self._words = state, words
        if changed:
            self._news.set()


def _offer(taken: _Taken, ago: float) -> dict[str, Any]:
    line = taken.spoken.line
    said = line if line.isprintable() else line.encode("unicode_escape").decode()
    offered = {"key": taken.key, "text": taken.spoken.text, "unit": taken.spoken.unit.name}
    return {**offered, "said": said[:LONGEST_LINE], "seconds_ago": ago}
