"""The winding file: how one armature is wound, in TOML.

See docs/file-formats.md for the keys. Whether a winding of these numbers can exist is decided by
`barwise.machine.winding`; this module says which file and line a refusal comes from.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from barwise.errors import InputError, WindingError
from barwise.files.text import nearest_word, plain, read_text
from barwise.files.toml_tables import parse_tables, value_shown
from barwise.machine.winding import Winding

KIND = "a TOML file with a [winding] table"
MOST_BARS = 1000

Count = Annotated[int, Field(ge=1, le=MOST_BARS)]
Ohms = Annotated[float, Field(gt=0, allow_inf_nan=False)]


class WindingTable(BaseModel):
    """The ``[winding]`` table as it stands in the file."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)

    kind: Literal["lap", "wave"]
    poles: Annotated[int, Field(ge=2, le=MOST_BARS)]
    bars: Annotated[int, Field(ge=3, le=MOST_BARS)]
    turns_per_coil: Count = 1
    progression: Literal["progressive", "retrogressive"] = "progressive"
    slots: Count | None = None
    plex: Count = 1
    coil_pitch: Count | None = None
    coil_resistance: Ohms | None = None
    temperature: Annotated[float, Field(allow_inf_nan=False)] = 20.0
    equalizers: Annotated[int, Field(ge=0, le=MOST_BARS)] = 0
    meter_ohms: Ohms | None = None


EXPECTED = {
    "kind": 'kind = "lap" or kind = "wave"',
    "poles": "an even whole number from 2",
    "bars": f"a whole number from 3 to {MOST_BARS}",
    "turns_per_coil": "a whole number from 1",
    "progression": '"progressive" or "retrogressive"',
    "slots": "a whole number from 1",
    "plex": "1 for simplex, 2 for duplex",
    "coil_pitch": "a whole number of slots from 1",
    "coil_resistance": "a number of ohms above 0, such as 0.00036",
    "temperature": "a number of degrees Celsius, such as 20.0",
    "equalizers": "a whole number of rings, 0 for none",
    "meter_ohms": "a number of ohms above 0, such as 1e7",
}
_FILE_KEY = {
    "coil_resistance_ohm": "coil_resistance",
    "temperature_c": "temperature",
    "coil_pitch_slots": "coil_pitch",
}


@dataclass(frozen=True)
class WindingFile:
    """A winding, and the load [ohm] of the meter on induced readings; None is a voltmeter."""

    winding: Winding
    meter_ohm: float | None = None


def load_winding(path: str | Path) -> WindingFile:
    """Read a winding file.

    Raises
    ------
    InputError
        If the file cannot be read or a key is missing, unknown or of the wrong kind; the message
        names file, line and key, and what was expected.
    WindingError
        If each key is fine but no such winding can exist; the message says why and what would work.
    """
    path = Path(path)
    return parse_winding(read_text(path, KIND), str(path))


def parse_winding(text: str, name: str = "winding.toml") -> WindingFile:
    """Read the text of a winding file, called `name` in messages. Raises as `load_winding`."""
    table = _table(text, name)
    try:
        written = WindingTable.model_validate(table)
    except ValidationError as error:
        raise _plain_error(error, text, name) from None
    try:
        winding = Winding(
            kind=written.kind,
            poles=written.poles,
            bars=written.bars,
            turns_per_coil=written.turns_per_coil,
            progression=written.progression,
            slots=written.slots,
            plex=written.plex,
            coil_resistance_ohm=written.coil_resistance,
            temperature_c=written.temperature,
            equalizers=written.equalizers,
            coil_pitch_slots=written.coil_pitch,
        )
    except WindingError as error:
        raise _placed(error, text, name) from None
    return WindingFile(winding, written.meter_ohms)


def _table(text: str, name: str) -> dict[str, Any]:
    whole = parse_tables(text, name, KIND, 'bars = 57 or kind = "wave"')
    for key in whole:
        if key != "winding":
            where = f"{name}{_line_of(key, text)}, key {plain(key)}"
            near = nearest_word(key, ("winding", *EXPECTED))
            raise InputError(where, "an unknown key", f"only the table [winding]{near}")
    if not isinstance(whole.get("winding"), dict):
        raise InputError(name, "no [winding] table", KIND)
    return dict(whole["winding"])


def _plain_error(error: ValidationError, text: str, name: str) -> InputError:
    first = error.errors(include_url=False)[0]
    key = str(first["loc"][0])
    if first["type"] == "missing":
        return InputError(f"{name}, key {key}", "nothing", EXPECTED[key])
    where = f"{name}{_line_of(key, text)}, key {plain(key)}"
    if first["type"] == "extra_forbidden":
        near = nearest_word(key, EXPECTED)
        return InputError(where, "an unknown key", f"one of {', '.join(EXPECTED)}{near}")
    return InputError(where, value_shown(first["input"]), EXPECTED[key])


def _placed(error: WindingError, text: str, name: str) -> WindingError:
    """The refusal with the file's own name for the key, and the file and line before it."""
    key, colon, reason = str(error).partition(":")
    key = _FILE_KEY.get(key, key)
    if not colon or key not in EXPECTED:
        return WindingError(f"{name}, [winding]: {error}")
    return WindingError(f"{name}{_line_of(key, text)}, key {key}:{reason}")


def _line_of(key: str, text: str) -> str:
    """`` line 4`` for the line that gives `key`, or nothing when it is not on a line of its own."""
    pattern = re.compile(rf"\s*\[?\s*[\"']?{re.escape(key)}[\"']?\s*[=\]]")
    for number, line in enumerate(text.splitlines(), start=1):
        if pattern.match(line):
            return f" line {number}"
    return ""
