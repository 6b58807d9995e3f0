"""The deciding functions of the checks: each takes the evidence of one check and gives its outcome.

A family's data file names them as ``module.function``, such as ``limits.dimension``; `barwise.route.family`
finds them by that name. Each is ``def name(evidence: Evidence) -> Outcome`` and pure: the same evidence gives
the same outcome, so every result can be worked out again. `evidence` says what goes in and comes out.
"""

from barwise.inspect.checks.evidence import (
    Answer,
    CommutatorFacts,
    Decided,
    Evidence,
    Fact,
    Json,
    Limit,
    Outcome,
    SheetFacts,
    Taken,
)

__all__ = [
    "Answer",
    "CommutatorFacts",
    "Decided",
    "Evidence",
    "Fact",
    "Json",
    "Limit",
    "Outcome",
    "SheetFacts",
    "Taken",
]
