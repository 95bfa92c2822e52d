"""Groups of round work that lie over its seam, where the work is laid open."""

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise

from coach.plan.plan_model import Count, PlannedStep
from coach.tui.drawing.board_frame import Below, ColumnGrid, over_edge
from coach.tui.drawing.cells import Line


@dataclass(frozen=True, slots=True)
class SeamGroup:
    """A group of round work that lies over the seam: it is seen as two halves at the edges.

    `places` are its places on the board, in its own order from the left, `strands` how many hang.
    """

    places: tuple[int, ...]
    strands: int
    frame: ColumnGrid

    @classmethod
    def of(cls, step: PlannedStep, count: Count, frame: ColumnGrid) -> "SeamGroup | None":
        """Return the seam that a tie lies over, or None.

        Args:
            step: The step of round work that the tie is in.
            count: The tie.
            frame: Where strands have their columns.
        """
        own = {*count.knotters, *count.fillers}
        group = next((group for group in step.groups if own & set(group)), ())
        at = {strand: place for place, strand in enumerate(step.before)}
        places = tuple([at[strand] for strand in group if strand in at])
        falls = any(after < before for before, after in pairwise(places))
        ends = {0, len(at) - 1} <= set(places) and len(places) < len(at)
        return cls(places, len(at), frame) if falls and ends else None

    def opened(self, at: Mapping[int, int]) -> dict[int, int]:
        """Return the columns with those beyond the seam counted on."""
        beyond = {self.frame.column(place) for place in self.places if place < self.places[0]}
        return {s: x + self._whole if x in beyond else x for s, x in at.items()}

    @property
    def _whole(self) -> int:
        return self.strands * self.frame.pitch

    def halves(self, line: Line) -> Line:
        """Return a line with what lies beyond the seam at the other edge."""
        return over_edge(line, self.frame, self.strands)

    def hanging(self, order: tuple[int, ...]) -> Below:
        """Return what hangs below a tie."""
        return {self.frame.column(place): order[place] for place in self.places}
