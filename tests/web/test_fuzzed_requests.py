"""Whatever is sent, no address breaks: the interface by its own description, the forms by fields of chance.

`BARWISE_REQUESTS=5000 pytest tests/web/test_fuzzed_requests.py` tries so many at each (docs/reliability.md).
"""

from __future__ import annotations

import json
import os
import re
from pathlib import Path
from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import barwise.web
from barwise.web.api import api
from benchmarks.fuzzing import NASTY
from tests.web.addresses import ADDRESSES, SENT_TO
from tests.web.shop import bench_client

pytestmark = pytest.mark.django_db

REQUESTS = int(os.environ.get("BARWISE_REQUESTS", "3"))
INTERFACE = schemathesis.openapi.from_dict(api.get_openapi_schema())
OPERATIONS = {
    f"{found.ok().method.upper()} {found.ok().path}": found.ok() for found in INTERFACE.get_all_operations()
}
TEMPLATES = Path(barwise.web.__file__).parent / "templates"
FIELDS = sorted(
    {
        name
        for page in TEMPLATES.rglob("*.html")
        for name in re.findall(r'\bname="([\w.-]+)"', page.read_text(encoding="utf-8"))
    }
)
VALUES = st.one_of(st.sampled_from(NASTY), st.text(max_size=20), st.integers().map(str))
FORMS = st.dictionaries(st.sampled_from(FIELDS), VALUES, max_size=8)
MANY = settings(max_examples=REQUESTS, suppress_health_check=list(HealthCheck))


@pytest.mark.parametrize("name", OPERATIONS)
def test_the_interface_answers_as_it_is_described(known: dict[str, Any], name: str) -> None:
    bench, operation = bench_client(), OPERATIONS[name]

    @MANY
    @given(operation.as_strategy(), st.booleans())
    def tried(case: schemathesis.Case, ours: bool) -> None:
        if ours and "job_id" in case.path_parameters:  # else hardly a request finds anything
            case.path_parameters |= {"job_id": known["job"], "station": "intake", "check": "turns-by-hand"}
        answer = bench.generic(case.method, case.formatted_path, _sent(case), **_typed(case))
        described = operation.definition.raw["responses"]
        assert str(answer.status_code) in {*described, "403", "404", "422"}, answer.content
        assert answer.headers["Content-Type"].startswith("application/json"), answer.content
        if answer.status_code >= 400:
            assert answer.json()["error"]

    tried()


def _sent(case: schemathesis.Case) -> bytes:
    sent = case.as_transport_kwargs(base_url="http://localhost")
    if isinstance(sent.get("data"), bytes):
        return sent["data"]
    body = sent.get("json")
    return json.dumps({} if body is None else body).encode()


def _typed(case: schemathesis.Case) -> dict[str, Any]:
    query = {key: str(value) for key, value in (case.query or {}).items()}
    return {"content_type": "application/json", "query_params": query}


@pytest.mark.parametrize("name", [name for name in SENT_TO if not name.startswith("api:")])
def test_a_form_of_chance_is_taken_or_refused_in_words(known: dict[str, Any], name: str) -> None:
    path, bench = ADDRESSES[name].path.format(**known), bench_client()

    @MANY
    @given(FORMS)
    def tried(fields: dict[str, str]) -> None:
        answer = bench.post(path, fields)
        answer.close()
        assert answer.status_code in (200, 302, 400, 403, 404, 409, 422), answer.status_code

    tried()
