"""The scene: a piece of work as cords in space, in mm, seen from the front or the back.

Across is to the right from the middle of the work, down is from its top. What lies over what is
given by layers, which follow who knots and who is tied round, and never by the order of a list.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import Literal, TypeAlias

Point: TypeAlias = tuple[float, float]
Box: TypeAlias = tuple[float, float, float, float]
"""Left, top, right, bottom."""
Half: TypeAlias = Literal["", "left", "right"]
FittingKind: TypeAlias = Literal["bar", "dowel", "ring", "hook", "buckle", "cord", "pin", "bead"]


@dataclass(frozen=True, slots=True)
class Segment:
    """A stretch of one strand.

    Attributes:
        strand: The strand of the plan; within a `Shape`, the index among the tie's strands.
        layer: A higher one lies over a lower one. A holder has 0.
        width_mm: Its drawn width.
        path: A start, then a control point and an end for each quadratic curve.
        capped: Whether its ends are rounded, as where a turn goes over an edge.
    """

    strand: int
    layer: int
    width_mm: float
    path: tuple[Point, ...]
    capped: bool = False


@dataclass(frozen=True, slots=True)
class Shape:
    """One knot in its true size, about its own origin; many ties share a shape.

    Attributes:
        stretches: Lowest layer first.
        enter: Where each strand comes in, the tie's knotters first.
        leave: Where each strand leaves.
        box: Its bounding box.
        lean_deg: How its turns lean: above 0 if their top is to the right.
        key: The values it was made from; shapes with the same key are equal.
        covers: How far beyond its ends each strand is covered there, in its widths; 0 where it is
            seen as it comes in and leaves.
    """

    stretches: tuple[Segment, ...]
    enter: tuple[Point, ...]
    leave: tuple[Point, ...]
    box: Box
    lean_deg: float = 0.0
    key: tuple[object, ...] = ()
    covers: tuple[float, ...] = ()

    @property
    def top(self) -> int:
        """The tie's strand that lies uppermost for most of its length."""
        front = [s for s in self.stretches if s.layer > 0] or list(self.stretches)
        lengths: dict[int, float] = {}
        for stretch in front:
            lengths[stretch.strand] = lengths.get(stretch.strand, 0.0) + _long(stretch.path)
        return max(lengths, key=lambda who: (lengths[who], -who))


def _long(path: tuple[Point, ...]) -> float:
    (x0, y0), (x1, y1) = path[0], path[-1]
    return abs(x1 - x0) + abs(y1 - y0)


@dataclass(frozen=True, slots=True)
class Tie:
    """One count of the plan as it lies in the work.

    Attributes:
        count: Its index in the plan.
        knot: The knot, or "" for a plait, a picot and the like.
        shape: Its shape, seen from the side where it was tied.
        x_mm: The shape's origin, to the right.
        y_mm: The shape's origin, downward.
        strands: The strand of the plan of each of the shape's strands, knotters first.
        knotters: How many of these, from the first on, are knotters.
        turned: Whether it is seen from behind.
        half: Which half of it is seen, where it lies over the seam of round work.
    """

    count: int
    knot: str
    shape: Shape
    x_mm: float
    y_mm: float
    strands: tuple[int, ...]
    knotters: int = 0
    turned: bool = False
    half: Half = ""

    @property
    def box(self) -> Box:
        """Its bounding box in the scene."""
        left, top, right, bottom = self.shape.box
        if self.turned:
            left, right = -right, -left
        return left + self.x_mm, top + self.y_mm, right + self.x_mm, bottom + self.y_mm

    @property
    def on_top(self) -> int:
        """The strand of the plan that lies uppermost."""
        shape = reversed_shape(self.shape) if self.turned else self.shape
        return self.strands[shape.top]

    def stretches(self) -> Iterator[Segment]:
        """Yield its stretches as they lie in the scene, the lowest first."""
        shape = reversed_shape(self.shape) if self.turned else self.shape
        for s in shape.stretches:
            path = tuple([(x + self.x_mm, y + self.y_mm) for x, y in s.path])
            yield Segment(self.strands[s.strand], s.layer, s.width_mm, path, s.capped)


