"""Diagrams of how each knot of the catalogue is tied, stage by stage.

Everything is drawn begun on the left, the maker above the work: a holder lies level, fillers
stand upright, leads come from above. `coach.knots.explanation` puts the words beside the
drawings and exchanges the sides. How the knots are laid is common practice, no source; half
knot, square knot and the bar of two hitches are those of T. de Dillmont, *Encyclopedia of
Needlework* (c. 1886), ch. Macramé, figs 516, 519 and 531.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from coach.knots import names
from coach.knots.diagram import CordPath, CordRole, Diagram, FinishedKnot, Point


@dataclass(frozen=True, slots=True)
class Stage:
    """One diagram, and the catalogue's step (from 0) whose end it shows."""

    steps: tuple[int, ...]
    diagram: Diagram


def _points(text: str) -> tuple[Point, ...]:
    return tuple((int(x), int(y)) for x, y in (pair.split(",") for pair in text.split()))


def _grid(columns: Iterable[int], rows: Iterable[int]) -> str:
    """Return every point of some columns and rows."""
    return " ".join(f"{x},{y}" for y in rows for x in columns)


def _cord(role: CordRole, corners: str) -> CordPath:
    return CordPath(role, _points(corners))


def _upright(columns: Iterable[int], bottom: int) -> tuple[CordPath, ...]:
    return tuple(_cord("filler", f"{x},0 {x},{bottom}") for x in columns)


def _one(
    knotter: str, over: str, *fillers: CordPath, made: tuple[FinishedKnot, ...] = ()
) -> Diagram:
    """Return the diagram of one knotter and what it is tied round."""
    return Diagram((*fillers, _cord("knotter", knotter)), frozenset(_points(over)), made)


def _two(first: str, second: str, over: str, *fillers: CordPath) -> Diagram:
    """Return the diagram of two knotters, `first` from the left, and what they are tied round."""
    cords = (*fillers, _cord("knotter", first), _cord("second knotter", second))
    return Diagram(cords, frozenset(_points(over)))


_HOLDER: Final = _cord("filler", "0,3 10,3")
_CLOVE: Final = (
    Stage((0,), _one("5,0 5,9", "5,3", _HOLDER)),
    Stage((1, 2), _one("5,0 5,5 1,5 1,1 3,1 3,9", "3,3 5,3", _HOLDER)),
    Stage((3, 4), _one("5,0 5,5 1,5 1,1 3,1 3,7 9,7 9,1 7,1 7,9", "3,3 5,3 7,3", _HOLDER)),
)

_HALF_HITCH: Final = (
    Stage((0, 1), _one("2,0 2,4 6,4 6,2 3,2", "4,4", *_upright([4], 7))),
    Stage((2,), _one("2,0 2,4 6,4 6,2 1,2 1,7", "4,4 2,2", *_upright([4], 7))),
)

_LARKS_HEAD: Final = (
    Stage((0, 1), _one("2,0 2,4 6,4 6,2 1,2 1,11", "4,4 2,2", *_upright([4], 11))),
    Stage(
        (2, 3),
        _one("2,0 2,4 6,4 6,2 1,2 1,8 6,8 6,6 0,6 0,11", "4,4 2,2 4,6", *_upright([4], 11)),
    ),
)

_HALF_KNOT: Final = (
    Stage((0,), _two("1,0 1,2 9,2 9,6", "8,0 8,6", "4,2 6,2", *_upright([4, 6], 6))),
    Stage(
        (1, 2),
        _two("1,0 1,2 9,2 9,6", "8,0 8,4 2,4 2,1 0,1 0,6", "4,2 6,2 2,2 1,1",
             *_upright([4, 6], 6)),
    ),
)  # fmt: skip

_FIRST_HALF: Final = "5,2 7,2 3,2 2,1"
_SQUARE: Final = (
    Stage((0,), _two("2,0 2,2 10,2 10,12", "9,0 9,12", "5,2 7,2", *_upright([5, 7], 12))),
    Stage(
        (1, 2),
        _two("2,0 2,2 10,2 10,12", "9,0 9,4 3,4 3,1 1,1 1,12", _FIRST_HALF,
             *_upright([5, 7], 12)),
    ),
    Stage(
        (3,),
        _two("2,0 2,2 10,2 10,8 0,8 0,12", "9,0 9,4 3,4 3,1 1,1 1,12",
             f"{_FIRST_HALF} 5,8 7,8", *_upright([5, 7], 12)),
    ),
    Stage(
        (4,),
        _two("2,0 2,2 10,2 10,8 0,8 0,12", "9,0 9,4 3,4 3,1 1,1 1,10 9,10 9,7 11,7 11,12",
             f"{_FIRST_HALF} 5,8 7,8 9,8 10,7", *_upright([5, 7], 12)),
    ),
)  # fmt: skip

_CHAIN: Final = (
    Stage((0, 1), _two("3,0 3,4 7,4 7,2 2,2 2,10", "5,0 5,10", "5,4 3,2")),
    Stage((2,), _two("3,0 3,4 7,4 7,2 2,2 2,10", "5,0 5,8 0,8 0,6 6,6 6,10", "5,4 3,2 2,8 5,6")),
)

