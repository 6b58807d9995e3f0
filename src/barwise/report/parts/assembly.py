"""The assembly's answer in words and as JSON."""

from __future__ import annotations

import json
from collections import Counter

from barwise.inspect.assembly.bolts import Plausible
from barwise.inspect.assembly.judgement import AssemblyAnswer, Bolt
from barwise.inspect.assembly.shims import Pile, Shim, Wanted
from barwise.inspect.checks.plain import plain
from barwise.inspect.finding import said_to_its_digit
from barwise.measure.uncertainty import Estimate
from barwise.measure.units import Unit
from barwise.report.lengths import length_text
from barwise.report.parts.findings import findings_text, sections, verdict_line
from barwise.report.probability import probability_in_words
from barwise.route.cautions import find_caution


def assembly_text(answer: AssemblyAnswer) -> str:
    """Verdict, what to put in, what was judged, mesh and torque list, for a terminal."""
    lines = [
        *verdict_line(answer.verdict, shims_in_words(answer)),
        *findings_text(answer.findings),
        *sections(
            ("Shims to put in", _chosen(answer)),
            ("Nearly as good", _others(answer)),
            ("Thickness that would be in the middle", _wanted(answer)),
            ("Ring gear", _mesh(answer)),
            ("Torque list", [_torque(bolt, found) for bolt, found in answer.torques]),
            ("Take care", find_caution("switch").lines if answer.work.goals else ()),
        ),
    ]
    return "\n".join(lines) + "\n"


def assembly_json(answer: AssemblyAnswer) -> str:
    """The same as one JSON object, in SI, nothing rounded."""
    choice = answer.choice
    whole = {
        "verdict": answer.verdict,
        "findings": plain(answer.findings),
        "shims": None if choice is None else [_pile(one) for one in choice.piles],
        "tried": 0 if choice is None else choice.tried,
        "wanted": [] if choice is None else plain(choice.wanted),
        "mesh_shim_m": None if answer.mesh_shim is None else plain(answer.mesh_shim),
        "torques": {bolt.name: plain(found) for bolt, found in answer.torques},
    }
    return json.dumps(whole, allow_nan=False)


def shims_in_words(answer: AssemblyAnswer) -> str:
    """One sentence: what to put in where, and how sure that all is then within its range."""
    if answer.choice is None:
        return ""
    best = answer.choice.best
    put = "; ".join(f"{place}: {_names(some)}" for place, some in best.put_in)
    chance = probability_in_words(best.probability)
    if best.outcome == "reject":
        return f"No pile of the shims there are brings all of it into its range. The nearest is {put}."
    return f"Put in {put}. Chance that all is within its range: {chance}."


def _pile(pile: Pile) -> dict[str, object]:
    return {
        "put_in": {place: [one.name for one in some] for place, some in pile.put_in},
        "reached_m": {one.name: one.value.value for one in pile.reached},
        "standard_uncertainty_m": {one.name: one.value.standard_uncertainty for one in pile.reached},
        "decision": pile.outcome,
        "probability": pile.probability,
        "from_middle": pile.from_middle,
    }


def _names(some: tuple[Shim, ...]) -> str:
    if not some:
        return "none"
    counted = Counter(one.name for one in some)
    return ", ".join(f"{count} x {name}" if count > 1 else name for name, count in counted.items())


def _chosen(answer: AssemblyAnswer) -> list[str]:
    if answer.choice is None:
        return []
    said = [f"{place}: {_names(some)}" for place, some in answer.choice.best.put_in]
    said += [_brings(answer, answer.choice.best)]
    few = " There is no choice: no shims are in stock." if answer.choice.tried == 1 else ""
    return [*said, f"{answer.choice.tried} {'pile' if answer.choice.tried == 1 else 'piles'} tried.{few}"]


def _brings(answer: AssemblyAnswer, pile: Pile) -> str:
    each = ", ".join(
        f"{one.name} {_to_a_micrometre(one.value.value, answer.work.units[one.name])}" for one in pile.reached
    )
    return f"brings {each}; chance that all is within: {probability_in_words(pile.probability)}"


def _others(answer: AssemblyAnswer) -> list[str]:
    if answer.choice is None:
        return []
    return [
        f"{'; '.join(f'{place}: {_names(some)}' for place, some in one.put_in)} {_brings(answer, one)}"
        for one in answer.choice.piles[1:3]
    ]


def _wanted(answer: AssemblyAnswer) -> list[str]:
    return (
        []
        if answer.choice is None
        else [_want(one, answer.work.units[one.goal]) for one in answer.choice.wanted]
    )


def _want(one: Wanted, unit: Unit) -> str:
    if one.middle_m < 0:
        over = _to_a_micrometre(-one.middle_m, unit)
        return f"{one.place}: none; even so {one.goal} lacks {over} to its middle"
    said = f"{one.place}: {_to_a_micrometre(one.middle_m, unit)} in all for {one.goal}"
    if one.low_m is None or one.high_m is None:
        return f"{said}; at this uncertainty none is sure to do, measure it better"
    low, high = (_to_a_micrometre(max(0.0, end), unit) for end in (one.low_m, one.high_m))
    return f"{said}, {low} to {high} would do"


def _mesh(answer: AssemblyAnswer) -> list[str]:
    if answer.mesh_shim is None or answer.work.mesh is None:
        return []
    unit, shim = answer.work.mesh.unit, answer.mesh_shim
    size = said_to_its_digit(Estimate(abs(shim.value), shim.standard_uncertainty), unit)
    word = "put under the flange" if shim.value >= 0 else "take out from under the flange"
    return [f"for the middle of its range {word} {size}; only where the axes move apart by the whole of it"]


def _torque(bolt: Bolt, found: tuple[Plausible, ...]) -> str:
    said = f"{bolt.name}: {bolt.torque.words()}"
    if not found:
        return said
    low, high = min(one.force_n[0] for one in found), max(one.force_n[1] for one in found)
    proof = [min(one.of_proof[0] for one in found), max(one.of_proof[1] for one in found)]
    share = f"{100 * proof[0]:.0f} to {100 * proof[1]:.0f} % of proof load"
    force = f"{low / 1e3:.1f} to {high / 1e3:.1f} kN"
    return f"{said}; {found[0].thread.name} {bolt.grade} {bolt.surface}: {force}, {share}"


def _to_a_micrometre(metres: float, unit: Unit) -> str:
    return length_text(metres, unit.name, 1e-6 if unit.name == "mm" else 2.54e-6)
