"""A logged run: where it ran steadily, how hard it started, what the commutator's ripple says of the speed.

Each bar that passes a brush makes one step of the current. With C bars and as many brushes as poles, 2p, the
brushes step one after the other where C does not divide by them: 2p / gcd(C, 2p) times C steps a turn if all
brushes are alike, and C where they are not. A line in the current's spectrum then gives the speed, if it lies
below half the log's rate and stands out of the noise (derived; docs/run-test.md).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from barwise.errors import MeasurementError

Array = NDArray[np.float64]

BLOCK_S = 0.1
"""Over so long the ripple averages out [s]."""
STEADY_SHARE, STEADY_S = 0.03, 0.5
"""Steady: the current keeps to this share of itself for at least so long [1, s]."""
OFF_SHARE = 0.02
CLIPPED_RUN = 6
"""So many samples at one and the same extreme value in a row are the end of the meter's range."""
STANDS_OUT = 12.0
"""A line counts that has this many times the power of its surroundings."""
_LEAST_HZ = 60.0
_WINDOW = 4096
_NEAR = 0.08


@dataclass(frozen=True)
class Log:
    """Samples of a run: time [s], volts [V], current [A], speed [rad/s] or None; shape (N,) each."""

    time_s: Array
    volts_v: Array
    current_a: Array
    speed_rad_s: Array | None = None


@dataclass(frozen=True)
class Ripple:
    """The commutator's ripple in one steady stretch.

    Attributes
    ----------
    share : float
        Root mean square of the current's ripple, as a share of the current [1].
    line_hz : float or None
        The line that stands out most [Hz]; None where none does.
    speeds_rad_s : tuple of float
        Speeds that line may mean; one, where it is clear.
    why : str
        In plain words: what the speed rests on, or why there is none.
    """

    share: float
    line_hz: float | None
    speeds_rad_s: tuple[float, ...]
    why: str


@dataclass(frozen=True)
class Stretch:
    """A steady stretch: from, to [s], means of volts, current and speed [V, A, rad/s], and its ripple."""

    start_s: float
    end_s: float
    volts_v: float
    current_a: float
    current_spread_a: float
    speed_rad_s: float | None
    ripple: Ripple


@dataclass(frozen=True)
class LogStudy:
    """What a log shows.

    Attributes
    ----------
    rate_hz : float
        Samples a second.
    stretches : tuple of Stretch
        Steady ones, in order.
    inrush_a, inrush_s : float or None
        Peak current, and the time from switching on until the current has come down by 63 % of the way to
        the first steady stretch [A, s].
    gaps : tuple of (float, float)
        Start and length of what is missing [s].
    clipped_s : float
        Time at the end of the meter's range [s].
    notes : tuple of str
        What was noticed: gaps, clipping, a shunt the wrong way round.
    """

    rate_hz: float
    stretches: tuple[Stretch, ...]
    inrush_a: float | None
    inrush_s: float | None
    gaps: tuple[tuple[float, float], ...]
    clipped_s: float
    notes: tuple[str, ...]


def study_log(log: Log, bars: int | None = None, poles: int | None = None) -> LogStudy:
    """What a logged run shows.

    Parameters
    ----------
    log : Log
    bars, poles : int, optional
        Of the commutator and the field; without them the ripple gives no speed.

    Raises
    ------
    MeasurementError
        If time does not run forward, or there are fewer than 20 samples.
    """
    steps = np.diff(log.time_s)
    if len(log.time_s) < 20 or not bool(np.all(steps > 0)):
        raise MeasurementError(
            "log: found fewer than 20 samples or time that stands still, expected time rising"
        )
    usual = float(np.median(steps))
    notes: list[str] = []
    log = _upright(log, notes)
    gaps = _gaps(log.time_s, steps, usual, notes)
    clipped = _clipped(log.current_a)
    if clipped.any():
        notes.append(
            f"The current stands at {log.current_a.max():.4g} A again and again: its range ends there. "
            "The peak is higher, and stretches there are left out."
        )
    stretches = _stretches(log, usual, clipped, bars, poles)
    if not stretches:
        notes.append("It never ran steadily for half a second: let it run on before switching off.")
    peak, settled = _inrush(log, stretches)
    return LogStudy(1 / usual, stretches, peak, settled, gaps, float(clipped.sum()) * usual, tuple(notes))


