"""What the web server itself refuses is answered by the bench: in its words, with its headers."""

from __future__ import annotations

import json
import socket
from collections.abc import Iterator
from contextlib import closing

import pytest

from tests.web.served import PATIENCE_S, free_port, served
from tests.web.test_serving import get

NOT_OF_A_REFUSAL = {"Set-Cookie", "Vary", "Connection", "Content-Length", "Date"}
"""Of a page that knows its visitor, or of this one answer."""
HUGE = 600 * 1024 * 1024


@pytest.fixture(scope="module")
def port(tmp_path_factory: pytest.TempPathFactory) -> Iterator[int]:
    """A shop served by `barwise serve`."""
    number = free_port()
    with served(tmp_path_factory.mktemp("unheard") / "shop", number, []):
        yield number


def send(port: int, request: str) -> tuple[int, dict[str, str], str]:
    """Bytes as no browser would send them, and what comes back."""
    with closing(socket.create_connection(("127.0.0.1", port), timeout=PATIENCE_S)) as line:
        line.sendall(request.encode())
        back = b""
        while part := line.recv(65536):
            back += part
    head, _, body = back.decode().partition("\r\n\r\n")
    first, *lines = head.split("\r\n")
    return int(first.split()[1]), dict(line.split(": ", 1) for line in lines), body


@pytest.mark.parametrize(
    ("request_text", "status", "words"),
    [
        ("GET / HTTP/1.1\r\nHost: localhost\r\nContent-Length: many\r\n\r\n", 400, "was not understood"),
        (f"POST /import HTTP/1.1\r\nHost: localhost\r\nContent-Length: {HUGE}\r\n\r\n", 413, "is too large"),
        ("POST / HTTP/1.1\r\nHost: localhost\r\nTransfer-Encoding: odd\r\n\r\n", 501, "was not understood"),
    ],
)
def test_a_request_that_never_reaches_a_page_is_answered_like_a_page(
    port: int, request_text: str, status: int, words: str
) -> None:
    found, headers, body = send(port, request_text)
    assert found == status
    assert words in body
    _, of_a_page, _ = get(port, "/")
    for name in of_a_page.keys() - NOT_OF_A_REFUSAL:
        assert headers.get(name) == of_a_page[name], name
    assert "Server" not in headers
    assert "waitress" not in body
    assert int(headers["Content-Length"]) == len(body.encode())


def test_a_program_is_told_in_json(port: int) -> None:
    wanted = f"POST /api/v1/jobs/1/readings HTTP/1.1\r\nHost: localhost\r\nContent-Length: {HUGE}\r\n\r\n"
    status, headers, body = send(port, wanted)
    assert (status, headers["Content-Type"]) == (413, "application/json")
    assert json.loads(body)["error"].startswith("This is too large. ")
