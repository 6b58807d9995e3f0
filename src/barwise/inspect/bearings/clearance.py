"""How much play has the journal in its bush, and is it within its limit, with the uncertainty of both.

The shaft turns, the bush stands: sooner or later the journal's smallest diameter comes under the bore's
largest one, and its largest one into the bore's smallest. So the play has two ends. The looser one is held
against the upper limit (worn out), the tighter one against the lower limit (it binds, or wipes off its oil),
each by the one decision rule, and the worse of the two decides.

Bore and journal are taken to be equally warm: a bronze bush of 12 mm grows 0.07 um per kelvin more than its
steel journal (6e-6 per K, from memory), which no micrometer sees.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from barwise.errors import MeasurementError
from barwise.inspect.bearings.form import Form
from barwise.measure import decision
from barwise.measure.decision import Decision, Outcome, decide
from barwise.measure.uncertainty import Budget, Component, Estimate

FAR_TOO_LARGE = 4.0
"""Standard uncertainties by which the journal may be larger than its bore before it is refused."""

_WORST_FIRST = {"reject": 0, "undecided": 1, "accept": 2}


@dataclass(frozen=True)
class Clearance:
    """Play of a journal in its bush, on diameter [m].

    Attributes
    ----------
    loosest, tightest, mean : Estimate
        Largest bore on the smallest journal; smallest bore on the largest journal; mean on mean.
    upper, lower : Decision or None
        Of the loosest against the upper limit, of the tightest against the lower; None without that limit.
    from_bore : float
        Share of the variance of the loosest that the bore's uncertainty makes, 0 to 1.
    """

    loosest: Estimate
    tightest: Estimate
    mean: Estimate
    upper: Decision | None
    lower: Decision | None
    from_bore: float

    @property
    def worse(self) -> Decision | None:
        """The decision that counts; None without any limit."""
        made = [one for one in (self.upper, self.lower) if one is not None]
        return min(made, key=lambda one: (_WORST_FIRST[one.outcome], one.conforming), default=None)

    @property
    def outcome(self) -> Outcome | None:
        """accept, reject or undecided; None without any limit."""
        return None if self.worse is None else self.worse.outcome


@dataclass(frozen=True)
class Worn:
    """Where the play came from: wear of each since new [m], and the bush's share of their sum.

    `bush_share` is None where neither is worn beyond its uncertainty.
    """

    bush_m: Estimate
    journal_m: Estimate
    bush_share: float | None


def clearance(
    bore: Form,
    journal: Form,
    limit: decision.Limit | None = None,
    level: float = decision.USUAL_LEVEL,
) -> Clearance:
    """Play of a journal in its bush, decided.

    Parameters
    ----------
    bore, journal : Form
        As measured, each with its uncertainty.
    limit : decision.Limit, optional
        Allowed clearance on diameter [m].
    level : float
        Probability that decides.

    Raises
    ------
    MeasurementError
        If the journal is larger than its bore beyond any doubt: it could not have been in it.

    Examples
    --------
    >>> from barwise.inspect.bearings.form import SizeReading, form_of
    >>> bore = form_of([SizeReading(12.060e-3, random_m=2e-6)])
    >>> journal = form_of([SizeReading(11.985e-3, random_m=1e-6)])
    >>> found = clearance(bore, journal, decision.Limit(upper=0.2e-3))
    >>> found.outcome, round(found.loosest.value * 1e6), round(found.loosest.standard_uncertainty * 1e6, 2)
    ('accept', 75, 2.24)
    """
    loosest, from_bore = _difference(bore.largest, journal.smallest)
    tightest, _ = _difference(bore.smallest, journal.largest)
    if loosest.value < -FAR_TOO_LARGE * max(loosest.standard_uncertainty, 1e-7):
        raise MeasurementError(
            f"clearance: found a journal of {journal.mean.value * 1e3:.4f} mm in a bore of "
            f"{bore.mean.value * 1e3:.4f} mm, expected the bore to be larger: are the two swapped, or one in "
            "another unit?"
        )
    return Clearance(
        loosest=loosest,
        tightest=tightest,
        mean=_difference(bore.mean, journal.mean)[0],
        upper=_decided(loosest, None, None if limit is None else limit.upper, level),
        lower=_decided(tightest, None if limit is None else limit.lower, None, level),
        from_bore=from_bore,
    )


def worn(bore: Form, journal: Form, new_bore_m: float, new_journal_m: float) -> Worn:
    """Whether bush or journal made the play, from their sizes when new [m].

    Examples
    --------
    >>> from barwise.inspect.bearings.form import SizeReading, form_of
    >>> sizes = [form_of([SizeReading(mm * 1e-3, random_m=1e-6)]) for mm in (12.09, 11.98)]
    >>> round(worn(*sizes, 12.03e-3, 12.00e-3).bush_share, 2)
    0.75
    """
    bush = Estimate(bore.largest.value - new_bore_m, bore.largest.standard_uncertainty)
    shaft = Estimate(new_journal_m - journal.smallest.value, journal.smallest.standard_uncertainty)
    total = max(bush.value, 0.0) + max(shaft.value, 0.0)
    doubt = 2 * math.hypot(bush.standard_uncertainty, shaft.standard_uncertainty)
    return Worn(bush, shaft, max(bush.value, 0.0) / total if total > doubt else None)


def _difference(bore: Estimate, journal: Estimate) -> tuple[Estimate, float]:
    """Bore less journal, and the bore's share of the variance (JCGM 100:2008, 5.1 and annex G.4)."""
    parts = (
        Component("bore", bore.standard_uncertainty, 1.0, bore.degrees_of_freedom),
        Component("journal", journal.standard_uncertainty, -1.0, journal.degrees_of_freedom),
    )
    budget = Budget(parts)
    return budget.estimate(bore.value - journal.value), budget.share(parts[0])


def _decided(found: Estimate, lower: float | None, upper: float | None, level: float) -> Decision | None:
    if lower is None and upper is None:
        return None
    limit = decision.Limit(lower, upper)
    return decide(found.value, found.standard_uncertainty, limit, level, found.degrees_of_freedom)
