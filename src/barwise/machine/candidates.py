"""Which windings fit what can be counted on the bench: bars, slots and poles.

Nobody may know how an armature was connected. Counting leaves a short list. What is called usual
here is common practice, no source; what fits follows from the winding rules (see `winding`).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from barwise.errors import WindingError
from barwise.machine.winding import (
    Kind,
    Progression,
    Winding,
    nearest,
    wave_fits,
    wave_fits_either,
)

Standing = Literal["usual", "possible", "rare"]

USUAL_POLES = (2, 4, 6, 8)
FEWEST_WORTH_DUPLEX = 20
"""With fewer bars a duplex winding is hardly wound: common practice, no source."""


@dataclass(frozen=True)
class Candidate:
    """A winding that fits, how usual it is, and why in plain words.

    `pitches_slots` are the coil pitches worth trying, likeliest first; empty when the slots are
    unknown.
    """

    winding: Winding
    standing: Standing
    reason: str
    pitches_slots: tuple[int, ...]


def fitting_windings(
    bars: int,
    slots: int | None = None,
    poles: int | None = None,
    *,
    kind: Kind | None = None,
    most_plex: int = 2,
    turns_per_coil: int = 1,
) -> tuple[Candidate, ...]:
    """Windings that fit, most usual first.

    Parameters
    ----------
    bars : int
        Commutator bars.
    slots, poles : int, optional
        Left out, the slots stay open and 2, 4, 6 and 8 poles are tried.
    kind : {"lap", "wave"}, optional
        Only this kind.
    most_plex : int
        1 for simplex only, 2 with duplex, ...
    turns_per_coil : int
        Carried into each winding; decides nothing.

    Returns
    -------
    tuple of Candidate
        Never empty.

    Raises
    ------
    WindingError
        If nothing fits, with the reason and the nearest counts.

    Examples
    --------
    >>> best = fitting_windings(57, slots=29, poles=4)[0].winding
    >>> best.kind, best.progression, best.step, best.dead_coils
    ('wave', 'retrogressive', 28, 1)
    """
    asked = USUAL_POLES if poles is None else (poles,)
    tried = _poles_that_can_be(bars, slots, asked)
    fits = [
        _candidate(winding)
        for number in tried
        for winding in _windings(bars, slots, number, kind, most_plex, turns_per_coil)
    ]
    if not fits:
        raise WindingError(_why_nothing(bars, tried, most_plex))
    order: dict[Standing, int] = {"usual": 0, "possible": 1, "rare": 2}
    liking = {number: place for place, number in enumerate((4, 6, 2, 8))}
    fits.sort(
        key=lambda fit: (
            order[fit.standing],
            fit.winding.plex,
            liking.get(fit.winding.poles, fit.winding.poles),
            fit.winding.progression != _usual_progression(fit.winding.kind),
        )
    )
    return tuple(fits)


def left_out(bars: int, poles: int) -> tuple[str, ...]:
    """Why the windings one might look for in the list are not in it, in plain words."""
    pairs = poles // 2
    if pairs == 1:
        return ("With 2 poles a wave winding is the same circuit as a lap winding: listed as lap.",)
    if not wave_fits_either(bars, pairs, 1):
        close = nearest(bars, lambda n: wave_fits_either(n, pairs, 1), 3)
        rule = f"(bars ± 1) must divide by the {pairs} pole pairs and {bars} does not"
        return (f"No simplex wave: {rule}; nearest {' and '.join(map(str, close))} bars.",)
    for progression in ("progressive", "retrogressive"):
        if not wave_fits(bars, pairs, 1, progression):
            return (f"No {progression} wave: with {bars} bars only the other way round closes.",)
    return ()


def _poles_that_can_be(bars: int, slots: int | None, asked: tuple[int, ...]) -> tuple[int, ...]:
    """Numbers of poles with which bars and slots can be wound at all; raises if there is none."""
    possible, refused = [], WindingError("poles: none asked for")
    for poles in asked:
        try:
            Winding("lap", poles, bars, slots=slots)
        except WindingError as error:
            refused = error
        else:
            possible.append(poles)
    if not possible:
        raise refused
    return tuple(possible)


def _windings(
    bars: int, slots: int | None, poles: int, kind: Kind | None, most_plex: int, turns: int
) -> Iterator[Winding]:
    kinds: tuple[Kind, ...] = ("lap", "wave") if kind is None else (kind,)
    progressions: tuple[Progression, ...] = ("progressive", "retrogressive")
    for plex in range(1, min(most_plex, bars - 1) + 1):
        for each in kinds:
            if each == "wave" and poles == 2 and kind is None:
                continue
            for progression in progressions:
                if each == "wave" and not wave_fits(bars, poles // 2, plex, progression):
                    continue
                yield Winding(each, poles, bars, turns, progression, slots, plex)


def _candidate(winding: Winding) -> Candidate:
    standing, reasons = _standing(winding)
    if winding.dead_coils:
        coils = "one dead coil fills" if winding.dead_coils == 1 else "dead coils fill"
        sign = ", the mark of a wave winding" if winding.kind == "wave" else ""
        reasons += f"; {coils} the slots{sign}"
    return Candidate(winding, standing, reasons, _pitches(winding))


def _standing(winding: Winding) -> tuple[Standing, str]:
    if winding.plex > 1:
        return "rare", _multiplex_reason(winding)
    usual_way = winding.progression == _usual_progression(winding.kind)
    if winding.kind == "wave":
        return _wave_standing(winding, usual_way)
    return _lap_standing(winding, usual_way)


def _wave_standing(winding: Winding, usual_way: bool) -> tuple[Standing, str]:
    sign = "+" if winding.progression == "progressive" else "-"
    rule = f"({winding.bars} {sign} 1) / {winding.pole_pairs} pole pairs = {winding.step}"
    if winding.poles == 2:
        return "rare", f"{rule}; with 2 poles the same circuit as lap"
    if usual_way:
        return "usual", f"{rule}; this way round the leads do not cross"
    if not wave_fits(winding.bars, winding.pole_pairs, 1, "retrogressive"):
        return "usual", f"{rule}; the only way round that closes with {winding.bars} bars"
    return "possible", f"{rule}; the leads cross behind the commutator"


def _lap_standing(winding: Winding, usual_way: bool) -> tuple[Standing, str]:
    pairs = winding.pole_pairs
    wave_too = pairs > 1 and wave_fits_either(winding.bars, pairs, 1)
    way = "ends at the next bar" if usual_way else "ends at the bar before, so the leads cross"
    if winding.bars % pairs:
        return (
            "rare",
            f"{way}; {winding.bars} bars do not divide by {pairs} pole pairs, so paths differ",
        )
    if winding.dead_coils:
        return "rare", f"{way}; a lap winding has no need of a dead coil"
    if not usual_way:
        return "possible", way
    if wave_too:
        return "possible", f"{way}; {winding.parallel_paths} paths for heavy current"
    return "usual", f"{way}; {winding.parallel_paths} paths"


def _multiplex_reason(winding: Winding) -> str:
    word = {2: "duplex", 3: "triplex"}.get(winding.plex, f"{winding.plex}-plex")
    rings = "one closed ring" if winding.closures == 1 else f"{winding.closures} separate rings"
    few = ", few bars for it" if winding.bars < FEWEST_WORTH_DUPLEX else ""
    return f"{word}: {rings}, each brush must cover {winding.plex} bars or more{few}"


def _pitches(winding: Winding) -> tuple[int, ...]:
    usual = winding.slot_pitch
    if winding.slots is None or usual is None:
        return ()
    pole_pitch = winding.slots / winding.poles
    beside = usual + 1 if usual < pole_pitch else usual - 1
    return tuple(n for n in (usual, beside) if 1 <= n < winding.slots)


def _usual_progression(kind: Kind) -> Progression:
    return "progressive" if kind == "lap" else "retrogressive"


def _why_nothing(bars: int, poles: tuple[int, ...], most_plex: int) -> str:
    pairs = poles[0] // 2
    plex = range(1, most_plex + 1)
    close = nearest(bars, lambda n: any(wave_fits_either(n, pairs, m) for m in plex), 3)
    several = " or ".join(str(m) for m in plex)
    return (
        f"bars: wave: (bars ± {several}) must divide by the {pairs} pole pairs: {bars} does not; "
        f"nearest {', '.join(map(str, close))}; a lap winding fits"
    )
