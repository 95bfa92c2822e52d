"""The questions about a piece without a pattern: what hangs at first, and how to save it.

Each is a generator that yields a question, is sent the answer and returns its result, so that a
screen and plain lines ask the same.
"""

import re
from collections.abc import Generator, Sequence
from dataclasses import dataclass
from typing import Final, TypeAlias

from coach.project.readers.start import PLACES
from coach.recording.project_text import StartingCords
from coach.recording.record import Recording, new_recording, parts_of
from coach.recording.repeat_folding import Entry, Repeat
from coach.recording.sentence_words import NotUnderstood, in_quotes
from coach.session.by_sentence.freehand import Freehand
from coach.session.ports import CannotWrite, Files
from coach.text import join_words, one_line


@dataclass(frozen=True, slots=True)
class FreehandQuestion:
    """A question and its default answer; `trouble` is what is wrong with the last answer."""

    asks: str
    default: str = ""
    trouble: str = ""


Asking: TypeAlias = Generator[FreehandQuestion, str, str]
Hanging: TypeAlias = Generator[FreehandQuestion, str, Recording]

_PIECES: Final = re.compile(r"(?:(\d{1,3})\s+)?([^\W\d_][\w' -]*)")
_LENGTH: Final = re.compile(r"\d+(?:[./]\d+)?\s*(?:mm|cm|in|\")")
_YES: Final = ("y", "yes")
_MOST_NAME: Final = 60
_WAYS: Final = {
    "each": ("hang", ""),
    "together": ("nest", ""),
    "middle": ("hang", ", from: middle"),
}
_OTHER_WAYS: Final = {"nested": "together", "folded together": "together", "single": "each"}


def ask_start(called: str = "") -> Hanging:
    """Ask what hangs, on what and how; return the record that begins with it.

    Args:
        called: The default title of the piece.
    """
    called = called or StartingCords({}, "").title
    trouble = ""
    while True:
        pieces = yield from _pieces(trouble)
        names = list(dict.fromkeys(_name(piece) for piece in pieces))
        cords = {}
        for name in names:
            cords[in_quotes(name)] = yield from _cord(name)
        on = yield from _one_of(
            f"What does it hang on: {join_words(PLACES, 'or')}?", PLACES, "board"
        )
        way = yield from _one_of(
            "Is each piece hung on its own, are all folded together, or do you begin in the middle "
            "of them: each, together or middle?", (*_WAYS, *_OTHER_WAYS), "each",
        )  # fmt: skip
        closed = yield from _one_of("Is the work flat, or in the round?", ("flat", "round"), "flat")
        title = one_line((yield FreehandQuestion("What do you call it?", called)) or called)
        layout, more = _WAYS[_OTHER_WAYS.get(way, way)]
        more += ", round: yes" if closed == "round" else ""
        hung = ", ".join(in_quotes(piece) for piece in pieces)
        try:
            start = f"{{{layout}: [{hung}], on: {on}{more}}}"
            return new_recording(StartingCords(cords, start, title[:_MOST_NAME]))
        except NotUnderstood as error:
            trouble = str(error)


def _pieces(trouble: str) -> Generator[FreehandQuestion, str, Sequence[str]]:
    asks = "What hangs? Say the pieces from the left, as in ‘2 reed, 4 clay’."
    while True:
        said = yield FreehandQuestion(asks, "4 reed", trouble)
        pieces = [one_line(piece) for piece in (said or "4 reed").split(",")]
        if all(_PIECES.fullmatch(piece) for piece in pieces):
            return pieces
        wrong = next(piece for piece in pieces if not _PIECES.fullmatch(piece))
        trouble = f"‘{wrong[:40]}’ does not say how many of which cord, as ‘2 reed’ does."


def _name(piece: str) -> str:
    match = _PIECES.fullmatch(piece)
    return match[2].strip() if match else piece


def _cord(name: str) -> Generator[FreehandQuestion, str, str]:
    """Ask for the thickness of a cord, and for its colour unless it is stated."""
    trouble = ""
    while True:
        said = yield FreehandQuestion(f"How thick is {name}, and what colour?", "2 mm", trouble)
        thick = _LENGTH.match(said or "2 mm")
        if thick:
            colour = said[thick.end() :].strip(" ,")
            return f"{{diameter: {thick[0]}{f', colour: {in_quotes(colour)}' if colour else ''}}}"
        trouble = "Begin with the thickness, as in ‘2 mm, green’."


def _one_of(asks: str, words: Sequence[str], default: str) -> Generator[FreehandQuestion, str, str]:
    trouble = ""
    while True:
        said = (yield FreehandQuestion(asks, default, trouble)) or default
        found = [word for word in words if word.startswith(said.casefold())]
        if found:
            return found[0]
        trouble = f"‘{said[:40]}’ is none of these."


def ask_file(freehand: Freehand, files: Files, target: str) -> Asking:
    """Ask for names and a file, and write the pattern of a piece knotted without one.

    Args:
        freehand: The piece.
        files: How files are written.
        target: The default file.

    Returns:
        The sentence that reports the result.
    """
    record = freehand.record
    if not record.blocks:
        return "Nothing is knotted yet, so there is nothing to write."
    title = freehand.plan.project.title
    called = yield FreehandQuestion("What is the piece called?", title)
    if called and called != title:
        freehand.say(f"call it {called[:_MOST_NAME]}")
    names = yield from _part_names(record.folded)
    text = freehand.record.text(names=names)
    return (yield from _written(files, target, text))


def _part_names(entries: Sequence[Entry]) -> Generator[FreehandQuestion, str, list[str]]:
    names: list[str] = []
    for number, part in enumerate(parts_of(entries), start=1):
        default = f"part {number}"
        asks = f"{_steps(part)}, {_often(part)}: what is this part called?"
        said = one_line((yield FreehandQuestion(asks, default)) or default)
        names.append(said[:_MOST_NAME].strip() or default)
    return names


def _often(part: Repeat) -> str:
    if part.mirrored:
        return "mirrored"
    return f"made {part.times} times" + (", every second one mirrored" if part.alternates else "")


def _steps(part: Repeat) -> str:
    """Return a part as its first step and how many more there are."""
    first = next((entry for entry in part.part if isinstance(entry, str)), "")
    shown = re.sub(r'["{}\[\]]', "", first).replace(": ", " ")
    more = len(part.part) - 1
    return f"‘{shown[:60]}’" + (f" and {more} more" if more else "")


def _written(files: Files, target: str, text: str) -> Asking:
    trouble = ""
    while True:
        name = (yield FreehandQuestion("Write it to which file?", target, trouble)) or target
        if files.there(name):
            sure = yield FreehandQuestion(
                f"{one_line(name)} is there already. Write over it?", "no"
            )
            if sure.casefold() not in _YES:
                trouble = "Give another name, then."
                continue
        try:
            return files.write(name, text)
        except CannotWrite as error:
            trouble = str(error)
