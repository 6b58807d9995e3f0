"""Meters that PyVISA-sim simulates, with a hand on their leads; and one on a socket, to be pulled."""

from __future__ import annotations

import contextlib
import socket
import threading
from pathlib import Path
from typing import Any

import pyvisa

from barwise.talk.profile import MeterProfile, load_profile
from benchmarks.entering import free_port

HERE = Path(__file__).parent
EXAMPLES = HERE.parent.parent / "examples" / "instruments"
LIBRARY = f"{HERE / 'meters.yaml'}@sim"
OPEN = "+9.90000000E+37"


def example(name: str) -> MeterProfile:
    return load_profile(EXAMPLES / f"{name}.toml")


class Simulated:
    """One simulated device of the file, whose answers the test changes under the program's hands."""

    def __init__(self, address: str) -> None:
        # Held: a simulation that nobody holds begins anew.
        self._manager = pyvisa.ResourceManager(LIBRARY)
        known = self._manager.visalib.devices
        self._device: Any = known[str(pyvisa.rname.parse_resource_name(address))]
        self._begun = {name: one.get_value() for name, one in self._device._properties.items()}

    def says(self, **values: str) -> None:
        for name, value in values.items():
            self._device._properties[name].set_value(value)

    def is_silent(self, query: str) -> None:
        """No answer to a query from now on."""
        from pyvisa_sim.component import NoResponse

        self._device._dialogues[query.encode()] = NoResponse

    def answers(self, query: str) -> None:
        """As at first."""
        self._device._dialogues.pop(query.encode(), None)

    def as_at_first(self) -> None:
        self.says(**self._begun)
        self.answers("READ?")
        self._device._output_buffers.clear()


class SocketMeter:
    """A meter in the network that speaks SCPI: what it reads can be changed, and its plug pulled."""

    def __init__(self) -> None:
        self.reading, self.function = OPEN, '"FRES"'
        self.asked: list[str] = []
        self._listener: socket.socket | None = None
        self._lines: list[socket.socket] = []
        self.port = free_port()
        self.plug_in()

    @property
    def address(self) -> str:
        return f"TCPIP::127.0.0.1::{self.port}::SOCKET"

    def plug_in(self) -> None:
        self._listener = socket.create_server(("127.0.0.1", self.port), reuse_port=False)
        threading.Thread(target=self._accept, args=(self._listener,), daemon=True).start()

    def pull(self) -> None:
        """Out goes the plug."""
        if self._listener is not None:
            with contextlib.suppress(OSError):
                self._listener.shutdown(socket.SHUT_RDWR)
            self._listener.close()
            self._listener = None
        for line in self._lines:
            with contextlib.suppress(OSError):
                line.shutdown(socket.SHUT_RDWR)
            line.close()
        self._lines.clear()

    def _accept(self, listener: socket.socket) -> None:
        with contextlib.suppress(OSError):
            while True:
                line, _ = listener.accept()
                self._lines.append(line)
                threading.Thread(target=self._serve, args=(line,), daemon=True).start()

    def _serve(self, line: socket.socket) -> None:
        with contextlib.suppress(OSError), line.makefile("rw", newline="\n") as talk:
            for query in talk:
                self.asked.append(query.strip())
                answer = self._answer(query.strip())
                if answer is not None:
                    talk.write(answer + "\n")
                    talk.flush()

    def _answer(self, query: str) -> str | None:
        return {
            "*IDN?": "INVENTED,ON A SOCKET,0,1.0",
            "SYST:ERR?": '0,"No error"',
            "FUNC?": self.function,
            "FRES:RANG?": "+1.0E-01",
            "READ?": self.reading,
        }.get(query)
