"""The words of plain mode, and their actions."""

from types import MappingProxyType
from typing import Final

from coach.plain_ui.plain_deviations import WORDS as DEVIATIONS

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


def help_lines() -> list[str]:
    """Return all words with their meaning, one a line."""
    return [f"{word}: {what}" for word, what in WORDS]


def found_lines(typed: str) -> list[str]:
    """Return the words that match everything typed, one a line."""
    wanted = typed.casefold().split()
    found = [line for line in help_lines() if all(one in line.casefold() for one in wanted)]
    return found or ["No word here is about that; help lists them all."]
