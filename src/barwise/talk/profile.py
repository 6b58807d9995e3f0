"""The profile of a meter or gauge that talks: where it is plugged in, what it is asked, what its lines mean.

A small TOML file of the shop's own; docs/instruments.md lists its keys.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any, Literal, NoReturn

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from barwise.errors import InputError, MeasurementError
from barwise.files.text import nearest_word, read_text, shown
from barwise.measure.quantity import parse_quantity
from barwise.measure.spoken import LineForm, Sign, Spoken, read_answer, signed, without_idle_zeros
from barwise.measure.steadiness import Steadiness
from barwise.measure.units import Dimension, Unit, find_unit, names_of
from barwise.route.toml_text import first_refusal, parse_toml, where, with_floats

KIND = "a TOML file of a meter: title, speaks, quantity, unit and address"
KEYBOARD = "keyboard"
"""The address of a gauge that types."""
QUANTITIES: tuple[Dimension, ...] = ("voltage", "resistance", "current", "length", "force", "torque", "speed")

Words = Annotated[str, Field(min_length=1, max_length=120)]
Command = Annotated[str, Field(min_length=1, max_length=200)]
Seconds = Annotated[float, Field(gt=0, le=120)]


class _Table(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, str_strip_whitespace=True)


class Port(_Table):
    """How the wire is set; all but `timeout_s` and `ends_with` are of a serial port."""

    timeout_s: Seconds = 3.0
    ends_with: Literal["LF", "CR", "CRLF"] = "LF"
    baud: Annotated[int, Field(ge=50, le=4_000_000)] = 9600
    data_bits: Literal[7, 8] = 8
    parity: Literal["none", "even", "odd"] = "none"
    stop_bits: Literal[1, 2] = 1
    flow: Literal["none", "xon-xoff", "rts-cts"] = "none"


class Scpi(_Table):
    """What a meter that speaks SCPI is sent, and which function it must be in."""

    identity: Words | None = None
    reset: bool = False
    set_up: tuple[Command, ...] = ()
    function: Command | None = None
    function_is: tuple[Words, ...] = ()
    range: Command | None = None
    read: Command = "READ?"
    errors: bool = True


class Line(_Table):
    """What a gauge is sent for a reading, and how its line is read."""

    request: Command | None = None
    pattern: Annotated[str, Field(min_length=1, max_length=200)]
    decimal: Literal["point", "comma"] = "point"
    overload: tuple[Words, ...] = ()
    units: Mapping[Words, Words] = {}


class Settle(_Table):
    """When a reading is taken by itself: `each` line is one, or the rule of `measure.steadiness`."""

    each: bool = False
    readings: Annotated[int, Field(ge=2, le=64)] = 4
    for_s: Annotated[float, Field(ge=0, le=60)] = 0.5
    digits: Annotated[float, Field(ge=0, le=1000)] = 3.0
    share: Annotated[float, Field(ge=0, le=0.5)] = 0.002
    away: Annotated[float, Field(ge=0, le=10)] = 0.5
    away_digits: Annotated[float, Field(ge=0, le=100_000)] = 20.0
    rest: str | None = None


class _File(_Table):
    title: Words
    note: str = ""
    speaks: Literal["scpi", "lines"]
    quantity: Literal["voltage", "resistance", "current", "length", "force", "torque", "speed"]
    unit: Words
    address: Annotated[str, Field(max_length=200)] = ""
    sign: Sign = "as sent"
    step: str | None = None
    most: str | None = None
    port: Port = Port()
    scpi: Scpi = Scpi()
    line: Line | None = None
    settle: Settle = Settle()


_KNOWN = {"_File": tuple(key for table in (_File, Port, Scpi, Line, Settle) for key in table.model_fields)}


@dataclass(frozen=True)
class MeterProfile:
    """One meter or gauge.

    Attributes
    ----------
    title, note : str
    speaks : {"scpi", "lines"}
    quantity : str
    unit : Unit
        Of numbers that come without one.
    address : str
        A VISA resource name, or ``keyboard``; empty where it is said when listening.
    sign : str
    step_si, most_si : float
        Step of its last digit, 0 where that is not known; more than `most_si` is off its scale.
    port, scpi, settle : Port, Scpi, Settle
    request : str or None
        Sent before each line.
    form : LineForm or None
        Of its lines; None where it speaks SCPI.
    rule : Steadiness
    """

    title: str
    note: str
    speaks: Literal["scpi", "lines"]
    quantity: Dimension
    unit: Unit
    address: str
    sign: Sign
    step_si: float
    most_si: float
    port: Port
    scpi: Scpi
    settle: Settle
    request: str | None
    form: LineForm | None
    rule: Steadiness

    @property
    def asks(self) -> bool:
        """Whether it is asked for each reading; else it writes when it wants to."""
        return self.speaks == "scpi" or self.request is not None

    def read(self, line: str) -> Spoken:
        """What one answer or line says. Raises InputError if it says nothing the profile knows."""
        spoken = read_answer(line, self.unit) if self.form is None else self.form.read(line, self.unit)
        spoken = without_idle_zeros(signed(spoken, self.sign), self.step_si)
        value = spoken.value_si
        if value is not None and not abs(value) <= self.most_si:
            return Spoken(None, spoken.unit, spoken.line)
        return spoken


def load_profile(path: str | Path) -> MeterProfile:
    """Read the profile of a meter.

    Raises
    ------
    InputError
        If it cannot be used: names file, line and key.
    """
    path = Path(path)
    return parse_profile(read_text(path, KIND), str(path))


def parse_profile(text: str, name: str = "meter.toml") -> MeterProfile:
    """Read the text of a profile, called `name` in messages. Raises as `load_profile`."""
    try:
        found = _File.model_validate(with_floats(parse_toml(text, name, KIND)))
    except ValidationError as error:
        raise first_refusal(error, text, name, _KNOWN) from None
    return _Checked(found, text, name).profile()


@dataclass(frozen=True)
class _Checked:
    """The file, and where its keys stand, for what needs more than one of them."""

    file: _File
    text: str
    name: str

    def refuse(self, place: str, found: str, expected: str) -> NoReturn:
        raise InputError(where(self.name, self.text, tuple(place.split("."))), found, expected)

    def profile(self) -> MeterProfile:
        file = self.file
        unit = find_unit(file.unit)
        if unit is None or unit.dimension != file.quantity:
            known = names_of(file.quantity)
            self.refuse(
                "unit", shown(file.unit), f"one of {', '.join(known)}{nearest_word(file.unit, known)}"
            )
        if file.scpi.function_is and file.scpi.function is None:
            self.refuse(
                "scpi.function_is", "answers to no question", 'function too, such as function = "FUNC?"'
            )
        if file.scpi.function is not None and not file.scpi.function_is:
            self.refuse(
                "scpi.function", "a question without its answers", 'function_is too, such as ["FRES"]'
            )
        step = self.size("step", file.step)
        return MeterProfile(
            **{key: getattr(file, key) for key in ("title", "note", "speaks", "quantity", "sign")},
            unit=unit,
            address=self.address(),
            step_si=step,
            most_si=self.size("most", file.most) or math.inf,
            port=file.port,
            scpi=file.scpi,
            settle=file.settle,
            request=None if file.line is None else file.line.request,
            form=self.form(),
            rule=self.rule(step),
        )

    def address(self) -> str:
        address, typed = self.file.address, self.file.address.casefold() == KEYBOARD
        if typed and (self.file.speaks == "scpi" or (self.file.line and self.file.line.request)):
            self.refuse("address", shown(address), "a port: what types cannot be asked")
        if address and not typed and "::" not in address:
            wanted = (
                'a VISA resource name such as "ASRL/dev/ttyUSB0::INSTR" or "TCPIP::192.0.2.10::5025::SOCKET"'
            )
            self.refuse("address", shown(address), f'{wanted}, or "{KEYBOARD}"')
        return KEYBOARD if typed else address

    def size(self, key: str, written: str | None) -> float:
        if written is None:
            return 0.0
        try:
            found = parse_quantity(written, self.file.quantity, key).value
        except MeasurementError:
            found = math.nan
        if not (math.isfinite(found) and found > 0):
            self.refuse(key, shown(written), f'more than 0 with its unit, such as "0.01 {self.file.unit}"')
        return found

    def form(self) -> LineForm | None:
        line = self.file.line
        if self.file.speaks == "scpi":
            if line is not None:
                self.refuse("line", "a table", 'none where speaks = "scpi": its answers are numbers')
            return None
        if line is None:
            self.refuse("speaks", shown("lines"), "a table [line] with its pattern too")
        for written, meant in line.units.items():
            unit = find_unit(meant)
            if unit is None or unit.dimension != self.file.quantity:
                known = ", ".join(names_of(self.file.quantity))
                self.refuse(f"line.units.{written}", shown(meant), f"one of {known}")
        try:
            return LineForm(line.pattern, line.decimal, line.overload, tuple(line.units.items()))
        except InputError as error:
            self.refuse("line.pattern", error.found, error.expected)

    def rule(self, step: float) -> Steadiness:
        settle = self.file.settle
        figures: dict[str, Any] = {
            key: getattr(settle, key)
            for key in ("readings", "for_s", "digits", "share", "away", "away_digits")
        }
        return Steadiness(**figures, digit=step, rest=self.size("settle.rest", settle.rest))
