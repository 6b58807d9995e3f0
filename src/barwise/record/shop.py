"""An invented shop to look at: its people, instruments and sheets, and four jobs in different states.

Nothing in it is real. The armature and the commutator of the first job are those of examples/demo.
"""

from __future__ import annotations

import io
import uuid
from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from importlib import resources

from django.db import transaction
from django.utils import timezone
from PIL import Image, ImageDraw

from barwise.inspect.bar_walk import FED, BarWalk, usual_feed
from barwise.inspect.checks import Limit
from barwise.machine.feed import Feed
from barwise.measure.units import UNITS
from barwise.record.dispositions import decide_part
from barwise.record.entry import Entry, Question, take_reading
from barwise.record.habits import change_shop
from barwise.record.instruments import Figures, add_instrument
from barwise.record.invented_past import invented_past
from barwise.record.jobs import add_customer, add_unit, close_job, open_job, record_part, wait_for
from barwise.record.models import Instrument, Job, Person, SheetVersion, Shop
from barwise.record.photos import add_photo
from barwise.record.refusals import RecordError
from barwise.record.results import WALKS, current_result
from barwise.record.route_of import RouteOfJob, route_of
from barwise.record.sheets import store_sheet
from barwise.record.withdrawals import take_anew
from barwise.route.family import Check
from barwise.route.sheet import built_in_text

NAME = "Invented Electric"
ADDRESS = "1 Invented Lane\nNowhere\ntelephone 000 000 000"
WARRANTY = (
    "Invented: twelve months from the day on this sheet, on our work and on the parts we fitted. "
    "Bring it back with this record.\n"
    "Not on a starter that was cranked without pause, run under water, or opened by others; not on battery, "
    "cables and ring gear of the vehicle."
)
IN = UNITS["in"].factor
_FILES = resources.files("barwise.record") / "invented"
_USUAL = {
    "length": 0.0003,
    "voltage": 12.4,
    "resistance": 0.002,
    "current": 60.0,
    "force": 20.0,
    "torque": 0.5,
    "temperature": 20.0,
}
"""What an invented reading is, in SI, where no sheet says what is good."""
_INSULATION = 20e6
"""The same where megohms are asked for."""
_TOOLS = {"mV": "V1", "V": "V2", "in": "M1", "mm": "M1", "Mohm": "R1"}
"""What reads which unit; run-out and play are read on the dial."""

_SAID = {
    "intake.tag": "tag wired to the nose",
    "intake.complaint": "as the customer says it; came in whole, on its own bolts",
    "teardown.marks": "three scribed lines, dot at the upper bolt hole",
    "teardown.washers": "one fibre at the commutator end, two steel at the drive end",
    "brushes.use": "4200 h",
    "handover.parts": "all old parts kept for the customer",
    "handover.advice": "Measure the battery cables under load, clean the ground strap.",
}
"""What is written down where words are asked for."""

_ONLY_IN_DOUBT = (
    "air_gap.core", "air_gap.pole_bore", "brush_gear.spring_arms", "brush_gear.seated", "cranking.adds_up",
    "cranking.drop", "cranking.will_it_crank", "drive.slip_by_arm", "fields.ground", "insulation.timed",
    "new_bush.commutator_end", "new_bush.drive_end", "reduction.teeth", "shaft.bend_on_centres",
    "switch.both",
)  # fmt: skip
"""Decides checks that nobody takes on a part that is good."""
_OTHER_WAYS = (
    "brushes.holder-lamp", "drive.clutch-arm", "drive.clutch-came", "frame.coil-ohms",
    "handover.vehicle-rest", "handover.vehicle-speed", "handover.vehicle-temperature",
    "run.lock-low-current", "run.lock-low-torque", "run.lock-low-volts",
    "run.no-load-low-current", "run.no-load-low-speed", "run.no-load-low-volts",
)  # fmt: skip
"""Checks that stand in for others where a shop lacks their instrument or the vehicle stayed away, and the run
test's second points."""


