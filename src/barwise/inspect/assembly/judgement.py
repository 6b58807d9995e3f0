"""The assembly judged: what shims to put in, how deep the pinion meshes, torque list, marks compared."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from barwise.inspect.assembly.bolts import Plausible, Thread, plausible
from barwise.inspect.assembly.mesh import Mesh
from barwise.inspect.assembly.orientation import Marks, compare_marks
from barwise.inspect.assembly.shims import Choice, Goal, Pile, Shim, choose_shims
from barwise.inspect.finding import Bound, Finding, Verdict, hold_against, worst_of
from barwise.measure import decision
from barwise.measure.decision import Limit
from barwise.measure.uncertainty import Estimate
from barwise.measure.units import Unit


@dataclass(frozen=True)
class Bolt:
    """One line of the torque list: what the sheet says, what the bolt is, what it was tightened to."""

    name: str
    torque: Bound
    unit: Unit
    thread: Thread | None = None
    grade: str = "8.8"
    surface: str = "dry"
    tightened: Estimate | None = None


@dataclass(frozen=True)
class RingMesh:
    """Pinion in the ring gear with its backlash now, and what is wanted [m]."""

    mesh: Mesh
    backlash: Estimate
    wanted: Bound
    unit: Unit


@dataclass(frozen=True)
class AssemblyWork:
    """All that is known at assembly; each part may be missing."""

    goals: tuple[Goal, ...]
    units: Mapping[str, Unit]
    stock: tuple[Shim, ...] = ()
    fitted: Mapping[str, tuple[Shim, ...]] | None = None
    most_pieces: int = 4
    mesh: RingMesh | None = None
    bolts: tuple[Bolt, ...] = ()
    marks: tuple[Marks, ...] = ()
    level: float = decision.USUAL_LEVEL


@dataclass(frozen=True)
class AssemblyAnswer:
    """What it comes to.

    `choice` None where nothing is to be shimmed; `mesh_shim` is what to put under the flange [m], negative
    to take out.
    """

    verdict: Verdict
    findings: tuple[Finding, ...]
    work: AssemblyWork
    choice: Choice | None
    mesh_shim: Estimate | None
    torques: tuple[tuple[Bolt, tuple[Plausible, ...]], ...]


def judge_assembly(work: AssemblyWork) -> AssemblyAnswer:
    """Judge the assembly as it stands, and choose the shims that bring it right.

    Raises
    ------
    MeasurementError
        If a figure cannot be as given.
    """
    findings = [_as_it_stands(goal, work) for goal in work.goals]
    choice = None
    if work.goals:
        choice = choose_shims(work.goals, work.stock, work.fitted, work.most_pieces, work.level)
        findings = [_with_shims(one, choice.best, work) for one in findings]
    shim = None
    if work.mesh is not None:
        findings.append(_mesh(work.mesh, work.level))
        middle = _middle(work.mesh.wanted.limit)
        shim = work.mesh.mesh.shim_for(work.mesh.backlash, middle)
    torques = tuple((bolt, _plausible(bolt)) for bolt in work.bolts)
    findings += [finding for bolt, found in torques for finding in _bolt(bolt, found, work.level)]
    findings += [compare_marks(one) for one in work.marks]
    return AssemblyAnswer(worst_of(findings), tuple(findings), work, choice, shim, torques)


def _as_it_stands(goal: Goal, work: AssemblyWork) -> Finding:
    unit = work.units[goal.name]
    bound = Bound(Limit(goal.low_m, goal.high_m), unit.name)
    return hold_against(goal.name, goal.now, unit, bound, level=work.level)


def _with_shims(finding: Finding, best: Pile, work: AssemblyWork) -> Finding:
    """What brings it right, said where it is not right already."""
    if finding.outcome == "accept":
        return finding
    reached = next(one for one in best.reached if one.name == finding.part)
    value = reached.value.value / work.units[finding.part].factor
    said = {
        "accept": f"The shims chosen bring it to {value:.4g} {finding.unit}.",
        "undecided": f"The best shims there are bring it to {value:.4g} {finding.unit}: too close to call.",
        "reject": "No pile of the shims there are brings it into its range.",
    }[reached.decision.outcome]
    return Finding(
        finding.part, finding.outcome, finding.line, said, finding.value, finding.standard_uncertainty,
        finding.dimension, finding.unit, finding.probability, finding.bound,
    )  # fmt: skip


def _mesh(one: RingMesh, level: float) -> Finding:
    then = "Shim the flange, or look for the wrong pinion or a wrong ring gear."
    return hold_against(
        "backlash in the ring gear", one.backlash, one.unit, one.wanted, level=level, then=then
    )


def _middle(limit: Limit) -> float:
    """Middle of a range; of a one-sided one the side itself."""
    sides = [side for side in (limit.lower, limit.upper) if side is not None]
    return sum(sides) / len(sides)


def _plausible(bolt: Bolt) -> tuple[Plausible, ...]:
    """The sheet's least and most torque on this bolt; nothing where the thread is not known."""
    thread = bolt.thread
    if thread is None:
        return ()
    sides = [side for side in (bolt.torque.limit.lower, bolt.torque.limit.upper) if side is not None]
    return tuple(plausible(side, thread, bolt.grade, bolt.surface) for side in sides)


def _bolt(bolt: Bolt, found: tuple[Plausible, ...], level: float) -> list[Finding]:
    said = []
    odd = [one.word for one in found if one.word != "plausible"]
    if odd:
        what = "stretch it" if odd[0] == "stretches" else "leave it nearly loose"
        said.append(
            Finding(
                f"{bolt.name}, the sheet's torque",
                "undecided",
                f"{bolt.name}: {bolt.torque.words()} would {what}: a misprint, or another unit or bolt?",
                "Ask before tightening; this is a rough check (T = K d F), not a limit.",
            )
        )
    if bolt.tightened is not None:
        then = "Set the wrench anew and tighten again."
        said.append(
            hold_against(
                f"{bolt.name}, torque", bolt.tightened, bolt.unit, bolt.torque, level=level, then=then
            )
        )
    return said
