"""What a person gets by `pipx install`: the built wheel, in an environment of its own, outside of this tree.

The packages it needs are those of the developers' environment, by their path; barwise itself is the wheel's.
"""

from __future__ import annotations

import http.client
import json
import os
import re
import shutil
import signal
import subprocess
import sys
import time
import venv
import zipfile
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest

from benchmarks.entering import free_port

ROOT = Path(__file__).parent.parent


@dataclass(frozen=True)
class Installed:
    """A wheel, the tree it was built of, and the environment it is installed in."""

    wheel: Path
    source: Path
    programs: Path
    work: Path

    def run(self, *arguments: str) -> str:
        """What a command prints, called as a person calls it."""
        ran = subprocess.run(
            [self.programs / "barwise", *arguments],
            env=self.own,
            cwd=self.work,
            capture_output=True,
            text=True,
            check=False,
        )
        assert ran.returncode == 0, ran.stderr
        return ran.stdout

    @property
    def own(self) -> dict[str, str]:
        kept = {
            name: text for name, text in os.environ.items() if not name.startswith(("PYTHON", "BARWISE_"))
        }
        return {
            **kept,
            "BARWISE_DATA": str(self.work / "shop"),
            "HOME": str(self.work),
            "OPENBLAS_NUM_THREADS": "1",
        }


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Installed:
    """Built without the network by the pinned build backend, and installed."""
    built, work = tmp_path_factory.mktemp("built"), tmp_path_factory.mktemp("elsewhere")
    for name in ("src", "pyproject.toml", "README.md", "LICENSE"):
        copied = shutil.copytree if (ROOT / name).is_dir() else shutil.copy
        copied(ROOT / name, built / name)
    offline = ["--no-deps", "--no-index", "--quiet", "--disable-pip-version-check"]
    pip = [sys.executable, "-m", "pip"]
    subprocess.run(
        [*pip, "wheel", *offline, "--no-build-isolation", "--wheel-dir", built, built],
        check=True,
        capture_output=True,
    )
    wheel = next(built.glob("*.whl"))
    venv.create(work / "env", with_pip=False, symlinks=True)
    programs = work / "env" / "bin"
    subprocess.run(
        [*pip, "--python", programs / "python", "install", *offline, wheel], check=True, capture_output=True
    )
    packages = next((work / "env" / "lib").glob("python*/site-packages"))
    # A path named here is looked at last, and what an editable install wrote there is not followed.
    (packages / "needed.pth").write_text(str(Path(np.__file__).parent.parent), encoding="utf-8")
    return Installed(wheel, built / "src", programs, work)


def test_what_is_no_python_is_in_the_wheel_too(installed: Installed) -> None:
    """Templates, style, route data and migrations, without which an installed barwise would not start."""
    with zipfile.ZipFile(installed.wheel) as wheel:
        packed = set(wheel.namelist())
    files = (path for path in (installed.source / "barwise").rglob("*") if path.is_file())
    wanted = {path.relative_to(installed.source).as_posix() for path in files}
    assert {name for name in wanted if "__pycache__" not in name} <= packed


def test_it_is_the_wheel_that_runs(installed: Installed) -> None:
    asked = [installed.programs / "python", "-c", "import barwise; print(barwise.__file__)"]
    said = subprocess.run(
        asked, env=installed.own, cwd=installed.work, capture_output=True, text=True, check=True
    )
    assert Path(said.stdout.strip()).is_relative_to(installed.work / "env")
    assert re.fullmatch(r"barwise \d+\.\d+\.\d+\n", installed.run("--version"))


def test_a_diagnosis_from_files(installed: Installed) -> None:
    examples = ROOT / "examples" / "demo"
    said = installed.run("armature", str(examples / "winding.toml"), str(examples / "readings.csv"), "--json")
    assert json.loads(said)


def test_the_invented_shop_is_served_with_its_style_and_prints_its_record(
    installed: Installed, invented_shop: Path
) -> None:
    assert installed.run("people", "list") == ""  # begins a shop: every table is made
    shutil.rmtree(installed.work / "shop")
    shutil.copytree(invented_shop, installed.work / "shop")
    numbers = re.findall(r"job (\S+):", invented_shop.with_suffix(".said").read_text(encoding="utf-8"))
    assert len(numbers) == 4
    installed.run("print", "record", numbers[0], "--data", str(installed.work / "shop"), "-o", "record.pdf")
    assert (installed.work / "record.pdf").read_bytes().startswith(b"%PDF-")
    port = free_port()
    with subprocess.Popen(
        [installed.programs / "barwise", "serve", "--port", str(port)],
        env=installed.own,
        cwd=installed.work,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    ) as running:
        try:
            page = fetched(port, "/", running).decode()
            assert "Jobs on hand" in page
            files = re.findall(r'(?:href|src)="(/static/[^"]+)"', page)
            assert {Path(one).suffix for one in files} >= {".css", ".js", ".svg"}
            assert all(fetched(port, one, running) for one in files)
        finally:
            running.send_signal(signal.SIGTERM)


def fetched(port: int, path: str, running: subprocess.Popen[bytes]) -> bytes:
    """What the server sends, once it answers."""
    for _ in range(1200):
        assert running.poll() is None
        try:
            with closing(http.client.HTTPConnection("127.0.0.1", port, timeout=60)) as line:
                line.request("GET", path)
                answer = line.getresponse()
                assert answer.status == 200, path
                return answer.read()
        except ConnectionRefusedError:
            time.sleep(0.1)
    raise AssertionError("it does not listen")