@transaction.atomic
def demo_shop(*, with_past: bool = False) -> list[Job]:
    """Fill an empty record with the invented shop.

    Parameters
    ----------
    with_past : bool
        With two years of closed jobs before its four.

    Returns
    -------
    list of Job
        On the bench with open questions; waiting for the customer; closed; and one from the door back to it,
        with a fault that only the run test found.

    Raises
    ------
    RecordError
        If there are jobs in this record already.
    """
    if Job.objects.exists():
        raise RecordError(
            "demo: found jobs in this record already, expected an empty one: name another folder"
        )
    person = Person.objects.create(name="Vera (invented)", role="bench")
    Person.objects.create(name="Olaf (invented)", role="office")
    change_shop(person, name=NAME, address=ADDRESS, warranty=WARRANTY)
    Shop.objects.update(invented=True)
    _instruments(person)
    if with_past:
        invented_past()
    return [_on_the_bench(person), _waiting(person), _closed(person), _run_and_mended(person)]


def _instruments(person: Person) -> None:
    today = timezone.localdate()
    last_year, soon = today - timedelta(days=350), today + timedelta(days=15)
    outside = Figures(0.0001 * IN, 0.00004 * IN, 0.00005 * IN, last_year, soon)
    add_instrument("M1", "micrometer 1-2 in", outside, "length", "in", person)
    dial = Figures(0.0001 * IN, 0.00005 * IN, 0.00005 * IN, last_year, soon)
    add_instrument("D1", "dial indicator", dial, "length", "in", person)
    meter = Figures(0.01e-3, 0.01e-3, 0.0, last_year, last_year + timedelta(days=340))
    add_instrument("V1", "millivoltmeter", meter, "voltage", "mV", person)
    volts = Figures(0.01, 0.005, 0.0, last_year, soon)
    add_instrument("V2", "voltmeter", volts, "voltage", "V", person)
    add_instrument("R1", "insulation tester", replace(meter, resolution_si=1e4), "resistance", "Mohm", person)


def _on_the_bench(person: Person) -> Job:
    """In the middle of it: the armature walked, the commutator measured, both with something open."""
    job = _opened("DEMO-1", "demo-57-wave", "Invented Farm Machinery", "Cranks slowly when hot.", person, 3)
    _as_good(job, ("intake", "teardown"), person)
    for station, check in (("armature", "look"), ("armature", "insulation"), ("commutator", "look")):
        _take_as_good(job, station, route_of(job).family.check(station, check), person)
    for entry in _example_walk():
        _take(job, entry, person)
    at = {"unit": "in", "place_from": "1", "track": "0.2", "instrument": _tagged("M1")}
    _take(job, _entry("commutator", "diameter", "1.2421", **at), person)
    dial = _tagged("D1")
    for row in _rows("profile.csv"):
        bar, track, value = row
        at = {"unit": "in", "place_from": bar, "track": track, "instrument": dial}
        _take(job, _entry("commutator", _profile_check(job), value, **at), person)
    current_result(job, "armature", "winding")
    current_result(job, "commutator", _profile_check(job))
    add_photo(job, _drawing(), "intake", "as-received", "Drawn, not photographed: an invented unit", person)
    return job


def _waiting(person: Person) -> Job:
    """Waiting for the customer: the winding leaks to the shaft."""
    job = _opened("DEMO-2", "demo-36-lap", "Invented Boatyard", "Dead after the bilge flooded.", person, 8)
    _as_good(job, ("intake", "teardown"), person)
    _take(job, _entry("armature", "insulation", "0.02", unit="Mohm"), person)
    why = "washed and baked twice, still leaks"
    decide_part(job, "armature", "replace", why, part="armature", person=person)
    return wait_for(job, "the customer's word on another armature", person)


def _closed(person: Person) -> Job:
    """Done and handed back."""
    job = _opened(
        "DEMO-3", "demo-23-magnet", "Invented Haulage", "Noisy, sometimes does not engage.", person, 20
    )
    stations = tuple(station.key for station, _ in route_of(job).stations)
    # Without a lock test the run says too little to be weighed.
    _as_good(job, stations, person, leaving=("run.verdict",))
    record_part(job, "brush set", "replaced", 1, "INV-23-B", "brushes", person=person)
    record_part(job, "bush, drive end", "replaced", 1, "INV-23-D", "bearings", person=person)
    return close_job(job, person)


