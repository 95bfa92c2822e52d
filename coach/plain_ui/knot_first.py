"""Knotting without a pattern, in plain lines: say what was done, and the pattern follows."""

from collections.abc import Callable, Generator, Iterator
from dataclasses import dataclass
from typing import Final, TypeVar

from coach.plan.wording.cord_order_words import cords_from_left_words
from coach.recording.examples import BESIDE, FORMS
from coach.recording.record import Recording
from coach.session.by_sentence.freehand import Freehand
from coach.session.by_sentence.freehand_questions import FreehandQuestion, ask_file, ask_start
from coach.session.ports import Files

HELP: Final = (
    "Say what you knotted, a sentence a line; ‘?’ lists the forms, ‘squ?’ those that begin so.",
    "again · again mirrored · the last seven rows, eleven times · unpick 2 steps · note WORDS ·",
    "board · said · w writes the pattern to a file · q leaves; everything is saved.",
)
Ask = Callable[[str], str]
"""Returns the next line, after a question. Raises EOFError where there is none."""
Result = TypeVar("Result")


@dataclass(frozen=True, slots=True)
class Ports:
    """Input and output of lines, and the writing of files."""

    ask: Ask
    tell: Callable[[str], object]
    files: Files
    target: str = ""


def ask_hanging(ask: Ask, tell: Callable[[str], object], called: str) -> Recording:
    """Ask what hangs, on what and how.

    Args:
        ask: Return the answer to a question.
        tell: Show a line.
        called: A default title for the piece.

    Raises:
        EOFError: The answers end.
    """
    return _asked(ask_start(called), ask, tell)


def knot_first(freehand: Freehand, ports: Ports) -> None:
    """Record what is knotted until the maker leaves, or the input ends."""
    for line in (*HELP, *_so_far(freehand)):
        ports.tell(line)
    while True:
        try:
            said = ports.ask(">").strip()
            if said.casefold() in ("q", "quit"):
                return
            _one(freehand, said, ports)
        except EOFError:
            return


def _one(freehand: Freehand, said: str, ports: Ports) -> None:
    """Carry out one line and show the result."""
    if said.casefold() in ("w", "write"):
        target = ports.target
        ports.tell(_asked(ask_file(freehand, ports.files, target), ports.ask, ports.tell))
    elif said.endswith("?"):
        for form in freehand.completions(said[:-1]) or (*FORMS, *BESIDE):
            ports.tell(f"  {form}")
    elif said in ("", "board"):
        for line in _so_far(freehand):
            ports.tell(line)
    elif said == "said":
        for number, one in enumerate(freehand.lines(), start=1):
            ports.tell(f"{number}  {one.said}")
    else:
        ports.tell(freehand.say(said))
        ports.tell(freehand.so_far())


def _asked(
    asking: Generator[FreehandQuestion, str, Result], ask: Ask, tell: Callable[[str], object]
) -> Result:
    """Ask all questions, and return the result of the answers."""
    question = next(asking)
    while True:
        if question.trouble:
            tell(question.trouble)
        default = f" [{question.default}]" if question.default else ""
        try:
            question = asking.send(ask(f"{question.asks}{default}").strip())
        except StopIteration as over:
            result: Result = over.value
            return result


def _so_far(freehand: Freehand) -> Iterator[str]:
    """Yield how much is made, and who hangs where."""
    yield freehand.so_far()
    cords = [freehand.plan.strands[strand].cord for strand in freehand.order()]
    if cords:
        yield cords_from_left_words(cords)
