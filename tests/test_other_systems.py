"""Nothing in the package is for one system only; what differs is asked for where it differs.

The names are of Python's own documentation: "Availability: Unix" in `os`, `signal`, `time`, and the modules
under "Unix Specific Services" (library reference, Python 3.11).
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from barwise.files import on_disk

SOURCES = sorted((Path(__file__).parent.parent / "src").rglob("*.py"))
MODULES = {
    "crypt", "fcntl", "grp", "nis", "posix", "pty", "pwd", "resource", "spwd", "syslog", "termios", "tty",
}  # fmt: skip
NAMES = {
    "os": {
        "chown", "chroot", "fchmod", "fchown", "fork", "forkpty", "getgid", "geteuid", "getuid", "killpg",
        "lchown", "mkfifo", "mknod", "nice", "posix_fadvise", "posix_fallocate", "sched_getaffinity",
        "sendfile", "setsid", "setuid", "statvfs", "sync", "uname", "wait", "rename",
    },
    "signal": {"SIGALRM", "SIGHUP", "SIGKILL", "SIGQUIT", "SIGUSR1", "SIGUSR2", "alarm", "pause"},
    "time": {"tzset", "clock_settime"},
    "socket": {"AF_UNIX", "AF_NETLINK", "SO_REUSEPORT"},
    "select": {"epoll", "poll", "kqueue"},
    "multiprocessing": {"get_context"},
    "asyncio": {"add_signal_handler"},
}  # fmt: skip
"""`os.rename` fails on Windows where the target is there; `os.replace` and `Path.replace` do not."""
NO_PADDING = re.compile(r"%-[a-zA-Z]")
PATHS = re.compile(r"^/(proc|sys|dev|tmp|usr|var|bin)(/|$)")


def trees() -> Iterator[tuple[Path, ast.Module]]:
    for path in SOURCES:
        yield path, ast.parse(path.read_text(encoding="utf-8"))


def found(tree: ast.Module) -> Iterator[str]:
    """What of a module is for one system only."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (one.name for one in node.names if one.name.partition(".")[0] in MODULES)
        elif isinstance(node, ast.ImportFrom) and node.module:
            of = NAMES.get(node.module, set())
            yield from ([node.module] if node.module.partition(".")[0] in MODULES else [])
            yield from (f"{node.module}.{one.name}" for one in node.names if one.name in of)
        elif isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
            if node.attr in NAMES.get(node.value.id, set()):
                yield f"{node.value.id}.{node.attr}"
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and is_foreign(node.value):
            yield node.value


def is_foreign(text: str) -> bool:
    return bool(NO_PADDING.search(text) or PATHS.match(text))


def without_encoding(tree: ast.Module) -> Iterator[int]:
    """Lines where a text file is read or written in the system's own encoding, on Windows not UTF-8."""
    calls = (node for node in ast.walk(tree) if isinstance(node, ast.Call))
    for node in calls:
        named = isinstance(node.func, ast.Attribute) and node.func.attr in ("read_text", "write_text")
        if named and not any(one.arg == "encoding" for one in node.keywords):
            yield node.lineno


def test_nothing_is_for_one_system_only() -> None:
    assert {path.name: names for path, tree in trees() if (names := list(found(tree)))} == {}


def test_text_files_are_utf_8_wherever_they_are_written() -> None:
    assert {path.name: at for path, tree in trees() if (at := list(without_encoding(tree)))} == {}


@pytest.mark.parametrize(
    "line",
    [
        "import fcntl",
        "from os import fork",
        "import os\nos.rename(a, b)",
        "x = f'{day:%-d}'",
        "open('/proc/1/stat')",
    ],
)
def test_what_is_for_one_system_only_would_be_found(line: str) -> None:
    assert list(found(ast.parse(line)))


def test_a_drive_without_links_still_takes_a_file_once(tmp_path: Path, monkeypatch) -> None:
    """FAT and exFAT know no links (common practice, no source)."""

    def no_links(*_: object) -> None:
        raise OSError(1, "Operation not permitted")

    monkeypatch.setattr(on_disk.os, "link", no_links)
    on_disk.write_once(tmp_path / "key", b"first")
    on_disk.write_once(tmp_path / "key", b"second")
    assert (tmp_path / "key").read_bytes() == b"first"
    assert [one.name for one in tmp_path.iterdir()] == ["key"]
