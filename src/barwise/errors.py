"""What can go wrong, said so that the rebuilder knows what to do about it."""

from __future__ import annotations


class BarwiseError(Exception):
    """Any failure barwise explains itself; its text is one line for a person.

    What cannot be printed, such as a control character of a file that is quoted, is shown escaped.
    """

    def __init__(self, said: str = "") -> None:
        escaped = (sign if sign.isprintable() else sign.encode("unicode_escape").decode() for sign in said)
        super().__init__("".join(escaped))


class WindingError(BarwiseError):
    """A winding, fault or feed that cannot exist or cannot be computed."""


class MeasurementError(BarwiseError):
    """A length, limit, instrument or scale that cannot be as it is given."""


class MotorError(BarwiseError):
    """A motor or a state of one that cannot be."""


class InputError(BarwiseError):
    """Input that cannot be used: names the place, what was found and what was expected.

    Parameters
    ----------
    where : str
        Place, such as ``readings.csv line 7, column value``.
    found : str
        What stands there.
    expected : str
        What would have been understood.
    """

    def __init__(self, where: str, found: str, expected: str) -> None:
        self.where, self.found, self.expected = where, found, expected
        super().__init__(f"{where}: found {found}, expected {expected}")
