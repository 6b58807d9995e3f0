"""The bench served in a browser: to this computer alone, or to the shop's network."""

from __future__ import annotations

import errno
import json
import os
import signal
import socket
from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass
from http.client import HTTPConnection, HTTPException
from typing import Any, NoReturn

from barwise.errors import BarwiseError
from barwise.web.backup.schedule import back_up_on_schedule
from barwise.web.data_folder import DataFolder, data_folder
from barwise.web.database_file import DamagedDatabaseError
from barwise.web.started import lay_out_static, plain_words, prepare, start
from barwise.web.surroundings import own_addresses

PORT = 8437
THREADS = 8
LARGEST_UPLOAD = 512 * 1024 * 1024
"""Bytes; twice a whole job with its photos, so that the page itself can say what it takes."""
ALONE, EVERYWHERE = "127.0.0.1", "0.0.0.0"
_PORTS_TRIED = 20
_PATIENCE_S = 3.0
"""So long another server at the port may take to say what it is [s]."""


@dataclass(frozen=True)
class Serving:
    """How the bench is to be served.

    Parameters
    ----------
    port : int
    lan : bool
        To the shop's network, with accounts; else to this computer alone.
    https : str
        Name under which a proxy on this computer serves it by https; empty for plain http.
    names : tuple of str
        Further names it answers to.
    """

    port: int = PORT
    lan: bool = False
    https: str = ""
    names: tuple[str, ...] = ()

    @property
    def listens(self) -> str:
        """Address to listen on. Behind a proxy only the proxy, which stands on this computer, is heard."""
        return EVERYWHERE if self.lan and not self.https else ALONE

    @property
    def environment(self) -> dict[str, str]:
        """What the settings read."""
        return {
            "BARWISE_LAN": "1" if self.lan else "0",
            "BARWISE_PLAIN_HTTP": "0" if self.https else "1",
            "BARWISE_HOSTS": ",".join(name for name in (self.https, *self.names) if name),
        }


def serve(serving: Serving, say: Callable[[str], None]) -> None:
    """Serve until interrupted. `say` prints a line for the person who started it.

    Raises
    ------
    BarwiseError
        If the port is taken, or the database is damaged or cannot be reached.
    """
    if serving.https and not serving.lan:
        raise BarwiseError("--https: found it without --lan, expected both: it is for the shop's network")
    _check_port(serving)
    os.environ.update(serving.environment)
    folder = data_folder()
    sound = _prepared(folder, say)
    lay_out_static()
    _read_families()
    with plain_words(folder):
        for line in _greeting(serving, str(folder.path), sound):
            say(line)
    signal.signal(signal.SIGTERM, _stop)
    server = _server(serving)
    no_more_backups = back_up_on_schedule(folder) if sound else None
    try:
        server.run()
    finally:
        server.close()
        if no_more_backups is not None:
            no_more_backups.set()


def _prepared(folder: DataFolder, say: Callable[[str], None]) -> bool:
    """Make the shop ready; False where its database is damaged and it is served to look at only."""
    try:
        for line in prepare(folder):
            say(line)
    except DamagedDatabaseError as error:
        os.environ["BARWISE_READ_ONLY"] = str(error)
        start(folder)
        say(f"{error}.")
        say("It is served to look at as far as it can be read; nothing can be entered. To get it back: stop")
        say("this with Ctrl-C, run barwise restore, and start barwise serve again.")
        return False
    return True


def _read_families() -> None:
    """Read them now: it takes as long as twenty readings, and the first would hold the database for it."""
    from barwise.route.family import families, load_family

    for key in families():
        load_family(key)


def _server(serving: Serving) -> Any:
    from waitress.server import create_server

    from barwise.web.unheard import Channel
    from barwise.web.wsgi import application

    # Only what a proxy on this computer says of the sender and of https is believed.
    proxy = {"trusted_proxy": ALONE, "trusted_proxy_headers": "x-forwarded-for x-forwarded-proto"}
    try:
        server = create_server(
            application,
            host=serving.listens,
            port=serving.port,
            threads=THREADS,
            ident="",
            max_request_body_size=LARGEST_UPLOAD,
            clear_untrusted_proxy_headers=True,
            **(proxy if serving.https else {}),
        )
        server.channel_class = Channel
        return server
    except OSError as error:
        _refuse_port(serving, error)


def _greeting(serving: Serving, folder: str, sound: bool) -> list[str]:
    lines = [f"barwise serves the shop in {folder}", f"  at this computer   http://{ALONE}:{serving.port}/"]
    if serving.https:
        lines[1] = f"  in the network     https://{serving.https}/"
    elif serving.lan:
        lines += [f"  in the network     http://{address}:{serving.port}/" for address in own_addresses()]
        lines.append("Plain http: whoever is in this network can read along, passwords too: docs/serving.md")
    if sound and serving.lan and not _has_accounts():
        lines.append("Nobody has an account yet: barwise people add NAME --role office")
    return [*lines, "Ctrl-C stops it."]


def _has_accounts() -> bool:
    from django.contrib.auth.models import User

    return User.objects.filter(is_active=True).exists()


def _stop(*_: object) -> NoReturn:
    raise SystemExit(0)


def _check_port(serving: Serving) -> None:
    """Notice a taken port before the database is touched."""
    if not 1 <= serving.port <= 65535:
        raise BarwiseError(f"--port: found {serving.port}, expected a number from 1 to 65535")
    try:
        _try_port(serving.listens, serving.port)
    except OSError as error:
        _refuse_port(serving, error)


def _try_port(address: str, port: int) -> None:
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as one:
        one.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        one.bind((address, port))


def _refuse_port(serving: Serving, error: OSError) -> NoReturn:
    port = serving.port
    if error.errno == errno.EACCES:
        raise BarwiseError(f"port {port} is for the system: choose one above 1023 with --port") from None
    if error.errno != errno.EADDRINUSE:
        raise BarwiseError(f"port {port} cannot be listened on: {error.strerror}") from None
    if _is_barwise(port):
        raise BarwiseError(
            f"barwise is running already: open http://{ALONE}:{port}/, or stop it first"
        ) from None
    free = _free_port(serving.listens, port + 1)
    other = f"--port {free}" if free else "--port with another number"
    raise BarwiseError(f"port {port} is used by another program: start with {other}") from None


def _is_barwise(port: int) -> bool:
    try:
        with closing(HTTPConnection(ALONE, port, timeout=_PATIENCE_S)) as asked:
            asked.request("GET", "/health")
            return "barwise" in json.loads(asked.getresponse().read(1000))
    except (OSError, HTTPException, ValueError):
        return False


def _free_port(address: str, first: int) -> int | None:
    for port in range(first, min(first + _PORTS_TRIED, 65536)):
        try:
            _try_port(address, port)
        except OSError:
            continue
        return port
    return None
