"""Which backups stay: all of the last few, then one for each day, week and month that has any."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True)
class Keep:
    """How many stay.

    Parameters
    ----------
    latest : int
        The newest ones, whatever their dates; at least 1.
    daily, weekly, monthly : int
        The newest of each of so many days, ISO weeks and months. A day without a backup does not count.
    """

    latest: int = 3
    daily: int = 7
    weekly: int = 4
    monthly: int = 12


def kept(taken: Iterable[datetime], keep: Keep) -> set[datetime]:
    """Those that stay. The newest always does."""
    newest_first = sorted(set(taken), reverse=True)
    stay = set(newest_first[: max(1, keep.latest)])
    stay |= _newest_of_each(newest_first, keep.daily, lambda at: at.date())
    stay |= _newest_of_each(newest_first, keep.weekly, lambda at: at.isocalendar()[:2])
    stay |= _newest_of_each(newest_first, keep.monthly, lambda at: (at.year, at.month))
    return stay


def _newest_of_each(
    newest_first: list[datetime], most: int, span: Callable[[datetime], object]
) -> set[datetime]:
    first: dict[object, datetime] = {}
    for at in newest_first:
        first.setdefault(span(at), at)
    return set(list(first.values())[:most])
