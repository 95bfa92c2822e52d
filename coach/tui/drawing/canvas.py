"""Stacking patches, each as far up as the columns it covers allow."""

from collections.abc import Iterable
from dataclasses import dataclass

from coach.tui.drawing.board_frame import ColumnGrid, Patch
from coach.tui.drawing.cells import Line, aged


@dataclass(frozen=True, slots=True)
class Placed:
    """Where a tie of a run lies: its first line, its columns, and how many ties are above it."""

    top: int
    columns: tuple[int, int]
    run: int
    above: int


class Stack:
    """Lines of a picture that grow downward, each column as far as its cord has been worked.

    The age of a cell is the index of the step that it was made in.
    """

    def __init__(self, frame: ColumnGrid, order: Iterable[int]) -> None:
        """Begin with these strands hanging and nothing tied."""
        self._frame = frame
        self._lines: list[Line] = []
        self._own: set[int] = set()  # the lines that no other stack has
        self._hanging = {x: strand for strand, x in frame.columns(order).items()}
        self._down: dict[int, int] = {}
        self.runs: list[Placed] = []

    def copy(self, first: int = 0) -> "Stack":
        """Return a stack that can grow independently; lines above `first` are left empty.

        Lines that neither changes stay the same objects.
        """
        other = Stack(self._frame, ())
        first = min(max(0, first), len(self._lines))
        other._lines = [{}] * first + self._lines[first:]
        self._own.clear()
        other._hanging, other._down = dict(self._hanging), dict(self._down)
        other.runs = [placed for placed in self.runs if placed.top >= first]
        return other

    def put(self, patch: Patch, step: int) -> None:
        """Add a patch of a step below all that is on its columns."""
        xs = [*self._hanging, *patch.hanging] if patch.anew else list(patch.hanging)
        top = self.below(xs)
        for x in xs:
            self._hang(x, top, step)
        for number, line in enumerate(patch.lines, start=top):
            self._line(number).update(self._aged(line, step))
        if patch.rise and top:
            above = self._line(top - 1)
            for x, cell in self._aged(patch.rise, step).items():
                above.setdefault(x, cell)
        if patch.run >= 0 and xs:
            self.runs.append(Placed(top, (min(xs), max(xs)), patch.run, patch.above))
        self._hanging = dict(patch.hanging) if patch.anew else self._hanging | dict(patch.hanging)
        self._down |= dict.fromkeys(xs, top + len(patch.lines))

    def below(self, xs: Iterable[int]) -> int:
        """Return the first line below all work on these columns."""
        return max((self._down.get(x, 0) for x in xs), default=0)

    @property
    def height(self) -> int:
        """The number of lines of the work."""
        return max(self._down.values(), default=0)

    def worked_below(self, line: int) -> set[int]:
        """Return the columns that are worked further down than a line."""
        return {x for x, down in self._down.items() if down > line and x in self._hanging}

    def lines(self, least: int, step: int) -> list[Line]:
        """Return the lines, at least `least`, every cord hanging to the lowest of them."""
        height = max(least, len(self._lines))
        for x in list(self._hanging):
            self._hang(x, height, step)
        return self._lines

    def _hang(self, x: int, end: int, step: int) -> None:
        """Extend the cord of a column down from where it was last worked."""
        if x in self._hanging and self._down.get(x, 0) < end:
            cord = self._aged(self._frame.cord(x, self._hanging[x]), step)
            for number in range(self._down.get(x, 0), end):
                if number >= len(self._lines) or not cord.keys() <= self._lines[number].keys():
                    line = self._line(number)
                    for at, cell in cord.items():
                        line.setdefault(at, cell)

    def _aged(self, line: Line, step: int) -> Line:
        """Return a line's cells marked with their step; a solid picture does not need that."""
        return line if self._frame.glyphs.wide else _made(line, step)

    def _line(self, number: int) -> Line:
        """Return a line that may be changed."""
        while len(self._lines) <= number:
            self._own.add(len(self._lines))
            self._lines.append({})
        if number not in self._own:
            self._lines[number] = dict(self._lines[number])
            self._own.add(number)
        return self._lines[number]


def _made(line: Line, step: int) -> Line:
    """Return a line's cells as made in a step."""
    return {x: aged(cell, step) for x, cell in line.items()}
