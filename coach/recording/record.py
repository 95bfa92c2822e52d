"""The record of a piece knotted without a pattern: its base file and all blocks since."""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any, Final

from coach.plan.from_text import PlanReading, read_plan
from coach.plan.plan_model import Plan
from coach.recording.mirrors import with_mirrors
from coach.recording.project_joining import (
    CannotJoin,
    open_ended,
    with_lines,
    with_steps_joined,
    with_title,
)
from coach.recording.project_text import OPEN, StartingCords, entries_of, work_lines
from coach.recording.repeat_folding import Block, Entry, Repeat
from coach.recording.sentence_words import NotUnderstood, in_quotes

_PART: Final = re.compile(r"^ +\"?([^\s:#\"-][^:#\"]*)\"?:\s*$", re.MULTILINE)
_LOOK: Final = 'do: "Look at it."'  # in the place of work, before there is any
_OF_FILES: Final = re.compile(r"‘[a-z ]+:")  # a hint of what to write into a file
_RETURNS: Final = re.compile(r"add ‘(returns: after \d+)’")
_USED: Final = re.compile(r"([ \t]*- \{use: \"[^\n]*)\}\s*")  # a line of ours
TITLE: Final = "title"


@dataclass(frozen=True)
class Recording:
    """An open project file that the work goes on from, and what was knotted since.

    `heads` are lines for other sections of the file, each with its section: a cord, a knot of
    the maker's own, a measurement, another title. `over` is whether the piece is finished.
    """

    base: str
    blocks: tuple[Block, ...] = ()
    heads: tuple[tuple[str, str], ...] = ()
    over: bool = False

    def text(self, *, fold: bool = True, names: Sequence[str] = ()) -> str:
        """Return the project file of the piece so far.

        Args:
            fold: Whether repeats and mirrored repeats are found and become parts.
            names: Names for these parts.
        """
        if not fold:
            return self._written(entries_of(self.blocks, fold=False) or (_LOOK,))
        return with_colour_period(self._written(self.folded or (_LOOK,), names))

    def live_text(self) -> str:
        """Return the file as the bench uses it: step by step, open unless it is over."""
        entries = entries_of(self.blocks, fold=False)
        return self._written(entries if self.over and entries else (*entries, OPEN))

    @cached_property
    def folded(self) -> tuple[Entry, ...]:
        """The work with its repeats as parts, tying just what was knotted."""
        plan = read_plan(self.text(fold=False)).plan
        if plan is None or not self.blocks:
            return entries_of(self.blocks, fold=True)
        seen = entries_of(with_mirrors(self.blocks, plan), fold=True)
        ways = (seen, entries_of(self.blocks, fold=True))
        return next(
            (way for way in ways if ties_alike(plan, read_plan(self._written(way)).plan)),
            entries_of(self.blocks, fold=False),
        )

    def _written(self, entries: Sequence[Entry], names: Sequence[str] = ()) -> str:
        taken = frozenset(map(str.strip, _PART.findall(self.base)))
        text = self.base
        for section, line in self.heads:
            text = with_title(text, line) if section == TITLE else with_lines(text, section, [line])
        return with_steps_joined(text, *work_lines(entries, taken=taken, names=names))

    @cached_property
    def reading(self) -> PlanReading:
        """The piece so far as compiled, step by step."""
        return read_plan(self.live_text())

    @property
    def plan(self) -> Plan | None:
        """The plan so far; unless the piece is over, its last count is the one to come."""
        return self.reading.plan

    @property
    def made(self) -> int:
        """How many counts are made."""
        return (self.plan.total - (not self.over)) if self.plan else 0


def with_colour_period(text: str) -> str:
    """Return a project file that states after how many repeats its colours are back.

    It is added where they are not back after each: the work was knotted that way, so no warning is
    due.
    """
    lines = text.splitlines(keepends=True)
    for problem in read_plan(text).problems:
        after = _RETURNS.search(problem.hint) if problem.code == "RETURNS" else None
        at = problem.span.line - 1
        used = _USED.fullmatch(lines[at]) if after and 0 <= at < len(lines) else None
        if after and used:
            lines[at] = f"{used[1]}, {after[1]}}}\n"
    return "".join(lines)


def new_recording(hung: StartingCords | None, base: str = "") -> Recording:
    """Return a record with nothing knotted yet. Raises NotUnderstood for an impossible start."""
    try:
        record = Recording(hung.text() if hung else open_ended(base))
    except CannotJoin as error:
        raise NotUnderstood(str(error)) from error
    return check_recording(record)


