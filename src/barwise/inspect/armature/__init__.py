"""From readings of one armature to located faults with probabilities.

`diagnose` (in `assessment`) is the way in. `observations` sorts readings, `hypotheses` lists what could
be wrong,
`prediction` says what each would read, `likelihood` how far a meter is trusted, `screening`, `refine` and
`search` find and weigh explanations, `grounding` places a ground, `detectability` says what could have been
missed, `next_reading` what to probe next.
"""

from barwise.inspect.armature.assessment import diagnose

__all__ = ["diagnose"]
