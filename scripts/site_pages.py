"""Brings into the site what the documents link to outside their folder: contributing, changes, examples.

mkdocs calls these two functions while it builds (`hooks` in mkdocs.yml).
"""

# ruff: noqa: ARG001  # mkdocs hands each function all it has

from __future__ import annotations

import re
from pathlib import Path

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import File, Files
from mkdocs.structure.pages import Page

ROOT = Path(__file__).parent.parent
PAGES = ("CONTRIBUTING.md", "CHANGELOG.md")


def on_files(files: Files, config: MkDocsConfig) -> Files:
    """Add the pages and examples that stand beside the documents."""
    beside = [ROOT / name for name in PAGES]
    beside += [path for path in sorted((ROOT / "examples").rglob("*")) if path.is_file()]
    for path in beside:
        name = path.relative_to(ROOT).as_posix()
        files.append(File.generated(config, name, abs_src_path=str(path)))
    return files


def on_page_markdown(markdown: str, page: Page, config: MkDocsConfig, files: Files) -> str:
    """Links as they are from where the page stands in the site."""
    if page.file.src_uri in PAGES:
        return markdown.replace("](docs/", "](")
    return re.sub(r"\]\(\.\./(?=CONTRIBUTING|CHANGELOG|examples)", "](", markdown)
