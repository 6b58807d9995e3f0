"""The pages of the shop's history before there is one, and for what is not there."""

from __future__ import annotations

import pytest

from tests.web.shop import bench_client, open_invented_job
from tests.web.test_jobs import said

pytestmark = pytest.mark.django_db


def test_an_empty_shop_says_what_will_fill_it() -> None:
    assert "This page fills as jobs are handed back" in said(bench_client().get("/history"))


@pytest.mark.parametrize(
    "address",
    [
        "/history/models/none",
        "/history/models/none.csv",
        "/history/models/demo-57-wave/run/none",
        "/history/instruments/999",
    ],
)
def test_what_is_not_there_is_not_found(address: str) -> None:
    open_invented_job()
    assert bench_client().get(address).status_code == 404
