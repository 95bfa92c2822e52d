"""The columns of a board's picture, and the patches that it is composed of."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field
from itertools import pairwise
from typing import TypeAlias

from coach.plan.plan_model import Count, PlannedStep
from coach.tui.drawing.cells import Cell, Glyphs, Line
from coach.tui.drawing.solid import solid_cords

Below: TypeAlias = dict[int, int]
"""The strand that hangs in each column."""


@dataclass(frozen=True, slots=True)
class ColumnGrid:
    """The columns of the strands, and the characters to draw with."""

    left: int
    pitch: int
    glyphs: Glyphs

    def columns(self, order: Iterable[int]) -> dict[int, int]:
        """Return the column of each strand."""
        return {strand: self.left + i * self.pitch for i, strand in enumerate(order)}

    def column(self, place: int) -> int:
        """Return the column of a place, counted from 0."""
        return self.left + place * self.pitch

    def cords(self, order: Iterable[int]) -> Line:
        """Return a line on which these strands hang."""
        line: Line = {}
        for strand, x in self.columns(order).items():
            line |= self.cord(x, strand)
        return line

    def cord(self, x: int, strand: int) -> Line:
        """Return the cells of a cord hanging in a column."""
        if self.glyphs.wide:
            return solid_cords.cord(self.glyphs, x, strand)
        return {x: Cell(self.glyphs.cord, "cord", strand)}

    def over(self, xs: Collection[int]) -> range:
        """Return all columns from the first to the last of some cords, inclusive."""
        return range(min(xs), max(xs) + max(1, self.glyphs.wide))


@dataclass(frozen=True, slots=True)
class StepRoom:
    """The space for a step: ties of a run, ties of two lines, slanting rows."""

    most: int
    roomy: bool
    slanting: bool


@dataclass(frozen=True, slots=True)
class Patch:
    """Lines of a picture on some columns, and the strand that hangs below in each column.

    Attributes:
        anew: The number of strands has changed, so no other column continues.
        run: The first count of the run that it is a tie of, -1 for none.
        above: How many ties of that run are above it.
        rise: What reaches up into the line above, where that is free.
    """

    lines: tuple[Line, ...]
    hanging: Mapping[int, int]
    anew: bool = False
    run: int = -1
    above: int = 0
    rise: Line = field(default_factory=dict)


def over_edge(line: Line, frame: ColumnGrid, strands: int) -> Line:
    """Return a line of round work with what sticks out at one edge moved to the other.

    Args:
        line: Cells by their columns, some of them beyond an edge.
        frame: The frame of the board.
        strands: How many hang on it.
    """
    whole, half = strands * frame.pitch, (frame.pitch - max(1, frame.glyphs.wide)) // 2
    left, right = frame.left - half, frame.left + whole - half
    return {x - whole if x >= right else x + whole if x < left else x: c for x, c in line.items()}


@dataclass(frozen=True, slots=True)
class SeamGroup:
    """A group of round work over the seam, drawn as two halves at the edges.

    `places` are its places on the board, in its own order from the left, `strands` how many hang.
    """

    places: tuple[int, ...]
    strands: int
    frame: ColumnGrid

    @classmethod
    def of(cls, step: PlannedStep, count: Count, frame: ColumnGrid) -> "SeamGroup | None":
        """Return the seam under a tie, or None.

        Args:
            step: The step of round work that the tie is in.
            count: The tie.
            frame: The columns of the strands.
        """
        own = {*count.knotters, *count.fillers}
        group = next((group for group in step.groups if own & set(group)), ())
        at = {strand: place for place, strand in enumerate(step.before)}
        places = tuple([at[strand] for strand in group if strand in at])
        falls = any(after < before for before, after in pairwise(places))
        ends = {0, len(at) - 1} <= set(places) and len(places) < len(at)
        return cls(places, len(at), frame) if falls and ends else None

    def opened(self, at: Mapping[int, int]) -> dict[int, int]:
        """Return the columns, with those beyond the seam continuing past the edge."""
        beyond = {self.frame.column(place) for place in self.places if place < self.places[0]}
        return {s: x + self._whole if x in beyond else x for s, x in at.items()}

    @property
    def _whole(self) -> int:
        return self.strands * self.frame.pitch

    def halves(self, line: Line) -> Line:
        """Return a line with what lies beyond the seam moved to the other edge."""
        return over_edge(line, self.frame, self.strands)

    def hanging(self, order: tuple[int, ...]) -> Below:
        """Return what hangs below a tie."""
        return {self.frame.column(place): order[place] for place in self.places}
