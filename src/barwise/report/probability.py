"""Probabilities in words, never rounded up to certainty."""

from __future__ import annotations


def probability_in_words(probability: float) -> str:
    """Percent that never says 100 or 0 of what is not certain.

    Examples
    --------
    >>> probability_in_words(0.9931), probability_in_words(0.99999), probability_in_words(0.0001)
    ('99.3 %', 'over 99.9 %', 'under 0.1 %')
    """
    if probability > 0.999:
        return "over 99.9 %"
    if probability < 0.001:
        return "under 0.1 %"
    return f"{100 * probability:.1f} %" if probability > 0.95 else f"{100 * probability:.2g} %"
