"""The whole work as numbered instructions, each part written once and repeats folded."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import groupby
from typing import Final, Literal

from coach.plan.compile.side_boards import made_later
from coach.plan.plan_model import Direction, Plan, PlannedStep
from coach.plan.wording.place_words import goes_round
from coach.plan.wording.step_phrases import taking_up
from coach.project import model
from coach.quantities import in_units
from coach.text import capital, number_in_words, one_line, times_over
from coach.words.hanging import hanging_instructions
from coach.words.phrases import groups_in_turn
from coach.words.printed_steps import repeats_row, step_instruction

_EXCHANGED: Final = "(swap left and right)"


@dataclass(frozen=True, slots=True)
class Instruction:
    """One printed line: a numbered step, or words about others (`number` is 0).

    `depth` is how many parts and groups it is nested in. `planned` are the steps of the plan that
    it was first worked as (for a mirrored repeat `mirrored`); a folded run of steps has one for
    each. `window` is how many strands its group has, None outside groups. `unfolded` work is done
    on whole pieces, before they are folded and hung.
    """

    text: str
    number: int = 0
    depth: int = 0
    notes: tuple[str, ...] = ()
    planned: tuple[PlannedStep, ...] = ()
    mirrored: PlannedStep | None = None
    window: int | None = None
    role: Literal["step", "part", "again"] = "step"
    unfolded: bool = False


@dataclass(slots=True)
class _Writer:
    """Numbers the lines; `written` remembers where each part has been printed."""

    plan: Plan
    planned: dict[int, list[PlannedStep]]
    lines: list[Instruction] = field(default_factory=list)
    written: dict[str, tuple[int, int]] = field(default_factory=dict)
    number: int = 0
    window: int | None = None
    row: tuple[object, ...] = ()  # how the line before was worked, if it is a row


def instructions(plan: Plan, unit: str = "cm") -> tuple[Instruction, ...]:
    """Return the work of a plan as lines, from before the fold to the last cut.

    Lengths are in `unit`, cm or in, except in the words of the file's writer.
    """
    planned: dict[int, list[PlannedStep]] = defaultdict(list)
    for step in plan.steps:
        planned[id(step.asked or step.source)].append(step)
    writer = _Writer(plan, planned)
    _write(writer, plan.project.start.before_fold, 0)
    unfolded = [replace(line, unfolded=True) for line in writer.lines]
    writer.lines.clear()
    later = made_later(plan.project)
    for name, apart in plan.project.apart.items():
        if name not in later:
            _write_apart(writer, apart, 0)
    _write(writer, plan.project.work, 0)
    return tuple(_in(unit, line) for line in (*unfolded, *writer.lines))


def _in(unit: str, line: Instruction) -> Instruction:
    """Return a line with its lengths in a unit."""
    own = any(isinstance(step.source, model.Do) for step in line.planned)
    return line if own else replace(line, text=in_units(line.text, unit))


def _write(writer: _Writer, steps: Sequence[model.Step], depth: int) -> None:
    writer.row = ()
    for _, run in groupby(steps, key=_alike):
        first, *more = run
        if isinstance(first, model.Use):
            _write_use(writer, first, depth)
        elif isinstance(first, model.Each):
            _write_each(writer, first, depth)
        elif isinstance(first, model.Make):
            _write_apart(writer, writer.plan.project.apart[first.apart], depth)
        else:
            _write_step(writer, (first, *more), depth)


def _alike(step: model.Step) -> tuple[object, ...]:
    """Return the key by which steps are folded into one line: words, way and place."""
    if isinstance(step, (model.Use, model.Each, model.Make)):
        return (id(step),)
    return (type(step), step_instruction(step, _way(step)))


def _way(step: model.Step) -> Direction:
    """Return which way a row goes, as far as its own positions say."""
    if not isinstance(step, model.Row) or not step.mover.items or not step.across.items:
        return ""
    return "right" if step.across.items[0] > step.mover.items[0] else "left"


def _write_step(writer: _Writer, alike: Sequence[model.Step], depth: int) -> None:
    first = alike[0]
    times = [_planned(writer, step) for step in alike]
    seen = [found for found in times if found]
    text = _text(writer, alike, seen[0][0] if seen else None)
    if len(alike) > 1:
        text += f" Do this {times_over(len(alike))} in all.{_in_turn(writer, seen)}"
    writer.number += 1
    notes = [note for step in alike for note in _notes(step.about)]
    turned = next((s for s in writer.planned[id(first)] if s.mirrored), None)
    writer.lines.append(
        Instruction(
            text=one_line(text),
            number=writer.number,
            depth=depth,
            notes=tuple(dict.fromkeys(notes)),
            planned=tuple(step for found in seen for step in found[: _shown(first)]),
            mirrored=turned if seen and not seen[0][0].mirrored else None,
            window=writer.window,
        )
    )


def _text(writer: _Writer, alike: Sequence[model.Step], planned: PlannedStep | None) -> str:
    """Return a step in words; of a row worked like the line before, only what differs."""
    step = alike[0]
    way = _way(step) or (_direction(planned) if planned else "")
    before, writer.row = writer.row, _how(step, way)
    cord = _mover_cord(writer, alike)
    if isinstance(step, model.Row) and before and before == writer.row:
        return repeats_row(step, cord)
    if isinstance(step, model.TakeUp) and planned and not planned.mirrored:
        return taking_up(writer.plan, planned, planned.groups[0])
    closed = planned is not None and goes_round(writer.plan, planned)
    new, here = (len(planned.new_strands), len(planned.window)) if planned else (0, 0)
    return step_instruction(step, way, cord, closed=closed, new=new, strands=here)


def _how(step: model.Step, way: Direction) -> tuple[object, ...]:
    """Return all that two rows share which differ only in their strands; () for other steps."""
    if not isinstance(step, model.Row) or step.weave:
        return ()
    return (step.knots, step.times, step.mover_holds, step.lie, step.slope_deg, step.first, way)


def _notes(about: model.About) -> tuple[str, ...]:
    """Return the writer's notes on a step; those for the first repeat say so."""
    once = f"The first time: {one_line(about.note_once)}" if about.note_once else ""
    return tuple(filter(None, (once, one_line(about.note))))


