"""Every figure in the documents is the one that a run left in docs/figures, or that the package says now."""

from __future__ import annotations

import json
import re
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from benchmarks import armature_accuracy, armature_speed, pages
from benchmarks.reliability_picture import reliability_picture

ROOT = Path(__file__).parent.parent.parent
SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(autouse=True)
def at_the_root(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)


@pytest.mark.parametrize("page", pages.PAGES, ids=str)
def test_a_page_says_what_its_figures_say(page: Path) -> None:
    text = page.read_text(encoding="utf-8")
    assert pages.filled(text, pages.kept_figures()) == text, "run `python -m benchmarks pages`"


def test_the_accuracy_page_quotes_no_figure_that_is_not_filled_in() -> None:
    text = Path("docs/armature-accuracy.md").read_text(encoding="utf-8")
    prose = re.sub(r"<!-- figures: .*?<!-- end of figures -->", "", text, flags=re.DOTALL)
    prose = re.sub(r"[^\s>|(]+<!-- .*? -->", "", prose)
    # what is left are the aims and definitions: 0.95 stated, 0.03 of error, 0.01 and 0.02 stated and wrong
    assert set(re.findall(r"\d+\.\d+", prose)) <= {"0.95", "0.03", "0.01", "0.02"}


def test_a_figure_in_running_text_is_looked_up_and_written_in_its_own_form() -> None:
    text = "in 0.5<!-- accuracy a.b-c .3f --> of 7<!-- accuracy n d -->"
    assert pages.filled(text, {"accuracy": {"a": {"b-c": 0.98765}, "n": 12}}) == (
        "in 0.988<!-- accuracy a.b-c .3f --> of 12<!-- accuracy n d -->"
    )


def test_a_constant_of_the_package_is_taken_from_the_package() -> None:
    text = "x<!-- code barwise.inspect.armature.hypotheses.PRIOR_COUNT[1] .1f -->"
    assert pages.filled(text, {}).startswith("0.4<!--")


def test_the_reliability_diagram_is_the_one_of_the_kept_figures_and_can_be_read_aloud() -> None:
    kept = json.loads(Path("docs/figures/armature-accuracy.json").read_text())
    calibrated = {name: tests["calibration"]["named"] for name, tests in kept["tests"].items()}
    picture = ET.fromstring(reliability_picture(calibrated))
    shown = ET.parse("docs/figures/armature-reliability.svg").getroot()
    assert shown.attrib["role"] == "img"
    spoken = [shown.findtext(f"{SVG}{tag}") for tag in ("title", "desc")]
    assert spoken == [picture.findtext(f"{SVG}{tag}") for tag in ("title", "desc")]
    for values in calibrated.values():
        assert f"{values['count']} faults" in str(spoken[1])


def test_the_figures_are_the_whole_set_that_the_page_speaks_of() -> None:
    made = pages.kept_figures()["accuracy"]["set"]
    assert made["armatures"] >= 2000
    assert made["by_ngspice"] >= 500


def test_speed_is_taken_on_armatures_of_62_bars_with_every_test() -> None:
    case = armature_speed.grounded_cases(1)[0]
    assert case["winding"]["bars"] == 62
    assert {r["test"] for r in case["readings"]} == {"drop", "induced", "ground", "shaft-drop"}


def test_figures_can_be_taken_of_a_few_armatures(tmp_path: Path) -> None:
    from reference.makers import Bench, Mix, make_case

    counted = [armature_accuracy.count_case((make_case(20, n, Mix(), Bench()), {})) for n in range(4)]
    found = json.loads(json.dumps(armature_accuracy.figures(counted, [])))
    assert found["set"]["armatures"] == found["set"]["by_dense"] == 4
    assert found["set"]["shown_to_the_oracle"] == 0
    assert "barwise" in pages.accuracy_table(found)
    assert found["tests"]["all"]["barwise"]["together"]["cases"] == 4


def test_the_library_example_of_the_readme_runs(capsys: pytest.CaptureFixture[str]) -> None:
    example = re.search(r"```python\n(.*?)```", Path("README.md").read_text(encoding="utf-8"), re.DOTALL)
    assert example
    exec(compile(example[1], "README.md", "exec"), {})
    assert capsys.readouterr().out.split() == ["faulty", "high-resistance-joint", "23"]
