"""The run test in words: what it is, what is most likely wrong, what its limits come to, what to do next."""

from __future__ import annotations

from collections.abc import Iterator

from barwise.inspect.run_test.assessment import Corrected, Interval, RankedCause, RunTest
from barwise.measure.units import UNITS
from barwise.report.paragraphs import bullets, section
from barwise.report.probability import probability_in_words as percent
from barwise.route.cautions import lines_of

LEAST_SHOWN = 0.02
_UNITS = {"current": "A", "speed": "rpm", "torque": "lbf.ft"}
_POINTS = {"no-load": "no load", "lock": "locked", "loaded": "under load"}
_SEVERITY = {
    "drag_nm": ("more drag", 1.0, "Nm"),
    "shorted_s": ("shorted coils as a conductance", 1.0, "S"),
    "more_ohm": ("more resistance", 1e3, "mohm"),
    "drop_v": ("more brush drop", 1.0, "V"),
    "joint_ohm": ("resistance of the joint", 1e3, "mohm"),
    "lost_share": ("lost", 100.0, "%"),
    "leak_ohm": ("leak to the housing", 1e3, "mohm"),
}


def run_text(found: RunTest) -> str:
    """The whole answer for a terminal."""
    lines = [
        verdict_line(found),
        *section("Causes", bullets(cause_lines(found))),
        *section("Against the sheet, at its volts and temperature", bullets(limit_lines(found))),
        *section("Power", bullets(power_lines(found))),
        *section("To do next", bullets(next_lines(found))),
        *section("Please check", bullets(found.questions)),
        *section("Taken as given", bullets(found.notes)),
        *section("Care", bullets(care_lines())),
    ]
    return "\n".join(lines) + "\n"


def verdict_line(found: RunTest) -> str:
    """One line: sound, what is wrong, undecided, or not covered."""
    first = next((one for one in found.causes if one.key not in ("healthy", "not-covered")), None)
    if found.verdict == "sound":
        return f"Run test: it runs as a sound one does, {percent(found.healthy)}."
    if found.verdict == "not-covered":
        return "Run test: these readings fit no fault known here: not covered. Check readings and sheet."
    if first is None:
        return "Run test: undecided."
    if found.verdict == "faulty":
        return f"Run test: something is wrong, most likely {first.title} ({percent(first.probability)})."
    chance = percent(found.healthy)
    return f"Run test: undecided, {chance} that nothing is wrong; if something is, then {first.title}."


def cause_lines(found: RunTest) -> Iterator[str]:
    """The causes that count, the likeliest first."""
    for one in found.causes:
        if one.probability >= LEAST_SHOWN:
            yield f"{percent(one.probability)}  {one.title}{_severity(one)}. {one.means}".rstrip()


def care_lines() -> tuple[str, ...]:
    """What can hurt at the run bench."""
    return lines_of(("run", "lock", "battery"))


def _severity(one: RankedCause) -> str:
    said = []
    for name, interval in one.severity.items():
        words, factor, unit = _SEVERITY[name]
        low, high = (f"{factor * end:.3g}" for end in (interval.low, interval.high))
        said.append(f"{words} {factor * interval.value:.3g} {unit}, {low} to {high}")
    return f" ({'; '.join(said)})" if said else ""


def limit_lines(found: RunTest) -> Iterator[str]:
    """Each reading held against the sheet's limit."""
    for one in found.corrected:
        yield limit_line(one)


def limit_line(one: Corrected) -> str:
    """Such as ``no load, speed: 4150 rpm read, 4210 rpm corrected, within 3600 to 5400 rpm``."""
    word = {"accept": "within", "reject": "beyond", "undecided": "too close to call against"}
    sides = (one.limit.lower, one.limit.upper)
    allowed = " to ".join(_shown(side, one.name) for side in sides if side is not None)
    if one.limit.lower is None:
        allowed += " or less"
    if one.limit.upper is None:
        allowed += " or more"
    return (
        f"{_POINTS[one.kind]}, {one.name}: {_shown(one.read, one.name)} read, {_shown(one.value, one.name)} "
        f"corrected, {word[one.decision.outcome]} {allowed}"
    )


def power_lines(found: RunTest) -> Iterator[str]:
    """Power at the rated point, the most it gives, and what fed it."""
    if found.rated_power is not None and found.sheet.rated is not None:
        rated = found.sheet.rated
        amps = f"{rated.current.value:.0f} A" if rated.current else "the rated current"
        yield f"At {amps} and the sheet's volts it gives {_watts(found.rated_power)}."
    if found.curve is not None:
        best = int(found.curve.power.value.argmax())
        most = found.curve.power
        whole = Interval(float(most.value[best]), float(most.low[best]), float(most.high[best]))
        yield (
            f"At {found.curve.volts_v:.3g} V and {found.curve.temperature_c:.0f} °C it gives most at "
            f"{found.curve.current_a[best]:.0f} A: {_watts(whole)}."
        )
    else:
        yield f"{no_curve(found)}: there is no curve."
    if found.sag is not None and found.sag.ohm > 0:
        source = f"{found.sag.volts_v:.3g} V behind {1e3 * found.sag.ohm:.3g} mohm"
        yield f"On the bench, battery and cables acted as {source}."


def no_curve(found: RunTest) -> str:
    """Why there is no curve of this one."""
    first = next(iter(found.causes), None)
    if first is not None and first.key == "not-covered":
        return "No motor known here gives these readings"
    return "It does not turn"


def next_lines(found: RunTest) -> Iterator[str]:
    """The test that tells most."""
    if found.next_test is not None:
        yield f"{found.next_test.do} ({found.next_test.bits:.2f} bit)"


def _watts(one: Interval) -> str:
    return f"{_round(one.value)} W (95 %: {_round(one.low)} to {_round(one.high)} W)"


def _round(value: float) -> str:
    return f"{float(f'{value:.3g}'):.0f}"


def _shown(value: float, name: str) -> str:
    unit = _UNITS[name]
    return f"{float(f'{value / UNITS[unit].factor:.4g}'):g} {unit}"