def _run_and_mended(person: Person) -> Job:
    """From the door back to it: every part passed, the run is weak, a joint in the frame is mended, it runs.

    One of two field paths carries next to nothing: each coil fed alone reads well, and the joint was not
    looked at.
    """
    job = _opened("DEMO-4", "demo-57-wave", "Invented Quarry", "Turns fast, has no strength.", person, 5)
    before_the_run = ("intake", "teardown", *_PARTS, "assembly")
    _as_good(job, before_the_run, person, leaving=("frame.joints", "drive.clutch-slip", *_OF_A_CUT))
    _cut_clean(job, person)
    for station, check, place, text, unit in _OF_THE_PARTS:
        _take(job, _entry(station, check, text, unit=unit, place_from=place), person)
    for check, text, unit in _WEAK_RUN:
        _take(job, _entry("run", check, text, unit=unit), person)
    current_result(job, "run", "verdict")
    _take(job, _entry("frame", "joints", "one reads high"), person)
    decide_part(job, "frame", "rework", "joint of the second field path made anew", person=person)
    for station in _PARTS:
        if station not in ("frame", "commutator"):
            decide_part(job, station, "reuse", person=person)
    _take_anew(job, _entry("frame", "joints", "all near nothing"), _MENDED, person)
    for check, text, unit in _SOUND_RUN:
        _take_anew(job, _entry("run", check, text, unit=unit), _MENDED, person)
    for check, text, unit in _AT_HALF_VOLTS:
        _take(job, _entry("run", check, text, unit=unit), person)
    run = {check for check, _, _ in _SOUND_RUN}
    loaded = ("loaded-volts", "loaded-current", "loaded-speed", "loaded-torque")
    in_the_vehicle = ("handover.vehicle-current", "handover.vehicle-battery")
    left_out = (*(f"run.{check}" for check in (*run, *loaded)), *in_the_vehicle)
    _as_good(job, ("run", "handover"), person, leaving=left_out)
    current_result(job, "run", "verdict")
    _take(job, _entry("handover", "vehicle-crank", _VEHICLE), person)
    current_result(job, "handover", "vehicle-crank")
    return close_job(job, person)


def _cut_clean(job: Job, person: Person) -> None:
    """The commutator walked on one track, cut until no old metal was left, and measured again."""
    unit, micrometer, dial = "in", _tagged("M1"), _tagged("D1")
    taken = [("diameter", "1.2481", {"place_from": "1", "track": "0.5", "instrument": micrometer})]
    walked = [(bar, value) for bar, track, value in _rows("profile.csv") if track == "0.5"]
    profile = _profile_check(job)
    on_track = {"track": "0.5", "instrument": dial}
    taken += [(profile, value, {"place_from": bar, **on_track}) for bar, value in walked]
    for check, text, at in taken:
        _take(job, _entry("commutator", check, text, unit=unit, **at), person)
    current_result(job, "commutator", profile)
    decide_part(job, "commutator", "rework", "cut until clean, mica undercut", person=person)
    at = {"unit": unit, "instrument": micrometer}
    _take(job, _entry("commutator", "after-pass", "1.2421", **at), person)
    _take(job, _entry("commutator", "untouched", "none"), person)
    current_result(job, "commutator", profile)
    for _ in range(2):
        _take(job, _entry("commutator", "final-diameter", "1.2421", **at), person)


_OF_A_CUT = tuple(
    f"commutator.{check}"
    for check in ("diameter", "centres-runout", "after-pass", "untouched", "final-diameter")
)
_PARTS = ("armature", "commutator", "frame", "brushes", "switch", "drive", "bearings")
_MENDED = "measured anew, the joint in the frame is made"
_OF_THE_PARTS = (
    ("brushes", "seating-share", "1", "98", "%"),
    ("brushes", "seating-share", "2", "100", "%"),
    ("brushes", "seating-share", "3", "99", "%"),
    ("brushes", "seating-share", "4", "100", "%"),
    ("drive", "clutch-arm", "", "24.0", "in"),
    ("drive", "clutch-came", "", "held", ""),
    ("drive", "clutch-weight", "", "37", "lbf"),
    ("bearings", "core", "one way", "3.142", "in"),
    ("bearings", "core", "crosswise", "3.141", "in"),
    ("bearings", "air-gap", "one pair", "3.182", "in"),
    ("bearings", "air-gap", "other pair", "3.183", "in"),
)
"""Of a shop without a torque wrench: seating by eye, the clutch by weight on an arm, and the air gap."""

