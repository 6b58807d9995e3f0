"""Rules for every test: no deadline on examples, no skip where forbidden, the longest files first."""

from __future__ import annotations

import os
from collections.abc import Callable, Generator, Iterator
from functools import cache, lru_cache
from pathlib import Path
from typing import Any, TypeVar

import fasteners
import pytest
from hypothesis import HealthCheck, settings

Report = TypeVar("Report", pytest.TestReport, pytest.CollectReport)

SKIPS_FORBIDDEN = os.environ.get("BARWISE_NO_SKIPS") == "1"

LONGEST_FIRST = (
    "record/test_on_postgresql.py",
    "web/browser/test_accessibility.py",
    "web/browser/test_walk_in_browser.py",
    "web/browser/test_whole_job.py",
    "web/browser/test_meter_in_browser.py",
    "web/browser/test_demo_job.py",
    "benchmarks/test_entering.py",
    "record/test_released_databases.py",
    "web/test_restoring.py",
    "record/test_several_benches.py",
)
"""Begun first, each by the worker that is free: one begun last would keep a core waiting for the other."""

# The gate judges a change by the same examples every time; at the desk each run tries new ones.
# How fast examples are made says how busy the computer is, and nothing of what is tried.
UNHURRIED = {"deadline": None, "print_blob": True, "suppress_health_check": [HealthCheck.too_slow]}
settings.register_profile("gate", **UNHURRIED, derandomize=True)
settings.register_profile("desk", **UNHURRIED)
settings.load_profile("gate" if SKIPS_FORBIDDEN else "desk")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """The longest files come first; the order within a file, and of the others, stays."""
    tests = Path(__file__).parent
    turn = {tests / name: number for number, name in enumerate(LONGEST_FIRST)}
    items.sort(key=lambda item: turn.get(item.path, len(turn)))


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport() -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """A test that skips has not shown what its name says, so where skips are forbidden it fails."""
    return _skip_is_failure((yield))


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report() -> Generator[None, pytest.CollectReport, pytest.CollectReport]:
    """The same for a whole module that skips itself."""
    return _skip_is_failure((yield))


def _skip_is_failure(report: Report) -> Report:
    if SKIPS_FORBIDDEN and report.skipped and not hasattr(report, "wasxfail"):
        report.outcome = "failed"
        report.longrepr = f"skipped, and BARWISE_NO_SKIPS=1 forbids it: {report.longrepr}"
    return report


@pytest.fixture(scope="module")
def each_armature_diagnosed_once() -> Iterator[None]:
    """The same readings of the same winding give the same diagnosis, so it is worked out for the first test.

    For tests of what is kept and shown of it; how it is found is tried in tests/inspect.
    """
    from barwise.inspect import armature  # here: these rules are also tried alone, without the package

    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(armature, "diagnose", _once(armature.diagnose))
        yield


@cache
def _once(function: Callable[..., Any]) -> Callable[..., Any]:
    return lru_cache(maxsize=100)(function)


@pytest.fixture(scope="session")
def invented_shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The data folder of `barwise demo`, made once for all workers of a run: copy it before you change it.

    It was made beside `a-shop`, and what the command said stands beside it in `invented-shop.said`.
    """
    workers = tmp_path_factory.getbasetemp().parent if "PYTEST_XDIST_WORKER" in os.environ else None
    folder = (workers or tmp_path_factory.getbasetemp()) / "invented-shop"
    with fasteners.InterProcessLock(folder.with_suffix(".lock")):
        if not folder.exists():
            _make_shop(folder)
    return folder


def _make_shop(folder: Path) -> None:
    from tests.web.served import barwise  # here for the same reason

    made = barwise(folder.with_name("a-shop"), "demo")
    assert made.returncode == 0, made.stderr
    folder.with_suffix(".said").write_text(made.stdout, encoding="utf-8")
    folder.with_name("a-shop-demo").rename(folder)
