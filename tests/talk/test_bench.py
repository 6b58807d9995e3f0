"""The way from a listener to a real bench: alone, in the network with an account, away, and refused."""

from __future__ import annotations

import http.server
import shutil
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest

from barwise.errors import BarwiseError
from barwise.talk.bench import AwayError, Bench
from tests.talk.simulated import EXAMPLES, LIBRARY
from tests.web.served import barwise, free_port, served

PASSWORD = "kommutator-62"
SAID = {"tag": "M-9", "quantity": "resistance", "state": "ready"}


@pytest.fixture(autouse=True)
def patience(monkeypatch: pytest.MonkeyPatch) -> None:
    """At a busy computer the bench may take longer to answer than a listener waits."""
    monkeypatch.setattr("barwise.talk.bench.PATIENCE_S", 60.0)


@pytest.fixture
def folder(invented_shop: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(invented_shop, tmp_path / "shop"))


def test_alone_it_needs_no_name_and_an_unknown_tag_is_refused_in_one_line(folder: Path) -> None:
    port = free_port()
    with served(folder, port, []):
        at = f"http://127.0.0.1:{port}"
        with pytest.raises(BarwiseError, match='found "M-9", expected the tag of one in use'):
            Bench(at).report(SAID)
        listened = barwise(
            folder,
            *("instrument", "listen", str(EXAMPLES / "milliohm-scpi.toml")),
            *("--instrument", "M-9", "--server", at, "--visa", LIBRARY),
        )
    assert listened.returncode == 2
    assert listened.stderr.strip() == 'instrument: found "M-9", expected the tag of one in use'
    with pytest.raises(AwayError, match="does not answer"):
        Bench(at).report(SAID)


def test_in_the_network_it_signs_in_and_a_wrong_password_is_said(folder: Path) -> None:
    port = free_port()
    made = barwise(folder, "people", "add", "Meters", "--password-stdin", given=f"{PASSWORD}\n")
    assert made.returncode == 0, made.stderr
    with served(folder, port, [], "--lan"):
        at = f"http://127.0.0.1:{port}"
        with pytest.raises(BarwiseError, match="expected the tag of one in use"):
            Bench(at, "Meters", PASSWORD).report(SAID)
        with pytest.raises(BarwiseError, match="found no account Meters with that password"):
            Bench(at, "Meters", "something-else").report(SAID)
        with pytest.raises(BarwiseError, match=r"sign in first|--name an account"):
            Bench(at).report(SAID)


@pytest.fixture
def elsewhere() -> Iterator[str]:
    """Something else that answers at the address."""

    class Other(http.server.BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            self.send_response(200)
            self.end_headers()
            self.wfile.write(b"hello")

        do_POST = do_GET

        def log_message(self, *_: object) -> None:
            return

    other = http.server.HTTPServer(("127.0.0.1", 0), Other)
    threading.Thread(target=other.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{other.server_port}"
    other.shutdown()
    other.server_close()


def test_another_program_at_the_address_is_known_for_what_it_is(elsewhere: str) -> None:
    with pytest.raises(BarwiseError, match="found something else there, expected barwise"):
        Bench(elsewhere).report(SAID)


@pytest.mark.parametrize("server", ["", "127.0.0.1:8437", "ftp://x", "http://"])
def test_an_address_that_is_none_is_refused(server: str) -> None:
    with pytest.raises(BarwiseError, match="--server: found"):
        Bench(server)
