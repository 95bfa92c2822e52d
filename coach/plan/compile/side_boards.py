"""Work on several boards: parts made apart, and the two sides of work begun in the middle."""

from collections import Counter
from dataclasses import dataclass, field, replace

from coach.board.board import Board, Order
from coach.plan.compile.step_context import StepContext, WorkLine, refuse, single_count
from coach.plan.compile.strands import Roster
from coach.plan.steps import Section
from coach.project import model
from coach.yaml_reader.collector import quoted
from coach.yaml_reader.diagnostics import Span


@dataclass(slots=True)
class Boards:
    """The sections so far, which one is being worked, and what was made and attached."""

    sections: list[Section] = field(default_factory=list)
    at: int = 0
    made: Counter[str] = field(default_factory=Counter)
    attached: Counter[str] = field(default_factory=Counter)
    under_way: list[str] = field(default_factory=list)
    waiting: dict[int, Order] = field(default_factory=dict)  # the ends above, by section
    other_side: dict[int, int] = field(default_factory=dict)

    def open(self, section: Section) -> int:
        """Switch to a new board and return the number of the one before it."""
        before, self.at = self.at, len(self.sections)
        self.sections.append(section)
        return before

    def close(self, finish: Order, before: int) -> None:
        """Keep the order at the end of a board and switch back to the one before it."""
        self.hang(finish)
        self.at = before

    def hang(self, order: Order) -> None:
        """Record the order in which the current board hangs."""
        self.sections[self.at] = replace(self.sections[self.at], finish=order)


def mirrored_start(start: model.Start) -> model.Start:
    """Return a start with left and right swapped."""
    if start.layout == "nest":
        return start
    return replace(start, pieces=start.pieces[::-1])


def waits_above(roster: Roster, hung: Order) -> Order:
    """Return the other ends of pieces pinned at their middles, from the left once turned.

    Turning the work end for end brings what was left to the right.
    """
    names = {strand.id: number for number, strand in enumerate(roster.strands)}
    above = [names[roster.strands[strand].id[:-1] + "b"] for strand in hung]
    return tuple(reversed(above))


def end_for_end(step: model.EndForEnd, board: Board, boards: Boards) -> WorkLine:
    """Return the line that turns the work end for end.

    Args:
        step: The step.
        board: The current board, whole and in no window.
        boards: All boards, and which ends wait above.

    Raises:
        Misfit: No ends wait above, or the board is a window.
    """
    if boards.at not in boards.waiting:
        message = "The pieces are folded at the start, so there are no other ends to turn to."
        hint = "Write ‘from: middle’ under ‘start’ to begin in the middle."
        raise refuse("FLIP", step.about.span, message, hint)
    if board.outer is not None:
        message = "The whole work cannot be turned end for end in a group or a mirrored part."
        raise refuse("FLIP", step.about.span, message, "Put it before or after.")
    above = boards.waiting[boards.at]
    (line,) = single_count(Board.hung(above, closed=board.closed), above)
    return line


def record_turn(board: Board, boards: Boards) -> None:
    """Record that the work was turned: what hung waits above, the other side hangs."""
    here = boards.at
    above = boards.waiting.pop(here)
    boards.hang(board.whole)
    if here not in boards.other_side:
        own = boards.sections[here]
        start = replace(own.start, pieces=(), from_middle=True)
        boards.open(replace(own, start=start, order=above, finish=above, end=True, of=here))
        boards.other_side |= {here: boards.at, boards.at: here}
    boards.at = boards.other_side[here]
    boards.waiting[boards.at] = board.whole


def attach_line(step: model.Attach, hands: StepContext, boards: Boards) -> WorkLine:
    """Return the line that attaches a piece made apart.

    Args:
        step: The step.
        hands: The board that it is attached to.
        boards: How many pieces are made, and how many attached.

    Raises:
        Misfit: None is made, or all of them are attached.
    """
    name, made = step.apart, boards.made[step.apart]
    if not made:
        message = f"{quoted(name)} is not made yet when it is to be attached."
        hint = f"Put ‘make: {name}’ before this step, or leave that step out."
        raise refuse("APART", step.about.span, message, hint)
    if boards.attached[name] >= made:
        message = f"{quoted(name)} is made {_times(made)}, and all of that is attached by now."
        hint = f"Write ‘make: {made + 1}’ under ‘{name}’, or attach fewer."
        raise refuse("APART", step.about.span, message, hint)
    strands = hands.from_left(step.at) if step.at.items or step.at.everything else ()
    boards.attached[name] += 1
    (line,) = single_count(hands.board, strands)
    return line


def check_made(step: model.Make, boards: Boards) -> None:
    """Raise Misfit where something is made a second time, or while it is being made."""
    if boards.made[step.apart] or step.apart in boards.under_way:
        message = f"{quoted(step.apart)} is made already."
        hint = "One ‘make’ step makes all of it; ‘make:’ under its name says how many."
        raise refuse("APART", step.about.span, message, hint)


def _times(number: int) -> str:
    return {1: "once", 2: "twice"}.get(number, f"{number} times")


def made_later(project: model.Project) -> frozenset[str]:
    """Return the names of the parts for which a step of the work says when to make them."""
    lists = (*project.parts.values(), project.work, *(a.work for a in project.apart.values()))
    return frozenset(step.apart for steps in lists for step in _every(steps))


def _every(steps: tuple[model.Step, ...]) -> tuple[model.Make, ...]:
    found: list[model.Make] = []
    for step in steps:
        if isinstance(step, model.Make):
            found.append(step)
        elif isinstance(step, model.Each):
            found.extend(_every(step.steps))
    return tuple(found)


def bring_down_line(step: model.BringDown, hands: StepContext) -> WorkLine:
    """Return the line that brings free ends of the start down into the work. Raises Misfit."""
    at = hands.place(step.at, len(hands.board.here) + 1)
    new = tuple(_lead(name, step.about.span, hands) for name in step.ends)
    if len(set(new)) < len(new):
        raise refuse("TWICE", step.about.span, "An end is brought down twice in one step.")
    board = hands.board.insert(at, hands.board.from_left(new))
    (line,) = single_count(board, new, new)
    return line


def _lead(name: str, span: Span, hands: StepContext) -> int:
    """Return the strand that the free end of a piece becomes."""
    strand = hands.roster.find(name)
    own = None if strand is None else hands.roster.strands[strand]
    if strand is None or own is None or own.origin != "hung":
        message = f"There is no piece {quoted(name[:-1])} that hangs at the start."
        raise refuse("END", span, message, "Name a piece of the start, as in ‘reed.1’.")
    if not own.single:
        message = f"{quoted(name[:-1])} is folded, so its start has no free end."
        hint = f"Write ‘fold: none’ and a ‘lead:’ for {own.cord}."
        raise refuse("END", span, message, hint)
    lead = hands.roster.lead(strand)
    if lead is None:
        message = f"The free end of {quoted(name[:-1])} is down already."
        raise refuse("END", span, message, "Bring each end down once.")
    return lead
