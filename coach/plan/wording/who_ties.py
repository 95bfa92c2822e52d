"""The short line that is read from a metre away: who ties, onto what and which way.

Strands are given by the numbers that the board shows at this count.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from coach.knots import names
from coach.plan.board_at_count import order_at
from coach.plan.plan_model import Count, Plan, PlannedStep
from coach.project import model
from coach.quantities.formatting import centimetres

_WAYS: Final = {"left": "◂ leftwards", "right": "▸ rightwards"}
_EACH: Final = 3  # so many strands are named each, a run of more by its ends
_MOST: Final = 6  # numbers that are told of strands that make no run


@dataclass(frozen=True, slots=True)
class Who:
    """One part of the line: the number of a strand, or a word between two of them.

    Attributes:
        text: What is written.
        strand: The index in the plan of the strand that it names; None for a word.
    """

    text: str
    strand: int | None = None

    @property
    def large(self) -> bool:
        """Whether it is a number, to be written large."""
        return self.strand is not None and self.text.isdecimal()


def who_ties(plan: Plan, done: int) -> tuple[Who, ...]:
    """Return who ties, onto what and which way, for the count about to be made.

    Args:
        plan: The plan.
        done: How many counts are made.

    Returns:
        Numbers of strands as the board shows them at this count, and the words between them; empty
        where no strand does anything, or all is made.
    """
    step = plan.step_at(done)
    if step is None:
        return ()
    count, board = plan.counts[done], _Board(plan, order_at(plan, done))
    if step.role in ("row", "weave"):
        return _in_a_row(step, count, board)
    if step.role == "braid":
        return _in_a_plait(step, count, board)
    if step.role == "plain":
        return _without_a_knot(step, board)
    return _in_a_knot(step, count, board)


@dataclass(frozen=True, slots=True)
class _Board:
    """The strands as they hang, from the left."""

    plan: Plan
    order: tuple[int, ...]

    def those(self, strands: Sequence[int]) -> tuple[Who, ...]:
        """Return strands by their numbers; those that do not hang, by their cords."""
        hung = [s for s in strands if s in self.order]
        cords = dict.fromkeys(self.plan.strands[s].cord for s in strands if s not in self.order)
        off = [next(s for s in strands if self.plan.strands[s].cord == cord) for cord in cords]
        named = tuple(Who(self.plan.strands[s].cord, s) for s in off)
        return named + _numbered([(self.order.index(s) + 1, s) for s in hung])


def _numbered(places: Sequence[tuple[int, int]]) -> tuple[Who, ...]:
    """Return the parts for (number, strand) pairs: `2 3`, `2 to 7`."""
    every = tuple(Who(str(number), strand) for number, strand in places)
    steps = {after[0] - before[0] for before, after in pairwise(places)}
    if len(every) > _EACH and steps in ({1}, {-1}):
        return every[0], Who("to"), every[-1]
    return every if len(every) <= _MOST else (*every[:_EACH], Who("to"), every[-1])


def _in_a_row(step: PlannedStep, count: Count, board: _Board) -> tuple[Who, ...]:
    knotter, held = count.knotters[:1], count.fillers[:1]
    verb, way = "onto" if held[0] == step.mover else "round", _WAYS[step.direction or "right"]
    return *board.those(knotter), Who(verb), *board.those(held), Who(way)


def _in_a_plait(step: PlannedStep, count: Count, board: _Board) -> tuple[Who, ...]:
    moving = board.those(count.knotters)
    if count.fillers:
        return *moving, Who("over"), *board.those(count.fillers)
    source = step.source
    long = source.length_mm if isinstance(source, model.Braid) else None
    return *moving, Who(f"for {centimetres(long)}" if long else "plaited")


def _in_a_knot(step: PlannedStep, count: Count, board: _Board) -> tuple[Who, ...]:
    tying = board.those(count.knotters)
    if isinstance(step.source, model.RigidRow):
        way = _WAYS[step.direction or "right"]
        return *tying, Who(f"onto the {step.source.onto}"), Who(way)
    if isinstance(step.source, model.OwnTied):
        return *tying, Who(f"in your {count.knot}")
    if count.knot in names.FLAT_KNOTS:
        return _in_turn(count, board)
    if count.knot == names.JOSEPHINE:
        half = len(count.knotters) // 2
        left, right = count.knotters[:half], count.knotters[half:]
        return *board.those(left), Who("with"), *board.those(right)
    if count.fillers:
        return *tying, Who("round"), *board.those(count.fillers)
    return *tying, Who("as one" if len(count.knotters) > 1 else "on itself")


def _in_turn(count: Count, board: _Board) -> tuple[Who, ...]:
    """Return who goes over first and who follows, round what."""
    left, right = count.knotters
    first, second = (right, left) if count.knot.startswith("reverse") else (left, right)
    inner = board.those(count.fillers)
    one, other = board.those((first,)), board.those((second,))
    if count.knot in (names.HALF_KNOT, names.REVERSE_HALF_KNOT):
        under = (*inner, Who("under"), *other) if inner else other
        return *one, Who("over"), *under
    if not inner:
        return *one, Who("first, then"), *other
    return *one, Who("first over"), *inner, Who("then"), *other


def _without_a_knot(step: PlannedStep, board: _Board) -> tuple[Who, ...]:
    strands = tuple(strand for group in step.groups for strand in group)
    after = _Board(board.plan, step.after)
    match step.source:
        case model.Do() | model.Measure() | model.Wait() | model.Flip() | model.EndForEnd():
            return ()
        case model.Turn():
            around = board.those(strands[1:])
            return *board.those(strands[:1]), Who("round"), *(around or (Who("a pin"),))
        case model.Cross():
            moved = [s for place, s in enumerate(step.after) if step.before[place] != s]
            return Who("now"), *(p for s in moved for p in board.those((s,)))
        case model.Add() | model.TakeUp() | model.BringDown():
            new = step.new_strands or strands
            cord = board.plan.strands[new[0]].cord if new else ""
            return Who(cord, new[0] if new else None), Who("at"), *after.those(new)
        case model.Seam():
            return *board.those(step.after[:1]), Who("becomes strand 1")
        case _:
            return *board.those(strands), Who(_done_to(step.source))


def _done_to(source: model.Step) -> str:  # noqa: PLR0911 - one short case for each kind
    """Return what is done to strands in a step without a knot."""
    match source:
        case model.Space(length_mm=length):
            return f"gap of {centimetres(length)}"
        case model.Picot(loop_mm=loop):
            return f"loop of {centimetres(loop)}"
        case model.Bead():
            return "through a bead"
        case model.LayAside():
            return "laid aside"
        case model.Attach(apart=apart):
            return f"get the {apart}"
        case model.FoldBack():
            return "folded back"
        case model.Trim(leave_mm=leave, middle_mm=None):
            return f"cut to {centimetres(leave)}"
        case model.Trim():
            return "cut to a line"
        case _:
            return ""
