"""`python -m benchmarks`: all figures, or those of one benchmark."""

from __future__ import annotations

import argparse

from benchmarks import (
    armature_accuracy,
    armature_speed,
    commutator_accuracy,
    commutator_speed,
    cut_demo,
    pages,
)


def main() -> None:
    parser = argparse.ArgumentParser(
        prog="python -m benchmarks", description="Make the figures of the documents."
    )
    named = parser.add_subparsers(dest="name")
    armature_speed.options(named.add_parser("speed", help="how fast the engine is on this machine"))
    armature_accuracy.options(named.add_parser("accuracy", help="how often the diagnosis is right"))
    commutator_accuracy.options(named.add_parser("commutators", help="how near the clean-up diameter is"))
    commutator_speed.options(named.add_parser("cut-speed", help="how fast the cut plan is"))
    named.add_parser("pages", help="write the kept figures into the documents")
    chosen = parser.parse_args()
    if chosen.name in (None, "speed"):
        print("Speed: a minute or two")
        speed = armature_speed.run(chosen if chosen.name else parser.parse_args(["speed"]))
        print(pages.speed_table(speed))
    if chosen.name in (None, "accuracy"):
        print("Accuracy: about a second for each armature")
        accuracy = armature_accuracy.run(chosen if chosen.name else parser.parse_args(["accuracy"]))
        print(pages.accuracy_table(accuracy))
    if chosen.name in (None, "commutators"):
        print("Commutators: a few minutes")
        cuts = commutator_accuracy.run(chosen if chosen.name else parser.parse_args(["commutators"]))
        print(commutator_accuracy.table(cuts))
    if chosen.name in (None, "cut-speed"):
        times = commutator_speed.run(chosen if chosen.name else parser.parse_args(["cut-speed"]))
        print(commutator_speed.lines(times))
    if chosen.name in (None, "pages"):
        pages.write()
        cut_demo.write()


if __name__ == "__main__":
    main()
