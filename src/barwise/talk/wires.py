"""The wire to a meter or gauge: by VISA over USB, network or a serial port, or what a gauge types.

Resource names are VISA's (VPP-4.3, from memory). PyVISA and its parts are asked for only when a wire is
opened: who uses no such meter need not install them.
"""

from __future__ import annotations

import sys
import time
import warnings
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from typing import Any, Protocol, TextIO

from barwise.errors import BarwiseError, InputError
from barwise.measure.spoken import LONGEST_LINE
from barwise.talk.profile import KEYBOARD, Port

LIBRARY = "@py"
"""PyVISA's own backend in Python; another is said with --visa."""
_ENDS = {"LF": "\n", "CR": "\r", "CRLF": "\r\n"}
_MISSING = "talking to meters: found no {}, expected it installed: pip install 'barwise[instruments]'"


class UnpluggedError(BarwiseError):
    """Nothing is at the other end of the wire, or no longer."""


class SilentError(BarwiseError):
    """It is plugged in and says nothing within its time."""


class Wire(Protocol):
    """One line out, one line back. Each raises UnpluggedError when the wire is gone."""

    def write(self, text: str) -> None:
        """Send one line."""

    def line(self) -> str:
        """The next line without its end. Raises SilentError when none comes in time."""

    def close(self) -> None:
        """Let go of the port."""


def open_wire(address: str, port: Port, library: str = LIBRARY) -> Wire:
    """Open the wire to a VISA resource name, or to the keyboard.

    Raises
    ------
    UnpluggedError
        If nothing is there, or another program has it.
    BarwiseError
        If PyVISA or what it needs for this kind of port is not installed.
    """
    if address == KEYBOARD:
        return TypedLines(sys.stdin)
    manager = _manager(library)
    with _plain_words(address):
        resource = manager.open_resource(address, open_timeout=int(port.timeout_s * 1000))
        return VisaWire(resource, address, port)


def plugged_in(library: str = LIBRARY) -> tuple[str, ...]:
    """Resource names of what VISA finds by itself; meters in the network it need not find."""
    manager = _manager(library)
    with _plain_words("the ports"), warnings.catch_warnings():
        warnings.simplefilter("ignore")  # of ways to search the network that are not installed
        return tuple(sorted(manager.list_resources()))


class VisaWire:
    """A wire that VISA opened."""

    def __init__(self, resource: Any, address: str, port: Port) -> None:
        self._resource, self._address = resource, address
        self._end, self._timeout_s = _ENDS[port.ends_with], port.timeout_s
        resource.timeout = int(port.timeout_s * 1000)
        resource.write_termination = self._end
        if address.upper().startswith("ASRL"):
            _set_serial(resource, port)
        # A message of USB or VXI-11 has its own end; elsewhere the last sign of the line is it.
        self._has_own_end = address.upper().endswith("::INSTR") and not address.upper().startswith("ASRL")

    def write(self, text: str) -> None:
        """Send one line."""
        with _plain_words(self._address):
            self._resource.write(text)

    def line(self) -> str:
        """The next line."""
        ends = None if self._has_own_end else self._end[-1]
        with _plain_words(self._address), self._resource.read_termination_context(ends):
            return _decoded(self._bytes()).rstrip("\r\n\0")

    def _bytes(self) -> bytes:
        """Up to the end of the line; neither for longer than the time it has, nor more than a line can be."""
        from pyvisa import constants

        status = constants.StatusCode
        ended = (status.success, status.success_termination_character_read)
        latest = time.monotonic() + self._timeout_s
        came: bytes = b""
        with self._resource.ignore_warning(status.success_max_count_read, status.success_device_not_present):
            while len(came) <= LONGEST_LINE + 1:
                chunk, said = self._resource.visalib.read(
                    self._resource.session, LONGEST_LINE + 2 - len(came)
                )
                came += chunk
                if said in ended and chunk:
                    return came
                if time.monotonic() > latest:
                    raise SilentError(f"{self._address}: no whole line in time")
        raise InputError(self._address, f"more than {LONGEST_LINE} characters in one line", "the line's end")

    def close(self) -> None:
        """Let go of the port."""
        with suppress(Exception):  # it may be gone already
            self._resource.close()


class TypedLines:
    """A gauge that types, into the window of this program."""

    def __init__(self, typed: TextIO) -> None:
        self._typed = typed

    def write(self, text: str) -> None:
        """Refuse: nothing can be sent to what types."""
        raise BarwiseError(f"keyboard: found {text} to send, expected nothing: what types cannot be asked")

    def line(self) -> str:
        """The next line typed."""
        line = self._typed.readline(LONGEST_LINE + 2)
        if not line:
            raise UnpluggedError("keyboard: found its end, expected a line")
        return line.rstrip("\r\n")

    def close(self) -> None:
        """Nothing to let go of."""


def _manager(library: str) -> Any:
    try:
        import pyvisa
    except ImportError:
        raise BarwiseError(_MISSING.format("PyVISA")) from None
    try:
        return pyvisa.ResourceManager(library)
    except (ValueError, OSError) as error:
        raise BarwiseError(f"--visa: found {library}, which cannot be used ({_said(error)})") from None


def _set_serial(resource: Any, port: Port) -> None:
    from pyvisa import constants

    resource.baud_rate = port.baud
    resource.data_bits = port.data_bits
    resource.parity = constants.Parity[port.parity]
    resource.stop_bits = constants.StopBits.one if port.stop_bits == 1 else constants.StopBits.two
    resource.flow_control = {
        "none": constants.ControlFlow.none,
        "xon-xoff": constants.ControlFlow.xon_xoff,
        "rts-cts": constants.ControlFlow.rts_cts,
    }[port.flow]


@contextmanager
def _plain_words(address: str) -> Iterator[None]:
    """What a driver raises, whichever it is, as one of the two things that can be wrong with a wire."""
    try:
        yield
    except BarwiseError:
        raise
    except Exception as error:
        if "VI_ERROR_TMO" in str(error):
            raise SilentError(f"{address}: no answer in time") from None
        if "install" in str(error).lower():
            raise BarwiseError(_MISSING.format(f"driver for {address} ({_said(error)})")) from None
        raise UnpluggedError(f"{address}: not there ({_said(error)})") from None


def _said(error: Exception) -> str:
    words = str(error).strip().splitlines()
    return (words[0] if words else type(error).__name__)[:120]


def _decoded(came: bytes) -> str:
    try:
        return came.decode("utf-8")
    except UnicodeDecodeError:
        return came.decode("latin-1")
