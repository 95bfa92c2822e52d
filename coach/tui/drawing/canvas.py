"""Patches stacked as they lie on the board: each as far up as the cords that it is on allow."""

from collections.abc import Iterable

from coach.tui.drawing.cells import Cell, Line
from coach.tui.drawing.step_patches import Frame, Patch


class Stack:
    """Lines of a picture that grow downward, each column as far as its cord has been worked."""

    def __init__(self, frame: Frame, order: Iterable[int]) -> None:
        """Begin with these strands hanging, nothing made on them yet."""
        self._frame = frame
        self._lines: list[Line] = []
        self._hanging = {x: strand for strand, x in frame.columns(order).items()}
        self._down: dict[int, int] = {}

    def copy(self) -> "Stack":
        """Return a stack that can grow without this one."""
        other = Stack(self._frame, ())
        other._lines = [dict(line) for line in self._lines]
        other._hanging, other._down = dict(self._hanging), dict(self._down)
        return other

    def put(self, patch: Patch, age: int) -> None:
        """Add a patch, made so many steps ago, below all that is on its columns."""
        xs = [*self._hanging, *patch.hanging] if patch.anew else list(patch.hanging)
        top = self.below(xs)
        for x in xs:
            self._hang(x, top, age)
        for number, line in enumerate(patch.lines, start=top):
            self._line(number).update(_aged(line, age))
        self._hanging = dict(patch.hanging) if patch.anew else self._hanging | dict(patch.hanging)
        self._down |= dict.fromkeys(xs, top + len(patch.lines))

    def below(self, xs: Iterable[int]) -> int:
        """Return the first line that is below all work on these columns."""
        return max((self._down.get(x, 0) for x in xs), default=0)

    @property
    def height(self) -> int:
        """How many lines the work takes."""
        return max(self._down.values(), default=0)

    def worked_below(self, line: int) -> set[int]:
        """Return the columns that are worked further down than this line."""
        return {x for x, down in self._down.items() if down > line and x in self._hanging}

    def lines(self, least: int) -> list[Line]:
        """Return the lines, at least so many, every cord hanging to the lowest of them."""
        height = max(least, len(self._lines))
        for x in list(self._hanging):
            self._hang(x, height, 0)
        return self._lines

    def _hang(self, x: int, end: int, age: int) -> None:
        """Let the cord of a column hang from where it was worked last."""
        if x in self._hanging:
            cord = Cell(self._frame.glyphs.cord, "cord", self._hanging[x], age)
            for number in range(self._down.get(x, 0), end):
                self._line(number).setdefault(x, cord)

    def _line(self, number: int) -> Line:
        while len(self._lines) <= number:
            self._lines.append({})
        return self._lines[number]


def _aged(line: Line, age: int) -> Line:
    """Return a line's cells as made so many steps ago."""
    if not age:
        return line
    return {x: Cell(cell.char, cell.part, cell.strand, age) for x, cell in line.items()}
