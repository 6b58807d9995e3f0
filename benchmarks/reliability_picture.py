"""The reliability diagram: how often a stated probability came true, as an SVG that can be read aloud."""

from __future__ import annotations

import io
import math
import re
from collections.abc import Mapping
from typing import Any

import matplotlib as mpl
from matplotlib.figure import Figure

from benchmarks.made_set import COLUMNS

MARKS = {"all": ("o", "-"), "direct": ("s", "--"), "exciter": ("^", ":")}
"""Marker and line of each choice of tests: told apart without colour."""
INK = {"all": "#1b2a41", "direct": "#a33b20", "exciter": "#3b6e8f"}


def reliability_picture(calibrated: Mapping[str, Mapping[str, Any]]) -> str:
    """SVG text: stated probability against the share that was there, and how many faults stand behind it."""
    with mpl.rc_context({"svg.hashsalt": "barwise", "svg.fonttype": "none", "font.family": "sans-serif"}):
        figure = Figure(figsize=(7.2, 7.0), layout="constrained")
        above, below = figure.subplots(2, 1, height_ratios=(4, 1.1), sharex=True)
        above.plot([0, 1], [0, 1], color="#6b7280", linewidth=1, label="as stated")
        for name, values in calibrated.items():
            _line(above, name, values)
        above.set_ylabel("share of these faults that were there")
        above.set_ylim(-0.03, 1.03)
        above.legend(loc="upper left", frameon=False)
        above.grid(alpha=0.3)
        _numbers(below, calibrated)
        text = io.StringIO()
        figure.savefig(text, format="svg", metadata={"Date": None, "Creator": None})
    return _spoken(text.getvalue(), calibrated)


def wilson(share: float, count: int, z: float = 1.96) -> tuple[float, float]:
    """95 % interval of a share counted on so many (E. B. Wilson, JASA 22, 1927, from memory).

    Examples
    --------
    >>> [round(end, 4) + 0.0 for end in wilson(0.0, 10)]
    [0.0, 0.2775]
    """
    middle = share + z * z / (2 * count)
    reach = z * math.sqrt(share * (1 - share) / count + (z / (2 * count)) ** 2)
    whole = 1 + z * z / count
    return (middle - reach) / whole, (middle + reach) / whole


def _line(axes: Any, name: str, values: Mapping[str, Any]) -> None:
    marker, line = MARKS[name]
    bins = values["bins"]
    ranges = [wilson(b["true"], b["count"]) for b in bins]
    axes.errorbar(
        [b["stated"] for b in bins],
        [b["true"] for b in bins],
        yerr=[
            [max(0.0, b["true"] - low) for b, (low, _) in zip(bins, ranges, strict=True)],
            [max(0.0, high - b["true"]) for b, (_, high) in zip(bins, ranges, strict=True)],
        ],
        elinewidth=0.8,
        capsize=3,
        marker=marker,
        linestyle=line,
        color=INK[name],
        markersize=7,
        markerfacecolor="white",
        label=f"{COLUMNS[name].name}: error {values['expected_calibration_error']:.3f}",
    )


def _numbers(axes: Any, calibrated: Mapping[str, Mapping[str, Any]]) -> None:
    for name, values in calibrated.items():
        marker, line = MARKS[name]
        middle = [(b["low"] + b["high"]) / 2 for b in values["bins"]]
        count = [b["count"] for b in values["bins"]]
        axes.semilogy(
            middle,
            count,
            marker=marker,
            linestyle=line,
            color=INK[name],
            markersize=5,
            markerfacecolor="white",
        )
    axes.set_ylabel("faults")
    axes.set_xlabel("probability stated for a fault at its place")
    axes.grid(alpha=0.3)


def _spoken(svg: str, calibrated: Mapping[str, Mapping[str, Any]]) -> str:
    """Give the picture a title and a description, and strip what depends on the machine."""
    parts = []
    for name, values in calibrated.items():
        points = ", ".join(f"{b['stated']:.2f} stated, {b['true']:.2f} there" for b in values["bins"])
        parts.append(f"{COLUMNS[name].name}, {values['count']} faults: {points}.")
    spoken = (
        '<title id="reliability-title">Reliability of the probabilities that barwise states</title>\n'
        f'<desc id="reliability-description">{" ".join(parts)}</desc>'
    )
    labels = 'role="img" aria-labelledby="reliability-title reliability-description"'
    svg = re.sub(r"\s*<metadata>.*?</metadata>", "", svg, flags=re.DOTALL)
    svg = re.sub(r'(width|height)="([\d.]+)pt"', r'\1="\2"', svg[svg.index("<svg") :], count=2)
    return re.sub(r"(<svg\b[^>]*)>", rf"\1 {labels}>\n {spoken}", svg, count=1)
