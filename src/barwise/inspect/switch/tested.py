"""A switch as it was tested, with what its sheet says, and what it comes to."""

from __future__ import annotations

from dataclasses import dataclass

from barwise.inspect.finding import Bound, Finding, Verdict
from barwise.inspect.switch.contacts import Contacts
from barwise.inspect.switch.readings import WindingReading
from barwise.inspect.switch.winding_faults import WindingDiagnosis
from barwise.machine.copper import REFERENCE_C
from barwise.measure.quantity import Quantity
from barwise.measure.uncertainty import Estimate


@dataclass(frozen=True)
class SwitchSheet:
    """What the sheet says of a switch; None where it is silent.

    Attributes
    ----------
    reference_c : float
        Temperature at which its winding figures hold [degC].
    reference_v : float or None
        Voltage at which it gives winding currents [V].
    pull_in_amps, hold_in_amps, pull_in_ohm, hold_in_ohm : Bound or None
        By current at that voltage, or by resistance.
    pull_in_volts, release_volts : Bound or None
        Voltage at which it pulls in and lets go.
    contact_drop : Bound or None
        At the cranking current, or at the current of the test where that is not known.
    travel, overtravel : Bound or None
        Of the plunger in all, and of what is left when the contacts touch.
    """

    reference_c: float = REFERENCE_C
    reference_v: float | None = None
    pull_in_amps: Bound | None = None
    hold_in_amps: Bound | None = None
    pull_in_ohm: Bound | None = None
    hold_in_ohm: Bound | None = None
    pull_in_volts: Bound | None = None
    release_volts: Bound | None = None
    contact_drop: Bound | None = None
    travel: Bound | None = None
    overtravel: Bound | None = None


@dataclass(frozen=True)
class SwitchTest:
    """Readings of one switch; None and empty are not taken.

    Attributes
    ----------
    readings : tuple of WindingReading
        Of the windings, any subset, repeats allowed.
    celsius : Estimate or None
        Of the windings [degC].
    motor_ohm : Estimate or None
        The motor, where a reading went through it [ohm].
    pull_in_volts, release_volts : Quantity or None
    drop, drop_amps, cranking_amps : Quantity or None
        Across the closed contacts, at what current; and the current they carry in cranking.
    travel, closes_at : Quantity or None
        Of the plunger from rest to home, and to where the contacts touch.
    """

    sheet: SwitchSheet = SwitchSheet()
    readings: tuple[WindingReading, ...] = ()
    celsius: Estimate | None = None
    motor_ohm: Estimate | None = None
    pull_in_volts: Quantity | None = None
    release_volts: Quantity | None = None
    drop: Quantity | None = None
    drop_amps: Quantity | None = None
    cranking_amps: Quantity | None = None
    travel: Quantity | None = None
    closes_at: Quantity | None = None


@dataclass(frozen=True)
class WindingResistance:
    """One winding: as read, and at the sheet's temperature [ohm]; the current at its voltage [A] if known.

    `from_paths` says which readings it was worked out from.
    """

    winding: str
    now: Estimate
    at_reference: Estimate
    amps: Estimate | None
    from_paths: tuple[str, ...]


@dataclass(frozen=True)
class SwitchAnswer:
    """What the switch comes to; the diagnosis is None where no winding was read."""

    verdict: Verdict
    findings: tuple[Finding, ...]
    diagnosis: WindingDiagnosis | None
    windings: tuple[WindingResistance, ...]
    contacts: Contacts | None
    notes: tuple[str, ...]
