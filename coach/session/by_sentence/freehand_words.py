"""The actions and keys of the bench for knotting without a pattern."""

from collections.abc import Sequence
from typing import Final

from coach.session.by_sentence.freehand import Freehand
from coach.session.keymap import Action, Keys
from coach.session.time_format import local_time, moment_words

OPENING: Final = "Say what you knotted, as in ‘row 1 to 6’. Everything is saved as you say it."

KEYS: Final = (
    ("enter", "Say what is written on the line. It is kept before the board shows it."),
    ("tab", "Complete the line with the first sentence offered, or the one that is marked."),
    ("down, up", "Mark one of the sentences offered; enter puts it on the line."),
    ("/", "On an empty line: find any form by a word of it."),
    ("w, then enter, or ctrl+s", "Write the project file so far: it names parts, and asks where."),
    ("escape", "Clear the line, or leave a question. It never leaves the piece."),
    ("ctrl+l", "Change the colours: dark, light, or the terminal's own."),
    ("ctrl+y", "Hear once more what came of the last sentence; ‘voice’ speaks after each."),
    ("a tap", "On a sentence offered: put it on the line. ‘mouse’ gives the mouse back."),
    ("f1", "This help."),
    ("q, then enter, or ctrl+q", "Leave. Everything is saved."),
)
"""The keys of the screen, and what each does."""

TOLD: Final = (
    "Positions count from 1 at the left, as the work hangs when you say it.",
    "‘again’, ‘again mirrored’ and ‘the last 2 steps, three times’ repeat what you said.",
    "Repeats and mirrored repeats are found in any case, and become parts when you write the file.",
    "‘unpick’ takes the last step back, ‘unpick 3 steps’ the last three.",
    "Several lines pasted at once are said in turn, up to the first that is not clear.",
)
_DEEDS: Final = (
    Action("w", "write", (), "write", "Write the project file so far."),
    Action("theme", "set", (), "theme", "Change the colours: dark, light, or the terminal's own."),
    Action("voice", "set", (), "voice", "Speak what comes of each sentence, or be silent."),
    Action("say", "look", (), "say again", "Hear once more what came of the last sentence."),
    Action("mouse", "set", (), "mouse", "Give the mouse back to the terminal for copying."),
    Action("q", "end", (), "leave", "Leave. Everything is saved."),
)


def came_back(left_ms: int | None, freehand: Freehand) -> str:
    """Return the message on opening a piece: when it was left, and its progress."""
    if left_ms is None or not freehand.record.blocks:
        return ""
    return f"Last worked on {moment_words(local_time(left_ms))}. {freehand.so_far()}"


def forms_as_actions(forms: Sequence[str]) -> Keys:
    """Return the forms of sentences and the other actions, searchable by word."""
    return Keys((*_DEEDS, *(Action(form, "write", (), form, "") for form in forms)))
