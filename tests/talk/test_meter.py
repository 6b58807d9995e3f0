"""A meter on its wire, simulated by PyVISA-sim, on a socket, and on a serial line (a pseudo terminal)."""

from __future__ import annotations

import os
import sys
import threading
from collections.abc import Iterator
from dataclasses import replace

import pytest

from barwise.errors import BarwiseError, InputError
from barwise.talk.meter import Meter, WrongMeterError, open_meter
from barwise.talk.profile import MeterProfile, parse_profile
from barwise.talk.taking import PEDAL_WAIT_S, Taking
from barwise.talk.wires import LIBRARY as VISA
from barwise.talk.wires import SilentError, UnpluggedError, plugged_in
from tests.talk.simulated import EXAMPLES, LIBRARY, OPEN, Simulated, SocketMeter, example

MILLIOHM = "TCPIP::192.0.2.10::5025::SOCKET"


def quick(profile: MeterProfile, timeout_s: float = 0.3) -> MeterProfile:
    return replace(profile, port=profile.port.model_copy(update={"timeout_s": timeout_s}))


@pytest.fixture
def leads() -> Iterator[Simulated]:
    made = Simulated(MILLIOHM)
    yield made
    made.as_at_first()


@pytest.fixture
def meter(leads: Simulated) -> Iterator[Meter]:
    opened = open_meter(quick(example("milliohm-scpi")), library=LIBRARY)
    yield opened
    opened.close()


def test_it_says_who_it_is_and_its_reading_keeps_the_line_as_it_was_sent(
    meter: Meter, leads: Simulated
) -> None:
    leads.says(reading="+7.130000E-04")
    spoken = meter.reading()
    assert meter.identity == "INVENTED,MILLIOHM,0,1.0"
    assert (spoken.text, spoken.unit.name, spoken.line) == ("0.000713", "ohm", "+7.130000E-04")
    assert spoken.value_si == pytest.approx(0.713e-3)


def test_open_leads_and_more_than_its_range_are_no_reading(meter: Meter, leads: Simulated) -> None:
    for off in (OPEN, "9.9E37", "-9.90000000E+37", "9.91E37", "+2.1E+00"):
        leads.says(reading=off)
        assert meter.reading().number is None


@pytest.mark.parametrize("function", ['"FRES"', "FRES +1.0E-01,+1.0E-07", '"SENS:FRES"', '"fres"'])
def test_its_function_is_known_however_the_meter_says_it(
    meter: Meter, leads: Simulated, function: str
) -> None:
    leads.says(reading="1E-3", function=function)
    assert meter.reading().text == "0.001"


def test_a_meter_set_to_another_function_is_refused_and_goes_on_when_it_is_set_back(
    meter: Meter, leads: Simulated
) -> None:
    leads.says(reading="+7.13E-04", function='"VOLT:DC"')
    with pytest.raises(WrongMeterError, match="found it set to VOLT:DC, expected FRES: set it back"):
        meter.reading()
    leads.says(function='"FRES"')
    assert meter.reading().text == "0.000713"


def test_a_range_that_changed_is_noticed_once(meter: Meter, leads: Simulated) -> None:
    moved = []
    for now in ("1E-1", "1E-1", "1E+0", "1E+0"):
        leads.says(reading="1E-3", range=now)
        meter.reading()
        moved.append(meter.range_moved)
    assert moved == [False, False, True, False]


def test_another_meter_at_the_address_is_refused(leads: Simulated) -> None:
    other = replace(
        example("milliohm-scpi"), scpi=example("milliohm-scpi").scpi.model_copy(update={"identity": "ELSE"})
    )
    with pytest.raises(WrongMeterError, match=r'found "INVENTED,MILLIOHM,0,1[.]0", expected "ELSE" in it'):
        open_meter(other, library=LIBRARY)


def test_what_it_refuses_to_be_set_to_is_said_with_its_own_words(leads: Simulated) -> None:
    profile = quick(example("milliohm-scpi"))
    set_up = profile.scpi.model_copy(update={"set_up": ("CONF:FRES",)})
    said = iter(['0,"No error"', '-222,"Data out of range"', '0,"No error"'])
    meter = open_meter(
        replace(profile, scpi=profile.scpi.model_copy(update={"errors": False})), library=LIBRARY
    )
    meter.profile = replace(profile, scpi=set_up)
    ask = meter._ask
    meter._ask = lambda query: next(said) if query == "SYST:ERR?" else ask(query)  # type: ignore[method-assign]
    with pytest.raises(WrongMeterError, match=r'refuses "CONF:FRES" \(-222,"Data out of range"\)'):
        meter.begin()
    meter.close()


def test_a_meter_that_does_not_answer_is_silent_not_unplugged(meter: Meter, leads: Simulated) -> None:
    leads.is_silent("READ?")
    with pytest.raises(SilentError, match="no answer in time"):
        meter.reading()
    leads.answers("READ?")
    leads.says(reading="1E-3")
    assert meter.reading().text == "0.001"


def test_nothing_at_the_address_is_unplugged() -> None:
    with pytest.raises(UnpluggedError, match="not there"):
        open_meter(example("milliohm-scpi"), "TCPIP::127.0.0.1::1::SOCKET")
    with pytest.raises(UnpluggedError, match="not there"):
        open_meter(example("dial-serial"), "ASRL/dev/no-such-port::INSTR")


