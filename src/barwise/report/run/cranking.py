"""Whether it will crank, in words, and as plain values for other programs."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from typing import Any

from barwise.errors import InputError
from barwise.files.toml_tables import parse_tables
from barwise.inspect.checks.plain import plain
from barwise.inspect.cranking.assessment import CrankAnswer, CrankSummary
from barwise.inspect.cranking.at_the_job import JobCrank, KeptCrank
from barwise.inspect.cranking.blame import Blame
from barwise.inspect.cranking.drops import LIMIT_SOURCE, DropFit, FittedLeg
from barwise.inspect.cranking.facts import CrankQuestion
from barwise.inspect.cranking.prediction import Interval, LegDrop
from barwise.inspect.cranking.wording import hardly_lost, share_words, span, speed_words
from barwise.inspect.run_test import RunTest
from barwise.report.paragraphs import bullets, section, wrapped
from barwise.report.probability import probability_in_words
from barwise.report.run.as_json import run_values
from barwise.report.run.text import verdict_line
from barwise.route.cautions import find_caution

_LEAVE_OUT = ("course", "vehicle")


def verdict_words(found: CrankSummary) -> str:
    """The verdict in one line."""
    chance = probability_in_words(found.outlook.starts)
    return f"{speed_words(found)}, chance that this is enough {chance}."


def cranking_text(given: CrankQuestion, answer: CrankAnswer) -> str:
    """The answer for people."""
    lines = wrapped(verdict_words(answer.summary))
    lines += section("Expected while cranking", bullets(_expected(answer)))
    lines += section("Where the volts go", bullets(_volts(answer.outlook.budget)))
    if answer.fit is not None:
        lines += section("As measured in the vehicle", bullets(_measured(answer.fit, answer.agrees)))
    if given.run is not None:
        lines += section("The starter on the bench", bullets(_on_the_bench(given.run)))
    lines += section("Whose fault it is", bullets(blame_lines(answer.blame)))
    lines += section("How it starts", bullets(_course(given, answer)))
    lines += section("Bear in mind", bullets(answer.outlook.said))
    lines += section("Safety", bullets(crank_cautions()))
    return "\n".join(lines) + "\n"


def crank_lines(found: KeptCrank) -> Iterator[str]:
    """What a customer wants of it: the weakest stretches of the way, and what was not known."""
    if found.summary is not None:
        blame = found.summary.blame
        if not hardly_lost(blame):
            first = blame.weakest
            yield f"Mend first: {first.name}; put in order alone it gives {span(first.gain_rpm, 0)} rpm."
    if found.missing:
        yield f"Not known: {', '.join(one.what for one in found.missing)}."


def crank_cautions() -> tuple[str, ...]:
    """What can hurt while a vehicle is cranked."""
    return tuple(dict.fromkeys((*find_caution("battery").lines, *find_caution("vehicle").lines)))


def job_sections(found: JobCrank) -> Iterator[tuple[str, tuple[str, ...]]]:
    """The answer of a job, section by section: title and lines."""
    answer, question = found.answer, found.question
    if answer is not None:
        yield "Expected while cranking", tuple(_expected(answer))
        yield "Where the volts go", tuple(_volts(answer.outlook.budget))
    if found.fit is not None:
        agrees = None if answer is None else answer.agrees
        yield "As measured in the vehicle", tuple(_measured(found.fit, agrees))
    if answer is not None and question is not None:
        if question.run is not None:
            yield "The starter on the bench", tuple(_on_the_bench(question.run))
        yield "Whose fault it is", tuple(blame_lines(answer.blame, of_starter=not found.stands_in))
        yield "How it starts", tuple(_course(question, answer))
    if found.missing:
        told = tuple(f"{one.what}: {one.gives}." for one in found.missing)
        yield "Not said yet, and what it would give", told
    stands_in = (found.stands_in,) if found.stands_in else ()
    said = (*stands_in, *found.said, *(() if answer is None else answer.outlook.said))
    if said:
        yield "Bear in mind", said


def cranking_json(given: CrankQuestion, answer: CrankAnswer) -> str:
    """The answer as one JSON object, in SI but for rev/min; nothing rounded."""
    return json.dumps(cranking_answer(given, answer), allow_nan=False)


def cranking_answer(given: CrankQuestion, answer: CrankAnswer) -> dict[str, Any]:
    """The same as plain values; of the course only its figures."""
    weakest = answer.blame.weakest
    return {
        "title": given.title,
        "verdict": answer.verdict,
        "line": verdict_words(answer.summary),
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


def entered_in_words(entered: str, entry: str) -> str:
    """A reading as it was typed, by the entry of its check; what is said of a vehicle part by part."""
    return vehicle_in_words(entered) if entry == "vehicle" else entered


def vehicle_in_words(text: str) -> str:
    """What a job says of its vehicle, part by part, as it was typed; a text that is none as it stands."""
    try:
        said = parse_tables(text, "vehicle", "", "")
    except InputError:
        return text
    top = {key: value for key, value in said.items() if not isinstance(value, dict | list)}
    parts = [("", top), *((key, said[key]) for key in ("battery", "engine", "starter") if key in said)]
    parts += [(str(leg.get("name", "leg")), {**leg, "name": None}) for leg in said.get("leg", [])]
    return "; ".join(_part_in_words(name, values) for name, values in parts if values)


def _part_in_words(name: str, values: Mapping[str, Any]) -> str:
    told = ", ".join(f"{key.replace('_', ' ')} {value}" for key, value in values.items() if value is not None)
    return f"{name}: {told}" if name else told


def blame_lines(found: Blame, *, of_starter: bool = True) -> Iterator[str]:
    """What is lost, what each link takes of it, which to mend first; the starter's share where known."""
    sound, loss = found.sound_rpm, found.loss_rpm
    if hardly_lost(found):
        yield f"Nothing worth naming is lost: everything in order it would do {span(sound, 0)} rpm."
        return
    yield f"Everything in order it would do {span(sound, 0)} rpm; {span(loss, 0)} rpm are lost."
    for link in found.links:
        if link.gain_rpm.middle >= 0.5 or link.share_rpm.middle >= 0.5:
            yield (
                f"{link.name}: its share of the loss is {span(link.share_rpm, 0)} rpm; put in order "
                f"alone it gives {span(link.gain_rpm, 0)} rpm."
            )
    first = found.weakest
    sure = probability_in_words(first.weakest)
    yield f"Mend first: {first.name} (it gains most with probability {sure})."
    if of_starter and found.starter_share is not None:
        yield share_words(found)


