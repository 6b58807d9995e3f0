"""What a meter wrote stays with its reading: in the record, its table, and the zip for another shop."""

from __future__ import annotations

import csv
import io
import uuid
import zipfile

import pytest

from barwise.record.exchange import import_job
from barwise.record.exchanged import written_job
from barwise.record.handover import rebuild_record
from barwise.record.instruments import Figures, add_instrument
from barwise.record.models import Job, Person
from barwise.record.readings_csv import readings_csv
from barwise.report.paper.rebuild_record import laid_out
from tests.web.shop import open_invented_job, read

pytestmark = pytest.mark.django_db
LINE = "+7.130000E-04"


@pytest.fixture
def job() -> Job:
    made, anna = open_invented_job(), Person.objects.create(name="Anna (invented)")
    meter = add_instrument("M-2", "milliohm meter", Figures(1e-6), "resistance", "mohm")
    gauge = add_instrument("C-1", "caliper", Figures(1e-5), "length", "mm")
    for bar, said in ((1, LINE), (2, "")):
        ends = {"place_from": str(bar), "place_to": str(bar + 1), "test": "resistance", "unit": "mohm"}
        source = {"said": said, "said_unit": "ohm"} if said else {}
        read(made, "armature", "winding", "0.713", anna, **ends, **source, instrument=meter)
    source = {"said": "01A 16.30 mm", "said_unit": "mm"}
    read(made, "brushes", "length", "16.30", anna, unit="mm", place_from="1", instrument=gauge, **source)
    return made


def test_the_record_says_what_the_meter_read_and_what_a_hand_typed(job: Job) -> None:
    said = repr(laid_out(rebuild_record(job)))
    assert said.count("read by the meter itself") == 2  # the walk's run by the meter, and the brush
    assert "which wrote 01A 16.30 mm (mm)" in said


def test_the_table_of_readings_has_the_line_and_no_spreadsheet_takes_it_for_a_formula(job: Job) -> None:
    rows = list(csv.DictReader(io.StringIO(readings_csv(job))))
    assert [row["meter_wrote"] for row in rows] == [f"'{LINE}", "", "01A 16.30 mm"]
    assert [row["meter_unit"] for row in rows] == ["ohm", "", "mm"]


def test_the_zip_for_another_shop_has_it_and_the_shop_keeps_it(job: Job) -> None:
    written = written_job(job)
    said = [(one.said, one.said_unit) for one in written.readings]
    assert said == [(LINE, "ohm"), ("", ""), ("01A 16.30 mm", "mm")]
    # brought in as from elsewhere: another job, with keys of its own, and so without these links
    text = written.model_dump_json(by_alias=True).replace(str(written.uuid), str(uuid.uuid4()))
    for one in written.readings:
        text = text.replace(str(one.key), str(uuid.uuid4())).replace(one.link, "")
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as made:
        made.writestr("job.json", text)
    here = import_job(packed.getvalue()).job
    assert here.pk != job.pk
    assert list(here.readings.order_by("seq").values_list("said", "said_unit")) == said
