"""How long `barwise verify` takes from start to answer: a sealed job of 5,000 readings, whole and altered.

    python -m benchmarks verify

The job is that of examples/proof/seal.json, with more readings and signed anew by a key made for it.
Processor's time and the clock's, the median of some runs; Python's own start is part of it. Writes
docs/figures/verify-speed.json and the table of docs/proof.md.
"""

from __future__ import annotations

import argparse
import io
import json
import os
import platform
import subprocess
import sys
import tempfile
import time
import uuid
import zipfile
from pathlib import Path
from statistics import median
from typing import Any

from barwise.files.file_seal import file_sealed, place_for
from barwise.files.reading_chain import links_of
from barwise.files.sealed_job import NAME, bundle, document_of, head_of, parse_bundle, signed_by
from barwise.files.signing_key import PublicKey, SigningKey
from benchmarks.blocks import put

EXAMPLE = Path(__file__).parent.parent / "examples" / "proof" / "seal.json"
FIGURES = Path("docs/figures/verify-speed.json")
PAGE = Path("docs/proof.md")
READINGS = 5000
RUNS = 9


def options(parser: argparse.ArgumentParser) -> None:
    """Options of the command."""
    parser.add_argument("--readings", type=int, default=READINGS, help="readings of the job")
    parser.add_argument("--runs", type=int, default=RUNS, help="runs of each")


def run(chosen: argparse.Namespace) -> dict[str, Any]:
    """Verify a large job; write the figures and the document's table."""
    with tempfile.TemporaryDirectory(prefix="verify-speed-") as folder:
        files = {
            "whole": sealed_zip(chosen.readings),
            "one reading altered": sealed_zip(chosen.readings, alter=7),
        }
        found = []
        for name, content in files.items():
            file = Path(folder) / f"{name}.zip"
            file.write_bytes(content)
            ends = 0 if name == "whole" else 1
            found.append(
                {"what": name, "bytes": len(content), **timed(["verify", str(file)], chosen.runs, ends)}
            )
    machine = {"python": platform.python_version(), "system": f"{platform.system()} {platform.machine()}"}
    figures = {"machine": machine, "runs": chosen.runs, "readings": chosen.readings, "files": found}
    if chosen.readings == READINGS:
        FIGURES.write_text(json.dumps(figures, indent=1) + "\n", encoding="utf-8")
        put(PAGE, "verify speed", f"\n{table(figures)}\n\n")
    return figures


def sealed_zip(readings: int, alter: int | None = None) -> bytes:
    """A job of so many readings as it is exported when it is closed; one of them altered in job.json."""
    job = many(dict(parse_bundle(EXAMPLE.read_bytes()).job), readings)
    key = SigningKey.made()
    document = document_of(
        job, "Invented Electric", key.fingerprint, "2026-01-31T12:00:00.000000Z", 1, "", "0"
    )
    carried = bundle(document, signed_by(key, document), [PublicKey(key.public, "2026-01-31")])
    if alter is not None:
        job["readings"][alter]["entered"] = "9"
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as out:
        out.writestr(NAME, carried)
        out.writestr("job.json", json.dumps({**job, "software": "0"}))
        out.comment = place_for(key.fingerprint).encode()
    return file_sealed(packed.getvalue(), key)


def many(job: dict[str, Any], readings: int) -> dict[str, Any]:
    """The same job with its third reading taken so many times, chained."""
    first = job["readings"][2]
    job["readings"] = [
        {**first, "seq": at, "key": str(uuid.uuid5(uuid.NAMESPACE_OID, str(at))), "link": ""}
        for at in range(1, readings + 1)
    ]
    for one, link in links_of(job):
        one["link"] = link  # the next one is worked out from it
    job["chain_head"] = head_of(job)
    return job


def timed(arguments: list[str], runs: int, ends: int) -> dict[str, float]:
    """Seconds of one command, each time in a process of its own."""
    times = []
    for _ in range(runs):
        before, began = os.times(), time.perf_counter()
        ran = subprocess.run(
            [sys.executable, "-m", "barwise.cli.main", *arguments], capture_output=True, check=False
        )
        wall, after = time.perf_counter() - began, os.times()
        if ran.returncode != ends:
            raise RuntimeError(ran.stdout.decode() + ran.stderr.decode())
        busy = after.children_user + after.children_system - before.children_user - before.children_system
        times.append((wall, busy))
    return {"wall_s": median(wall for wall, _ in times), "cpu_s": median(busy for _, busy in times)}


def table(figures: dict[str, Any]) -> str:
    """The figures as the document has them."""
    head = f"| `barwise verify`, {figures['readings']:,} readings | kB | processor | clock |"
    rows = [
        f"| {one['what']} | {one['bytes'] / 1000:.0f} | {one['cpu_s']:.2f} s | {one['wall_s']:.2f} s |"
        for one in figures["files"]
    ]
    return "\n".join([head, "| --- | ---: | ---: | ---: |", *rows])
