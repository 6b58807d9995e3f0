"""Rules for every test: no deadline on examples, and no skip where skips are forbidden."""

from __future__ import annotations

import os
from collections.abc import Generator
from typing import TypeVar

import pytest
from hypothesis import settings

Report = TypeVar("Report", pytest.TestReport, pytest.CollectReport)

SKIPS_FORBIDDEN = os.environ.get("BARWISE_NO_SKIPS") == "1"

# The gate judges a change by the same examples every time; at the desk each run tries new ones.
settings.register_profile("gate", deadline=None, print_blob=True, derandomize=True)
settings.register_profile("desk", deadline=None, print_blob=True)
settings.load_profile("gate" if SKIPS_FORBIDDEN else "desk")


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
