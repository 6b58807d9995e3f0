"""Whether it will crank, in words, and as plain values for other programs."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from barwise.files.cranking_file import CrankingFile
from barwise.inspect.checks.plain import plain
from barwise.inspect.cranking.assessment import CrankAnswer
from barwise.inspect.cranking.blame import Blame
from barwise.inspect.cranking.drops import LIMIT_SOURCE, FittedLeg
from barwise.inspect.cranking.prediction import Interval, LegDrop
from barwise.inspect.run_test import RunTest
from barwise.report.paragraphs import bullets, section, wrapped
from barwise.report.probability import probability_in_words
from barwise.report.run.as_json import run_values
from barwise.report.run.text import verdict_line
from barwise.route.cautions import find_caution

_LEAVE_OUT = ("course", "vehicle")


def verdict_words(answer: CrankAnswer) -> str:
    """The verdict in one line."""
    speed, chance = answer.outlook.speed_rpm, probability_in_words(answer.outlook.starts)
    at = answer.vehicle.temperature_c
    cold = "at a temperature nobody gave" if at is None else f"at {at:.0f} °C"
    said = {
        "cranks": "It cranks fast enough to start",
        "too slow": "It cranks too slowly to start",
        "does not turn": "It does not turn the engine",
        "undecided": "Whether it cranks fast enough cannot be said",
    }[answer.verdict]
    return f"{said} {cold}: {_span(speed, 0)} rpm, chance that this is enough {chance}."


def cranking_text(given: CrankingFile, answer: CrankAnswer) -> str:
    """The answer for people."""
    lines = wrapped(verdict_words(answer))
    lines += section("Expected while cranking", bullets(_expected(answer)))
    lines += section("Where the volts go", bullets(_volts(answer.outlook.budget)))
    if answer.fit is not None:
        lines += section("As measured in the vehicle", bullets(_measured(answer)))
    if given.run is not None:
        lines += section("The starter on the bench", bullets(_on_the_bench(given.run)))
    lines += section("Whose fault it is", bullets(blame_lines(answer.blame)))
    lines += section("How it starts", bullets(_course(given, answer)))
    lines += section("Bear in mind", bullets(answer.outlook.said))
    cautions = dict.fromkeys((*find_caution("battery").lines, *find_caution("vehicle").lines))
    lines += section("Safety", bullets(cautions))
    return "\n".join(lines) + "\n"


def cranking_json(given: CrankingFile, answer: CrankAnswer) -> str:
    """The answer as one JSON object, in SI but for rev/min; nothing rounded."""
    return json.dumps(cranking_answer(given, answer), allow_nan=False)


def cranking_answer(given: CrankingFile, answer: CrankAnswer) -> dict[str, Any]:
    """The same as plain values; of the course only its figures."""
    weakest = answer.blame.weakest
    return {
        "title": given.title,
        "verdict": answer.verdict,
        "line": verdict_words(answer),
        "temperature_c": answer.vehicle.temperature_c,
        "outlook": plain(answer.outlook),
        "blame": plain(answer.blame),
        "weakest": weakest.name,
        "measured": plain(answer.fit),
        "run": None if given.run is None else run_values(given.run),
        "agrees": answer.agrees,
        "course": {**_plain_mapping(answer), "rotor_inertia_guessed": given.rotor_guessed},
        "limit_source": LIMIT_SOURCE,
    }


def blame_lines(found: Blame) -> Iterator[str]:
    """What is lost, what each link takes of it, and which to mend first."""
    sound, loss = found.sound_rpm, found.loss_rpm
    if loss.middle < 0.02 * sound.middle:
        yield f"Nothing worth naming is lost: everything in order it would do {_span(sound, 0)} rpm."
        return
    yield f"Everything in order it would do {_span(sound, 0)} rpm; {_span(loss, 0)} rpm are lost."
    for link in found.links:
        if link.gain_rpm.middle >= 0.5 or link.share_rpm.middle >= 0.5:
            yield (
                f"{link.name}: its share of the loss is {_span(link.share_rpm, 0)} rpm; put in order "
                f"alone it gives {_span(link.gain_rpm, 0)} rpm."
            )
    first = found.weakest
    sure = probability_in_words(first.weakest)
    yield f"Mend first: {first.name} (it gains most with probability {sure})."
    if found.starter_share is not None:
        share = found.starter_share
        yield (
            f"This starter explains {100 * share.middle:.0f} % of the slow crank ({100 * share.low:.0f} to "
            f"{100 * share.high:.0f} %)."
        )


def _expected(answer: CrankAnswer) -> Iterator[str]:
    expected = answer.outlook
    low, high = expected.least_rpm
    yield f"Speed of the engine: {_span(expected.speed_rpm, 0)} rpm; it needs {low:.0f} to {high:.0f} rpm."
    yield f"Current: {_span(expected.current_a, 0)} A. Torque on average: {_span(expected.torque_nm, 0)} Nm."
    yield (
        f"At the battery's posts {_span(expected.battery_v, 1)} V, at the starter "
        f"{_span(expected.starter_v, 1)} V."
    )
    yield f"Chance that it turns at all: {probability_in_words(expected.turns)}."


def _volts(budget: tuple[LegDrop, ...]) -> Iterator[str]:
    for row in budget:
        if row.ohm is None:
            yield f"{row.name}: {_span(row.volts, 2)} V are left for it."
            continue
        sound = f"in order {row.healthy_volts:.2f} V at this current"
        milli = Interval(*(1000 * end for end in (row.ohm.middle, row.ohm.low, row.ohm.high)))
        yield f"{row.name}: {_span(row.volts, 2)} V ({_span(milli, 2)} mohm; {sound})."


def _measured(answer: CrankAnswer) -> Iterator[str]:
    fit = answer.fit
    assert fit is not None
    yield from (_leg_line(leg) for leg in fit.legs)
    yield f"The limit is {LIMIT_SOURCE}."
    if fit.battery_ohm is not None:
        ohm = fit.battery_ohm
        yield f"battery: {1000 * ohm.value:.2f} ± {2000 * ohm.standard_uncertainty:.2f} mohm inside."
    if fit.closes:
        over = abs(fit.misfit_v or 0.0)
        yield f"The volts add up: {over:.2f} V are left over, no more than the meters' own."
    yield from fit.questions
    if answer.agrees:
        yield "Current and speed fit the description; what the engine asks was learnt from them."
    elif answer.agrees is False:
        yield (
            "Current and speed do not fit the description: nothing was learnt from them. Look at battery, "
            "starter and engine figures, and at the clamp's zero, before you believe the rest."
        )


def _on_the_bench(run: RunTest) -> Iterator[str]:
    """What its run test comes to, and what is to be asked of it."""
    yield verdict_line(run)
    yield from run.questions
    yield from run.notes


def _leg_line(leg: FittedLeg) -> str:
    said = {
        "accept": "in order",
        "reject": "too much",
        "undecided": "too close to call",
    }[leg.decision.outcome]
    ohm = leg.ohm
    return (
        f"{leg.name}: {leg.volts.value:.3f} V, {1000 * ohm.value:.2f} ± "
        f"{2000 * ohm.standard_uncertainty:.2f} mohm, {said}."
    )


def _course(given: CrankingFile, answer: CrankAnswer) -> Iterator[str]:
    figures = answer.figures
    yield f"Inrush {figures.peak_a:.0f} A, with {figures.lowest_starter_v:.1f} V at the starter just then."
    if figures.broke_away_s is None:
        yield "The motor does not break the engine away."
        return
    yield f"The engine breaks away after {1000 * figures.broke_away_s:.0f} ms."
    if figures.stuck:
        yield "It stops against a compression and stands."
        return
    yield (
        f"Then {figures.mean_rpm:.0f} rpm on average, {figures.lowest_rpm:.0f} at a compression and "
        f"{figures.highest_rpm:.0f} between, {figures.mean_a:.0f} A."
    )
    if figures.overruns:
        yield "Between compressions the engine runs ahead of the pinion: the clutch must let it."
    if given.rotor_guessed:
        yield (
            "The rotor's inertia is guessed from its flux, common practice, no source: it shapes the "
            "dips only."
        )


def _span(found: Interval, decimals: int) -> str:
    return f"{found.middle:.{decimals}f} ({found.low:.{decimals}f} to {found.high:.{decimals}f})"


def _plain_mapping(answer: CrankAnswer) -> dict[str, Any]:
    return dict(plain(answer.figures))  # type: ignore[arg-type]
