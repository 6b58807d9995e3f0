"""A meter reads for one page at a time, and a page never gets a reading out of its turn."""

from __future__ import annotations

import uuid
from datetime import timedelta

import pytest

from barwise.errors import InputError
from barwise.record import meters
from barwise.record.instruments import Figures, add_instrument, retire
from barwise.record.meters import Offered, Orders, Report, listen, news, press, report
from barwise.record.models import Instrument, Meter
from barwise.record.refusals import RecordError

pytestmark = pytest.mark.django_db
HERE, THERE = uuid.UUID(int=1), uuid.UUID(int=2)


@pytest.fixture
def tool() -> Instrument:
    return add_instrument("M-2", "milliohm meter", Figures(1e-6), "resistance", "mohm")


def said(state: str = "ready", offered: Offered | None = None, page: uuid.UUID | None = HERE) -> Orders:
    return report("M-2", "resistance", Report(state, page=page, reading=offered))


def settled(text: str = "0.000713", ago: float = 0.0) -> Offered:
    return Offered(uuid.uuid4(), text, "ohm", f"+{text}", ago)


def test_a_reading_goes_to_the_page_that_listens_and_to_it_once(tool: Instrument) -> None:
    assert said().page is None
    listen(tool.pk, HERE, "steady")
    assert said() == Orders(HERE, "steady", 0)
    begun = news(tool.pk, HERE, None)
    said(offered=settled())
    came = news(tool.pk, HERE, begun.number)
    assert came.reading is not None
    assert (came.reading.text, came.reading.unit, came.reading.said) == ("0.000713", "ohm", "+0.000713")
    assert news(tool.pk, HERE, came.number).reading is None


def test_a_reading_whose_answer_was_lost_is_given_again(tool: Instrument) -> None:
    listen(tool.pk, HERE, "steady")
    begun = news(tool.pk, HERE, None).number
    said(offered=settled())
    first, again = news(tool.pk, HERE, begun).reading, news(tool.pk, HERE, begun).reading
    assert first is not None
    assert again is not None
    assert first.key == again.key


def test_a_reading_reported_twice_is_offered_once(tool: Instrument) -> None:
    listen(tool.pk, HERE, "steady")
    begun, one = news(tool.pk, HERE, None).number, settled()
    said(offered=one)
    said(offered=one)
    assert news(tool.pk, HERE, begun).number == begun + 1


def test_a_page_that_missed_a_reading_is_told_and_never_gets_the_next_in_its_place(tool: Instrument) -> None:
    listen(tool.pk, HERE, "steady")
    begun = news(tool.pk, HERE, None).number
    said(offered=settled("0.001"))
    said(offered=settled("0.002"))
    came = news(tool.pk, HERE, begun)
    assert came.reading is None
    assert came.missed
    said(offered=settled("0.003"))
    after = news(tool.pk, HERE, came.number)
    assert after.reading is not None
    assert after.reading.text == "0.003"


def test_a_reading_that_nobody_picked_up_in_time_is_missed_too(tool: Instrument) -> None:
    listen(tool.pk, HERE, "steady")
    begun = news(tool.pk, HERE, None).number
    said(offered=settled(ago=meters.FRESH.total_seconds()))
    assert news(tool.pk, HERE, begun).missed


def test_the_page_that_asked_last_has_the_meter_and_the_other_hears_so(tool: Instrument) -> None:
    listen(tool.pk, HERE, "steady")
    begun = news(tool.pk, HERE, None).number
    listen(tool.pk, THERE, "pedal", "F9")
    assert said().page == THERE
    said(offered=settled())
    lost = news(tool.pk, HERE, begun)
    assert (lost.has, lost.reading) == (False, None)
    press(tool.pk, HERE)  # a pedal at the page that lost it does nothing
    assert said().presses == 0
    press(tool.pk, THERE)
    assert said() == Orders(THERE, "pedal", 1)
    assert meters.pedal_of(tool) == "F9"


def test_a_reading_that_settled_for_another_page_is_dropped(tool: Instrument) -> None:
    listen(tool.pk, HERE, "steady")
    listen(tool.pk, THERE, "steady")
    begun = news(tool.pk, THERE, None)
    assert not begun.follows
    assert said(offered=settled(), page=HERE).page == THERE  # now the listener knows
    assert news(tool.pk, THERE, begun.number).number == begun.number
    said(offered=settled(), page=THERE)
    came = news(tool.pk, THERE, begun.number)
    assert came.follows
    assert came.reading is not None


def test_a_page_that_is_gone_gets_nothing_and_nothing_is_offered(tool: Instrument) -> None:
    listen(tool.pk, HERE, "steady")
    begun = news(tool.pk, HERE, None).number
    gone = Meter.objects.get().page_at - meters.GONE
    Meter.objects.update(page_at=gone)
    assert said(offered=settled()).page is None
    assert news(tool.pk, HERE, begun).number == begun


@pytest.mark.parametrize("jump", [-timedelta(days=365), timedelta(days=365)])
def test_a_listener_that_is_gone_and_a_clock_that_jumped_are_noticed(
    tool: Instrument, jump: timedelta
) -> None:
    said()
    listen(tool.pk, HERE, "steady")
    assert news(tool.pk, HERE, None).heard
    Meter.objects.update(heard_at=Meter.objects.get().heard_at + jump)
    assert not news(tool.pk, HERE, None).heard
    said()
    assert news(tool.pk, HERE, None).heard
    said("stopped")
    assert not news(tool.pk, HERE, None).heard


def test_what_cannot_be_is_refused_and_nothing_is_offered(tool: Instrument) -> None:
    listen(tool.pk, HERE, "steady")
    with pytest.raises(RecordError, match='found "M-9", expected the tag of one in use'):
        report("M-9", "resistance", Report("ready"))
    with pytest.raises(InputError, match='quantity: found "voltage", expected resistance, which M-2 reads'):
        report("M-2", "voltage", Report("ready"))
    with pytest.raises(InputError, match="state"):
        said("dancing")
    with pytest.raises(InputError, match='unit: found "mV"'):
        said(offered=Offered(uuid.uuid4(), "1", "mV", "1"))
    with pytest.raises(InputError, match="text"):
        said(offered=Offered(uuid.uuid4(), "OL", "ohm", "OL"))
    with pytest.raises(InputError, match="how"):
        listen(tool.pk, HERE, "shouting")
    retire(tool)
    with pytest.raises(RecordError):
        listen(tool.pk, HERE, "steady")
    assert Meter.objects.get().number == 0


def test_a_meter_that_only_says_it_is_there_is_not_written_down_each_time(
    tool: Instrument, django_assert_max_num_queries: pytest.fixture
) -> None:
    said()
    with django_assert_max_num_queries(2) as asked:
        said()
    assert not [query for query in asked.captured_queries if query["sql"].startswith("UPDATE")]
