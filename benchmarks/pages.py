"""Figures written into the documents, so that no page says what no run has shown.

A page holds blocks that are filled from docs/figures, and single figures in running text:

    <!-- figures: accuracy_table accuracy -->  ...  <!-- end of figures -->
    0.983<!-- accuracy tests.all.barwise.single.right .3f -->
    0.004<!-- code barwise.inspect.armature.likelihood.GAIN_NOISE .3f -->

A test asks that every page is as this module would write it.
"""

from __future__ import annotations

import importlib
import json
import re
import subprocess
import sys
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from benchmarks.made_set import COLUMNS
from benchmarks.signatures import signatures

Figures = Mapping[str, Any]

FIGURES = Path("docs/figures")
PAGES = (
    Path("docs/armature-accuracy.md"),
    Path("docs/armature-model.md"),
    Path("docs/what-each-test-shows.md"),
    Path("README.md"),
)
DEMO = ("examples/demo/winding.toml", "examples/demo/readings.csv")
PICTURE = Path("docs/pictures/armature-demo.svg")

_BLOCK = re.compile(r"(<!-- figures: (\w+)(?: (\w+))? -->\n).*?(<!-- end of figures -->)", re.DOTALL)
_SINGLE = re.compile(r"[^\s>|(]+(<!-- (\w+) ([\w.\[\]-]+) (\S+) -->)")

GROUPS = {
    "sound": "sound armature called sound",
    "single": "single fault",
    "double": "two faults: both right",
}
AIMS = {
    "all": {"sound": 0.99, "single": 0.97, "double": 0.75, "sure_and_wrong": 0.01},
    "direct": {"sound": 0.95, "single": 0.93, "double": 0.60, "sure_and_wrong": 0.02},
    "exciter": {"sound": 0.95, "single": 0.90, "sure_and_wrong": 0.02},
}
"""What the project set out to reach on cases like these."""
JUDGES = {"barwise": "barwise", "oracle": "oracle", "rule_of_thumb": "rule of thumb"}


def write() -> None:
    """Fill every page again, and draw the picture of the README."""
    PICTURE.parent.mkdir(parents=True, exist_ok=True)
    demo_output("--picture", str(PICTURE))
    for page in PAGES:
        if page.exists():
            page.write_text(filled(page.read_text(encoding="utf-8"), kept_figures()), encoding="utf-8")
            print(f"{page} written")


def kept_figures() -> dict[str, Figures]:
    """Figures of the last runs, by benchmark."""
    return {
        name: json.loads((FIGURES / f"armature-{name}.json").read_text(encoding="utf-8"))
        for name in ("accuracy", "fresh", "speed")
        if (FIGURES / f"armature-{name}.json").exists()
    }


def filled(page: str, figures: Mapping[str, Figures]) -> str:
    """The text of a page with its figures in place."""

    def block(match: re.Match[str]) -> str:
        opening, name, source, closing = match.groups()
        text = BLOCKS[name](figures[source]) if source else FROM_THE_PACKAGE[name]()
        return f"{opening}{text}\n{closing}"

    def single(match: re.Match[str]) -> str:
        mark, source, path, form = match.groups()
        value = _constant(path) if source == "code" else _looked_up(figures[source], path)
        return f"{value:{form}}{mark}"

    return _SINGLE.sub(single, _BLOCK.sub(block, page))


def _looked_up(figures: Figures, path: str) -> Any:
    value: Any = figures
    for key in path.split("."):
        value = value[key]
    return value


def _constant(path: str) -> Any:
    """A constant of the package, such as `barwise.machine.network.BUZZ_SHARE`, or one of a tuple of them."""
    module, _, name = path.rpartition(".")
    name, _, index = name.partition("[")
    value = getattr(importlib.import_module(module), name)
    return value[int(index.rstrip("]"))] if index else value


def demo_output(*more: str) -> str:
    """What the command prints for the invented armature of the examples."""
    command = [str(Path(sys.executable).parent / "barwise"), "armature", *DEMO, *more]
    return subprocess.run(command, check=True, capture_output=True, text=True).stdout.rstrip()


def demo() -> str:
    """The command for the invented armature and what it prints."""
    return f"```text\n$ barwise armature {' '.join(DEMO)}\n{demo_output()}\n```"


def table(head: list[str], rows: list[list[str]]) -> str:
    """A table in Markdown, figures to the right."""
    lines = [head, ["---", *["---:"] * (len(head) - 1)], *rows]
    return "\n".join(f"| {' | '.join(line)} |" for line in lines)


