"""A check whose readings a meter takes: what the page posts, and what is kept of it."""

from __future__ import annotations

import uuid
from typing import Any

import pytest
from django.test import Client

from barwise.record.instruments import Figures, add_instrument
from barwise.record.meters import Offered, Report, report
from barwise.record.models import Instrument, Job, Reading

pytestmark = pytest.mark.django_db
PAGE = uuid.UUID(int=7)
HTMX = {"HTTP_HX_REQUEST": "true"}


@pytest.fixture
def tool() -> Instrument:
    return add_instrument("M-2", "milliohm meter", Figures(1e-6), "resistance", "mohm")


def take(bench: Client, job: Job, tool: Instrument, **more: str) -> Any:
    sent = {"place": "1", "unit": "mohm", "instrument": str(tool.pk), "how": "steady", "page": str(PAGE)}
    sent |= {"key": str(uuid.uuid4()), "said": "+0.000713", "said_unit": "ohm"}
    return bench.post(f"/jobs/{job.pk}/frame/coil-ohms/take", {**sent, **more}, **HTMX)


def asked(bench: Client, tool: Instrument, into: str, **more: str) -> str:
    sent = {"page": str(PAGE), "how": "steady", "unit": "mohm", "into": into, **more}
    return bench.post(f"/instruments/{tool.pk}/meter", sent).content.decode()


def settled(tool: Instrument) -> None:
    report(
        tool.tag,
        "resistance",
        Report("lift", page=PAGE, reading=Offered(uuid.uuid4(), "0.000713", "ohm", "+1")),
    )


def test_a_reading_of_the_meter_is_kept_with_its_line_and_the_meter_is_heard_on(
    bench: Client, job: Job, tool: Instrument
) -> None:
    page = take(bench, job, tool, value="", read="0.713").content.decode()
    kept = Reading.objects.get(job=job)
    assert (kept.entered, kept.unit, kept.said, kept.said_unit) == ("0.713", "mohm", "+0.000713", "ohm")
    assert kept.instrument == tool
    assert f'id="meter" class="meter" hx-post="/instruments/{tool.pk}/meter"' in page
    assert f'name="page" value="{PAGE}"' in page


def test_nothing_of_the_meter_is_taken_while_the_hand_types(
    bench: Client, job: Job, tool: Instrument
) -> None:
    assert take(bench, job, tool, value="0.7", read="0.713").status_code == 204
    assert not Reading.objects.exists()


@pytest.mark.parametrize("said", ["x" * 201, "two\nlines"])
def test_a_line_that_no_meter_wrote_is_refused(bench: Client, job: Job, tool: Instrument, said: str) -> None:
    assert "a damaged form" in take(bench, job, tool, read="0.713", said=said).content.decode()
    assert not Reading.objects.exists()


@pytest.mark.parametrize(
    ("into", "typed", "hands"),
    [
        ("/jobs/1/frame/coil-ohms/take", "", True),
        ("/jobs/1/frame/coil-ohms/take", "0.7", False),
        ("/who", "", False),
    ],
)
def test_a_page_is_handed_a_reading_only_for_a_check_and_an_empty_field(
    bench: Client, tool: Instrument, into: str, typed: str, hands: bool
) -> None:
    asked(bench, tool, into, begin="1")
    settled(tool)
    said = asked(bench, tool, into, after="0", value=typed)
    assert (f'hx-post="{into}"' in said) == hands
    assert ("&quot;read&quot;: &quot;0.713&quot;" in said) == hands


def test_a_pedal_that_types_a_digit_is_refused_at_the_check(
    bench: Client, job: Job, tool: Instrument
) -> None:
    form = {
        "check": "coil-ohms",
        "key": str(uuid.uuid4()),
        "instrument": str(tool.pk),
        "how": "pedal",
        "pedal": "5",
    }
    said = bench.get(f"/jobs/{job.pk}/frame", form, **HTMX).content.decode()
    assert "a key that no number begins with" in said
    assert 'id="meter"' not in said
