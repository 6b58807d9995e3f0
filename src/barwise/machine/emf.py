"""Voltage and torque that an armature of given winding makes in a given field.

    E = phi Z N P / (60 a) = K phi w        K = Z P / (2 pi a)        T = K phi I

with phi flux per pole [Wb], Z conductors, N speed [rev/min], w speed [rad/s], P poles and a
parallel paths. Textbook equation: P. C. Sen, Principles of Electric Machines and Power Electronics,
chapter 4 (read second hand).
"""

from __future__ import annotations

import math

from barwise.machine.winding import Winding


def conductors(winding: Winding) -> int:
    """Conductors Z: two for each turn of each live coil."""
    return 2 * winding.bars * winding.turns_per_coil


def armature_constant(conductors: int, poles: int, parallel_paths: int) -> float:
    """K = Z P / (2 pi a) [1]: volts per weber and rad/s, or newton metres per weber and ampere."""
    return conductors * poles / (2 * math.pi * parallel_paths)


def generated_voltage_v(
    flux_wb: float, conductors: int, speed_rpm: float, poles: int, parallel_paths: int
) -> float:
    """Generated voltage E = phi Z N P / (60 a) [V].

    Examples
    --------
    >>> round(generated_voltage_v(0.032, 440, 1400, poles=6, parallel_paths=6), 2)
    328.53
    """
    return flux_wb * conductors * speed_rpm * poles / (60 * parallel_paths)


def torque_nm(flux_wb: float, conductors: int, current_a: float, poles: int, parallel_paths: int) -> float:
    """Torque T = K phi I [N m] of armature current I [A], friction not taken off."""
    return armature_constant(conductors, poles, parallel_paths) * flux_wb * current_a
