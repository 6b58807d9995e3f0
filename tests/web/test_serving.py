"""`barwise serve` and the other commands around the bench, as a person starts them."""

from __future__ import annotations

import json
import os
import socket
import sqlite3
from contextlib import closing
from http.client import HTTPConnection
from pathlib import Path

import pytest

from barwise.route.family import families, load_family
from barwise.web import serve
from tests.web.served import PATIENCE_S, barwise, free_port, served

PASSWORD = "kommutator-62"


def get(port: int, path: str, **headers: str) -> tuple[int, dict[str, str], str]:
    with closing(HTTPConnection("127.0.0.1", port, timeout=PATIENCE_S)) as asked:
        asked.request("GET", path, headers=headers)
        answer = asked.getresponse()
        return answer.status, dict(answer.getheaders()), answer.read().decode()


def test_a_new_shop_is_begun_and_served_to_this_computer_alone(tmp_path: Path) -> None:
    port, said = free_port(), []
    with served(tmp_path / "shop", port, said) as running:
        assert get(port, "/")[0] == 200
        status, _headers, health = get(port, "/health")
        assert (status, json.loads(health)) == (200, {"barwise": "up"})
        assert get(port, "/", Host="shop.example")[0] == 400
        page = get(port, "/")[2]
        style = page.split('rel="stylesheet" href="')[1].split('"')[0]
        status, headers, _text = get(port, style)
        assert status == 200
        assert "immutable" in headers["Cache-Control"]
        assert "Server" not in headers
        assert _listens_on(running.pid, port) == {"127.0.0.1"}
        again = barwise(tmp_path / "shop", "serve", "--port", str(port))
        assert again.returncode == 2
        assert again.stderr.startswith("barwise is running already: open http://127.0.0.1:")
    assert f"http://127.0.0.1:{port}/" in said[0]
    assert "A new shop was begun" in said[0]
    assert running.returncode == 0
    with closing(sqlite3.connect(tmp_path / "shop" / "barwise.sqlite3")) as database:
        assert database.execute("PRAGMA journal_mode").fetchone() == ("wal",)


def _listens_on(process: int, port: int) -> set[str]:
    """Local addresses on which a port is listened to, from the system's own table (proc(5))."""
    listening = set()
    for line in Path(f"/proc/{process}/net/tcp").read_text().splitlines()[1:]:
        local, state = line.split()[1], line.split()[3]
        address, its_port = local.split(":")
        if state == "0A" and int(its_port, 16) == port:
            listening.add(socket.inet_ntoa(bytes.fromhex(address)[::-1]))
    return listening


def test_in_the_network_it_listens_everywhere_and_lets_nobody_in_without_signing_in(tmp_path: Path) -> None:
    port, said = free_port(), []
    with served(tmp_path / "shop", port, said, "--lan", "--name", "bench.shop.example") as running:
        status, headers, _text = get(port, "/")
        assert (status, headers["Location"]) == (302, "/sign-in?next=/")
        assert get(port, "/sign-in", Host="bench.shop.example")[0] == 200
        assert get(port, "/sign-in", Host="evil.example")[0] == 400
        assert _listens_on(running.pid, port) == {"0.0.0.0"}
    assert "can read along, passwords too" in said[0]
    assert "Nobody has an account yet" in said[0]


def test_behind_a_proxy_only_the_proxy_is_heard_and_everything_goes_by_https(tmp_path: Path) -> None:
    port, said = free_port(), []
    by_proxy = {"Host": "bench.shop.example", "X-Forwarded-Proto": "https", "X-Forwarded-For": "192.168.1.7"}
    with served(tmp_path / "shop", port, said, "--lan", "--https", "bench.shop.example") as running:
        assert _listens_on(running.pid, port) == {"127.0.0.1"}
        status, headers, _text = get(port, "/sign-in", **by_proxy)
        assert status == 200
        assert headers["Strict-Transport-Security"].startswith("max-age=")
        assert "Secure" in headers["Set-Cookie"]
        status, headers, _text = get(port, "/sign-in", Host="bench.shop.example")
        assert (status, headers["Location"]) == (301, "https://bench.shop.example/sign-in")
        assert get(port, "/health")[0] == 200


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (("--port", "0"), "--port: found 0, expected a number from 1 to 65535"),
        (("--https", "bench.shop.example"), "--https: found it without --lan"),
    ],
)
def test_options_that_make_no_sense_are_refused_in_one_line(tmp_path: Path, options, said: str) -> None:
    refused = barwise(tmp_path / "shop", "serve", *options)
    assert (refused.returncode, refused.stderr.count("\n")) == (2, 1)
    assert refused.stderr.startswith(said)
    assert not (tmp_path / "shop").exists()


