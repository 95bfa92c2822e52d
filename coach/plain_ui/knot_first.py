"""Knotting without a pattern, in plain lines: say what was done, and the pattern follows."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Final

from coach.plan.plan_model import Plan
from coach.plan.wording.from_left import told_from_left
from coach.plan.wording.lengths import centimetres
from coach.recording.record import Record, say
from coach.recording.said import FORMS, NotUnderstood, completions
from coach.text import counted

HELP: Final = (
    "Say what you knotted, a sentence a line; ‘?’ lists the forms, ‘squ?’ those that begin so.",
    "again · again mirrored · the last seven rows, eleven times · unpick 2 steps · note WORDS ·",
    "measured: 20 clove hitches of reed 26 cm · board · w writes the file · q writes and leaves.",
)
Ask = Callable[[], str]
"""Returns the next line. Raises EOFError where there is none."""


@dataclass(frozen=True, slots=True)
class Ports:
    """Where lines come from and go to, and how the file is written (which says what it did)."""

    ask: Ask
    tell: Callable[[str], object]
    write: Callable[[str], str]


def knot_first(record: Record, ports: Ports) -> Record:
    """Take down what is knotted until the maker leaves; return it. The file is written then."""
    for line in (*HELP, *_so_far(record)):
        ports.tell(line)
    while True:
        try:
            said = ports.ask().strip()
        except EOFError:
            said = "q"
        if said in ("q", "quit"):
            ports.tell(ports.write(record.text()))
            return record
        record = _one(record, said, ports)


def _one(record: Record, said: str, ports: Ports) -> Record:
    """Do what one line says, and tell what came of it."""
    if said in ("w", "write"):
        ports.tell(ports.write(record.text()))
    elif said.endswith("?"):
        for form in completions(said[:-1]) or FORMS:
            ports.tell(f"  {form}")
    elif said in ("", "board"):
        for line in _so_far(record):
            ports.tell(line)
    else:
        try:
            record = say(record, said)
        except NotUnderstood as error:
            ports.tell(str(error))
        else:
            ports.tell(next(iter(_so_far(record))))
    return record


def _so_far(record: Record) -> Iterator[str]:
    """Say how much is made, and who hangs where."""
    plan = record.plan
    if plan is None:
        return
    ties = sum(bool(count.knot) for count in plan.counts)
    long = f", about {centimetres(round(plan.length_mm))}" if ties else ""
    yield f"{counted(len(record.blocks), 'step')} said; {counted(ties, 'tie')}{long}."
    yield from _board(plan)


def _board(plan: Plan) -> Iterator[str]:
    cords = [plan.strands[strand].cord for strand in plan.finish]
    if cords:
        yield told_from_left(cords)
