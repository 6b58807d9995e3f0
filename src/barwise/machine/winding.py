"""Which bars and slots each coil of an armature joins.

The rules are those of the textbooks on direct-current machines: a lap coil ends `plex` bars away, a
wave coil nearly two pole pitches away, so that going once round the commutator lands `plex` bars
beside the start: y_c = (C ± m) / p. Source of the wave rule: R. Prasad, Fundamentals of Electrical
Engineering, 3rd edition, 2014, chapter 8. Coil ends counted here by the convention of barwise:
bars, coils and slots from 1, in the direction of rotation seen from the commutator end; coil k
starts at bar k.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal, get_args

from barwise.errors import WindingError

Kind = Literal["lap", "wave"]
Progression = Literal["progressive", "retrogressive"]

LEAST_BARS = 3
COLDEST_C, HOTTEST_C = -60.0, 300.0
"""Outside of these a temperature is a slip of the pen: common practice, no source."""


@dataclass(frozen=True)
class Winding:
    """An armature winding that can be wound; anything else raises when it is made.

    Parameters
    ----------
    kind : {"lap", "wave"}
    poles : int
        Even, at least 2.
    bars : int
        Commutator bars, as many as live coils; at least 3.
    turns_per_coil : int
    progression : {"progressive", "retrogressive"}
        Whether the winding moves on in the direction of counting, or against it.
    slots : int, optional
        Slots of the core; coils lie in two layers.
    plex : int
        1 simplex, 2 duplex, 3 triplex.
    coil_resistance_ohm : float, optional
        One coil at `temperature_c` [ohm].
    temperature_c : float
        Temperature of the winding [degC].
    equalizers : int
        Equalizer rings; `bars / pole_pairs` of them join every bar to its equals.
    coil_pitch_slots : int, optional
        Slots from the top to the bottom side of a coil; without it the whole number of slots
        nearest to the pole pitch, the shorter of two as near.

    Raises
    ------
    WindingError
        With the reason and the nearest values that work.
    """

    kind: Kind
    poles: int
    bars: int
    turns_per_coil: int = 1
    progression: Progression = "progressive"
    slots: int | None = None
    plex: int = 1
    coil_resistance_ohm: float | None = None
    temperature_c: float = 20.0
    equalizers: int = 0
    coil_pitch_slots: int | None = None

    def __post_init__(self) -> None:
        _check_words(self)
        _check_counts(self)
        _check_step(self)
        _check_slots(self)
        _check_equalizers(self)
        _check_copper(self)

    @property
    def pole_pairs(self) -> int:
        """Half the poles."""
        return self.poles // 2

    @property
    def step(self) -> int:
        """Commutator pitch: bars from start to end of a coil, signed and not wrapped."""
        sign = 1 if self.progression == "progressive" else -1
        if self.kind == "lap":
            return sign * self.plex
        return (self.bars + sign * self.plex) // self.pole_pairs

    @property
    def closures(self) -> int:
        """Separate closed rings of coils: 1 singly re-entrant, 2 doubly, ..."""
        return math.gcd(self.step, self.bars)

    @property
    def parallel_paths(self) -> int:
        """Paths between the brushes: m P for lap, 2 m for wave."""
        return self.plex * (self.poles if self.kind == "lap" else 2)

    @property
    def coils_per_slot(self) -> int | None:
        """Coil sides beside each other in one layer of a slot; None when slots are unknown."""
        return None if self.slots is None else -(-self.bars // self.slots)

    @property
    def dead_coils(self) -> int:
        """Coils laid in only to fill the slots, on no bar; 0 when the slots are unknown."""
        if self.slots is None or self.coils_per_slot is None:
            return 0
        return self.slots * self.coils_per_slot - self.bars

    @property
    def slot_pitch(self) -> int | None:
        """Slots from a coil's top side to its bottom side: 7 is what a data sheet calls 1 and 8."""
        if self.slots is None or self.coil_pitch_slots is not None:
            return self.coil_pitch_slots
        return usual_pitch(self.slots, self.poles)

    def coil_bars(self, coil: int) -> tuple[int, int]:
        """Bars where `coil` starts and ends."""
        self._check_number("coil", coil)
        return coil, self._wrap(coil + self.step)

    def coil_slots(self, coil: int) -> tuple[int, ...]:
        """Slots of the top and the bottom side of `coil`, or () when the slots are unknown.

        Slot 1 is the one whose top layer holds coil 1; which slot that is on the bench depends on
        how the leads were brought to the commutator. Dead coils fill the last places.
        """
        self._check_number("coil", coil)
        if self.slots is None or self.coils_per_slot is None or self.slot_pitch is None:
            return ()
        top = (coil - 1) // self.coils_per_slot
        return top + 1, (top + self.slot_pitch) % self.slots + 1

    def coils_between(self, bar: int) -> tuple[int, ...]:
        """Coils in series on the short way from `bar` to the next bar, in that order.

        One for a simplex lap winding, as many as pole pairs for a simplex wave. Empty where the two
        bars belong to separate closed rings, so that no coil lies between them.
        """
        self._check_number("bar", bar)
        if self.closures != 1:
            return ()
        forward = pow(self.step, -1, self.bars)
        if forward <= self.bars - forward:
            return tuple(self._wrap(bar + n * self.step) for n in range(forward))
        backward = range(self.bars - forward)
        return tuple(self._wrap(bar + 1 + n * self.step) for n in reversed(backward))

    def ring(self, closure: int = 0) -> tuple[int, ...]:
        """Coils of one closed ring as current meets them, from coil closure + 1."""
        if not 0 <= closure < self.closures:
            raise WindingError(f"closure {closure}: this winding has {self.closures}, counted from 0")
        return tuple(self._wrap(closure + 1 + n * self.step) for n in range(self.bars // self.closures))

    def _wrap(self, number: int) -> int:
        return (number - 1) % self.bars + 1

    def _check_number(self, name: str, number: int) -> None:
        if not 1 <= number <= self.bars:
            raise WindingError(f"{name} {number}: expected 1 to {self.bars}")


def wave_fits(bars: int, pole_pairs: int, plex: int, progression: Progression) -> bool:
    """Whether (bars ± plex) divides by the pole pairs and every coil ends at another bar."""
    total = bars + (plex if progression == "progressive" else -plex)
    return total % pole_pairs == 0 and (total // pole_pairs) % bars != 0


def slots_fit(bars: int, slots: int, pole_pairs: int) -> bool:
    """Whether the bars fill two layers of the slots, but for the dead coils a wave may need.

    One dead coil is enough to make any wave of up to 8 poles close; more poles may take p // 2.
    """
    dead = slots * -(-bars // slots) - bars
    return slots <= bars and dead <= max(1, pole_pairs // 2)


def usual_pitch(slots: int, poles: int) -> int:
    """Whole slots nearest to the pole pitch, rather short; common practice, no source."""
    return max(1, -((poles - 2 * slots) // (2 * poles)))


def nearest(wanted: int, works: Callable[[int], bool], least: int) -> tuple[int, ...]:
    """The closest number that works on each side of `wanted`, smaller first, itself left out."""
    below = next((n for n in range(wanted - 1, least - 1, -1) if works(n)), None)
    above = next((n for n in range(max(wanted, least - 1) + 1, 2 * wanted + 50) if works(n)), None)
    return tuple(n for n in (below, above) if n is not None)


def _check_words(winding: Winding) -> None:
    for name, words in (("kind", Kind), ("progression", Progression)):
        found = getattr(winding, name)
        if found not in get_args(words):
            raise WindingError(f"{name}: found {found!r}, expected {' or '.join(get_args(words))}")


def _check_counts(winding: Winding) -> None:
    least = {"poles": 2, "bars": LEAST_BARS, "turns_per_coil": 1, "plex": 1, "equalizers": 0}
    for name in ("slots", "coil_pitch_slots"):
        if getattr(winding, name) is not None:
            least[name] = 1
    for name, lowest in least.items():
        found = getattr(winding, name)
        if isinstance(found, bool) or not isinstance(found, int) or found < lowest:
            raise WindingError(f"{name}: found {found!r}, expected a whole number from {lowest}")
    if winding.poles % 2:
        raise WindingError(
            f"poles: found {winding.poles}, expected an even number; "
            f"nearest {_listed(nearest(winding.poles, lambda n: n % 2 == 0, 2))}"
        )


def _check_step(winding: Winding) -> None:
    bars, plex = winding.bars, winding.plex
    if plex >= bars:
        raise WindingError(f"plex: found {plex}, expected fewer than the {bars} bars")
    if winding.kind == "lap" or wave_fits(bars, winding.pole_pairs, plex, winding.progression):
        return
    raise WindingError(_why_no_wave(winding))


def _why_no_wave(winding: Winding) -> str:
    bars, pairs, plex = winding.bars, winding.pole_pairs, winding.plex
    asked = winding.progression
    other: Progression = "retrogressive" if asked == "progressive" else "progressive"
    if wave_fits(bars, pairs, plex, other):
        sign = "+" if asked == "progressive" else "-"
        close = nearest(bars, lambda n: wave_fits(n, pairs, plex, asked), LEAST_BARS)
        return (
            f"progression: {asked} wave: (bars {sign} {plex}) must divide by the {pairs} pole "
            f"pairs: {bars} does not, but works {other}; nearest {asked} {_listed(close)}"
        )
    close = nearest(bars, lambda n: wave_fits_either(n, pairs, plex), LEAST_BARS)
    works = f"{close[0]} works, " if close else ""
    return (
        f"bars: wave: (bars ± {plex}) must divide by the {pairs} pole pairs: "
        f"{works}{bars} does not; nearest {_listed(close)}"
    )


def wave_fits_either(bars: int, pole_pairs: int, plex: int) -> bool:
    """Whether a wave of either progression closes."""
    return wave_fits(bars, pole_pairs, plex, "progressive") or wave_fits(
        bars, pole_pairs, plex, "retrogressive"
    )


def _check_slots(winding: Winding) -> None:
    slots, bars = winding.slots, winding.bars
    if slots is None:
        if winding.coil_pitch_slots is not None:
            raise WindingError("coil_pitch_slots: needs slots as well")
        return
    if not slots_fit(bars, slots, winding.pole_pairs):
        close = nearest(slots, lambda n: slots_fit(bars, n, winding.pole_pairs), 1)
        raise WindingError(
            f"slots: {bars} bars do not fill {slots} slots: bars and dead coils (at most "
            f"{max(1, winding.pole_pairs // 2)}) must be slots times coils per slot; "
            f"nearest {_listed(close)} slots"
        )
    if winding.coil_pitch_slots is not None and winding.coil_pitch_slots >= slots:
        raise WindingError(
            f"coil_pitch_slots: found {winding.coil_pitch_slots}, expected 1 to {slots - 1}, "
            f"usually {usual_pitch(slots, winding.poles)}"
        )


def _check_equalizers(winding: Winding) -> None:
    if winding.equalizers == 0:
        return
    bars, pairs = winding.bars, winding.pole_pairs
    if winding.kind == "wave":
        raise WindingError("equalizers: a wave winding has none; expected 0, or kind lap")
    if pairs == 1:
        raise WindingError("equalizers: 2 poles leave no two bars alike to join; expected 0")
    if bars % pairs:
        close = nearest(bars, lambda n: n % pairs == 0, LEAST_BARS)
        raise WindingError(
            f"equalizers: bars must divide by the {pairs} pole pairs: {bars} does not; "
            f"nearest {_listed(close)}"
        )
    if winding.equalizers > bars // pairs:
        raise WindingError(
            f"equalizers: found {winding.equalizers}, but {bars // pairs} join every bar; "
            f"expected 0 to {bars // pairs}"
        )


def _check_copper(winding: Winding) -> None:
    ohm, celsius = winding.coil_resistance_ohm, winding.temperature_c
    if ohm is not None and not (math.isfinite(ohm) and ohm > 0):
        raise WindingError(f"coil_resistance_ohm: found {ohm!r}, expected a number of ohms above 0")
    if not COLDEST_C <= celsius <= HOTTEST_C:
        raise WindingError(
            f"temperature_c: found {celsius!r}, expected {COLDEST_C:.0f} to {HOTTEST_C:.0f} °C"
        )


def _listed(numbers: tuple[int, ...]) -> str:
    return ", ".join(str(n) for n in numbers) if numbers else "none"
