"""The words of plain mode, and what they do."""

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
        "units": "units", "help": "help", "actions": "help", "theme": "help", "leave": "leave",
        "mouse": "help", "piece": "help", "another": "leave", "away": "leave",
        "legend": "strands",
        "measure": "measure", "otherwise": "otherwise", "more": "more", "fewer": "fewer",
        "choose": "choose", "next_piece": "order", "batch": "way", "desk": "order",
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
    ("time", "time worked and left"), ("pause", "stop the clock, or start it again"),
    ("note", "note and your words: keep them here"), ("mark", "mark this spot"),
    ("unpick", "back by steps; unpick 2 goes back two"), ("go", "go 45 sets the counts made to 45"),
    ("by", "count by tie, pass or step"), ("by knot", "the same for this knot alone"),
    ("units", "centimetres or inches"), ("voice", "speak, or be silent"),
    ("order", "how far the order is, and how to go to its next piece"),
    ("way", "one step over all pieces of the order, or one piece after the other"),
    ("choose", "what is left to you here; choose group 3, choose times 28"),
    *DEVIATIONS, ("leave", "leave; everything is saved"),
)  # fmt: skip


def help_lines() -> list[str]:
    """Return all words with what they do, a line each."""
    return [f"{word}: {what}" for word, what in WORDS]