_WEAK_RUN = (
    ("temperature", "24", "degC"),
    ("no-load-volts", "11.42", "V"),
    ("no-load-current", "84", "A"),
    ("no-load-speed", "5190", "rpm"),
    ("lock-volts", "4.05", "V"),
    ("lock-current", "333", "A"),
    ("lock-torque", "5.1", "lbf.ft"),
    ("verdict", "weigh what is read", ""),
)
_VEHICLE = """\
temperature = "-10 degC"
title = "stationary engine (invented)"

[battery]
volts = "12 V"
rated_current = "540 A"
rest_volts = "12.50 V"
age_years = 4

[engine]
displacement = "2.4 L"
cylinders = 4
fuel = "petrol"
oil = "15W-40"
compression_ratio = 8.5

[starter]
ring_teeth = 130
pinion_teeth = 9

[[leg]]
name = "positive cable"
gauge = "2"
length = "1.5 m"
joints = 2

[[leg]]
name = "switch"
contact = "0.5 mohm"

[[leg]]
name = "ground"
gauge = "4"
length = "0.9 m"
joints = 2"""
"""What the quarry says of the engine it hangs on."""

_SOUND_RUN = (
    ("temperature", "26", "degC"),
    ("no-load-volts", "11.48", "V"),
    ("no-load-current", "69", "A"),
    ("no-load-speed", "4600", "rpm"),
    ("lock-volts", "4.02", "V"),
    ("lock-current", "450", "A"),
    ("lock-torque", "13.9", "lbf.ft"),
    ("verdict", "weigh what is read", ""),
)
_AT_HALF_VOLTS = (
    ("no-load-low-volts", "5.74", "V"),
    ("no-load-low-current", "59", "A"),
    ("no-load-low-speed", "2430", "rpm"),
    ("lock-low-volts", "2.01", "V"),
    ("lock-low-current", "199", "A"),
    ("lock-low-torque", "4.8", "lbf.ft"),
)


def _opened(tag: str, sheet: str, customer: str, complaint: str, person: Person, days_ago: int) -> Job:
    kept = _sheet(sheet, person)
    unit = add_unit(tag, kept.family_key, f"{tag}-000", kept.title, person, invented=True)
    named = add_customer(customer, "invented", person, invented=True)
    job = open_job(unit, named, kept, complaint, person, invented=True)
    job.opened_at -= timedelta(days=days_ago)
    job.save(update_fields=["opened_at"])
    return job


def _sheet(key: str, person: Person) -> SheetVersion:
    return store_sheet(built_in_text(key), person, key)


def _example_walk() -> Iterator[Entry]:
    meter = _tagged("V1")
    for test, start, end, value, unit, into, out, amps in _rows("readings.csv"):
        feed = Feed(int(into), int(out), float(amps)) if amps else None
        ends = {"place_from": start, "place_to": end}
        tool = meter if unit == "mV" else None
        yield _entry("armature", "winding", value, unit=unit, test=test, feed=feed, instrument=tool, **ends)


def _rows(name: str) -> Iterator[list[str]]:
    """The rows of an invented file, without its remarks and its header."""
    lines = (_FILES / name).read_text(encoding="utf-8").splitlines()
    written = [line for line in lines if line and not line.startswith("#")]
    return (line.split(",") for line in written[1:])


def _profile_check(job: Job) -> str:
    station = route_of(job).family.station("commutator")
    return next(check.key for check in station.checks if check.entry == "profile-walk")


def _as_good(job: Job, stations: tuple[str, ...], person: Person, leaving: tuple[str, ...] = ()) -> None:
    """Take every check of some stations, but those left out, as a good part would read."""
    for station, checks in route_of(job).stations:
        if station.key in stations:
            for check in checks:
                if f"{station.key}.{check.key}" not in leaving:
                    _take_as_good(job, station.key, check, person)


