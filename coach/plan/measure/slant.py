"""Whether rows slant or lie level: as they say, or by the trade's custom."""

from collections.abc import Iterator, Sequence
from typing import Final, Literal, TypeAlias

from coach.knots.names import CLOVE
from coach.plan.steps import PlannedStep
from coach.project.model import Bead, Cross, Flip, Row, Space

Reading: TypeAlias = Literal["level", "slant", "along"]
"""`along`: against a slanting row, over strands of its own; such a row follows that slope."""

_PARTING: Final = (Space, Bead, Cross)  # rows on either side of these are not side by side
_PAIR: Final = 2  # holder and one knotter: a single tie lies either way
_WIDER: Final = 2  # strands by which rows of a triangle grow or shrink at most


def slants(steps: Sequence[PlannedStep], *, closed: bool = False) -> list[bool]:
    """Return for each step whether it is a slanting row."""
    return [reading == "slant" for reading in rows_read(steps, closed=closed).readings]


def rows_read(steps: Sequence[PlannedStep], *, closed: bool = False) -> "Rows":
    """Return how the rows among `steps` lie; `closed` work is in the round."""
    rows = Rows(steps, closed=closed)
    for step in steps:
        rows.take(step)
    rows.settle()
    return rows


class Rows:
    """Rows as they are met down the work.

    A row without `lie:` slants if it ties clove hitches onto its holder and

    - runs side by side with another such row, the same way over the same strands, with another
      holder; or
    - crosses part of the strands at hand and comes to a point: it meets a row that goes the other
      way, as the halves of a V or a diamond do, or rows beside it grow or shrink to a triangle.

    A row that goes once round work in the round comes back to its own beginning and cannot slant.
    Everything else is level. `readings` has one for each step, `level` for what is no row;
    `doubtful` are the rows that could as well lie the other way.
    """

    def __init__(self, steps: Sequence[PlannedStep], *, closed: bool) -> None:
        self.readings: list[Reading] = ["level"] * len(steps)
        self.doubtful: set[int] = set()
        self._steps = steps
        self._closed = closed
        self._said: dict[int, bool | None] = {}  # row -> whether it says that it slants
        self._above: dict[int, int] = {}  # row -> the one row that all its strands come from
        self._ways: dict[int, bool] = {}  # row -> whether it goes right, seen from the front
        self._last: dict[int, int] = {}  # strand -> the row that it hangs from
        self._turned = self._unfolded = False

    def take(self, step: PlannedStep) -> None:
        """Add the next step down the work; a step that is no row separates those around it."""
        if step.unfolded != self._unfolded:
            self._unfolded = step.unfolded
            self._last.clear()
        if step.role == "row":
            self._row(step)
        elif step.role != "plain" or isinstance(step.source, _PARTING):
            self._part(step)
        elif isinstance(step.source, Flip):
            self._turned = not self._turned

    def settle(self) -> None:
        """Let rows next to a slanting one follow it, once it is known which rows slant."""
        for row, slanting in self._said.items():
            if slanting:
                self.readings[row] = "slant"
            elif slanting is None and self.readings[row] == "level":
                above = self._above.get(row)
                if above is not None and self.readings[above] != "level":
                    self.readings[row] = "along"

    def _part(self, step: PlannedStep) -> None:
        if self._last:
            for strand in (strand for group in step.groups for strand in group):
                self._last.pop(strand, None)

    def _row(self, step: PlannedStep) -> None:
        row, strands = step.index, step.groups[0]
        self._said[row] = _says_slant(step)
        self._ways[row] = (step.direction == "right") != self._turned
        above = {self._last.get(strand) for strand in strands}
        if len(above) == 1 and None not in above:
            self._above[row] = next(found for found in above if found is not None)
        if _of_clove_hitches(step):
            self._compare(step, above - {None})
        self._last.update(dict.fromkeys(strands, row))

    def _compare(self, step: PlannedStep, above: set[int | None]) -> None:
        """Let a row slant with those that it runs beside or meets."""
        if _is_part(step) and len(step.groups[0]) > _PAIR:
            self._doubt(step)
        for found in above:
            before = self._steps[found or 0]
            if self._same_way(before, step):
                self._doubt(before, step)
                if self._side_by_side(before, step):
                    self._slant(before, step)
        if _is_part(step) and not self._closes(step):
            for before in (*self._met_at_end(step), *self._met_at_start(step)):
                if _is_part(before) and self._ways[before.index] != self._ways[step.index]:
                    self._slant(before, step)

    def _doubt(self, *steps: PlannedStep) -> None:
        self.doubtful.update(step.index for step in steps if self._said[step.index] is None)

    def _slant(self, *steps: PlannedStep) -> None:
        """Let rows of clove hitches slant together, unless one of them is said to be level."""
        if all(self.readings[step.index] == "slant" for step in steps):
            return
        if all(map(_of_clove_hitches, steps)) and all(map(self._may_slant, steps)):
            for step in steps:
                self.readings[step.index] = "slant"
                self._doubt(step)

    def _may_slant(self, step: PlannedStep) -> bool:
        return self._said[step.index] is not False

    def _same_way(self, before: PlannedStep, step: PlannedStep) -> bool:
        """Return whether two rows of clove hitches go the same way with holders of their own."""
        return (
            _of_clove_hitches(before)
            and self._ways[before.index] == self._ways[step.index]
            and before.mover != step.mover
        )

    def _side_by_side(self, before: PlannedStep, step: PlannedStep) -> bool:
        strands, above = step.groups[0], before.groups[0]
        if self._closed and len(strands) == len(step.before):
            return False
        shared = sum(self._last.get(strand) == before.index for strand in strands)
        if shared == len(above) == len(strands):
            return True
        narrow, wide = sorted((len(above), len(strands)))
        part = _is_part(before) and _is_part(step)
        return part and shared == narrow and wide - narrow <= _WIDER

    def _closes(self, step: PlannedStep) -> bool:
        """Return whether this is the one tie by which the holders of two rows meet."""
        strands = step.groups[0]
        ended = [strand for strand in strands if self._ends_row(strand)]
        return len(strands) == len(ended) == _PAIR

    def _ends_row(self, strand: int) -> bool:
        row = self._last.get(strand)
        return row is not None and self._steps[row].mover == strand

    def _met_at_end(self, step: PlannedStep) -> Iterator[PlannedStep]:
        """Yield the row whose holder stands where this one's ends, as in a V."""
        crossed = step.groups[0][-1]
        for strand in (crossed, *self._beyond(step.after, step, 1)):
            if self._ends_row(strand):
                yield self._steps[self._last[strand]]

    def _met_at_start(self, step: PlannedStep) -> Iterator[PlannedStep]:
        """Yield the row that began where this one begins, as at the top of a diamond."""
        mover = step.groups[0][0]
        for strand in (mover, *self._beyond(step.before, step, -1)):
            row = self._last.get(strand)
            if row is None or self._steps[row].groups[0][1] != strand:
                continue
            # By one tie the holders of a diamond may change places before they part.
            if strand != mover or len(self._steps[row].groups[0]) > _PAIR:
                yield self._steps[row]

    def _beyond(self, order: Sequence[int], step: PlannedStep, ahead: int) -> Iterator[int]:
        """Yield the strand beside the mover in `order`, and one further where that is in no row.

        `ahead` is 1 for the side that the row goes to, -1 for the one that it comes from.
        """
        way = ahead if step.direction == "right" else -ahead
        place = order.index(step.groups[0][0]) + way
        for spot in (place, place + way):
            if self._closed:
                spot %= len(order)  # noqa: PLW2901 - the seam is no edge
            if not 0 <= spot < len(order):
                return
            yield order[spot]
            if order[spot] in self._last:
                return


def _says_slant(step: PlannedStep) -> bool | None:
    """Return whether a row says that it slants; None where it says nothing."""
    source = step.source
    if not isinstance(source, Row):
        return False
    if source.slope_deg is not None:
        return True
    return source.lie == "slant" if source.lie else None


def _of_clove_hitches(step: PlannedStep) -> bool:
    source = step.source
    return isinstance(source, Row) and source.mover_holds and source.knots == (CLOVE,)


def _is_part(step: PlannedStep) -> bool:
    """Whether a row leaves out some of the strands that it could cross."""
    return len(step.groups[0]) < len(step.window)