def _upright(log: Log, notes: list[str]) -> Log:
    loud = log.current_a[np.abs(log.current_a) > 0.3 * float(np.abs(log.current_a).max())]
    if len(loud) and float(np.median(loud)) < 0:
        notes.append("The current is negative throughout: the shunt is the wrong way round. It was turned.")
        return replace(log, current_a=-log.current_a)
    return log


def _gaps(time: Array, steps: Array, usual: float, notes: list[str]) -> tuple[tuple[float, float], ...]:
    where = np.flatnonzero(steps > 2.5 * usual)
    gaps = tuple((float(time[one]), float(steps[one] - usual)) for one in where)
    if gaps:
        missing = sum(length for _, length in gaps)
        notes.append(
            f"The log has {len(gaps)} gap{'s' * (len(gaps) > 1)}, {missing:.3g} s in all, the first at "
            f"{gaps[0][0]:.4g} s. No steady stretch is taken across one."
        )
    return gaps


def _clipped(current: Array) -> NDArray[np.bool_]:
    """Where the largest value, and nothing else, stands for several samples in a row."""
    top = float(current.max())
    at_top = current >= top - 1e-9 * abs(top)
    edges = np.diff(np.concatenate([[0], at_top.astype(np.int8), [0]]))
    starts, ends = np.flatnonzero(edges == 1), np.flatnonzero(edges == -1)
    found = np.zeros(len(current), dtype=bool)
    for start, end in zip(starts, ends, strict=True):
        # A steady current of a coarse meter may stand still as well; then it is no peak.
        if end - start >= CLIPPED_RUN and top > 1.3 * float(np.median(current[current > OFF_SHARE * top])):
            found[start:end] = True
    return found


def _stretches(
    log: Log, usual: float, clipped: NDArray[np.bool_], bars: int | None, poles: int | None
) -> tuple[Stretch, ...]:
    size = max(1, round(BLOCK_S / usual))
    count = len(log.time_s) // size
    shape = (count, size)
    current = log.current_a[: count * size].reshape(shape)
    means = current.mean(1)
    begin = log.time_s[: count * size : size]
    whole = log.time_s[size - 1 : count * size : size] - begin < 1.5 * size * usual
    usable = whole & ~clipped[: count * size].reshape(shape).any(1)
    usable &= means > OFF_SHARE * float(log.current_a.max())
    found = []
    start = 0
    while start < count:
        end = start
        while end < count and _goes_on(means, usable, begin, start, end, usual * size):
            end += 1
        if (end - start) * size * usual >= STEADY_S:
            found.append(_stretch(log, slice(start * size, end * size), means[start:end], usual, bars, poles))
        start = max(end, start + 1)
    return tuple(found)


def _goes_on(
    means: Array, usable: NDArray[np.bool_], begin: Array, start: int, end: int, block_s: float
) -> bool:
    if not usable[end]:
        return False
    if end > start and begin[end] - begin[end - 1] > 1.5 * block_s:
        return False
    stands = float(np.mean(means[start : end + 1]))
    return bool(
        abs(means[end] - stands) <= STEADY_SHARE * stands
        and abs(means[start] - stands) <= STEADY_SHARE * stands
    )


def _stretch(
    log: Log, part: slice, means: Array, usual: float, bars: int | None, poles: int | None
) -> Stretch:
    speed = None if log.speed_rad_s is None else float(np.nanmean(log.speed_rad_s[part]))
    current = log.current_a[part]
    return Stretch(
        start_s=float(log.time_s[part][0]),
        end_s=float(log.time_s[part][-1]),
        volts_v=float(log.volts_v[part].mean()),
        current_a=float(current.mean()),
        current_spread_a=float(means.std(ddof=1)) if len(means) > 1 else 0.0,
        speed_rad_s=speed,
        ripple=_ripple(current, 1 / usual, bars, poles, speed),
    )


def _inrush(log: Log, stretches: tuple[Stretch, ...]) -> tuple[float | None, float | None]:
    """Peak before the first steady stretch, and how long the current took to come down from it."""
    if not stretches:
        return None, None
    first = stretches[0]
    before = log.time_s < first.start_s + BLOCK_S
    peak_at = int(np.argmax(np.where(before, log.current_a, -np.inf)))
    peak = float(log.current_a[peak_at])
    if peak < 1.5 * first.current_a:
        return None, None
    on = int(np.argmax(log.current_a > 0.1 * peak))
    level = first.current_a + (peak - first.current_a) * math.exp(-1)
    down = np.flatnonzero(log.current_a[peak_at:] <= level)
    return peak, float(log.time_s[peak_at + down[0]] - log.time_s[on]) if len(down) else None


