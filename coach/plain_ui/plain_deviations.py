"""The plain words for measurements and for work that differs from the plan."""

from collections.abc import Callable

from coach.piece.entering.chosen_figures import EXAMPLES
from coach.piece.entering.measure_events import LIES
from coach.session.adjusting.choosing import NOTHING_OPEN, Choosing
from coach.session.adjusting.deviations import DeviationRecorder
from coach.session.adjusting.measure_questions import MeasureQuestion
from coach.text import one_line


def chosen(choosing: Choosing, rest: str) -> str:
    """Return the result of `choose`, or, with nothing after it, what can be chosen."""
    if not rest:
        options = [f"{option.word}: {option.label}." for option in choosing.options()]
        return " ".join(options) or NOTHING_OPEN
    what, _, figure = rest.lower().partition(" ")
    if what in EXAMPLES:
        return choosing.choose(what, figure.strip())
    if what == "group":
        return choosing.pick(figure.strip())
    return f"Nothing here is called ‘{one_line(what)}’. ‘choose’ alone lists what is left to you."


WORDS = (
    ("measure", "measure length 7.5 cm, or measure 3 42 cm: what strand 3 has left"),
    ("reach", "reach 18 cm: as many repeats as come to that length"),
    ("more", "one repeat more"), ("fewer", "one repeat fewer"),
    ("otherwise", "order, join and end are for when something changed"),
    ("order", "order 2 1 3-8: how the strands hang, from the left"),
    ("join", "join 3 2 m, 5 cm: strand 3 continues with a new cord that overlaps by 5 cm"),
    ("end", "the piece ends here, or is opened again"),
)  # fmt: skip


def word_actions(
    otherwise: Callable[[], DeviationRecorder], lying: str
) -> dict[str, Callable[[str], str | MeasureQuestion]]:
    """Return the handler of each word: from the text after it to an answer.

    For a surprising measurement a handler returns a question instead.

    Args:
        otherwise: Return the recorder of deviations at the current count.
        lying: How a length is measured unless the maker says so.
    """
    return {
        "measure": lambda rest: _measure(otherwise(), rest, lying),
        "reach": lambda rest: _reach(otherwise(), rest),
        "more": lambda _: otherwise().repeats(1),
        "fewer": lambda _: otherwise().repeats(-1),
        "otherwise": lambda _: " ".join(f"{word}: {what}." for word, what in WORDS),
        "order": lambda rest: otherwise().reorder(rest),
        "join": lambda rest: _join(otherwise(), rest),
        "end": lambda _: otherwise().end(),
        "choose": lambda rest: chosen(Choosing(otherwise()), rest),
    }


def question_lines(asked: MeasureQuestion) -> list[str]:
    """Return a question about a measurement, and what to type for each answer."""
    answers = [f"Write {answer.key} if {answer.label}." for answer in asked.answers]
    return [asked.said, *answers, "Enter alone leaves it out."]


def _measure(otherwise: DeviationRecorder, rest: str, lying: str) -> str | MeasureQuestion:
    what, _, length = rest.partition(" ")
    if what in ("length", *LIES):
        return otherwise.length(length, what if what in LIES else lying)
    strand = _strand(otherwise, what)
    if strand is None:
        return "Say what: measure length 7.5 cm, or measure 3 42 cm for what strand 3 has left."
    return otherwise.rest(strand, length)


def _reach(otherwise: DeviationRecorder, rest: str) -> str:
    said, turns = otherwise.reach(rest)
    return otherwise.take(turns) if turns else said


def _join(otherwise: DeviationRecorder, rest: str) -> str:
    place, _, lengths = rest.partition(" ")
    strand = _strand(otherwise, place)
    if strand is None:
        return "Say where and what: join 3 2 m, 5 cm."
    return otherwise.join(strand, lengths)


def _strand(otherwise: DeviationRecorder, place: str) -> int | None:
    """Return the strand at a position from the left if it has cord of its own, else None."""
    order = otherwise.order()
    if not place.isdecimal() or not 1 <= int(place[:4]) <= len(order):
        return None
    strand = order[int(place[:4]) - 1]
    return strand if strand in otherwise.known.rests else None
