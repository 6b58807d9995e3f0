"""`python -m benchmarks`: all figures, or those of one benchmark."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from benchmarks import (
    armature_accuracy,
    armature_speed,
    backup_speed,
    commutator_accuracy,
    commutator_speed,
    cut_demo,
    entry_speed,
    fuzzing,
    pages,
    print_speed,
    run_accuracy,
    run_speed,
    screen_speed,
    soak,
    verify_speed,
)


@dataclass(frozen=True)
class Named:
    """One benchmark: its name on the command line, what it says, how long it takes, and how it is run."""

    name: str
    says: str
    takes: str
    options: Callable[[argparse.ArgumentParser], None]
    run: Callable[[argparse.Namespace], Any]
    table: Callable[[Any], str]


BENCHMARKS = (
    Named(
        "speed",
        "how fast the engine is on this machine",
        "a minute or two",
        armature_speed.options,
        armature_speed.run,
        pages.speed_table,
    ),
    Named(
        "accuracy",
        "how often the diagnosis is right",
        "about a second for each armature",
        armature_accuracy.options,
        armature_accuracy.run,
        pages.accuracy_table,
    ),
    Named(
        "commutators",
        "how near the clean-up diameter is",
        "a few minutes",
        commutator_accuracy.options,
        commutator_accuracy.run,
        commutator_accuracy.table,
    ),
    Named(
        "cut-speed",
        "how fast the cut plan is",
        "a minute",
        commutator_speed.options,
        commutator_speed.run,
        commutator_speed.lines,
    ),
    Named(
        "screens",
        "how long the screens take as the record grows",
        "a few minutes",
        screen_speed.options,
        screen_speed.run,
        screen_speed.table,
    ),
    Named(
        "fuzz",
        "whether any spoilt file is neither taken nor refused",
        "half an hour",
        fuzzing.options,
        fuzzing.run,
        fuzzing.table,
    ),
    Named(
        "print",
        "how long a record, a bench sheet and a label take to print",
        "two minutes",
        print_speed.options,
        print_speed.run,
        print_speed.table,
    ),
    Named(
        "verify",
        "how long a sealed job of 5,000 readings takes to verify",
        "a minute",
        verify_speed.options,
        verify_speed.run,
        verify_speed.table,
    ),
    Named(
        "soak",
        "whether the server's memory stays flat",
        "an hour",
        soak.options,
        soak.run,
        soak.table,
    ),
    Named(
        "backup",
        "how long a backup of 500,000 readings takes, and whether entry waits for it",
        "five minutes",
        backup_speed.options,
        backup_speed.run,
        backup_speed.table,
    ),
    Named(
        "entry",
        "how fast a reading is on the disk, and whether one is lost to kill -9",
        "about twenty minutes",
        entry_speed.options,
        entry_speed.run,
        entry_speed.table,
    ),
    Named(
        "run",
        "how well the run test tells power and cause",
        "a second or two for each starter",
        run_accuracy.options,
        run_accuracy.run,
        run_accuracy.table,
    ),
    Named(
        "run-speed",
        "how long a logged run takes",
        "a few seconds",
        run_speed.options,
        run_speed.run,
        run_speed.lines,
    ),
)


def main() -> None:
    parser = argparse.ArgumentParser(
        prog="python -m benchmarks", description="Make the figures of the documents."
    )
    named = parser.add_subparsers(dest="name")
    for one in BENCHMARKS:
        one.options(named.add_parser(one.name, help=one.says))
    named.add_parser("pages", help="write the kept figures into the documents")
    named.add_parser("pictures", help="write the pictures of the screens")
    chosen = parser.parse_args()
    for one in BENCHMARKS:
        if chosen.name in (None, one.name):
            print(f"{one.name}: {one.takes}")
            print(one.table(one.run(chosen if chosen.name else parser.parse_args([one.name]))))
    if chosen.name in (None, "pages"):
        pages.write()
        cut_demo.write()
    if chosen.name == "pictures":
        from benchmarks import screen_pictures  # a browser is wanted for nothing else

        screen_pictures.write()


if __name__ == "__main__":
    main()
