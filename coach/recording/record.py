"""A piece knotted without a pattern: each thing said is checked by the simulator, then kept."""

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final

from coach.plan.from_text import PlanReading, read_plan
from coach.plan.plan_model import Plan
from coach.recording.fold import Block
from coach.recording.joined import joined
from coach.recording.project_text import Hung, text_of, work_lines
from coach.recording.said import NotUnderstood, knot_said, number, step_of
from coach.text import counted

_LOOK: Final = "do: Look at it."  # in the place of work, before there is any


@dataclass(frozen=True, slots=True)
class Record:
    """What was hung, or the file that the work goes on from, and what was knotted since."""

    hung: Hung | None
    base: str = ""
    blocks: tuple[Block, ...] = ()
    measured: tuple[str, ...] = ()

    def text(self, *, fold: bool = True) -> str:
        """Return the project file of the piece so far."""
        if self.hung:
            blocks = self.blocks or (Block((_LOOK,)),)
            return text_of(self.hung, blocks, self.measured, fold=fold)
        names = frozenset(re.findall(r"^ +([^\s:#-][^:#]*):\s*$", self.base, re.MULTILINE))
        return joined(self.base, *work_lines(self.blocks, fold=fold, taken=names))

    def reading(self) -> PlanReading:
        """Return the piece so far as the simulator works it, step by step."""
        return read_plan(self.text(fold=False))

    @property
    def plan(self) -> Plan | None:
        """The plan of the piece so far."""
        return self.reading().plan


def begun(hung: Hung | None, base: str = "") -> Record:
    """Return a record with nothing knotted yet. Raises NotUnderstood where nothing can hang so."""
    record = Record(hung, base)
    _checked(record)
    return record


def _checked(record: Record) -> Record:
    """Return a record that the simulator can work. Raises NotUnderstood with what is wrong."""
    reading = record.reading()
    if reading.plan is None:
        problem = next(p for p in reading.problems if p.severity == "error")
        raise NotUnderstood(" ".join(filter(None, (problem.message, problem.hint))))
    return record


def say(record: Record, said: str) -> Record:
    """Return the record after one more sentence. Raises NotUnderstood."""
    text = " ".join(said.strip().rstrip(".").split())
    for pattern, act in _ACTS:
        match = re.fullmatch(pattern, text, re.IGNORECASE)
        if match:
            return _checked(act(record, match))
    return _checked(_with(record, Block((step_of(said),))))


def _with(record: Record, *blocks: Block) -> Record:
    return replace(record, blocks=(*record.blocks, *blocks))


def _again(record: Record, match: re.Match[str]) -> Record:
    """Do the last thing over again, mirrored if asked for."""
    if not record.blocks:
        raise NotUnderstood("Nothing is knotted yet that could be done again.")
    last = record.blocks[-1]
    block = replace(last, mirrored=not last.mirrored) if match["mirrored"] else last
    return _with(record, *[block] * _number(match["times"] or "1"))


def _last(record: Record, match: re.Match[str]) -> Record:
    """Do the last so many things so many times more, in their order."""
    many, times = _number(match["many"] or "1"), _number(match["times"] or "1")
    if many > len(record.blocks):
        raise NotUnderstood(_fewer(record))
    last = record.blocks[-many:]
    if match["mirrored"]:
        if any(block.mirrored for block in last):
            raise NotUnderstood("Some of these are mirrored already; say them one by one.")
        steps = tuple(step for block in last for step in block.steps)
        return _with(record, *[Block(steps, mirrored=True)] * times)
    return _with(record, *last * times)


def _fewer(record: Record) -> str:
    return f"So far you have said {counted(len(record.blocks), 'step')}; name no more than that."


def _unpick(record: Record, match: re.Match[str]) -> Record:
    many = _number(match["many"] or "1")
    if many > len(record.blocks):
        raise NotUnderstood(_fewer(record))
    return replace(record, blocks=record.blocks[: len(record.blocks) - many])


def _note(record: Record, match: re.Match[str]) -> Record:
    """Write a note on the last step."""
    if not record.blocks:
        raise NotUnderstood("Nothing is knotted yet to write a note on.")
    *before, last = record.blocks
    words = match["words"].replace("\\", "\\\\").replace('"', '\\"')
    *steps, step = last.steps
    noted = replace(last, steps=(*steps, f'{step}, note: "{words}"'))
    return replace(record, blocks=(*before, noted))


def _measured(record: Record, match: re.Match[str]) -> Record:
    """Keep what a run of one knot took of a cord."""
    long = f", length: {match['long']}" if match["long"] else ""
    times = _number(match["times"])
    entry = (
        f'knot: "{knot_said(match["knot"].casefold())}", cord: {match["cord"]}, times: {times}, '
        f"uses: {match['uses']}{long}"
    )
    return replace(record, measured=(*record.measured, entry))


def _number(text: str) -> int:
    found = number(text.casefold())
    if not found:
        raise NotUnderstood(f"‘{text}’ is no number here. Say, for example, ‘three’.")
    return found


_MORE: Final = r"(?:,?\s*(?P<times>\w+)(?:\s+times)?)?"
_MM: Final = r"\d+(?:\.\d+)?\s*(?:mm|cm|in|m)"
_LAST: Final = r"(?:the )?last (?:(?P<many>\w+) )?(?:rows?|steps?|things?)(?: again)?"
_SWATCH: Final = rf"(?P<times>\w+) (?P<knot>.+?) of (?P<cord>.+?):? (?P<uses>{_MM})"
_ACTS: Final[tuple[tuple[str, Callable[[Record, re.Match[str]], Record]], ...]] = (
    (rf"again(?P<mirrored> mirrored)?{_MORE}", _again),
    (rf"{_LAST}(?P<mirrored>,? mirrored)?{_MORE}", _last),
    (r"unpick(?: (?P<many>\w+)(?: (?:rows?|steps?|things?))?)?", _unpick),
    (r"note:? (?P<words>.+)", _note),
    (rf"measured:? {_SWATCH}(?:,? (?P<long>{_MM}) long)?", _measured),
)
