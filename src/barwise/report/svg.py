"""The few SVG shapes our pictures are made of, polar ones among them.

Angles run clockwise from the top [turns], as an armature is counted in its pictures.
"""

from __future__ import annotations

import math
from xml.etree import ElementTree as ET

NAMESPACE = "http://www.w3.org/2000/svg"
FONT = "system-ui, 'Segoe UI', 'DejaVu Sans', Arial, sans-serif"

INK, QUIET, FAINT, PAPER = "#1d2733", "#5b6875", "#c3cbd3", "#ffffff"
COPPER, IRON, MARK, MODEL = "#f0d9c2", "#e4e8ec", "#a3201d", "#1f5fa8"
DECIDED = {"accept": "#17602c", "reject": "#9a1414", "undecided": "#6b4e00"}
"""Ink of a decision, always beside its shape and its word."""


class Picture(str):
    """The text of an SVG file; a notebook shows it as the picture it is."""

    def _repr_svg_(self) -> str:
        return str(self)


def document(width: float, height: float, title: str, description: str) -> ET.Element:
    """An empty drawing with the words a screen reader says for it."""
    root = ET.Element(
        "svg",
        {
            "xmlns": NAMESPACE,
            "viewBox": f"0 0 {number(width)} {number(height)}",
            "width": number(width),
            "height": number(height),
            "role": "img",
            "aria-labelledby": "picture-title picture-description",
            "font-family": FONT,
        },
    )
    ET.SubElement(root, "title", {"id": "picture-title"}).text = title
    ET.SubElement(root, "desc", {"id": "picture-description"}).text = description
    _hatch(root)
    shape(root, "rect", width=width, height=height, fill=PAPER)
    return root


def named(root: ET.Element, name: str) -> ET.Element:
    """The same drawing with ids that no other picture of a page has, each beginning with `name`."""
    for part in root.iter():
        for key, value in part.attrib.items():
            if key == "id":
                part.set(key, f"{name}-{value}")
            elif value.startswith("url(#"):
                part.set(key, value.replace("url(#", f"url(#{name}-"))
    said = root.get("aria-labelledby", "").split()
    root.set("aria-labelledby", " ".join(f"{name}-{one}" for one in said))
    return root


def renamed(picture: str, name: str) -> Picture:
    """A written drawing with its ids begun by `name`, so that a page can hold the same one twice."""
    ET.register_namespace("", NAMESPACE)
    return Picture(ET.tostring(named(ET.fromstring(picture), name), encoding="unicode") + "\n")


def written(root: ET.Element) -> Picture:
    """The drawing as text, one shape a line."""
    ET.indent(root)
    return Picture(ET.tostring(root, encoding="unicode") + "\n")


def group(parent: ET.Element, name: str, **style: str | float) -> ET.Element:
    """A named group; `name` becomes its class."""
    return shape(parent, "g", **{"class": name, **style})


def shape(parent: ET.Element, tag: str, **style: str | float) -> ET.Element:
    """One element; underscores in names become dashes, numbers are rounded to a hundredth."""
    return ET.SubElement(
        parent,
        tag,
        {
            name.replace("_", "-"): value if isinstance(value, str) else number(value)
            for name, value in style.items()
        },
    )


def text(parent: ET.Element, x: float, y: float, words: str, **style: str | float) -> ET.Element:
    """Words with their baseline at (x, y)."""
    element = shape(parent, "text", x=x, y=y, **{"fill": INK, "font_size": 13, **style})
    element.text = words
    return element


def haloed(parent: ET.Element, x: float, y: float, words: str, **style: str | float) -> None:
    """Bold words on a rim of paper: two texts, as not every viewer can order paint."""
    look: dict[str, str | float] = {"text_anchor": "middle", "font_weight": "bold", **style}
    rim = {**look, "fill": PAPER, "stroke": PAPER, "stroke_width": 5, "stroke_linejoin": "round"}
    text(parent, x, y, words, **rim).set("aria-hidden", "true")
    text(parent, x, y, words, **look)


def hint(parent: ET.Element, words: str, *, typed: bool = False) -> None:
    """Words shown while the pointer rests on a shape; what was `typed` stays as it is."""
    ET.SubElement(parent, "title", {"translate": "no"} if typed else {}).text = words


def line(parent: ET.Element, x1: float, y1: float, x2: float, y2: float, **style: str | float) -> None:
    """A straight line."""
    shape(parent, "line", x1=x1, y1=y1, x2=x2, y2=y2, **{"stroke": INK, **style})


def decision_mark(parent: ET.Element, decision: str, x: float, y: float) -> None:
    """The decision's shape, as beside its word: circle, square, diamond; a plain dot where none was made."""
    ink = DECIDED.get(decision, INK)
    if decision == "reject":
        shape(parent, "rect", x=x - 8, y=y - 8, width=16, height=16, fill=ink)
    elif decision == "undecided":
        corners = f"{x:.2f},{y - 11:g} {x + 11:.2f},{y:g} {x:.2f},{y + 11:g} {x - 11:.2f},{y:g}"
        shape(parent, "polygon", points=corners, fill=ink)
    else:
        shape(parent, "circle", cx=x, cy=y, r=8, fill=ink)


def number(value: float) -> str:
    """Shortest form with at most two decimals."""
    return f"{value:.2f}".rstrip("0").rstrip(".") if value % 1 else str(int(value))


def polar(centre: tuple[float, float], radius: float, turn: float) -> tuple[float, float]:
    """Point at `radius` and `turn`, clockwise from the top."""
    angle = 2 * math.pi * turn
    return centre[0] + radius * math.sin(angle), centre[1] - radius * math.cos(angle)


def sector(centre: tuple[float, float], inner: float, outer: float, start: float, end: float) -> str:
    """Path of a piece of a ring between two angles."""
    (ax, ay), (bx, by) = polar(centre, outer, start), polar(centre, outer, end)
    (cx, cy), (dx, dy) = polar(centre, inner, end), polar(centre, inner, start)
    large = int(abs(end - start) > 0.5)
    return (
        f"M{number(ax)},{number(ay)} A{number(outer)},{number(outer)} 0 {large} 1 "
        f"{number(bx)},{number(by)} L{number(cx)},{number(cy)} "
        f"A{number(inner)},{number(inner)} 0 {large} 0 {number(dx)},{number(dy)} Z"
    )


def spiral(centre: tuple[float, float], start: tuple[float, float], end: tuple[float, float]) -> str:
    """Path from (radius, turn) to (radius, turn) that leaves and arrives along the radius."""
    points = []
    for step in range(25):
        share = step / 24
        eased = share * share * (3 - 2 * share)
        radius = start[0] + (end[0] - start[0]) * share
        points.append(polar(centre, radius, start[1] + (end[1] - start[1]) * eased))
    return "M" + " L".join(f"{number(x)},{number(y)}" for x, y in points)


def _hatch(root: ET.Element) -> None:
    """Slanted lines, so that a mark is seen without colour."""
    definitions = shape(root, "defs")
    pattern = shape(
        definitions, "pattern", id="hatch", width=6, height=6,
        patternUnits="userSpaceOnUse", patternTransform="rotate(45)",
    )  # fmt: skip
    shape(pattern, "rect", width=6, height=6, fill="#f7dcd8")
    line(pattern, 0, 0, 0, 6, stroke=MARK, stroke_width=2.4)
