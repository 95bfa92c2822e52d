"""The layout under construction: where each strand has got to, and all ties so far."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from coach.picture.layout.grid import Grid
from coach.picture.scene import Fitting, Half, Point, Run, Shape, Tie
from coach.plan.measure.places import Places
from coach.plan.measure.slant import slants
from coach.plan.plan_model import Plan

_FLAT: Final = 1.28  # how wide a cord looks where it is tied, in contact diameters
_NEAR_MM: Final = 0.02  # over the seam
_STEEP: Final = 0.7  # how steep a strand runs to the side; it may begin and end within a knot
_BESIDE: Final = 0.75  # columns from its own in which a strand still comes straight down
_WITHIN: Final = 1.3  # how far within it, in widths
_SHALLOW: Final = 0.5  # widths that a knot may cover a strand where that leaves it as it is
_HALVES: Final[tuple[Half, Half]] = ("left", "right")
_TURNED_HALVES: Final[tuple[Half, Half]] = ("right", "left")


class SceneBuilder:
    """Collects ties and the strands between them, in the maker's view.

    `at` is where each strand came out of its last tie. `turned` is whether the maker sees the
    side that was behind at the start; the finished scene is seen from the front.
    """

    def __init__(self, plan: Plan, places: Places) -> None:
        self.plan = plan
        self.places = places
        self.grid = Grid(plan, places)
        cords = [plan.project.cords[s.cord] for s in plan.strands]
        self.loose_mm = [cord.diameter_mm for cord in cords]
        self.looks: list[Point] = [
            (round(mm, 4), round(min(cord.diameter_mm, _FLAT * mm), 4))
            for mm, cord in zip(places.contact_mm, cords, strict=True)
        ]
        self.slanting = slants(plan.steps, closed=plan.project.start.closed)
        self.at: dict[int, Point] = {}
        self.cover: dict[int, float] = {}  # how far that tie covers it, in its widths
        self.ties: list[Tie] = []
        self.runs: list[Run] = []
        self.fittings: list[Fitting] = []
        self.shapes: dict[tuple[object, ...], Shape] = {}  # by count: work that repeats shares it
        self.lift: dict[int, int] = {}  # layer of the next run, where it is not 0
        self.bulge: dict[int, float] = {}  # how far the next run swings out
        self.cut_mm: dict[int, float] = {}  # height at which a strand is cut
        self.aside: dict[int, float] = {}  # how long the strands laid aside hang
        self.back: set[int] = set()  # strands folded back along the work
        self.turned = False

    def look(self, strands: Sequence[int]) -> tuple[Point, ...]:
        """Return the contact diameter and the look of strands."""
        return tuple([self.looks[strand] for strand in strands])

    def middle(self, strands: Sequence[int]) -> float:
        """Return the middle of strands that belong together."""
        if self.grid.closed:
            return sum(self.grid.side_by_side(strands)) / len(strands)
        return sum(map(self.grid.x_mm.__getitem__, strands)) / len(strands)

    def coming(self, strands: Sequence[int]) -> list[float]:
        """Return where strands come from: from their last ties, if those are nearby."""
        found = []
        for strand, x in zip(strands, self.grid.side_by_side(strands), strict=True):
            last = self.at.get(strand, (x, 0.0))[0]
            found.append(last if abs(last - x) < _BESIDE * self.grid.room_mm[strand] else x)
        return found

    def reach(self, count: int, strand: int, x: float, y: float, cover: float = 0.15) -> None:
        """Let a strand run from where it is to a point.

        Where there is no height between the two, it begins and ends below the knots there: so a
        strand that goes sideways slants out of one and into the other.

        Args:
            count: The index of the count that draws it there.
            strand: The index of the strand.
            x: The point from the left, in mm.
            y: The point from the top, in mm.
            cover: How far, in its own widths, the knot at the point covers it; a run that is wholly
                covered is left out.
        """
        start = self.at.get(strand)
        self.at[strand] = (x, y)
        if start is None:
            return
        from_x, from_y = start
        away, down, wide = abs(x - from_x), y - from_y, self.loose_mm[strand]
        if away + abs(down) < (cover + self.cover.get(strand, 0.0)) * wide:
            return
        short = away * _STEEP - abs(down)
        if short > 0:
            by = min(short / 2, _WITHIN * wide)
            from_y, y = from_y - by, y + by if cover else y
        else:
            from_y -= max(0.0, self.cover.get(strand, 0.0) - _SHALLOW) * wide
        layer, out = self.lift.pop(strand, 0), self.bulge.pop(strand, 0.0)
        if self.turned:
            from_x, x, out, layer = -from_x, -x, -out, -layer
        self.runs.append(Run(count, strand, (from_x, from_y), (x, y), wide, layer, out))

    def put(
        self, count: int, knot: str, shape: Shape, at: Point, strands: tuple[int, ...],
        *, goes_on: bool = False,
    ) -> None:  # fmt: skip
        """Add a tie at a point; over the seam it becomes two halves at the edges.

        Args:
            count: The index of the count that ties it.
            knot: The knot's name.
            shape: The strands of the knot, in mm about its own origin.
            at: Where the origin is put, in mm from the left and the top.
            strands: The indices of the strands, in the order of the shape.
            goes_on: Whether it hangs below a knot of its run, which has its strands there already.
        """
        x, y = at
        if self.grid.closed:
            over = self._over_seam(shape, x)
            if over is not None:
                self._put_halves(count, knot, shape, (over, y), strands)
                return
        at_last, covered = self.at, self.cover
        for strand, (left, top), (right, low), cover in zip(
            strands, shape.enter, shape.leave, shape.covers, strict=True
        ):
            if not goes_on:
                self.reach(count, strand, x + left, y + top, cover)
            at_last[strand] = (x + right, y + low)
            covered[strand] = cover
        tie = Tie(count, knot, shape, x, y, strands, self._knotters(count))
        self.ties.append(self._seen(tie) if self.turned else tie)

    def _knotters(self, count: int) -> int:
        return len(self.plan.counts[count].knotters)

    def _seen(self, tie: Tie) -> Tie:
        """Return a tie as it is seen from the side that was in front at the start."""
        return replace(tie, x_mm=-tie.x_mm, turned=True) if self.turned else tie

    def _over_seam(self, shape: Shape, x: float) -> float | None:
        """Return the place of the left half of a tie over the seam, or None."""
        xs = [x + dx for ends in (shape.enter, shape.leave) for dx, _ in ends]
        edge = self.grid.half_mm + _NEAR_MM
        if min(xs) < -edge:
            return x + 2 * self.grid.half_mm
        return x if max(xs) > edge else None

    def _put_halves(
        self, count: int, knot: str, shape: Shape, at: Point, strands: tuple[int, ...]
    ) -> None:
        """Add a tie over the seam: its left half at the right edge, its right at the left."""
        (x, y), whole = at, 2 * self.grid.half_mm
        for strand, (dx, dy) in zip(strands, shape.enter, strict=True):
            self.reach(count, strand, self._inside(x + dx), y + dy)
        for strand, (dx, dy) in zip(strands, shape.leave, strict=True):
            self.at[strand] = (self._inside(x + dx), y + dy)
            self.cover.pop(strand, None)
        knotters = self._knotters(count)
        first, second = _TURNED_HALVES if self.turned else _HALVES
        for at_x, half in ((x, first), (x - whole, second)):
            tie = Tie(count, knot, shape, at_x, y, strands, knotters, half=half)
            self.ties.append(self._seen(tie))

    def _inside(self, x: float) -> float:
        whole = 2 * self.grid.half_mm
        return x - whole if x > self.grid.half_mm else x + whole if x < -self.grid.half_mm else x

    def turn_over(self, order: Sequence[int]) -> None:
        """Turn the whole work over."""
        self.turned = not self.turned
        self.at = {strand: (-x, y) for strand, (x, y) in self.at.items()}
        self.grid.flip(order)