def _take_as_good(job: Job, station: str, check: Check, person: Person) -> None:
    route = route_of(job)
    unlimited = check.entry == "number" and check.limit and route.limit(check) is None
    unlimited = unlimited or f"{station}.{check.key}" in _OTHER_WAYS
    if check.entry in ("photo", "profile-walk") or unlimited or check.decides in _ONLY_IN_DOUBT:
        return
    if check.entry == "bar-walk":
        for entry in _good_walk(route, station, check):
            _take(job, entry, person)
        current_result(job, station, check.key)
        return
    places = check.place_names(route.facts.facts) or ("",)
    for place in places:
        for _ in range(check.readings):
            text = _good_answer(station, check, route.limit(check))
            more = {"unit": _unit(check), "place_from": place, "instrument": _tool(check)}
            _take(job, _entry(station, check.key, text, **more), person)
    if check.entry in WALKS or check.leans_on:
        current_result(job, station, check.key)


def _good_walk(route: RouteOfJob, station: str, check: Check) -> Iterator[Entry]:
    """A sound armature's drops: the healthy pattern at a coil of 0.36 milliohm."""
    if route.winding is None:
        return
    feed = usual_feed(route.winding)
    walk = BarWalk(route.winding, FED[0], feed)
    pattern = walk.healthy_pattern
    for number, (start, end) in enumerate(walk.places):
        volts = 0.0 if pattern is None else float(pattern[number]) * 0.36e-3
        ends = {"place_from": str(start), "place_to": str(end)}
        yield _entry(station, check.key, f"{volts * 1e3:.2f}", unit="mV", test="drop", feed=feed, **ends)


def _good_answer(station: str, check: Check, limit: Limit | None) -> str:
    if check.entry == "number":
        value = _good_value(check, limit) / UNITS[_unit(check)].factor
        return f"{value:.4f}" if check.quantity == "length" else f"{value:.4g}"
    if check.entry == "yes-no":
        return "yes" if not check.answers else check.answers[0].say
    if check.answers:
        good = [one.say for one in check.answers if one.means in ("accept", "note")]
        return (good or [check.answers[0].say])[0]
    return _SAID.get(f"{station}.{check.key}", "invented: nothing to remark")


def _good_value(check: Check, limit: Limit | None) -> float:
    """In SI: the target, as new, or well within what is allowed."""
    if limit is None:
        return _INSULATION if check.unit == "Mohm" else _USUAL.get(check.quantity, 1.0)
    if limit.scale is not None:
        new, *_, worn = sorted(limit.scale.points, key=lambda point: point.percent)
        return new.size_m + 0.1 * (worn.size_m - new.size_m)
    lower = None if limit.allowed is None else limit.allowed.lower
    upper = None if limit.allowed is None else limit.allowed.upper
    if limit.target is not None:
        return limit.target
    if lower is not None and upper is not None:
        return (lower + upper) / 2
    return 2 * lower if lower is not None else 0.4 * (upper or 1.0)


def _tool(check: Check) -> Instrument | None:
    """The invented shop's instrument for a number; None where it has none, or a feeler gauge is asked for."""
    if check.entry != "number" or "feeler" in check.how:
        return None
    return _tagged("D1" if "dial" in check.how else _TOOLS.get(check.unit, ""))


def _tagged(tag: str) -> Instrument | None:
    return Instrument.objects.filter(tag=tag, retired=False).first()


def _unit(check: Check) -> str:
    return check.unit if check.entry == "number" else ""


def _entry(station: str, check: str, text: str, **more: object) -> Entry:
    return Entry(uuid.uuid4(), station, check, text, confirmed=True, **more)  # type: ignore[arg-type]


def _take(job: Job, entry: Entry, person: Person) -> None:
    answer = take_reading(job, entry, person)
    if isinstance(answer, Question):
        raise RecordError(f"demo: {answer.ask}")


def _take_anew(job: Job, entry: Entry, reason: str, person: Person) -> None:
    answer = take_anew(job, entry, reason, person)
    if isinstance(answer, Question):
        raise RecordError(f"demo: {answer.ask}")


def _drawing() -> bytes:
    """A drawn armature, seen from its end: nothing was photographed."""
    drawn = Image.new("RGB", (640, 480), "white")
    pen = ImageDraw.Draw(drawn)
    pen.ellipse((140, 60, 500, 420), outline="black", width=6)
    pen.ellipse((230, 150, 410, 330), outline="black", width=4)
    pen.ellipse((295, 215, 345, 265), fill="black")
    written = io.BytesIO()
    drawn.save(written, "PNG")
    return written.getvalue()
