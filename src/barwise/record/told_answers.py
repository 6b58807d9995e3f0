"""What a record tells and draws of a result: from the figures it keeps where it keeps them all.

The run test and the start in the vehicle take seconds to work out, so their results keep all that is told of
them: a reprint costs nothing, and says after an update what it said before. Armature and commutator are
worked out again from their readings.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

import numpy as np
from cattrs import BaseValidationError, Converter

from barwise.errors import BarwiseError
from barwise.inspect.checks import Outcome
from barwise.inspect.commutator.plan import CutPlan
from barwise.inspect.cranking.at_the_job import JobCrank, KeptCrank
from barwise.inspect.diagnosis import Diagnosis
from barwise.inspect.run_test import RunTest
from barwise.inspect.run_test.possible import PossibleMotors
from barwise.record.answers import whole_answer
from barwise.record.models import Result

ToldAnswer = Diagnosis | CutPlan | RunTest | KeptCrank

_KEPT: Mapping[str, type[RunTest] | type[KeptCrank]] = {"run": RunTest, "crank": KeptCrank}


def told_answer(result: Result) -> ToldAnswer | None:
    """The answer of a result; a run test without its posterior, a start without its vehicle.

    None where it keeps none and another version of barwise made it, or where it never had one.
    """
    kept = _restored(result)
    return kept if kept is not None else _told(whole_answer(result))


def _told(whole: Outcome | None) -> ToldAnswer | None:
    answer = None if whole is None else whole.answer
    return answer.kept if isinstance(answer, JobCrank) else answer


def _restored(result: Result) -> RunTest | KeptCrank | None:
    """None also where an earlier version kept less of it."""
    for name, kind in _KEPT.items():
        if name in result.details:
            try:
                return _converter.structure(result.details[name], kind)
            except (BaseValidationError, BarwiseError):
                return None
    return None


def _is_array(kind: Any) -> bool:
    return getattr(kind, "__origin__", None) is np.ndarray


def _is_posterior(kind: Any) -> bool:
    return bool(kind == tuple[PossibleMotors, ...])


def _float(kept: float | None, _: Any) -> float:
    """JSON knows no infinity: what is not there are degrees of freedom without end."""
    return math.inf if kept is None else float(kept)


_converter = Converter()
_converter.register_structure_hook(float, _float)
_converter.register_structure_hook_func(_is_array, lambda kept, _kind: np.asarray(kept, dtype=float))
_converter.register_structure_hook_func(_is_posterior, lambda _kept, _kind: ())