def accuracy_table(figures: Figures) -> str:
    """Shares of right answers beside the aim, the oracle and the rule of thumb."""
    rows = []
    for name, column in COLUMNS.items():
        counted = figures["tests"][name]
        judges = [counted.get(judge, {}) for judge in JUDGES]
        rows.append([f"**{column.name}**", "", "", *[""] * len(judges)])
        for group, label in GROUPS.items():
            if group not in counted["barwise"]:
                continue
            found = [_share(judge.get(group, {}).get("right")) for judge in judges]
            found[1] = _of(judges[1].get(group), counted["barwise"][group]["cases"], "right")
            cases = f"{counted['barwise'][group]['cases']}"
            rows.append([label, cases, _share(AIMS[name].get(group)), *found])
        every = counted["barwise"]["together"]["cases"]
        wrong = [
            _share(judges[0]["together"]["sure_and_wrong"]),
            _of(judges[1].get("together"), every, "sure_and_wrong"),
        ]
        cases = f"{every}"
        at_most = f"≤ {AIMS[name]['sure_and_wrong']:.2f}"
        rows.append(["0.95 or more stated, and wrong", cases, at_most, *wrong, ""])
        unsure = [_share(judge.get("together", {}).get("undecided")) for judge in judges[:1]]
        rows.append(["undecided", cases, "", *unsure, "", ""])
    return table(["", "armatures", "aim", *JUDGES.values()], rows)


def solver_table(figures: Figures) -> str:
    """Right answers on the cases of each solver, all tests taken."""
    rows = []
    for group, label in GROUPS.items():
        row = [label]
        for solver in ("dense", "ngspice"):
            counted = figures["by_solver"].get(solver, {}).get(group)
            row.append(f"{counted['right']:.3f} of {counted['cases']}" if counted else "")
        rows.append(row)
    return table(["", "dense solve", "ngspice"], rows)


def missed_table(figures: Figures) -> str:
    """The faults that were most often not answered right, for each choice of tests."""
    rows = []
    for name, column in COLUMNS.items():
        rows.append([f"**{column.name}**", "", ""])
        rows += [[m["faults"], f"{m['missed']}", f"{m['made']}"] for m in figures["missed"][name]]
    return table(["what was there", "not right", "of"], rows)


def calibration_table(figures: Figures) -> str:
    """Expected calibration error of each choice of tests."""
    labels = {"named": "every fault named", "first": "first explanation", "runners_up": "runners-up"}
    rows = []
    for name, column in COLUMNS.items():
        stated = figures["tests"][name]["calibration"]
        row = [column.name]
        for label in labels:
            row += [f"{stated[label]['count']}", f"{stated[label]['expected_calibration_error']:.3f}"]
        rows.append(row)
    head = [""]
    for label in labels.values():
        head += [label, "error"]
    return table(head, rows)


def interval_table(figures: Figures) -> str:
    """Share of 95 % intervals that hold the truth."""
    names = sorted({n for t in figures["tests"].values() for n in t["intervals"]} - {"together"})
    rows = []
    for severity in [*names, "together"]:
        row = [severity.replace("_", " ")]
        for name in COLUMNS:
            found = figures["tests"][name]["intervals"].get(severity)
            row.append(f"{found['share']:.3f} of {found['count']}" if found else "")
        rows.append(row)
    return table(["severity", *(column.name for column in COLUMNS.values())], rows)


def smallest_table(figures: Figures) -> str:
    """What became of faults of exactly the smallest size that was said to show."""
    rows = [
        [
            kind,
            f"{found['count']}",
            f"{found['faulty']:.3f}",
            f"{found['placed']:.3f}",
            f"{found['not_sound']:.3f}",
        ]
        for kind, found in figures["smallest_detectable"].items()
    ]
    return table(["kind", "made", "called faulty", "kind and place first", "not called sound"], rows)


def speed_table(figures: Figures) -> str:
    """Times and ratios."""
    diagnosis, grounded, command, rate = (
        figures[part] for part in ("diagnosis", "grounded", "command", "hypotheses")
    )
    rows = [
        [f"diagnosis, {diagnosis['bars']} bars, all tests", f"{diagnosis['median_ms']:.0f} ms", "150 ms"],
        ["the same, grounded, half with a second fault", f"{grounded['median_ms']:.0f} ms", ""],
        ["the whole command", f"{command['median_ms']:.0f} ms", "1000 ms"],
        ["pairs of faults predicted by the engine", f"{rate['engine_per_s']:,.0f} a second", ""],
        ["times a dense solve", f"{rate['engine_over_dense']:.0f}", "50"],
        [
            "times `numpy.linalg.solve` alone, equations ready made",
            f"{rate['engine_over_bare_solve']:.0f}",
            "",
        ],
    ]
    if "engine_over_ngspice" in rate:
        rows.append(["times an ngspice run", f"{rate['engine_over_ngspice']:,.0f}", ""])
    return table(["", "median", "aim"], rows)


def _share(value: float | None) -> str:
    return "" if value is None else f"{value:.3f}"


def _of(counted: Mapping[str, float] | None, cases: int, name: str) -> str:
    """A share, and of how many where it was not all."""
    if not counted:
        return ""
    return _share(counted[name]) + (f" of {counted['cases']}" if counted["cases"] != cases else "")


BLOCKS: Mapping[str, Callable[[Figures], str]] = {
    make.__name__: make
    for make in (
        missed_table,
        accuracy_table,
        solver_table,
        calibration_table,
        interval_table,
        smallest_table,
        speed_table,
    )
}

FROM_THE_PACKAGE: Mapping[str, Callable[[], str]] = {"demo": demo, "signatures": signatures}
"""Blocks that need no run kept: they are worked out as the page is written."""
