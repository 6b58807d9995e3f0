"""A bench in a process of its own: prepares a shop, or enters readings and says which are acknowledged.

python tests/record/bench.py prepare
python tests/record/bench.py enter SEED COUNT     one line for each reading stored: its key
python tests/record/bench.py same KEY             the same reading from every process
python tests/record/bench.py check                what is wrong with the chain: nothing, if all is well

Commands joined by `and` run at once, each in a process of its own, forked when all that they load is there.
"""

from __future__ import annotations

import os
import sys
import traceback
import uuid
from itertools import groupby

import django

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "barwise.web.settings")
django.setup()

from barwise.machine.feed import Feed  # noqa: E402
from barwise.record.entry import Entry, Stored, take_reading  # noqa: E402
from barwise.record.models import Job  # noqa: E402
from barwise.record.seals import check_job  # noqa: E402

FEED = Feed(1, 15, 10.0)


def prepare() -> None:
    """Tables, and one job on the bench."""
    from django.core.management import call_command

    from barwise.record.jobs import add_customer, add_unit, open_job
    from barwise.record.sheets import store_sheet
    from barwise.route import sheet

    call_command("migrate", verbosity=0)
    text = (sheet._BUILT_IN / "demo-57-wave.toml").read_text(encoding="utf-8")
    open_job(add_unit("T-1", "starter"), add_customer("Invented Farm"), store_sheet(text))


def enter(seed: str, count: int) -> None:
    """Walk round the bars, each reading acknowledged on standard output once it is stored."""
    job = Job.objects.get()
    for number in range(count):
        bar = number % 57 + 1
        ends = {"place_from": str(bar), "place_to": str(bar % 57 + 1)}
        key = uuid.uuid5(uuid.NAMESPACE_OID, f"{seed} {number}")
        take(job, Entry(key, "armature", "winding", "3.70", test="drop", feed=FEED, **ends))


def take(job: Job, entry: Entry) -> None:
    stored = take_reading(job, entry)
    assert isinstance(stored, Stored)
    sys.stdout.write(f"{stored.reading.key}\n")
    sys.stdout.flush()


def run(command: str, *rest: str) -> None:
    """One command."""
    if command == "prepare":
        prepare()
    elif command == "enter":
        enter(rest[0], int(rest[1]))
    elif command == "check":
        sys.stdout.writelines(f"{one.line}\n" for one in check_job(Job.objects.get()).verdict.altered)
    else:
        take(Job.objects.get(), Entry(uuid.UUID(rest[0]), "intake", "turns-by-hand", "free"))
    sys.stdout.flush()


def run_at_once(commands: list[list[str]]) -> int:
    """Fork a process for each, before any has a connection; how many failed."""
    for command in commands:
        if not os.fork():
            try:
                run(*command)
            except BaseException:
                traceback.print_exc()
                os._exit(1)
            os._exit(0)
    return sum(os.wait()[1] != 0 for _ in commands)


if __name__ == "__main__":
    joined = [list(words) for is_and, words in groupby(sys.argv[1:], "and".__eq__) if not is_and]
    if len(joined) > 1:
        sys.exit(run_at_once(joined))
    run(*joined[0])
