"""How long the bench's pages take as the shop's record grows: 20, 200 and 2,000 jobs of 250 readings each.

    python -m benchmarks screens

One invented job is filled through the record's own services and then copied in bulk within SQLite, in a
folder that is thrown away. Pages are asked for in process, as a signed-in bench asks for them, without the
network; the time is the processor's, and the clock's from request to the last byte. Writes
docs/figures/screen-speed.json and the table of docs/screens-speed.md.
"""

from __future__ import annotations

import argparse
import json
import os
import platform
import tempfile
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from statistics import median, quantiles
from typing import Any

from benchmarks import blocks

FIGURES = Path("docs/figures/screen-speed.json")
PAGE = Path("docs/screens-speed.md")
SIZES = (20, 200, 2000)
READINGS_A_JOB = 250
AIM_MS = 150.0
WARM, RUNS = 3, 40

PAGES = {
    "jobs on hand": "/",
    "jobs on hand, last page": "/?page=9999",
    "search by the middle of a tag": "/?find=-1",
    "one job": "/jobs/{job}",
    "station, four readings in front": "/jobs/{job}/brushes?check=length",
    "station, a whole walk in front": "/jobs/{job}/armature?check=winding",
    "station, one number in front": "/jobs/{job}/armature?check=shaft-runout",
    "history of the shop": "/history",
    "how a model reads": "/history/models/demo-23-magnet?job={job}",
    "one check of a model": "/history/models/demo-23-magnet/brushes/length?job={job}",
}


def options(parser: argparse.ArgumentParser) -> None:
    """Options of the command."""
    parser.add_argument("--runs", type=int, default=RUNS, help="requests of each page")
    parser.add_argument("--out", type=Path, default=FIGURES, help="file of the figures")


def run(chosen: argparse.Namespace) -> dict[str, Any]:
    """Measure every page at every size; write the figures and the document's table."""
    figures = measured(SIZES, chosen.runs)
    chosen.out.write_text(json.dumps(figures, indent=1) + "\n", encoding="utf-8")
    if chosen.out == FIGURES:  # a trial leaves the document alone
        PAGE.write_text(filled(PAGE.read_text(encoding="utf-8"), figures), encoding="utf-8")
    return figures


def measured(sizes: tuple[int, ...], runs: int) -> dict[str, Any]:
    """Milliseconds, queries and bytes of each page at each size."""
    with invented_shop() as template:
        found, made = [], 1
        for jobs in sizes:
            copy_job(template, made, jobs)
            made = jobs
            found.append(
                {"jobs": jobs, **counted(), "pages": {name: _page(at, runs) for name, at in PAGES.items()}}
            )
    return {
        "machine": {
            "python": platform.python_version(),
            "system": f"{platform.system()} {platform.machine()}",
        },
        "runs": runs,
        "sizes": found,
    }


@contextmanager
def invented_shop() -> Iterator[int]:
    """A new shop in a folder of its own with one job of `READINGS_A_JOB` readings; its number."""
    with tempfile.TemporaryDirectory(prefix="screen-speed-") as folder:
        os.environ["BARWISE_DATA"] = folder
        os.environ.pop("DATABASE_URL", None)
        from barwise.web.data_folder import data_folder
        from barwise.web.started import lay_out_static, prepare

        prepare(data_folder())
        lay_out_static()
        from django.db import connection

        yield _whole_job()
        connection.close()


def _whole_job() -> int:
    """One invented job with every check taken and a whole walk, open."""
    from barwise.record.models import CheckStanding, Job
    from barwise.record.shop import demo_shop

    jobs = demo_shop()
    whole, walked = jobs[2], jobs[0]
    Job.objects.filter(pk=whole.pk).update(state="open", closed_at=None)
    wanted = READINGS_A_JOB - whole.readings.count()
    walk = ("armature", "winding")
    _copy_walk(walked.pk, whole.pk, wanted)
    CheckStanding.objects.filter(job=whole, station_key=walk[0], check_key=walk[1]).update(
        in_force=whole.readings.filter(station_key=walk[0], check_key=walk[1]).count()
    )
    Job.objects.exclude(pk=whole.pk).update(state="closed")
    return int(whole.pk)


def _copy_walk(source: int, target: int, readings: int) -> None:
    """Give a job the first readings of another one's walk, numbered on from its own."""
    from django.db import connection

    columns = _columns("record_reading", but=("id", "key", "job_id", "seq", "supersedes_id"))
    with connection.cursor() as cursor:
        cursor.execute(
            f"INSERT INTO record_reading (key, job_id, seq, {columns}) "
            f"SELECT lower(hex(randomblob(16))), %s, (SELECT max(seq) FROM record_reading WHERE job_id = %s) "
            f"+ row_number() OVER (ORDER BY seq), {columns} FROM record_reading "
            "WHERE job_id = %s AND check_key = 'winding' ORDER BY seq LIMIT %s",
            [target, target, source, readings],
        )


