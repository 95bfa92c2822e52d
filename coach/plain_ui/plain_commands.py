"""The words of plain mode and their actions; strands, cord and knots in plain lines."""

from collections.abc import Callable
from types import MappingProxyType
from typing import Final

from coach.plain_ui.plain_deviations import WORDS as DEVIATIONS
from coach.plan.wording.knot_how import how_at
from coach.plan.wording.strand_names import strand_words
from coach.session.controller import BenchController
from coach.session.time_format import length_span
from coach.session.view_model import outlook_words
from coach.text import capital

LEAVING: Final = ("leave", "quit", "exit")
WORD_OF: Final = MappingProxyType(
    {
        "give_back": "enter", "count": "enter", "take_back": "-",
        "rest": "rest", "restart": "again", "pause": "pause",
        "before": "ready", "ahead": "ahead", "unpick": "unpick", "goto": "go", "mark": "mark",
        "note": "note", "how": "how", "cords": "cords", "plan": "cut", "say": "say",
        "speech": "voice", "any_key": "enter", "count_by": "by", "count_by_knot": "by knot",
        "units": "units", "help": "help", "actions": "find", "theme": "theme", "leave": "leave",
        "mouse": "mouse", "piece": "looks", "another": "another", "away": "put away",
        "colourway": "colours", "freehand": "freehand",
        "legend": "strands",
        "measure": "measure", "otherwise": "otherwise", "more": "more", "fewer": "fewer",
        "choose": "choose", "next_piece": "pieces", "batch": "way", "desk": "pieces",
    }
)  # fmt: skip
"""The word for each thing that a key does on the bench."""

WORDS: Final = (
    ("enter", "one made"), ("5", "that many made"), ("-", "take one back"),
    ("rest", "the rest of this step is made"), ("again", "back to the start of this step"),
    ("say", "the step once more"), ("where", "where in the piece"), ("next", "the step after"),
    ("ahead", "the steps to come; ahead 9 shows nine"),
    ("strands", "who hangs where"), ("how", "how this knot is tied"),
    ("cords", "cord left, now and at the end"), ("cut", "what to cut"),
    ("ready", "the list for cutting and hanging; ready 2 ticks its second line"),
    ("ready 2 again", "the length of its second line is spoilt and is cut once more"),
    ("time", "time worked and left"), ("pause", "stop the clock, or start it again"),
    ("note", "note and your words: keep them here"), ("mark", "mark this spot"),
    ("unpick", "back by steps; unpick 2 goes back two"), ("go", "go 45 sets the counts made to 45"),
    ("by", "count by tie, pass or step"), ("by knot", "the same for this knot alone"),
    ("units", "centimetres or inches"), ("voice", "speak, or be silent"),
    ("colours", "the next colourway of the piece"),
    ("theme", "the colours of the bench: dark, light, or the terminal's own"),
    ("mouse", "what the mouse does here"),
    ("pieces", "how far the order is, and how to go to its next piece"),
    ("way", "one step over all pieces of the order, or one piece after the other"),
    ("choose", "what is left to you here; choose group 3, choose times 28"),
    *DEVIATIONS, ("freehand", "how to go on without the pattern"),
    ("looks", "the finished piece in words: its size and its cords"),
    ("another", "when it is finished, begin another of the same project"),
    ("put away", "when it is finished, put it away: it is folded up on the list"),
    ("find", "find cord lists all that has to do with cord"),
    ("leave", "leave; everything is saved"),
)  # fmt: skip


def tellings(work: Callable[[], BenchController]) -> dict[str, Callable[[str], list[str]]]:
    """Return what only tells something, by the word that asks for it.

    Args:
        work: Return the controller of the current piece.
    """
    return {
        "strands": lambda _: standing_lines(work()), "how": lambda _: tying_lines(work()),
        "cords": lambda _: left_lines(work()), "find": found_lines,
        "help": lambda _: help_lines(),
    }  # fmt: skip


def help_lines() -> list[str]:
    """Return all words with their meaning, one a line."""
    return [f"{word}: {what}" for word, what in WORDS]


def found_lines(typed: str) -> list[str]:
    """Return the words that match everything typed, one a line."""
    wanted = typed.casefold().split()
    found = [line for line in help_lines() if all(one in line.casefold() for one in wanted)]
    return found or ["No word here is about that; help lists them all."]


def standing_lines(work: BenchController) -> list[str]:
    """Return who hangs where, from the left."""
    order = work.order()
    return ["From the left:", *(strand_words(work.plan, strand, order) for strand in order)]


def tying_lines(work: BenchController) -> list[str]:
    """Return how the current knot is tied, one move a line."""
    done, counts = work.done, work.plan.counts
    knot = counts[done].knot if done < len(counts) else ""
    if not knot:
        return ["No knot is at hand."]
    told = how_at(work.plan, done)
    moves = [line for stage in told.stages for line in stage.words]
    return [f"{knot.capitalize()}. {told.roles}", *moves, *filter(None, [told.caution])]


def left_lines(work: BenchController) -> list[str]:
    """Return the cord left on every strand that hangs, now and at the end."""
    units = work.settings.units
    return [
        f"{capital(strand_words(work.plan, left.strand, work.order()))}: "
        f"{length_span(left.now_low_mm, left.now_high_mm, units)} now, "
        f"{length_span(left.end_low_mm, left.end_high_mm, units)} at the end, "
        f"{outlook_words(left, units)}{', too short' if left.short else ''}"
        for left in work.cords()
    ]
