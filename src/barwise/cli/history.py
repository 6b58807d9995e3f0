"""``barwise history``: what the shop's own record shows over many jobs."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Annotated, Any

import typer

from barwise.cli.drawing import write_drawing
from barwise.errors import InputError
from barwise.inspect.checks.plain import plain
from barwise.web.data_folder import chosen_folder, data_folder
from barwise.web.started import plain_words, prepare

Model = Annotated[
    str, typer.Argument(help="Key of a model sheet: how its units read. Without it, the whole shop.")
]
OfCheck = Annotated[str, typer.Option("--check", help="Only this check of the model, as station.check.")]
OfJob = Annotated[str, typer.Option("--job", help="Mark the unit of this job.")]
OfTool = Annotated[str, typer.Option("--instrument", help="Whether this instrument drifts, by its tag.")]
Data = Annotated[Path | None, typer.Option("--data", help="The shop's data folder.")]
AsJson = Annotated[bool, typer.Option("--json", help="Print JSON.")]
AsCsv = Annotated[bool, typer.Option("--csv", help="Print the table behind it.")]
Picture = Annotated[Path | None, typer.Option("--picture", help="Write the picture as SVG.")]


def history(
    model: Model = "",
    check: OfCheck = "",
    job: OfJob = "",
    instrument: OfTool = "",
    data: Data = None,
    as_json: AsJson = False,
    as_csv: AsCsv = False,
    picture: Picture = None,
) -> None:
    """Say how rebuilds went and which parts fail, how a model reads, or whether an instrument drifts."""
    folder = data_folder() if data is None else chosen_folder(data)
    prepare(folder)
    with plain_words(folder):
        if instrument:
            said = _of_instrument(instrument)
        else:
            said = _of_model(model, check, job) if model else _of_shop()
        if picture is not None:
            write_drawing(said.picture(), picture)
        if as_json:
            typer.echo(json.dumps(plain(said.facts), indent=1))
        else:
            typer.echo(said.table() if as_csv else said.words, nl=not as_csv)


class _Said:
    """One answer in words, as facts, as a table, as a picture."""

    def __init__(self, words: str, facts: Any, table: Callable[[], str], picture: Callable[[], str]) -> None:
        self.words, self.facts, self.table, self.picture = words, facts, table, picture


def _of_shop() -> _Said:
    from barwise.record.past.parts_fail import parts_fail
    from barwise.record.past.rebuilds import rebuilds
    from barwise.record.past.tables import rebuilds_csv
    from barwise.report.past.picture import shares_picture
    from barwise.report.past.words import back_in_words, right_in_words, share_in_words

    found, parts = rebuilds(), parts_fail()
    lines = [f"{right_in_words(found.whole)}.", f"{back_in_words(found.whole)}."]
    lines += [f"  {one.label}: right the first time {share_in_words(one.right)}" for one in found.by_model]
    lines += ["Parts replaced, of the jobs on which it was decided:"] if parts else []
    lines += [f"  {one.part}: {share_in_words(one.replaced)}" for one in parts if one.replaced.count]
    facts = {
        "right": found.whole.right,
        "came_back": found.whole.back,
        "too_young": found.young,
        "by_model": found.by_model,
        "by_time": found.by_time,
        "parts": parts,
    }
    bars = [(one.label, one.right) for one in found.by_time]
    return _Said(
        "\n".join(lines),
        facts,
        lambda: rebuilds_csv(found),
        lambda: shares_picture("Right the first time, over time", bars),
    )


def _of_model(model: str, check: str, job: str) -> _Said:
    from barwise.record.jobs import job_numbered
    from barwise.record.past.models_read import check_read, model_reads
    from barwise.record.past.tables import units_csv
    from barwise.report.past.picture import values_picture
    from barwise.report.past.words import this_one_in_words, usual_in_words

    station, _, key = check.partition(".")
    reads = (check_read(model, station, key),) if check else model_reads(model)
    marked = job_numbered(job).pk if job else None
    lines = []
    for one in reads:
        lines.append(f"{one.station.title}: {one.check.title}: {usual_in_words(one)}.")
        mine = one.of_job(marked)
        lines += [] if mine is None else [f"  {this_one_in_words(one, mine)}"]
    facts = [
        {
            "check": one.name,
            "unit": one.unit,
            "usual": one.usual,
            "refused": one.refused,
            "units": [{**vars(read), "at": read.at.isoformat()} for read in one.units],
        }
        for one in reads
    ]

    def drawn() -> str:
        if len(reads) != 1:
            raise InputError("--picture", f"{len(reads)} checks", "one, named with --check")
        return values_picture(reads[0], reads[0].of_job(marked))

    words = "\n".join(lines) or "Nothing with a number was read on this model yet."
    return _Said(words, facts, lambda: units_csv(reads), drawn)


def _of_instrument(tag: str) -> _Said:
    from barwise.files.text import shown
    from barwise.record.models import Instrument
    from barwise.record.past.instruments_drift import instrument_seen
    from barwise.record.past.tables import drift_csv
    from barwise.report.past.picture import drift_picture
    from barwise.report.past.words import against_in_words, drift_in_words

    found = Instrument.objects.filter(tag=tag).order_by("retired", "-id").first()
    if found is None:
        raise InputError("--instrument", shown(tag), "the tag of an instrument of this shop")
    seen = instrument_seen(found)
    lines = [f"{found}: {drift_in_words(seen)}"]
    lines += [f"  {one.model}, {one.title}: {against_in_words(one)}" for one in seen.against]
    facts = {
        "instrument": str(found),
        "drifts": seen.chart.is_out,
        "readings": len(seen.readings),
        "average": seen.chart.average.tolist(),
        "bound": seen.chart.bound.tolist(),
        "false_alarm_after": seen.false_alarm_after,
        "seen_shift": seen.seen_shift,
        "against": seen.against,
    }
    return _Said("\n".join(lines), facts, lambda: drift_csv(seen), lambda: drift_picture(seen))