def copy_job(template: int, made: int, jobs: int) -> None:
    """Copy the job, with unit, readings, results and standings, until there are `jobs` of them on hand."""
    from django.db import connection, transaction

    with transaction.atomic(), connection.cursor() as cursor:
        cursor.execute("CREATE TEMP TABLE IF NOT EXISTS copies (copied INTEGER PRIMARY KEY)")
        cursor.execute("DELETE FROM copies")
        cursor.executemany("INSERT INTO copies VALUES (%s)", [(number,) for number in range(made, jobs)])
        _copied(cursor, "record_unit", {"tag": "'C-' || copied"}, _of("record_job", "unit_id", template))
        _copied(
            cursor,
            "record_job",
            {"uuid": _FRESH, "number": "'C-' || copied", "unit_id": _shifted("unit_id")},
            str(template),
        )
        of_job = {"job_id": _shifted("job_id")}
        _copied_all(cursor, "record_reading", {**of_job, "key": _FRESH, "supersedes_id": "NULL"}, template)
        _copied_all(cursor, "record_result", of_job, template)
        result = {"result_id": _shifted("result_id")}
        _copied_all(cursor, "record_checkstanding", {**of_job, **result}, template)
        cursor.execute("ANALYZE")


# Every copy's number is added, a million at a time, to the ids of the rows it is copied from.
_APART = 1_000_000
_FRESH = "lower(hex(randomblob(16)))"


def _shifted(column: str) -> str:
    return f"source.{column} + copied * {_APART}"


def _of(table: str, column: str, job: int) -> str:
    return f"(SELECT {column} FROM {table} WHERE id = {job})"


def _copied(cursor: Any, table: str, changed: Mapping[str, str], row: str) -> None:
    _insert(cursor, table, changed, f"source.id = {row}")


def _copied_all(cursor: Any, table: str, changed: Mapping[str, str], job: int) -> None:
    struck = " AND NOT source.struck AND source.supersedes_id IS NULL" if table == "record_reading" else ""
    _insert(cursor, table, changed, f"source.job_id = {job}{struck}")


def _insert(cursor: Any, table: str, changed: Mapping[str, str], where: str) -> None:
    names = _columns(table, but=()).split(", ")
    values = {**{name: f"source.{name}" for name in names}, "id": _shifted("id"), **changed}
    cursor.execute(
        f"INSERT INTO {table} ({', '.join(names)}) "
        f"SELECT {', '.join(values[name] for name in names)} FROM copies, {table} AS source WHERE {where}"
    )


def _columns(table: str, but: tuple[str, ...]) -> str:
    from django.db import connection

    with connection.cursor() as cursor:
        found = connection.introspection.get_table_description(cursor, table)
    return ", ".join(column.name for column in found if column.name not in but)


def counted() -> dict[str, int]:
    """What there is in the record."""
    from barwise.record.models import Job, Reading

    return {"on_hand": Job.objects.exclude(state="closed").count(), "readings": Reading.objects.count()}


def _page(address: str, runs: int) -> dict[str, float]:
    """One page asked for again and again, each time of another job."""
    from django.conf import settings
    from django.db import connection
    from django.test import Client
    from django.test.utils import CaptureQueriesContext

    from barwise.record.models import Job, Person

    settings.ALLOWED_HOSTS = ["localhost"]
    client = Client(HTTP_HOST="localhost")
    client.post("/who", {"name": Person.objects.filter(active=True).exclude(role="reader")[0].name})
    jobs = list(Job.objects.filter(state="open").values_list("pk", flat=True))
    asked = [address.format(job=jobs[turn * 7919 % len(jobs)]) for turn in range(WARM + runs)]
    times, spent, size = [], [], 0
    for one in asked:
        start, used = time.perf_counter(), time.process_time()
        answer = client.get(one)
        size = len(answer.content)
        times.append((time.perf_counter() - start) * 1e3)
        spent.append((time.process_time() - used) * 1e3)
        assert answer.status_code == 200, one
    with CaptureQueriesContext(connection) as queries:
        client.get(asked[-1])
    kept = times[WARM:]
    return {
        "processor_ms": median(spent[WARM:]),
        "median_ms": median(kept),
        "p95_ms": quantiles(kept, n=20)[-1],
        "queries": len(queries),
        "kilobytes": size / 1e3,
    }


def table(figures: Mapping[str, Any]) -> str:
    """The figures as a table of the page."""
    sizes = figures["sizes"]
    heads = [f"{one['on_hand']:,} jobs, {one['readings']:,} readings" for one in sizes]
    lines = [
        f"| page | {' | '.join(heads)} | queries | kB |",
        f"| --- | {'---: | ' * len(sizes)}---: | ---: |",
    ]
    for name in PAGES:
        cells = [one["pages"][name] for one in sizes]
        spent = " | ".join(f"{cell['processor_ms']:.0f} ({cell['median_ms']:.0f}) ms" for cell in cells)
        queries = sorted({int(cell["queries"]) for cell in cells})
        shown = f"{queries[0]}" if len(queries) == 1 else f"{queries[0]} to {queries[-1]}"
        lines.append(f"| {name} | {spent} | {shown} | {cells[-1]['kilobytes']:.0f} |")
    return "\n".join(lines)


def filled(page: str, figures: Mapping[str, Any]) -> str:
    """The page with the figures of the last run."""
    return blocks.filled(page, "screen speed", f"{table(figures)}\n")