@dataclass(frozen=True, slots=True)
class Run:
    """A strand between two ties, or below the last one; `count` is the tie it leads to.

    `bulge_mm` is how far it swings out, as round a pin.
    """

    count: int
    strand: int
    start: Point
    end: Point
    width_mm: float
    layer: int = 0
    bulge_mm: float = 0.0

    @property
    def path(self) -> tuple[Point, ...]:
        """Its curve, which leaves downward and comes in downward."""
        (x0, y0), (x1, y1) = self.start, self.end
        x, y, reach, out = (x0 + x1) / 2, (y0 + y1) / 2, (y1 - y0) / 4, self.bulge_mm
        if abs(x1 - x0) > y1 - y0 and not out:
            return (x0, y0), (x, y), (x1, y1)
        return (
            (x0, y0), (x0 + out, y0 + reach), (x + out, y), (x1 + out, y1 - reach), (x1, y1),
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Fitting:
    """What the work hangs on, pins and beads."""

    kind: FittingKind
    box: Box
    thick_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Scene:
    """A piece of work, or a part of it.

    Attributes:
        cords: The cord's name of each strand of the plan.
        ties: The ties, in the order of the plan; one over the seam stands twice.
        runs: Strands between ties.
        mounts: How the pieces are hung, as ties without a count (-1).
        fittings: Dowels, pins and beads, lowest first; mounts go round the first.
        length_mm: The length of the work, by the plan.
        half_mm: Half the width of the strands' room.
        box: The bounding box of all that is drawn.
        finish: The strands at the bottom, from the left as seen.
        closed: Whether it is round work opened at its seam.
        back: Whether it is seen from the back.
        left_out: How many counts are not drawn because there are too many.
        made: How many counts are made.
        behind: The scene behind all of it, as a layer of its own or the back half of a tube.
        tube: Whether that is the back half of a tube.
        spread_mm: How much wider it is drawn because its arms are drawn apart.
    """

    cords: tuple[str, ...]
    ties: tuple[Tie, ...]
    runs: tuple[Run, ...]
    mounts: tuple[Tie, ...]
    fittings: tuple[Fitting, ...]
    length_mm: float
    half_mm: float
    box: Box
    finish: tuple[int, ...]
    closed: bool = False
    back: bool = False
    left_out: int = 0
    made: int = field(default=0)
    behind: "Scene | None" = None
    tube: bool = False
    spread_mm: float = 0.0

    def stretches(self) -> Iterator[Segment]:
        """Yield every stretch of cord as it lies in the scene, runs below ties."""
        for run in sorted(self.runs, key=lambda r: r.layer):
            yield Segment(run.strand, run.layer, run.width_mm, run.path)
        for tie in (*self.mounts, *sorted(self.ties, key=lambda t: t.box[1])):
            yield from tie.stretches()


def mirrored_shape(shape: Shape) -> Shape:
    """Return a shape with left and right swapped; what lies over stays over."""
    return _kept(shape.key, 1) or _keep(shape, 1)


def reversed_shape(shape: Shape) -> Shape:
    """Return a shape as it is seen from behind."""
    return _kept(shape.key, -1) or _keep(shape, -1)


_MOST_KEPT = 4096
_FLIPPED: dict[tuple[object, ...], Shape] = {}


def _kept(key: tuple[object, ...], sign: int) -> Shape | None:
    return _FLIPPED.get((sign, key)) if key else None


def _keep(shape: Shape, sign: int) -> Shape:
    """Flip a shape, with a key of its own."""
    found = _flipped(shape, sign)
    if shape.key and len(_FLIPPED) < _MOST_KEPT:
        _FLIPPED[sign, shape.key] = found
    return found


def _flipped(shape: Shape, sign: int) -> Shape:
    stretches = [
        replace(s, layer=sign * s.layer, path=tuple([(-x, y) for x, y in s.path]))
        for s in shape.stretches
    ]
    left, top, right, bottom = shape.box
    return Shape(
        tuple(sorted(stretches, key=lambda s: s.layer)),
        tuple([(-x, y) for x, y in shape.enter]),
        tuple([(-x, y) for x, y in shape.leave]),
        (-right, top, -left, bottom),
        -shape.lean_deg,
        (*shape.key, "mirrored" if sign > 0 else "reversed") if shape.key else (),
        shape.covers,
    )
