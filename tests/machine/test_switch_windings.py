"""The network of a switch's windings against a nodal solution written out here."""

from __future__ import annotations

import numpy as np
import pytest

from barwise.machine.switch_windings import (
    PATHS,
    Path,
    SwitchNetwork,
    current_a,
    grounded_pull_in,
    network_of,
)

MOTOR = 0.018
FED = {"S": 0, "M": 1}


def solved(branches: list[tuple[int, int, float]], fed: int, grounded: list[int], nodes: int) -> float:
    """Current into node `fed` at 1 V with the `grounded` nodes at 0 V, by Kirchhoff's laws."""
    laplacian = np.zeros((nodes, nodes))
    for one, other, ohm in branches:
        laplacian[one, one] += 1 / ohm
        laplacian[other, other] += 1 / ohm
        laplacian[one, other] -= 1 / ohm
        laplacian[other, one] -= 1 / ohm
    known = {fed: 1.0, **dict.fromkeys(grounded, 0.0)}
    free = [node for node in range(nodes) if node not in known]
    volts = np.zeros(nodes)
    volts[fed] = 1.0
    if free:
        block = laplacian[np.ix_(free, free)] + 1e-15 * np.eye(len(free))
        volts[free] = np.linalg.solve(block, -laplacian[free, fed])
    return float(laplacian[fed] @ volts)


def ends(path: Path) -> tuple[int, list[int]]:
    return {
        "S to M": (0, [1]),
        "S to ground": (0, [2]),
        "S to M and ground": (0, [1, 2]),
        "S to ground through the motor": (0, [2]),
        "M to ground": (1, [2]),
    }[path]


@pytest.mark.parametrize("path", PATHS)
@pytest.mark.parametrize("place", [None, 0.1, 0.7])
def test_every_path_reads_what_a_nodal_solution_reads(path: Path, place: float | None) -> None:
    """Source: nodal analysis with NumPy, independent of the reduction used."""
    pull_in, hold_in = 0.27, 1.1
    branches = [(0, 2, hold_in)]
    network: SwitchNetwork
    if place is None:
        branches.append((0, 1, pull_in))
        network = network_of(np.array(pull_in), np.array(hold_in))
    else:
        branches += [(0, 2, place * pull_in), (1, 2, (1 - place) * pull_in)]
        network = grounded_pull_in(np.array(pull_in), np.array(hold_in), np.array(place))
    if path == "S to ground through the motor":
        branches.append((1, 2, MOTOR))
    fed, grounded = ends(path)
    theirs = solved(branches, fed, grounded, 3)
    assert float(current_a(network, path, 1.0, MOTOR)) == pytest.approx(theirs, rel=1e-9)


def test_an_open_winding_carries_nothing_and_leaves_the_other_alone() -> None:
    opened = network_of(np.array(np.inf), np.array(1.1))
    assert float(current_a(opened, "S to M", 10.0)) == pytest.approx(0.0, abs=1e-9)
    assert float(current_a(opened, "S to ground", 10.0)) == pytest.approx(10 / 1.1)
    assert float(current_a(opened, "M to ground", 10.0)) == pytest.approx(0.0, abs=1e-9)


def test_a_joint_in_the_common_lead_is_in_series_with_everything_fed_at_s() -> None:
    network = network_of(np.array(0.3), np.array(1.2), 0.1)
    assert float(current_a(network, "S to M", 10.0)) == pytest.approx(25.0)
    assert float(current_a(network, "S to ground", 10.0)) == pytest.approx(10 / 1.3)
