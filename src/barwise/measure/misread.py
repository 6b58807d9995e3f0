"""Was the micrometer misread: how probable each usual slip is, given what is known already.

What is known - the dial profile, the diameter before the cut and its depth, the sheet - says roughly what
the reading should be. Each slip (a turn of the thimble, a numbered line, a whole frame, the vernier left
out, two digits changed over) would mean another true value, and Bayes' rule weighs them. The answer is a
question to the rebuilder. Nothing is ever corrected by itself: what was typed stays.

How often each slip happens is common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from barwise.errors import MeasurementError
from barwise.measure.length import Length
from barwise.measure.micrometer import GRADUATIONS, VERNIER_LINES, System

Slip = Literal["as-read", "one-turn", "numbered-line", "whole-frame", "no-vernier", "digits-swapped", "other"]

PRIORS: dict[Slip, float] = {
    "as-read": 0.960,
    "one-turn": 0.012,
    "numbered-line": 0.005,
    "whole-frame": 0.005,
    "no-vernier": 0.004,
    "digits-swapped": 0.004,
    "other": 0.010,
}
"""How often each happens before anything is known, over all its ways; common practice, no source."""

ASK_BELOW = 0.9
"""As-read less probable than this is worth a second look, which costs seconds."""


@dataclass(frozen=True)
class Explanation:
    """One way the reading may have come about.

    `metres` is the length the scale would really show; None for `other`, which could be any.
    `too_large_m` says by how much, signed, what was typed is then too large.
    """

    slip: Slip
    metres: float | None
    too_large_m: float
    probability: float


@dataclass(frozen=True)
class MisreadCheck:
    """What may have happened, most probable first, and whether to ask."""

    explanations: tuple[Explanation, ...]
    ask: bool

    @property
    def as_read(self) -> float:
        """Probability that the reading is right as typed."""
        return sum(way.probability for way in self.explanations if way.slip == "as-read")

    @property
    def best_slip(self) -> Explanation:
        """The most probable explanation other than that it is right."""
        return next(way for way in self.explanations if way.slip != "as-read")


def check_misread(
    typed: Length,
    expected_m: float,
    expected_sd_m: float,
    reading_sd_m: float = 0.0,
    system: System | None = None,
) -> MisreadCheck:
    """Weigh the slips against what was expected.

    Parameters
    ----------
    typed : Length
        As typed: its digits are needed for swapped digits, its last one for a vernier left out.
    expected_m, expected_sd_m : float
        What was known of the true value before [m].
    reading_sd_m : float
        Standard uncertainty of a good reading [m].
    system : str, optional
        Of the micrometer; without it that of the unit typed.

    Notes
    -----
    P(slip | typed) is proportional to P(slip) N(true value under that slip; expected, sd² + u²). `other`
    is any reading of the frames, evenly, so that a value which no slip explains is asked about too.

    Raises
    ------
    MeasurementError
        If the expectation is not above 0 with a spread above 0.
    """
    _check(expected_m, expected_sd_m, reading_sd_m)
    scale: System = system or ("inch" if typed.imperial else "metric")
    spread = math.hypot(expected_sd_m, reading_sd_m)
    weighed: list[tuple[Explanation, float]] = []
    for slip, lengths in _ways(typed, scale).items():
        each = math.log(PRIORS[slip] / max(1, len(lengths)))
        for metres in lengths:
            way = Explanation(slip, metres, typed.metres - metres, 0.0)
            weighed.append((way, each - 0.5 * ((metres - expected_m) / spread) ** 2 - math.log(spread)))
    # A normal density without its constant stands against an even one with it.
    reach = 2 * GRADUATIONS[scale].frame_steps * GRADUATIONS[scale].step_m
    even = math.log(PRIORS["other"] / reach) + 0.5 * math.log(2 * math.pi)
    weighed.append((Explanation("other", None, 0.0, 0.0), even))
    return _normalised(weighed)


def _normalised(weighed: list[tuple[Explanation, float]]) -> MisreadCheck:
    largest = max(weight for _, weight in weighed)
    total = sum(math.exp(weight - largest) for _, weight in weighed)
    ways = [
        Explanation(way.slip, way.metres, way.too_large_m, math.exp(weight - largest) / total)
        for way, weight in weighed
    ]
    ways.sort(key=lambda way: -way.probability)
    right = sum(way.probability for way in ways if way.slip == "as-read")
    return MisreadCheck(tuple(ways), right < ASK_BELOW)


def _ways(typed: Length, system: System) -> dict[Slip, list[float]]:
    """True lengths [m] under each slip, those above 0."""
    lines = GRADUATIONS[system]
    turn = lines.minor_steps * lines.step_m
    frame = lines.frame_steps * lines.step_m
    # The inch sleeve is numbered at each tenth, the metric one at each fifth millimetre.
    numbered = lines.major_steps * lines.step_m * (1 if system == "inch" else 5)

    def around(slip_m: float) -> list[float]:
        return [typed.metres + way * slip_m for way in (-1, 1) if typed.metres + way * slip_m > 0]

    return {
        "as-read": [typed.metres],
        "one-turn": around(turn),
        "numbered-line": around(numbered),
        "whole-frame": around(frame),
        "no-vernier": _without_vernier(typed, system),
        "digits-swapped": [length for length in _swapped(typed) if length > 0],
    }


def _without_vernier(typed: Length, system: System) -> list[float]:
    """Lengths [m] with a vernier line that the typed one lacks; none when it has one."""
    lines = GRADUATIONS[system]
    steps = typed.metres / lines.step_m
    thimble_line = round(steps / VERNIER_LINES) * VERNIER_LINES
    if abs(steps - thimble_line) > 0.01:
        return []
    return [typed.metres + line * lines.step_m for line in range(1, VERNIER_LINES)]


def _swapped(typed: Length) -> Iterator[float]:
    """The length [m] with each pair of neighbouring digits changed over."""
    number = typed.entered.split()[0]
    places = [place for place, sign in enumerate(number) if sign.isdigit()]
    for first, second in pairwise(places):
        if number[first] != number[second]:
            signs = list(number)
            signs[first], signs[second] = signs[second], signs[first]
            yield float("".join(signs)) * typed.unit.factor


def _check(expected_m: float, expected_sd_m: float, reading_sd_m: float) -> None:
    if not (math.isfinite(expected_m) and expected_m > 0):
        raise MeasurementError(f"expected value: found {expected_m}, expected a length above 0")
    if not (math.isfinite(expected_sd_m) and expected_sd_m > 0):
        raise MeasurementError(f"spread of the expected value: found {expected_sd_m}, expected above 0")
    if not (math.isfinite(reading_sd_m) and reading_sd_m >= 0):
        raise MeasurementError(f"uncertainty of the reading: found {reading_sd_m}, expected 0 or more")
