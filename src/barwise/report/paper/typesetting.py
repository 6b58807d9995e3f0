"""Sheets set into PDF: a template of this package, its data as JSON; nothing is fetched or put into markup.

PDF/A-3a and PDF/UA-1 wherever the text allows it: tagged for readers that speak, with its fonts inside, so
that it reads the same in thirty years. docs/printing.md says what was checked of that.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from contextlib import ExitStack
from dataclasses import dataclass, field
from datetime import UTC, datetime
from functools import lru_cache
from importlib import resources
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Literal, get_args

import typst

from barwise.errors import BarwiseError, InputError
from barwise.files.sealed_job import NAME as SEAL
from barwise.files.text import shown
from barwise.version import __version__

Paper = Literal["a4", "letter"]
PAPERS: tuple[Paper, ...] = get_args(Paper)
STANDARDS: tuple[typst.PDFStandard, ...] = ("a-3a", "ua-1")
_TEMPLATES = resources.files("barwise.report.paper") / "typst"
_NAMES = ("house.typ", "record.typ", "bench_sheet.typ", "label.typ")


@dataclass(frozen=True)
class Sheet:
    """What is to be set.

    Attributes
    ----------
    template : str
        Name of the template without its ending.
    title, description, author : str
        What the PDF says of itself.
    footer : tuple of (str, str)
        Left and middle of each page's foot; the page number stands right.
    at : datetime
        When it was made, with its time zone.
    data : mapping
        For the template, ready for JSON.
    files : mapping of str to bytes
        Pictures by the names the data call them.
    invented : str
        Said at the head of each page; empty where the data are real.
    attached : bytes
        The seal of what is printed, which the PDF carries; empty without one.
    keyword : str
        Stands among the keywords of the PDF, where its own signature is written into it.
    """

    template: str
    title: str
    description: str
    author: str
    footer: tuple[str, str]
    at: datetime
    paper: Paper
    data: Mapping[str, Any]
    files: Mapping[str, bytes] = field(default_factory=dict)
    invented: str = ""
    attached: bytes = b""
    keyword: str = ""


def paper_named(said: str, where: str = "paper") -> Paper:
    """The paper of this name. Raises InputError, at the place `where`, if there is none."""
    for known in PAPERS:
        if said == known:
            return known
    raise InputError(where, shown(said), " or ".join(PAPERS))


class Typesetter:
    """One sheet laid out in a folder of its own, which is gone afterwards; use it in a ``with``."""

    def __init__(self, sheet: Sheet) -> None:
        self._sheet, self._stack = sheet, ExitStack()

    def __enter__(self) -> Typesetter:
        self._folder = Path(self._stack.enter_context(TemporaryDirectory(prefix="barwise-")))
        for name in _NAMES:
            (self._folder / name).write_bytes(_template(name))
        for name, content in self._sheet.files.items():
            (self._folder / name).write_bytes(content)
        if self._sheet.attached:
            (self._folder / SEAL).write_bytes(self._sheet.attached)
        return self

    def __exit__(self, *_: object) -> None:
        self._stack.close()

    @property
    def data(self) -> Mapping[str, Any]:
        """What the template is given."""
        return self._sheet.data

    def told(self, label: str, **data: Any) -> Any:
        """What the sheet says of itself under a label once it is laid out, with these data changed."""
        return json.loads(self._compiler(data).query(f"<{label}>", field="value", one=True))

    def pdf(self, **data: Any) -> bytes:
        """The sheet as PDF, with these data changed.

        Raises
        ------
        BarwiseError
            If it cannot be set at all.
        """
        try:
            return self._compiled(data, STANDARDS, system_fonts=False)
        except typst.TypstError:
            pass
        # A name in a script that our type does not have: the computer's own type may have it.
        try:
            return self._compiled(data, STANDARDS, system_fonts=True)
        except typst.TypstError:
            pass
        # A sign that no type here has is printed as a box; the standards forbid that, the customer may not.
        try:
            return self._compiled(data, (), system_fonts=True)
        except typst.TypstError as error:
            raise BarwiseError(f"{self._sheet.title}: cannot be set: {error.message}") from error

    def png(self, ppi: float = 100.0, **data: Any) -> list[bytes]:
        """Each page as a picture."""
        made = self._compiler(data).compile(format="png", ppi=ppi)
        return made if isinstance(made, list) else [bytes(made or b"")]

    def _compiled(
        self, data: Mapping[str, Any], standards: tuple[typst.PDFStandard, ...], *, system_fonts: bool
    ) -> bytes:
        # Told with each print and in no template: a date in there would have every page laid out anew.
        at = self._sheet.at.astimezone(UTC).replace(microsecond=0)  # the setter knows no zones by name
        compiler = self._compiler(data, system_fonts=system_fonts)
        made = compiler.compile(format="pdf", pdf_standards=list(standards), timestamp=at)
        assert isinstance(made, bytes)  # one file, and no output named
        return made

    def _compiler(self, data: Mapping[str, Any], *, system_fonts: bool = False) -> typst.Compiler:
        whole = {**_about(self._sheet), **self._sheet.data, **data}
        (self._folder / "data.json").write_text(json.dumps(whole, ensure_ascii=False), encoding="utf-8")
        # A folder of packages that is empty and ours: nothing is ever fetched.
        return typst.Compiler(
            str(self._folder / f"{self._sheet.template}.typ"),
            root=str(self._folder),
            font_paths=_fonts(system_fonts),
            package_path=str(self._folder),
            package_cache_path=str(self._folder),
        )


def _about(sheet: Sheet) -> dict[str, Any]:
    return {
        "title": sheet.title,
        "description": sheet.description,
        "author": sheet.author or f"barwise {__version__}",
        "footer": list(sheet.footer),
        "paper": sheet.paper,
        "invented": sheet.invented,
        "attached": SEAL if sheet.attached else "",
        "keywords": [sheet.keyword] if sheet.keyword else [],
    }


@lru_cache(maxsize=8)
def _template(name: str) -> bytes:
    return (_TEMPLATES / name).read_bytes()


@lru_cache(maxsize=2)
def _fonts(system: bool) -> typst.Fonts:
    """Our own type, found once for all sheets of this process."""
    with resources.as_file(_TEMPLATES / "fonts") as folder:
        return typst.Fonts(include_system_fonts=system, include_embedded_fonts=True, font_paths=[str(folder)])