def _expected(answer: CrankAnswer) -> Iterator[str]:
    expected = answer.outlook
    low, high = expected.least_rpm
    yield f"Speed of the engine: {span(expected.speed_rpm, 0)} rpm; it needs {low:.0f} to {high:.0f} rpm."
    yield f"Current: {span(expected.current_a, 0)} A. Torque on average: {span(expected.torque_nm, 0)} Nm."
    yield (
        f"At the battery's posts {span(expected.battery_v, 1)} V, at the starter "
        f"{span(expected.starter_v, 1)} V."
    )
    yield f"Chance that it turns at all: {probability_in_words(expected.turns)}."


def _volts(budget: tuple[LegDrop, ...]) -> Iterator[str]:
    for row in budget:
        if row.ohm is None:
            yield f"{row.name}: {span(row.volts, 2)} V are left for it."
            continue
        sound = f"in order {row.healthy_volts:.2f} V at this current"
        milli = Interval(*(1000 * end for end in (row.ohm.middle, row.ohm.low, row.ohm.high)))
        yield f"{row.name}: {span(row.volts, 2)} V ({span(milli, 2)} mohm; {sound})."


def _measured(fit: DropFit, agrees: bool | None) -> Iterator[str]:
    yield from (_leg_line(leg) for leg in fit.legs)
    yield f"The limit is {LIMIT_SOURCE}."
    if fit.battery_ohm is not None:
        ohm = fit.battery_ohm
        yield f"battery: {1000 * ohm.value:.2f} ± {2000 * ohm.standard_uncertainty:.2f} mohm inside."
    if fit.closes:
        over = abs(fit.misfit_v or 0.0)
        yield f"The volts add up: {over:.2f} V are left over, no more than the meters' own."
    yield from fit.questions
    if agrees:
        yield "Current and speed fit the description; what the engine asks was learnt from them."
    elif agrees is False:
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


def _course(given: CrankQuestion, answer: CrankAnswer) -> Iterator[str]:
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


def _plain_mapping(answer: CrankAnswer) -> dict[str, Any]:
    return dict(plain(answer.figures))  # type: ignore[arg-type]