_LEFT_HALF: Final = "4,0 4,10 10,10 10,4 0,4 0,14"
_JOSEPHINE: Final = (
    Stage((0,), _two(_LEFT_HALF, "12,0 12,14", "4,4")),
    Stage((1,), _two(_LEFT_HALF, "12,0 12,6 2,6", "4,4")),
    Stage((2,), _two(_LEFT_HALF, "12,0 12,6 2,6 2,2 6,2", "4,4")),
    Stage((3, 4), _two(_LEFT_HALF, "12,0 12,6 2,6 2,2 7,2 7,12 12,12 12,14", "4,4 7,6")),
)

_OVERHAND: Final = (
    Stage((0,), _one("3,0 3,7 6,7 6,2 1,2 1,5", "3,2")),
    Stage((1, 2), _one("3,0 3,7 6,7 6,2 1,2 1,4 8,4 8,9", "3,2 6,4")),
)

_DOUBLE_OVERHAND: Final = (
    Stage((0,), _one("3,0 3,10 6,10 6,2 1,2 1,5", "3,2")),
    Stage((1,), _one("3,0 3,10 6,10 6,2 1,2 1,4 8,4 8,12", "3,2 6,4")),
    Stage((2, 3), _one("3,0 3,10 6,10 6,2 1,2 1,4 4,4 4,6 1,6 1,8 8,8 8,12", "3,2 3,6 6,8")),
)

_WOUND: Final = "3,0 3,10 1,10 1,9 8,9 8,8 1,8 1,7 8,7 8,6 1,6 1,5 8,5 8,4 1,4 1,3"
_BARREL: Final = (
    Stage((0,), _one("3,0 3,10 1,10 1,9", "", *_upright([5, 6], 12))),
    Stage((1,), _one(_WOUND, _grid([3, 5, 6], [5, 7, 9]), *_upright([5, 6], 12))),
    Stage(
        (2, 3),
        _one(f"{_WOUND} 2,3 2,12", _grid([2, 3, 5, 6], [5, 7, 9]), *_upright([5, 6], 12)),
    ),
)

_LOOP: Final = "2,0 2,12 3,12 3,2 1,2 1,3"
_WRAPPED: Final = f"{_LOOP} 8,3 8,4 1,4 1,5 8,5 8,6 1,6 1,7 8,7 8,8 1,8 1,9"
_ON_LOOP: Final = f"2,2 {_grid([2, 3, 5, 6], [3, 5, 7])}"
_GATHERING: Final = (
    Stage((0,), _one(_LOOP, "2,2", *_upright([5, 6], 13))),
    Stage((1,), _one(_WRAPPED, _ON_LOOP, *_upright([5, 6], 13))),
    Stage((2,), _one(f"{_WRAPPED} 1,10 4,10 4,13", f"{_ON_LOOP} 3,10", *_upright([5, 6], 13))),
    Stage((3, 4), _one("2,0 2,5", "", *_upright([5, 6], 13), made=(FinishedKnot((1, 3), (8, 8)),))),
)

_SIDES: Final = (_cord("knotter", "1,0 1,11"), _cord("second knotter", "10,0 10,11"))
_BERRY: Final = (
    Stage((0,), Diagram((*_upright([4, 7], 11), *_SIDES), made=(FinishedKnot((1, 3), (10, 8)),))),
    Stage(
        (1,),
        Diagram(
            (_cord("filler", "4,0 4,10 2,10 2,1 5,1"), _cord("filler", "7,0 7,10 9,10 9,1 6,1"),
             *_SIDES),
            frozenset(_points("4,1 7,1")), (FinishedKnot((1, 3), (10, 8), over=(2, 9)),),
        ),
    ),
    Stage(
        (2, 3),
        Diagram(
            (*_upright([4, 7], 11), *_SIDES),
            made=(FinishedKnot((2, 2), (9, 5)), FinishedKnot((1, 7), (10, 8))),
        ),
    ),
)  # fmt: skip


def _mirrored(stages: tuple[Stage, ...]) -> tuple[Stage, ...]:
    return tuple(Stage(stage.steps, stage.diagram.mirrored()) for stage in stages)


STAGES: Final[Mapping[str, tuple[Stage, ...]]] = MappingProxyType(
    {
        names.CLOVE: _CLOVE,
        names.REVERSE_CLOVE: tuple(Stage(s.steps, s.diagram.turned()) for s in _CLOVE),
        names.HALF_HITCH: _HALF_HITCH,
        names.LARKS_HEAD: _LARKS_HEAD,
        names.REVERSE_LARKS_HEAD: tuple(
            Stage(s.steps, s.diagram.seen_from_behind()) for s in _LARKS_HEAD
        ),
        names.SQUARE: _SQUARE,
        names.REVERSE_SQUARE: _mirrored(_SQUARE),
        names.HALF_KNOT: _HALF_KNOT,
        names.REVERSE_HALF_KNOT: _mirrored(_HALF_KNOT),
        names.CHAIN: _CHAIN,
        names.JOSEPHINE: _JOSEPHINE,
        names.OVERHAND: _OVERHAND,
        names.DOUBLE_OVERHAND: _DOUBLE_OVERHAND,
        names.BARREL: _BARREL,
        names.GATHERING: _GATHERING,
        names.BERRY: _BERRY,
    }
)
"""The stages of every knot by its first name; those of a reverse knot are begun on the right."""