def _shown(step: model.Step) -> int:
    return step.rows if isinstance(step, model.Net) else 1


def _planned(writer: _Writer, step: model.Step) -> list[PlannedStep]:
    """Return a step's occurrences in the plan; a net's rows are separate steps there."""
    return writer.planned[id(step)]


def _direction(step: PlannedStep) -> Direction:
    turned: Direction = "left" if step.direction == "right" else "right"
    return turned if step.mirrored and step.direction else step.direction


def _mover_cord(writer: _Writer, alike: Sequence[model.Step]) -> str:
    """Return the cord of a row's travelling strand if it is always the same, else ""."""
    cords = {
        writer.plan.strands[found.mover].cord
        for step in alike
        if isinstance(step, model.Row)
        for found in writer.planned[id(step)]
        if found.mover is not None
    }
    return cords.pop() if len(cords) == 1 else ""


def _in_turn(writer: _Writer, seen: Sequence[Sequence[PlannedStep]]) -> str:
    """Return the cords that a folded run of rows uses in turn the first time, if they differ."""
    movers = [found[0].mover for found in seen]
    cords = [writer.plan.strands[mover].cord for mover in movers if mover is not None]
    if len(set(cords)) < 2 or len(cords) < len(movers):  # noqa: PLR2004 - one cord needs no list
        return ""
    runs = [(cord, len(list(run))) for cord, run in groupby(cords)]
    words = [cord if number == 1 else f"{cord} {times_over(number)}" for cord, number in runs]
    words[1:] = [*words[1:-1], f"then {words[-1]}"]
    source = seen[0][0].source
    holds = isinstance(source, model.Row) and source.mover_holds
    who = "holders" if holds else "knotters"
    often = any(len(writer.planned[id(found[0].source)]) > 1 for found in seen)
    return f" {f'The first time the {who}' if often else f'The {who}'} are {', '.join(words)}."