def check_recording(record: Recording) -> Recording:
    """Return a record that compiles. Raises NotUnderstood with what is wrong."""
    try:
        reading = record.reading
    except CannotJoin as error:
        raise NotUnderstood(str(error)) from error
    if reading.plan is None:
        problem = next(p for p in reading.problems if p.severity == "error")
        hint = "" if _OF_FILES.search(problem.hint) else problem.hint
        raise NotUnderstood(" ".join(filter(None, (problem.message, hint))))
    return record


def parts_of(entries: Iterable[Entry]) -> list[Repeat]:
    """Return the parts that repeats were folded into, each once, in the order of their names."""
    found: list[Repeat] = []
    waiting = [entry for entry in entries if isinstance(entry, Repeat)]
    while waiting:
        for repeat in waiting:
            if not any(repeat.part == one.part for one in found):
                found.append(repeat)
        seen = list(found)
        inner = [e for one in seen for e in one.part if isinstance(e, Repeat)]
        waiting = [e for e in inner if not any(e.part == one.part for one in found)]
    return found


def ties_alike(one: Plan, other: Plan | None) -> bool:
    """Return whether two plans tie the same in the same order, and hang alike at the end."""
    return other is not None and tied(one) == tied(other)


def tied(plan: Plan) -> tuple[object, ...]:
    """Return a key of all that a plan ties, how it hangs, and how long it is."""
    ids = [strand.id for strand in plan.strands]
    counts = [
        (c.knot, [ids[s] for s in c.knotters], [ids[s] for s in c.fillers], c.passes)
        for c in plan.counts
    ]
    return counts, [ids[s] for s in plan.start], [ids[s] for s in plan.finish]


# What is kept of a sentence: the difference that it made.


@dataclass(frozen=True, slots=True)
class RecordingChange:
    """The effect of a sentence: how many blocks it took back, and what it added."""

    said: str
    back: int = 0
    blocks: tuple[Block, ...] = ()
    heads: tuple[tuple[str, str], ...] = ()
    over: bool = False

    def to_data(self) -> dict[str, Any]:
        """Return it as plain data for JSON."""
        blocks = [[block.mirrored, block.said, *block.steps] for block in self.blocks]
        heads = [list(head) for head in self.heads]
        return {"back": self.back, "blocks": blocks, "heads": heads, "over": self.over}


def change_from_data(said: str, data: Mapping[str, Any]) -> RecordingChange:
    """Return the change that `to_data` made this from. Raises ValueError."""
    try:
        blocks = tuple(
            Block(tuple(map(_text, steps)), mirrored is True, _text(by))
            for mirrored, by, *steps in data["blocks"]
        )
        heads = tuple((_text(section), _text(line)) for section, line in data["heads"])
        back = data["back"]
    except (LookupError, TypeError, ValueError) as error:
        raise ValueError("it cannot be read") from error
    if isinstance(back, bool) or not isinstance(back, int) or back < 0:
        raise ValueError("it takes back what cannot be")
    if not all(block.steps for block in blocks):
        raise ValueError("a block is empty")
    return RecordingChange(said, back, blocks, heads, data.get("over") is True)


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise TypeError("it is not text")
    return value


def after_change(record: Recording, change: RecordingChange) -> Recording:
    """Return a record after a change. Raises ValueError if it takes back more than there is."""
    if change.back > len(record.blocks):
        raise ValueError("it takes back more than there is")
    kept = record.blocks[: len(record.blocks) - change.back]
    heads = (*record.heads, *change.heads)
    return Recording(record.base, (*kept, *change.blocks), heads, change.over)


def change_between(before: Recording, after: Recording, said: str) -> RecordingChange:
    """Return the change from one record to a later one.

    Args:
        before: The earlier record.
        after: The later one, which shares its first blocks.
        said: The sentence that led to it.
    """
    same = 0
    for one, other in zip(before.blocks, after.blocks, strict=False):
        if one is not other and (one, one.said) != (other, other.said):
            break
        same += 1
    return RecordingChange(
        said, len(before.blocks) - same, after.blocks[same:],
        after.heads[len(before.heads) :], after.over,
    )  # fmt: skip


def with_note(block: Block, words: str) -> Block:
    """Return a block with a note on its last step."""
    *steps, step = block.steps
    return replace(block, steps=(*steps, f"{step}, note: {in_quotes(words)}"))
