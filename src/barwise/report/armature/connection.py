"""Which connection the readings speak for, in plain words and as values for JSON."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from barwise.inspect.armature.connection import Connection, Question, questions, same_circuit
from barwise.report.armature.winding import PLEX_WORDS, winding_name
from barwise.report.paragraphs import wrapped
from barwise.report.probability import probability_in_words

SHOWN = 0.001
"""A winding less probable than this is only counted."""

NOT_EXPLAINED = (
    "None of these windings explains the readings: count bars, slots and poles again, and see what "
    "barwise armature says of the readings with the first of them."
)
SAME_CIRCUIT = (
    "Either way round the coils join the same bars, so no current fed tells the two apart: follow one lead "
    "from bar 1."
)
BY_THE_EXCITER = (
    "Either way round the coils join the same bars; what leaning there is rests on where the exciter's poles "
    "stood under the probed bars. Follow one lead from bar 1 to be sure."
)
EXCITER_ALONE = (
    "Without a fault every winding reads alike on the exciter. Drop readings, with the feed on bars a pole "
    "pitch apart, tell lap from wave."
)
_ASKED = {
    "kind": "lap or wave",
    "poles": "poles",
    "plex": "simplex or duplex",
    "progression": "progressive or retrogressive",
}


def connection_text(connections: Sequence[Connection], *, explained: bool, fed: bool) -> str:
    """The answer, one line for each open question, then the windings by probability.

    `explained` says whether the best winding explains the readings, `fed` whether current was fed for any.
    """
    return "\n".join(_lines(connections, explained, fed)) + "\n"


def connection_notes(connections: Sequence[Connection], *, explained: bool, fed: bool) -> tuple[str, ...]:
    """What the figures alone do not say."""
    notes = [] if explained else [NOT_EXPLAINED]
    asked = {question.about: question for question in questions(connections)}
    if not fed and "kind" in asked and not asked["kind"].settled:
        notes.append(EXCITER_ALONE)
    best, *others = connections
    turned = [c for c in others if same_circuit(best.winding, c.winding)]
    if turned:
        alike = turned[0].winding in best.alike and abs(turned[0].probability - best.probability) < SHOWN
        notes.append(SAME_CIRCUIT if alike else BY_THE_EXCITER)
    return tuple(notes)


def connection_answer(connections: Sequence[Connection], *, explained: bool, fed: bool) -> dict[str, object]:
    """The same for JSON: probability of each answer to each question, and the notes."""
    asked: dict[str, object] = {
        question.about: {str(answer): share for answer, share in question.answers}
        for question in questions(connections)
    }
    notes = connection_notes(connections, explained=explained, fed=fed)
    return {**asked, "explained": explained, "notes": list(notes)}


def _lines(connections: Sequence[Connection], explained: bool, fed: bool) -> Iterator[str]:
    if len(connections) == 1:
        yield "Only one winding fits what was counted; the readings are not needed to tell."
    for question in questions(connections):
        yield f"{_ASKED[question.about]}: {_answer(question)}"
    yield ""
    for count, connection in enumerate(connections, 1):
        if connection.probability >= SHOWN or count == 1:
            winding = connection.winding
            ends = f"coil 1 from bar 1 to bar {winding.coil_bars(1)[1]}"
            sure = probability_in_words(connection.probability)
            yield f"{count:2}. {winding_name(winding)}: {ends}: {sure}"
    unlikely = sum(c.probability < SHOWN for c in connections[1:])
    if unlikely:
        yield f"    {unlikely} more that fit the count, each under 0.1 %"
    for note in connection_notes(connections, explained=explained, fed=fed):
        yield from wrapped(note, further="")


def _answer(question: Question) -> str:
    shares = [f"{_word(question, answer)} {probability_in_words(p)}" for answer, p in question.answers]
    if question.settled:
        return f"{_word(question, question.answers[0][0])} ({probability_in_words(question.answers[0][1])})"
    return f"these readings cannot tell ({', '.join(shares)})"


def _word(question: Question, answer: str | int) -> str:
    if question.about == "plex":
        return PLEX_WORDS.get(int(answer), f"{answer}-plex")
    return str(answer)
