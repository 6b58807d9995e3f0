"""How this shop works: its name, how it writes numbers, and how sure a decision must be."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from barwise.errors import BarwiseError, InputError
from barwise.files.signing_key import grouped
from barwise.files.text import shown
from barwise.measure.entered import read_number
from barwise.record.habits import change_shop, the_shop
from barwise.record.models import Shop
from barwise.record.shop_key import key_at_hand
from barwise.web.access import person_at
from barwise.web.named_person import named_person

SIGNS = {"point": "1.2385, with a decimal point", "comma": "1,2385, with a decimal comma"}
UNITS = {"in": "inch", "mm": "mm"}
PAPERS = dict(Shop.PAPERS)


@require_http_methods(["GET", "HEAD", "POST"])
def shop(request: HttpRequest) -> HttpResponse:
    """Show the shop's habits; change them."""
    kept, wrong = the_shop(), None
    typed: Mapping[str, str] = {
        "name": kept.name,
        "sign": "comma" if kept.decimal_comma else "point",
        "length_unit": kept.length_unit,
        "level": f"{kept.level * 100:g}",
        "paper": kept.paper,
        "address": kept.address,
        "warranty": kept.warranty,
    }
    if request.method == "POST":
        # A form from before this version, or another program, leaves as it is what it does not name.
        typed = {name: str(request.POST.get(name, known)) for name, known in typed.items()}
        try:
            change_shop(named_person(request), **_changes(typed))
        except BarwiseError as error:
            wrong = error
        else:
            messages.success(request, "Kept. It holds for every entry from now on.")
            return redirect("shop")
    context = {
        "typed": typed,
        "signs": SIGNS,
        "units": UNITS,
        "papers": PAPERS,
        "wrong": wrong,
        "field": wrong.where if isinstance(wrong, InputError) else "",
        "person": person_at(request),
        "key": grouped(key_at_hand()),
    }
    return render(request, "shop.html", context, status=422 if wrong else 200)


def _changes(typed: Mapping[str, str]) -> dict[str, Any]:
    if typed["sign"] not in SIGNS:
        raise InputError("sign", "neither", "a point or a comma")
    read = read_number(typed["level"].strip().removesuffix("%").strip().replace(",", "."))
    if read is None:
        raise InputError(
            "level", shown(typed["level"]) if typed["level"] else "nothing", "percent, such as 95"
        )
    return {
        "name": " ".join(typed["name"].split())[:120],
        "decimal_comma": typed["sign"] == "comma",
        "length_unit": typed["length_unit"],
        "level": read.value / 100,
        "paper": typed["paper"],
        "address": _lines(typed["address"]),
        "warranty": _lines(typed["warranty"]),
    }


def _lines(text: str) -> str:
    """As typed, with one way of ending lines and none of it at the end."""
    return "\n".join(line.rstrip() for line in text.strip().splitlines())
