"""Every address of the bench, what each role may do there, and an example of each in an invented shop."""

from __future__ import annotations

from dataclasses import dataclass
from uuid import uuid4

from django.urls import URLResolver, resolve

from barwise.web.urls import urlpatterns

ALL, READER, BENCH, OFFICE = "all", "reader", "bench", "office"
ROLES = ("nobody", READER, BENCH, OFFICE)


@dataclass(frozen=True)
class Address:
    """Who may look, and who may send; empty where there is nothing to look at, or to send.

    `screens` are where the demo shop shows it, for the browser tests; without them it is looked at once, and
    not at all where it is a `file`, or for other programs.
    """

    path: str
    look: str = ""
    send: str = ""
    screens: tuple[str, ...] = ()
    file: bool = False


JOB, STATION, CHECK = "/jobs/{job}", "/jobs/{job}/intake", "/jobs/{job}/intake/turns-by-hand"
WALK, CUT = "/jobs/{job}/armature/winding", "/jobs/{job}/commutator/cut"
ADDRESSES = {
    "home": Address("/", READER, screens=("/", "/?closed=1", "/?find=nothing-like-it")),
    "intake": Address("/jobs/new", READER, BENCH),
    "job": Address(JOB, READER, screens=("/jobs/1", "/jobs/2", "/jobs/3", "/jobs/4")),
    "job-wait": Address(f"{JOB}/wait", "", BENCH),
    "job-sheet": Address(
        f"{JOB}/sheet?sheet=demo-57-wave", READER, BENCH, screens=("/jobs/1/sheet?sheet=demo-36-lap",)
    ),
    "job-close": Address(f"{JOB}/close", "", BENCH),
    "job-reopen": Address(f"{JOB}/reopen", "", OFFICE),
    "job-worth": Address(f"{JOB}/worth", READER, BENCH, screens=("/jobs/1/worth", "/jobs/3/worth")),
    "job-export": Address(f"{JOB}/export.zip", OFFICE, file=True),
    "job-readings": Address(f"{JOB}/readings.csv", READER, file=True),
    "job-seal": Address(f"{JOB}/seal", READER, screens=("/jobs/1/seal", "/jobs/4/seal")),
    "job-record": Address(f"{JOB}/record", READER),
    "job-record-file": Address(f"{JOB}/record.pdf?paper=letter", READER, file=True),
    "job-bench-sheet": Address(f"{JOB}/bench-sheet.pdf", READER, file=True),
    "job-label": Address(f"{JOB}/label.pdf", READER, file=True),
    "bring-in": Address("/import", OFFICE, OFFICE),
    "station": Address(
        STATION,
        READER,
        screens=(
            "/jobs/1/intake?check=as-received",
            "/jobs/1/intake?check=complaint",
            "/jobs/1/armature?check=insulation",
            "/jobs/1/armature?check=winding",
            "/jobs/1/armature?check=shaft-bend-centres",
            "/jobs/1/commutator?check=look",
            "/jobs/1/commutator?check=diameter",
            "/jobs/1/brushes?check=length",
            "/jobs/1/assembly?check=lubrication",
            "/jobs/2/armature?check=insulation",
            "/jobs/3/brushes?check=spring-force",
            "/jobs/4/drive?check=clutch-weight",
            "/jobs/1/handover?check=vehicle-crank",
            "/jobs/4/handover",
            "/jobs/4/handover?check=vehicle-crank",
        ),
    ),
    "decide": Address(f"{STATION}/decide", "", BENCH),
    "part": Address(f"{STATION}/part", "", BENCH),
    "photo-add": Address(f"{STATION}/photo", "", BENCH),
    "take": Address(f"{CHECK}/take", "", BENCH),
    "strike": Address(f"{CHECK}/strike", "", BENCH),
    "walk": Address(
        f"{WALK}/walk",
        READER,
        BENCH,
        screens=(
            "/jobs/1/armature/winding/walk?test=drop",
            "/jobs/1/armature/winding/walk?test=blade",
            "/jobs/1/commutator/cut/walk",
            "/jobs/2/armature/winding/walk?test=drop",
            "/jobs/3/commutator/cut/walk",
        ),
    ),
    "answer": Address(
        f"{WALK}/answer",
        READER,
        screens=(
            "/jobs/1/armature/winding/answer",
            "/jobs/1/commutator/cut/answer",
            "/jobs/2/armature/winding/answer",
            "/jobs/4/handover/vehicle-crank/answer",
        ),
    ),
    "answer-again": Address(f"{WALK}/answer/again", "", BENCH),
    "answer-pass": Address(f"{CUT}/answer/pass", "", BENCH),
    "sheets": Address("/sheets", READER),
    "sheet-new": Address("/sheets/new", OFFICE, OFFICE),
    "sheet": Address("/sheets/demo-57-wave", READER),
    "sheet-edit": Address(
        "/sheets/demo-57-wave/edit",
        OFFICE,
        OFFICE,
        screens=("/sheets/demo-57-wave/edit", "/sheets/demo-57-wave/edit?as=text"),
    ),
    "instruments": Address("/instruments", READER),
    "instrument-new": Address("/instruments/new", OFFICE, OFFICE),
    "instrument": Address("/instruments/{instrument}", READER),
    "instrument-edit": Address("/instruments/{instrument}/edit", OFFICE, OFFICE),
    "instrument-retire": Address("/instruments/{instrument}/retire", "", OFFICE),
    "meter": Address("/instruments/{instrument}/meter", "", BENCH),
    "customers": Address("/customers", READER),
    "customer": Address("/customers/{customer}", READER),
    "unit": Address("/units/{unit}", READER),
    "history": Address("/history", READER),
    "history-rebuilds": Address("/history/rebuilds.csv", READER, file=True),
    "history-parts": Address("/history/parts.csv", READER, file=True),
    "history-instrument": Address("/history/instruments/{instrument}", READER),
    "history-drift": Address("/history/instruments/{instrument}.csv", READER, file=True),
    "history-model": Address(
        "/history/models/demo-57-wave", READER, screens=("/history/models/demo-57-wave?job=4",)
    ),
    "history-units": Address("/history/models/demo-57-wave.csv", READER, file=True),
    "history-check": Address(
        "/history/models/demo-57-wave/commutator/diameter",
        READER,
        screens=("/history/models/demo-57-wave/run/no-load-current?job=4",),
    ),
    "photo": Address("/photos/{photo}", READER, file=True),
    "sign-in": Address("/sign-in", ALL, ALL),
    "sign-out": Address("/sign-out", "", READER),
    "password": Address("/password", READER, READER),
    "who": Address("/who", READER, BENCH),
    "shop": Address("/shop", OFFICE, OFFICE),
    "backups": Address("/backups", OFFICE, OFFICE),
    "people": Address("/people", OFFICE, OFFICE),
    "health": Address("/health", ALL, file=True),
    "api:root": Address("/api/v1/", READER),
    "api:openapi-json": Address("/api/v1/openapi.json", READER, BENCH),
    "api:here": Address("/api/v1/here", READER),
    "api:jobs": Address("/api/v1/jobs", READER),
    "api:job": Address("/api/v1/jobs/{job}", READER),
    "api:readings": Address("/api/v1/jobs/{job}/intake/turns-by-hand/readings", READER),
    "api:follow": Address("/api/v1/jobs/{job}/armature/winding/walk?test=resistance&unit=mohm", READER),
    "api:take": Address("/api/v1/jobs/{job}/readings", "", BENCH),
    "api:strike": Address("/api/v1/jobs/{job}/readings/{reading}/strike", "", BENCH),
    "api:result": Address("/api/v1/jobs/{job}/intake/turns-by-hand/result", READER, BENCH),
    "api:meter": Address("/api/v1/meter", "", BENCH),
    "api:sheets": Address("/api/v1/sheets", READER),
    "api:sheet": Address("/api/v1/sheets/demo-57-wave/1", READER),
    "api:instruments": Address("/api/v1/instruments", READER),
}
IN_THE_NETWORK = ("sign-in", "password")
"""Nobody signs in at the shop's own computer."""
SENT_TO = tuple(name for name, one in ADDRESSES.items() if one.send)


def served() -> set[str]:
    """Every address that is there, as `urls.py` and the interface write it."""
    found = set()
    for one in urlpatterns:
        below = one.url_patterns if isinstance(one, URLResolver) else [None]
        found |= {f"{one.pattern}{'' if inner is None else inner.pattern}" for inner in below}
    return found


def in_table() -> set[str]:
    """The same of what stands in the table above."""
    numbers = dict.fromkeys(("job", "instrument", "customer", "unit"), 1)
    keys = dict.fromkeys(("photo", "reading"), uuid4())
    return {resolve(one.path.partition("?")[0].format(**numbers, **keys)).route for one in ADDRESSES.values()}


def rank(role: str) -> int:
    """A role that may more has the higher rank."""
    return -1 if role == ALL else ROLES.index(role)


def screens() -> list[str]:
    """Every screen of the demo shop, each with an address to look at it."""
    pages = (
        one
        for name, one in ADDRESSES.items()
        if one.look and not one.file and name not in IN_THE_NETWORK and not name.startswith("api:")
    )
    first = dict.fromkeys(("job", "instrument", "customer", "unit"), 1)
    return [address for one in pages for address in one.screens or (one.path.format(**first),)]
