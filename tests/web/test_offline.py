"""Nothing of a page comes from elsewhere, and the first screen is light."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from django.contrib.staticfiles import finders
from django.test import Client

from barwise import web

WEB = Path(web.__file__).parent
FILES = sorted(
    file
    for folder in ("templates", "static")
    for file in (WEB / folder).rglob("*")
    if file.suffix in (".html", ".css", ".js", ".svg", ".json", ".webmanifest", ".txt")
)
NAMES_OF_KINDS = ("http://www.w3.org/2000/svg", "http://www.w3.org/1999/xlink")
"""Names that say what kind of XML it is; nobody fetches them."""
ELSEWHERE = re.compile(r"https?://|wss?://|[\"'(=]\s*//[\w-]+\.", re.IGNORECASE)
MOST_BYTES = 200_000


def test_there_are_files_to_look_through() -> None:
    assert {file.suffix for file in FILES} >= {".html", ".css", ".js"}
    assert len(FILES) > 50


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.name)
def test_no_template_style_or_script_names_an_address_elsewhere(file: Path) -> None:
    text = file.read_text(encoding="utf-8")
    for name in NAMES_OF_KINDS:
        text = text.replace(name, "")
    assert ELSEWHERE.findall(text) == []


@pytest.mark.parametrize(
    "line", ['<img src="http://a.example/x">', "url(//a.example/f)", 'fetch("HTTPS://a")']
)
def test_an_address_elsewhere_would_be_found(line: str) -> None:
    assert ELSEWHERE.search(line)


@pytest.mark.django_db
def test_the_first_screen_with_all_it_loads_is_light() -> None:
    """Unpacked; what goes over the wire is less. A module that a script imports counts too."""
    page = Client(HTTP_HOST="localhost").get("/").content.decode()
    wanted = re.findall(r'(?:src|href)="/static/([^"?]+)', page)
    assert any("htmx" in one for one in wanted)
    sizes: dict[str, int] = {}
    while wanted:
        name = re.sub(r"\.[0-9a-f]{12}(?=\.\w+$)", "", wanted.pop())
        found = finders.find(name)
        assert found is not None, name
        content = Path(str(found)).read_bytes()
        if name not in sizes and name.endswith(".js"):
            imported = re.findall(r"""from\s+["']\./([\w-]+\.js)["']""", content.decode())
            wanted += [f"{Path(name).parent}/{one}" for one in imported]
        sizes[name] = len(content)
    assert len(sizes) > 5
    assert len(page.encode()) + sum(sizes.values()) < MOST_BYTES