def _write_use(writer: _Writer, use: model.Use, depth: int) -> None:
    notes = _notes(use.about)
    if use.part in writer.written:
        steps = _steps(*writer.written[use.part])
        again = f"Work {use.part} again ({steps}){_often(use)}.{_mirrored(use)}"
        writer.number += 1
        writer.lines.append(Instruction(again, writer.number, depth, notes, role="again"))
        writer.row = ()
        return
    at = len(writer.lines)
    writer.lines.append(Instruction(""))
    first = writer.number + 1
    _write(writer, writer.plan.project.parts.get(use.part, ()), depth + 1)
    writer.row = ()
    writer.written[use.part] = (first, writer.number)
    title = capital(use.part)
    if use.times > 1 or use.mirror == "all":
        title += f": work {_steps(first, writer.number)}{_often(use)}.{_mirrored(use)}"
    else:
        title += ":"
    writer.lines[at] = Instruction(title, 0, depth, notes, role="part")


def _often(use: model.Use) -> str:
    return f", {times_over(use.times)}" if use.times > 1 else ""


def _mirrored(use: model.Use) -> str:
    """Return which repeats are mirrored."""
    return _turned(use.mirror, use.times, "repeat")


def _turned(mirror: str, times: int, what: str) -> str:
    """Return which of some repeats or groups are mirrored."""
    if mirror == "all":
        return f" Mirror {f'every {what}' if times > 1 else 'all of it'} {_EXCHANGED}."
    if mirror == "every second" and times > 1:
        return f" Mirror every second {what} {_EXCHANGED}."
    return ""


def _write_apart(writer: _Writer, apart: model.Apart, depth: int) -> None:
    """Write a part made apart: how it hangs, its work, and how often it is made."""
    own = next(s for s in writer.plan.by_section if s.section.name == apart.name)
    at = len(writer.lines)
    writer.lines.append(Instruction(""))
    first = writer.number + 1
    outer, writer.window = writer.window, len(own.plan.start)
    _write(writer, apart.start.before_fold, depth + 1)
    folded = writer.number
    _write(writer, apart.work, depth + 1)
    writer.window, writer.row = outer, ()
    made = f"{number_in_words(apart.make)} {apart.name}s" if apart.make > 1 else f"the {apart.name}"
    loop = f"{capital(_steps(first, folded))}, then fold. " if folded >= first else ""
    text = (
        f"Make {made} separately. {loop}{hanging_instructions(own.plan)} "
        f"Work {_steps(folded + 1, writer.number)}.{_turned(apart.mirror, apart.make, 'one')}"
    )
    writer.lines[at] = Instruction(text, 0, depth, (), role="part")


def _steps(first: int, last: int) -> str:
    if first == last:
        return f"step {first}"
    return f"steps {first} {'and' if last == first + 1 else 'to'} {last}"


def _write_each(writer: _Writer, each: model.Each, depth: int) -> None:
    at = len(writer.lines)
    writer.lines.append(Instruction(""))
    first = writer.number + 1
    outer, writer.window = writer.window, len(each.groups.members[0].items) or writer.window
    _write(writer, each.steps, depth + 1)
    writer.window, writer.row = outer, ()
    text = (
        f"Work {_steps(first, writer.number)} on {groups_in_turn(each)}, counting each "
        f"group's strands from 1."
    )
    text += _turned(each.mirror, len(each.groups.members), "group")
    notes = _notes(each.about)
    writer.lines[at] = Instruction(text, 0, depth, notes, role="part")


def numbered(lines: Sequence[Instruction]) -> Iterator[Instruction]:
    """Yield the numbered lines, without those that are about others."""
    return (line for line in lines if line.number and line.role == "step")
