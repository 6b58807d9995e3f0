"""The shop's habits stand in one row, and a change of the level is a change of every decision."""

from __future__ import annotations

import pytest
from django.db import IntegrityError, connection, transaction

from barwise.errors import InputError
from barwise.record.habits import change_shop, the_shop
from barwise.record.models import Change, Job, Shop
from barwise.record.results import current_result
from barwise.record.standing import job_stand
from tests.record.conftest import Take

pytestmark = pytest.mark.django_db


def test_what_is_usual_holds_until_the_shop_says_otherwise() -> None:
    assert (the_shop().decimal_comma, the_shop().length_unit, the_shop().level) == (False, "in", 0.95)
    change_shop(decimal_comma=True, length_unit="mm")
    change_shop(name="Invented Electric")
    assert (the_shop().name, the_shop().decimal_comma, the_shop().length_unit) == (
        "Invented Electric",
        True,
        "mm",
    )
    assert Change.objects.filter(what="shop changed").count() == 2


def test_there_is_one_shop() -> None:
    change_shop(name="one")
    Shop(name="other").save()
    assert [shop.name for shop in Shop.objects.all()] == ["other"]
    with pytest.raises(IntegrityError), transaction.atomic(), connection.cursor() as cursor:
        cursor.execute("UPDATE record_shop SET id = 2")


def test_another_level_decides_anew(job: Job, take: Take) -> None:
    take("commutator", "diameter", "1.22608", unit="in", place_from="1", track="0.5")
    assert current_result(job, "commutator", "diameter").decision == "accept"
    take("commutator", "diameter", "1.22604", unit="in", place_from="1", track="0.5")
    change_shop(level=0.9999999)
    assert any(one.out_of_date for one in job_stand(job).checks)
    assert current_result(job, "commutator", "diameter").decision == "undecided"


def test_a_long_warranty_is_kept_whole_and_short_in_the_log() -> None:
    change_shop(warranty="A year. " * 100, paper="letter")
    assert Shop.objects.get().warranty == "A year. " * 100
    line = Change.objects.get().line
    assert len(line) < 120
    assert "paper letter" in line


@pytest.mark.parametrize(
    "change",
    [
        {"length_unit": "furlong"},
        {"level": 0.5},
        {"level": 1.0},
        {"colour": "red"},
        {"paper": "a3"},
        {"warranty": "w" * 6001},
        {"address": "a" * 401},
    ],
)
def test_a_habit_that_makes_no_sense_is_refused(change: dict[str, object]) -> None:
    with pytest.raises(InputError):
        change_shop(**change)
    assert Shop.objects.count() == 0