def steps_per_turn(bars: int, brushes: int) -> int:
    """Current steps in one turn where all brushes are alike.

    Notes
    -----
    The brushes stand C / 2p bars apart, so 2p / gcd(C, 2p) of them step each at its time: an odd number of
    bars under two brushes steps 2 C times, an even one C times.

    Examples
    --------
    >>> steps_per_turn(57, 4), steps_per_turn(36, 4), steps_per_turn(23, 2)
    (228, 36, 46)
    """
    return bars * (brushes // math.gcd(bars, brushes))


def _ripple(current: Array, rate: float, bars: int | None, poles: int | None, speed: float | None) -> Ripple:
    mean = float(current.mean())
    frequency, power = _spectrum(current - mean, rate)
    share = float(current.std()) / mean
    line = _line(frequency, power)
    if line is None:
        why = "No line stands out of the noise: the ripple gives no speed."
        return Ripple(share, None, (), why if bars is None else f"{why} {_fastest(rate, bars)}")
    if bars is None:
        return Ripple(share, line, (), "Without the number of bars the ripple gives no speed.")
    orders = {bars, steps_per_turn(bars, poles or 2)} if poles else {bars}
    speeds = tuple(sorted(2 * math.pi * line / order for order in orders))
    return _told(share, line, speeds, rate, bars, speed)


def _told(
    share: float, line: float, speeds: tuple[float, ...], rate: float, bars: int, speed: float | None
) -> Ripple:
    rpm = " or ".join(f"{one * 30 / math.pi:.0f}" for one in speeds)
    if speed is not None:
        near = tuple(one for one in speeds if abs(one / speed - 1) < _NEAR)
        if near:
            return Ripple(share, line, near[:1], "The ripple agrees with the logged speed.")
        if speed * bars / (2 * math.pi) > rate / 2:
            why = f"At this speed the bars pass faster than half of {rate:.0f} samples a second: no speed."
            return Ripple(share, line, (), why)
        return Ripple(share, line, (), f"The line means {rpm} rpm, which is not the speed logged.")
    if len(speeds) == 1:
        return Ripple(share, line, speeds, f"One step for each bar: {rpm} rpm. {_fastest(rate, bars)}")
    why = f"{rpm} rpm, by whether the brushes are alike: a speed reading tells. {_fastest(rate, bars)}"
    return Ripple(share, line, speeds, why)


def _fastest(rate: float, bars: int) -> str:
    """A faster motor's ripple folds down to a line that means nothing (Nyquist)."""
    return f"At {rate:.0f} samples a second no more than {30 * rate / bars:.0f} rpm can show."


def _spectrum(ripple: Array, rate: float) -> tuple[Array, Array]:
    """Power by frequency: mean over half-overlapping Hann windows (Welch, 1967, from memory)."""
    size = min(len(ripple), _WINDOW)
    starts = range(0, len(ripple) - size + 1, max(1, size // 2))
    window = np.hanning(size)
    power = np.zeros(size // 2 + 1)
    for start in starts:
        part = ripple[start : start + size]
        power += np.abs(np.fft.rfft(window * (part - part.mean()))) ** 2
    return np.asarray(np.fft.rfftfreq(size, 1 / rate), dtype=float), power / len(starts)


def _line(frequency: Array, power: Array) -> float | None:
    """The strongest line above the usual noise and not at the very end; between bins by a parabola."""
    inside = (frequency > _LEAST_HZ) & (frequency < 0.97 * frequency[-1])
    if int(inside.sum()) < 30:
        return None
    strongest = int(np.argmax(np.where(inside, power, 0.0)))
    low, high = max(1, strongest - 60), strongest + 60
    around = float(np.median(power[low:high]))
    if not power[strongest] > STANDS_OUT * around:
        return None
    left, top, right = (math.log(max(power[strongest + step], 1e-300)) for step in (-1, 0, 1))
    bend = left - 2 * top + right
    shift = 0.0 if bend == 0 else 0.5 * (left - right) / bend
    return float(frequency[strongest] + shift * (frequency[1] - frequency[0]))
