"""A model sheet written: field by field or as text; saving makes the next version."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from barwise.errors import BarwiseError
from barwise.record.habits import the_shop
from barwise.record.models import SheetVersion
from barwise.record.sheet_saving import Doubt, numbered, save_sheet
from barwise.record.sheets import sheet_from
from barwise.route.family import Family, families, load_family
from barwise.route.sheet import parse_sheet
from barwise.web.access import person_at
from barwise.web.named_person import named_person
from barwise.web.sheet_fields import anchors, editor_fields
from barwise.web.sheet_form import RefusedError, Typed, field_of, sheet_text, typed_from
from barwise.web.views.sheets import versions_of_or_404

NEW_TEXT = 'key = "short-name"\ntitle = "What it is called"\nfamily = "{}"\n\n[facts]\n\n[limits]\n'


@dataclass(frozen=True)
class Draft:
    """A sheet on its way: typed in fields, or as text where `text` is not None."""

    changes: SheetVersion | None
    family: Family
    typed: Typed
    text: str | None = None


@require_http_methods(["GET", "HEAD", "POST"])
def new(request: HttpRequest) -> HttpResponse:
    """Write a sheet, of the family ``?family=``; ``?from=`` copies another one."""
    source = request.GET.get("from", "")
    copied = versions_of_or_404(source)[0] if source else None
    return _edited(request, None, copied)


@require_http_methods(["GET", "HEAD", "POST"])
def edit(request: HttpRequest, key: str) -> HttpResponse:
    """Change a sheet: the version that was shown is the one that is changed."""
    versions = versions_of_or_404(key)
    shown = request.POST.get("changes", "") or str(versions[0].version)
    changes = next((one for one in versions if str(one.version) == shown), None)
    if changes is None:
        raise Http404(f"{key} has no version {shown[:20]}")
    return _edited(request, changes, changes)


def _edited(request: HttpRequest, changes: SheetVersion | None, base: SheetVersion | None) -> HttpResponse:
    if request.method != "POST":
        return _page(request, _drawn(request, changes, base))
    draft = _posted(request, changes, base)
    try:
        if "show" in request.POST:
            return _page(request, _shown_as(request.POST["show"], draft))
        kept = save_sheet(_text(draft), changes, request.POST.getlist("confirmed"), named_person(request))
    except RefusedError as error:
        return _page(request, draft, wrong=error, refused=error.by_field)
    except BarwiseError as error:
        field = "" if draft.text is not None else field_of(error)
        return _page(request, draft, wrong=error, refused={field: error} if field else {})
    if isinstance(kept, tuple):
        return _page(request, draft, doubts=kept)
    messages.success(request, f"Kept as version {kept.version}.")
    return redirect("sheet", kept.key)


def _drawn(request: HttpRequest, changes: SheetVersion | None, base: SheetVersion | None) -> Draft:
    family = _family(request, base)
    as_text = request.GET.get("as") == "text"
    if base is None:
        return Draft(None, family, {}, NEW_TEXT.format(family.key) if as_text else None)
    typed = typed_from(sheet_from(base.toml))
    if changes is None:
        typed |= {"key": "", "title": ""}
    return Draft(changes, family, typed, base.toml if as_text else None)


def _posted(request: HttpRequest, changes: SheetVersion | None, base: SheetVersion | None) -> Draft:
    typed = {name: value for name, value in request.POST.items() if isinstance(value, str)}
    if changes is not None:
        typed["key"] = changes.key
    family = _family(request, base)
    text = typed.get("toml")
    return Draft(changes, family, typed, None if text is None else text.replace("\r\n", "\n"))


def _family(request: HttpRequest, base: SheetVersion | None) -> Family:
    """That of the sheet it is made from; of a new one what the form or ``?family=`` says, or the first."""
    if base is not None:
        return load_family(base.family_key)
    said = request.POST.get("family", "") or request.GET.get("family", "")
    return load_family(said if said in families() else families()[0])


def _text(draft: Draft) -> str:
    if draft.text is not None:
        return draft.text
    return sheet_text(draft.typed, draft.family, decimal_comma=the_shop().decimal_comma)


def _shown_as(wanted: str, draft: Draft) -> Draft:
    """The same draft the other way: as text, or in fields."""
    text = _text(draft)
    if wanted == "text":
        number = 1 if draft.changes is None else draft.changes.version
        return Draft(draft.changes, draft.family, draft.typed, numbered(text, number))
    sheet = parse_sheet(text)
    return Draft(draft.changes, load_family(sheet.family), typed_from(sheet))


def _page(
    request: HttpRequest,
    draft: Draft,
    wrong: BarwiseError | None = None,
    refused: Mapping[str, BarwiseError] | None = None,
    doubts: tuple[Doubt, ...] = (),
) -> HttpResponse:
    fields = editor_fields(draft.family, draft.typed, refused or {}, doubts)
    shown = {
        "draft": draft,
        "fields": fields,
        "wrong": wrong,
        "anchors": anchors(fields, refused or {}),
        "doubts": doubts,
        "families": [load_family(key) for key in families()],
        "commented": draft.changes is not None and "#" in draft.changes.toml,
        "person": person_at(request),
        "confirmed": request.POST.getlist("confirmed"),
    }
    return render(request, "sheet_editor.html", shown, status=422 if wrong or doubts else 200)