def test_a_pulled_plug_is_noticed_and_plugged_in_again_it_reads_on() -> None:
    real = SocketMeter()
    profile = quick(example("milliohm-scpi"), 2.0)
    plain = replace(profile, scpi=profile.scpi.model_copy(update={"set_up": ()}))
    meter = open_meter(plain, real.address)
    real.reading = "+7.130000E-04"
    assert meter.reading().text == "0.000713"
    real.pull()
    with pytest.raises((UnpluggedError, SilentError)):
        meter.reading()
    meter.close()
    with pytest.raises(UnpluggedError):
        open_meter(plain, real.address)
    real.plug_in()
    again = open_meter(plain, real.address)
    assert again.reading().text == "0.000713"
    again.close()
    real.pull()


@pytest.mark.skipif(sys.platform == "win32", reason="no pseudo terminals there")
def test_a_gauge_on_a_real_serial_port_is_asked_and_read() -> None:
    """Through PyVISA-py and pySerial, on a pseudo terminal."""
    ours, theirs = os.openpty()
    os.set_blocking(ours, True)

    def gauge() -> None:
        asked = b""
        while True:
            try:
                asked += os.read(ours, 10)
            except OSError:
                return
            while b"\r" in asked:
                query, asked = asked.split(b"\r", 1)
                os.write(ours, b"01A +0.012 mm\r" if query == b"?" else b"ERR\r")

    import tty

    tty.setraw(theirs)
    threading.Thread(target=gauge, daemon=True).start()
    profile = quick(example("dial-serial"), 3.0)
    loose = replace(
        profile, port=profile.port.model_copy(update={"data_bits": 8, "parity": "none", "stop_bits": 1})
    )
    meter = open_meter(loose, f"ASRL{os.ttyname(theirs)}::INSTR", VISA)
    assert [meter.reading().text for _ in range(3)] == ["0.012"] * 3
    meter.close()
    os.close(ours)
    os.close(theirs)


def test_a_line_without_end_is_refused_and_not_read_for_ever(leads: Simulated, meter: Meter) -> None:
    leads.says(reading="1" * 5000)
    with pytest.raises(InputError, match="more than 200 characters in one line"):
        meter.reading()


def test_the_addresses_of_what_is_plugged_in_are_listed() -> None:
    assert MILLIOHM in plugged_in(LIBRARY) or plugged_in(LIBRARY)


def test_a_library_that_is_none_is_refused_in_one_line() -> None:
    with pytest.raises(BarwiseError, match="--visa: found nowhere@nothing, which cannot be used"):
        open_meter(example("milliohm-scpi"), library="nowhere@nothing")


def test_without_pyvisa_the_message_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "pyvisa", None)
    with pytest.raises(BarwiseError, match=r"pip install 'barwise\[instruments\]'"):
        open_meter(example("milliohm-scpi"))


def taken(
    profile: MeterProfile, lines: list[str], how: str = "steady", press: tuple[int, ...] = ()
) -> list[str]:
    """What is taken of lines that come every 0.2 s."""
    taking, found = Taking(profile), []
    taking.begin(how)  # type: ignore[arg-type]
    for n, line in enumerate(lines):
        if n in press:
            taking.press(0.2 * n)
        one = taking.hear(profile.read(line), 0.2 * n)
        found += [] if one is None else [one.text]
    return found


def test_by_itself_one_touch_gives_one_reading_and_open_leads_none() -> None:
    lines = [OPEN, *["7.13E-4"] * 9, OPEN, *["7.14E-4"] * 4, OPEN]
    assert taken(example("milliohm-scpi"), lines) == ["0.000713", "0.000714"]


def test_by_pedal_nothing_is_taken_before_it_and_one_settled_reading_after_it() -> None:
    lines = [OPEN, *["7.13E-4"] * 9, *["7.14E-4"] * 9]
    assert taken(example("milliohm-scpi"), lines, "pedal") == []
    assert taken(example("milliohm-scpi"), lines, "pedal", press=(2, 12)) == ["0.000713", "0.000714"]
    climbing = [f"{n}E-4" for n in range(1, 9)]
    assert taken(example("milliohm-scpi"), [*climbing, OPEN], "pedal", press=(1,)) == []


def test_a_pedal_whose_reading_never_settles_must_be_pressed_again() -> None:
    taking = Taking(quick(example("milliohm-scpi")))
    taking.begin("pedal")
    taking.press(0.0)
    assert not taking.is_late(PEDAL_WAIT_S - 0.1)
    assert taking.is_late(PEDAL_WAIT_S)
    assert not taking.is_late(100.0)


def test_a_range_that_changes_makes_it_settle_anew() -> None:
    profile = example("milliohm-scpi")
    taking = Taking(profile)
    taking.begin("steady")
    lines = [OPEN, *["7.13E-4"] * 8]
    found = [taking.hear(profile.read(line), 0.2 * n, range_moved=n == 4) for n, line in enumerate(lines)]
    assert [n for n, one in enumerate(found) if one is not None] == [7]  # of 4 to 7, not of 1 to 4


def test_each_press_of_a_gauges_own_button_is_a_reading() -> None:
    assert taken(example("caliper-keyboard"), ["12,34", '0,485"', "12,34"]) == ["12.34", "0.485", "12.34"]


def test_every_example_is_invented_and_says_so() -> None:
    found = sorted(EXAMPLES.glob("*.toml"))
    assert len(found) >= 2
    for path in found:
        text = path.read_text(encoding="utf-8")
        assert text.startswith("# Invented")
        assert "(invented)" in parse_profile(text, path.name).title