def test_a_port_of_another_program_names_a_free_one(tmp_path: Path) -> None:
    with closing(socket.socket()) as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        refused = barwise(tmp_path / "shop", "serve", "--port", str(port))
    assert refused.returncode == 2
    assert f"port {port} is used by another program: start with --port " in refused.stderr


def test_a_truncated_database_stops_a_command_names_the_copy_and_comes_back(tmp_path: Path) -> None:
    shop = tmp_path / "shop"
    assert barwise(shop, "people", "add", "Ada", "--password-stdin", given=f"{PASSWORD}\n").returncode == 0
    assert barwise(shop, "backup").returncode == 0
    database = shop / "barwise.sqlite3"
    os.truncate(database, database.stat().st_size // 2)
    refused = barwise(shop, "people", "list")
    assert (refused.returncode, refused.stderr.count("\n")) == (2, 1)
    assert str(next((shop / "copies").iterdir())) in refused.stderr
    assert barwise(shop, "restore").returncode == 0
    assert "Ada" in barwise(shop, "people", "list").stdout


def test_a_database_of_a_newer_version_is_left_alone(tmp_path: Path) -> None:
    shop = tmp_path / "shop"
    barwise(shop, "people", "list")
    with closing(sqlite3.connect(shop / "barwise.sqlite3")) as database, database:
        later = ("record", "9999_later", "2030-01-01")
        database.execute("INSERT INTO django_migrations(app, name, applied) VALUES (?, ?, ?)", later)
    refused = barwise(shop, "people", "list")
    assert refused.returncode == 2
    assert "made by a newer barwise" in refused.stderr


def test_a_database_elsewhere_that_does_not_answer_is_told_in_one_line(tmp_path: Path) -> None:
    nowhere = f"postgresql://nobody@127.0.0.1:{free_port()}/no"
    refused = barwise(tmp_path / "shop", "people", "list", DATABASE_URL=nowhere)
    assert (refused.returncode, refused.stderr.count("\n")) == (2, 1)
    assert refused.stderr.startswith("the database named in DATABASE_URL refuses")


def test_check_deploy_finds_nothing_and_nothing_is_silenced(tmp_path: Path) -> None:
    checked = barwise(tmp_path / "shop", "manage", "check", "--deploy", "--fail-level", "INFO")
    assert checked.returncode == 0, checked.stderr
    assert "no issues (0 silenced)" in checked.stdout + checked.stderr


def test_check_deploy_tells_what_plain_http_lacks(tmp_path: Path) -> None:
    checked = barwise(tmp_path / "shop", "manage", "check", "--deploy", BARWISE_PLAIN_HTTP="1")
    told = {word.strip("()") for word in checked.stderr.split() if word.startswith("(security.")}
    assert told == {"security.W004", "security.W008", "security.W012", "security.W016"}


def test_the_families_are_read_before_the_first_reading_would_hold_the_database_for_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Server:
        """Nobody asks it anything."""

        found = 0

        def run(self) -> None:
            self.found = load_family.cache_info().currsize

        def close(self) -> None:
            """Nothing is open."""

    one, serving = Server(), serve.Serving(port=free_port())
    for name, text in {**serving.environment, "BARWISE_DATA": str(tmp_path)}.items():
        monkeypatch.setenv(name, text)
    for name, answer in {"_prepared": False, "_server": one, "lay_out_static": None}.items():
        monkeypatch.setattr(serve, name, lambda *_, answer=answer: answer)
    monkeypatch.setattr(serve.signal, "signal", lambda *_: None)
    load_family.cache_clear()
    serve.serve(serving, lambda _: None)
    assert one.found == len(families())
