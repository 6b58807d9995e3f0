"""`barwise gauge`: a study file in, how much of the spread is the gauge out."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest

from barwise.cli.main import exit_code
from barwise.files.study_file import parse_study

Capture = pytest.CaptureFixture[str]
EXAMPLE = Path("examples/gauge/study.csv")
SHOP = """
1.27 .90 1.09  1.12 1.09 1.15  1.73 1.28 1.77
1.34 1.32 1.27  1.24 1.00 1.14  1.64 1.65 1.77
1.09 1.26 1.09  1.48 1.15 1.15  1.64 1.44 1.68
"""


def written(tmp_path: Path, text: str) -> str:
    path = tmp_path / "study.csv"
    path.write_text(text, encoding="utf-8")
    return str(path)


def test_a_printed_study_comes_out_of_its_file_as_printed(tmp_path: Path, capsys: Capture) -> None:
    """E. L. Cano and others, Six Sigma with R, Springer 2012, chapter 5: variance of the gauge 0.0219
    (25.38 % of 0.0862), of the parts 0.0643, 2 kinds of part told apart."""
    readings = np.array(SHOP.split()).reshape(3, 3, 3)
    lines = [
        f"{part + 1},op{person + 1},{reading}"
        for person in range(3) for part in range(3) for reading in readings[person, part]
    ]  # fmt: skip
    path = written(tmp_path, "\n".join(["part,person,value", *lines]))
    assert exit_code(["gauge", path, "--json"]) == 0
    got = json.loads(capsys.readouterr().out)
    assert got["gauge"] ** 2 == pytest.approx(0.0219, abs=5e-5)
    assert got["part_spread"] ** 2 == pytest.approx(0.0643, abs=5e-5)
    assert got["total"] ** 2 == pytest.approx(0.0862, abs=5e-5)
    assert int(got["categories"]) == 2
    assert got["verdict"] == "not fit"


def test_words_lead_with_the_verdict_and_end_with_what_to_type_next(capsys: Capture) -> None:
    assert exit_code(["gauge", str(EXAMPLE), "--tolerance", "0.024"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].startswith("GOOD: gauge and people take up")
    assert "5 parts, 2 people, 3 readings each" in lines[1]
    assert "--repeatability" in lines[-1]


def test_rows_may_come_in_any_order_and_without_a_person(tmp_path: Path, capsys: Capture) -> None:
    path = written(tmp_path, "part,value\nb,2.0\na,1.0\nb,2.2\na,1.1\n")
    assert exit_code(["gauge", path]) == 0
    assert "one person only" in capsys.readouterr().out
    study = parse_study("part,value\nb,2.0\na,1.0\nb,2.2\na,1.1\n")
    assert study.parts == ("b", "a")
    assert study.value.tolist() == [[[2.0, 2.2]], [[1.0, 1.1]]]


def test_readings_that_never_differ_are_said_to_be_too_coarse(tmp_path: Path, capsys: Capture) -> None:
    path = written(tmp_path, "part,value\na,1\na,1\nb,2\nb,2\n")
    assert exit_code(["gauge", path]) == 0
    assert "too coarse to show its own spread" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("part,person,value\na,x,1\na,x,2\nb,x,1\n", 'found 1 reading of part "b" by "x", expected 2'),
        ("part,person,value\na,x,1\na,x,2\nb,x,1\nb,x,2\na,y,1\na,y,2\n", '0 readings of part "b" by "y"'),
        ("part,value\na,1\na,2\n", 'one part, "a"'),
        ("part,value\na,1\nb,2\n", "each part measured once"),
        ("part,value\na,1\na,x\n", 'line 3, column value: found "x"'),
        ('part,value\na,"1,5"\n', "a decimal point, not a comma"),
        ("part,value\n,1\n", "column part: found nothing"),
        ("part,value,unit\na,1,in\na,1,mm\n", 'column unit: found "mm"'),
        ("part,size\na,1\n", "unknown column"),
        ("", "an empty file"),
        ("part,value\n", "no readings"),
    ],
)
def test_a_study_that_cannot_be_is_refused_by_name(
    tmp_path: Path, capsys: Capture, text: str, says: str
) -> None:
    assert exit_code(["gauge", written(tmp_path, text)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert says in err
    assert err.count("\n") == 1


@pytest.mark.parametrize("tolerance", ["0", "-1", "nan"])
def test_a_tolerance_of_nothing_is_refused(tolerance: str, capsys: Capture) -> None:
    assert exit_code(["gauge", str(EXAMPLE), "--tolerance", tolerance]) == 2
    assert "--tolerance" in capsys.readouterr().err
