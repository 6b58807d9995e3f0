"""How long it takes to print: the record of each job of the invented shop, a bench sheet and a label.

    python -m benchmarks print

Cold is the first print of a job in a process that has shown a page before, as a server has: its answers are
worked out again and everything is set for the first time. Warm is the median of the next ones. The command is
timed from its start to the file, Python and all that it loads included. Each job has a process of its own.
Writes docs/figures/print-speed.json, the table of docs/printing.md, and docs/pictures/record-page-1.png, the
first page of the last job's record, which is closed and sealed.
"""

from __future__ import annotations

import argparse
import io
import json
import os
import platform
import re
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from statistics import median
from typing import Any

from pypdf import PdfReader

from benchmarks import blocks

FIGURES = Path("docs/figures/print-speed.json")
PAGE = Path("docs/printing.md")
PICTURE = Path("docs/pictures/record-page-1.png")
PICTURE_PPI = 110.0
RUNS = 9
COLD_AIM_S = 1.5
_INSIDE = "from benchmarks.print_speed import one_job; one_job({number!r}, {what!r}, {runs})"
_DRAWN = "from benchmarks.print_speed import first_page; first_page({number!r})"


def options(parser: argparse.ArgumentParser) -> None:
    """Options of the command."""
    parser.add_argument("--runs", type=int, default=RUNS, help="prints of each sheet after the first")
    parser.add_argument("--out", type=Path, default=FIGURES, help="file of the figures")


def run(chosen: argparse.Namespace) -> dict[str, Any]:
    """Print everything; write the figures and the document's table."""
    kept = chosen.out == FIGURES  # a trial leaves the document alone
    figures = measured(chosen.runs, draw=kept)
    chosen.out.write_text(json.dumps(figures, indent=1) + "\n", encoding="utf-8")
    if kept:
        PAGE.write_text(filled(PAGE.read_text(encoding="utf-8"), figures), encoding="utf-8")
    return figures


def measured(runs: int, *, draw: bool = False) -> dict[str, Any]:
    """Seconds, pages and bytes of each sheet of an invented shop that is thrown away; draws a page of it."""
    with tempfile.TemporaryDirectory(prefix="print-speed-") as folder:
        here = {**os.environ, "BARWISE_DATA": folder}
        here.pop("DATABASE_URL", None)
        command = [sys.executable, "-m", "barwise.cli.main"]
        said = subprocess.run(
            [*command, "demo", "--data", folder], env=here, check=True, capture_output=True, text=True
        )
        numbers = re.findall(r"job (\S+):", said.stdout)
        wanted = [("record", number) for number in numbers]
        wanted += [("bench-sheet", numbers[0]), ("label", numbers[0])]
        sheets = []
        for what, number in wanted:
            script = _INSIDE.format(number=number, what=what, runs=runs)
            made = subprocess.run(
                [sys.executable, "-c", script], env=here, check=True, capture_output=True, text=True
            )
            printed = [*command, "print", what, number, "-o", f"{folder}/out.pdf"]
            began = time.perf_counter()
            subprocess.run(printed, env=here, check=True, capture_output=True)
            sheets.append({**json.loads(made.stdout), "command_s": time.perf_counter() - began})
        if draw:
            script = _DRAWN.format(number=numbers[-1])
            subprocess.run([sys.executable, "-c", script], env=here, check=True)
    machine = {"python": platform.python_version(), "system": f"{platform.system()} {platform.machine()}"}
    return {"machine": machine, "runs": runs, "sheets": sheets}


def one_job(number: str, what: str, runs: int) -> None:
    """Print one sheet again and again in this process; says what it took as JSON."""
    from barwise.web.data_folder import data_folder
    from barwise.web.started import prepare

    prepare(data_folder())
    from barwise.record.jobs import job_numbered
    from barwise.record.overview import overview
    from barwise.report.paper.bench_sheet import bench_sheet_pdf
    from barwise.report.paper.printed_record import record_pdf
    from barwise.report.paper.tag_label import label_pdf

    makers: dict[str, Callable[[Any], bytes]] = {
        "record": record_pdf,
        "bench-sheet": bench_sheet_pdf,
        "label": label_pdf,
    }
    job = job_numbered(number)
    overview(job)  # a page was shown before
    times, pdf = [], b""
    for _ in range(runs + 1):
        began, busy = time.perf_counter(), time.process_time()
        pdf = makers[what](job)
        times.append((time.perf_counter() - began, time.process_time() - busy))
    cold, *warm = times
    found = {
        "what": what,
        "tag": job.unit.tag,
        "readings": job.last_seq,
        "pages": len(PdfReader(io.BytesIO(pdf)).pages),
        "bytes": len(pdf),
        "cold_s": cold[0],
        "cold_cpu_s": cold[1],
        "warm_s": median(wall for wall, _ in warm),
        "warm_cpu_s": median(cpu for _, cpu in warm),
    }
    print(json.dumps(found))


def first_page(number: str) -> None:
    """Draw the first page of a record for the documents, in few colours so that it stays small."""
    from barwise.web.data_folder import data_folder
    from barwise.web.started import prepare

    prepare(data_folder())
    from PIL import Image

    from barwise.record.handover import rebuild_record
    from barwise.record.jobs import job_numbered
    from barwise.report.paper.printed_record import fitting, record_sheet
    from barwise.report.paper.record_seal import seal_of
    from barwise.report.paper.typesetting import Typesetter

    job = job_numbered(number)
    with Typesetter(record_sheet(rebuild_record(job), "a4", seal_of(job))) as setter:
        drawn = setter.png(PICTURE_PPI, fit=fitting(setter))[0]
    page = Image.open(io.BytesIO(drawn)).convert("RGB")
    page.quantize(256, dither=Image.Dither.NONE).save(PICTURE, optimize=True)


def table(figures: dict[str, Any]) -> str:
    """The figures as the document has them."""
    head = "| sheet | readings | pages | kB | cold | warm | whole command |"
    rows = [head, "| --- | ---: | ---: | ---: | ---: | ---: | ---: |", *map(_row, figures["sheets"])]
    return "\n".join(rows) + "\n"


def _row(one: dict[str, Any]) -> str:
    cold = f"{one['cold_cpu_s']:.2f} ({one['cold_s']:.2f}) s"
    warm = f"{one['warm_cpu_s']:.2f} ({one['warm_s']:.2f}) s"
    size, command = f"{one['bytes'] / 1000:.0f}", f"{one['command_s']:.1f} s"
    cells = (one["readings"], one["pages"], size, cold, warm, command)
    return f"| {one['what']}, {one['tag']} | {' | '.join(map(str, cells))} |"


def filled(page: str, figures: dict[str, Any]) -> str:
    """The text of the page with its table in place."""
    return blocks.filled(page, "print speed", table(figures))
