"""Steps stacked as they lie on the board: each as far up as the cords that it works on allow."""

from collections.abc import Iterable

from coach.bench.blocks import Frame
from coach.bench.cells import Cell, Line
from coach.plan.model import PlannedStep


class Stack:
    """Lines of a picture that grow downward, each column as far as its cord has been worked."""

    def __init__(self, frame: Frame, order: Iterable[int]) -> None:
        """Begin with these strands hanging, nothing made on them yet."""
        self._frame = frame
        self._lines: list[Line] = []
        self._hanging = {x: strand for strand, x in frame.columns(order).items()}
        self._down: dict[int, int] = {}

    def put(self, step: PlannedStep, drawn: list[Line], after: tuple[int, ...], age: int) -> int:
        """Add the lines of a step, after which the strands stand so; give the line below it."""
        xs = self._worked_on(step, after)
        top = max((self._down.get(x, 0) for x in xs), default=0)
        for x in xs:
            self._hang(x, top, age)
        for number, line in enumerate(drawn, start=top):
            inside = {x: cell for x, cell in line.items() if xs[0] - 1 <= x <= xs[-1] + 1}
            self._line(number).update({x: c._replace(age=age) for x, c in inside.items()})
        columns = self._frame.columns(after)
        if len(after) != len(step.before):
            self._hanging = {}
        self._hanging |= {x: strand for strand, x in columns.items() if xs[0] <= x <= xs[-1]}
        self._down |= dict.fromkeys(xs, top + len(drawn))
        return top + len(drawn)

    def lines(self, least: int) -> list[Line]:
        """Give the lines, at least so many, every cord hanging to the lowest of them."""
        height = max(least, len(self._lines))
        for x in list(self._hanging):
            self._hang(x, height, 0)
        return self._lines

    def _worked_on(self, step: PlannedStep, after: tuple[int, ...]) -> list[int]:
        """Give the columns from the first to the last strand that a step does something to."""
        before, now = self._frame.columns(step.before), self._frame.columns(after)
        every = sorted({*before.values(), *now.values()})
        if len(step.before) != len(after):
            return every
        own = {before[s] for group in step.groups for s in group if s in before}
        own |= {x for strand, x in now.items() if before.get(strand) != x}
        return [x for x in every if own and min(own) <= x <= max(own)]

    def _hang(self, x: int, end: int, age: int) -> None:
        """Let the cord of a column hang from where it was worked last."""
        if x in self._hanging:
            for number in range(self._down.get(x, 0), end):
                cord = Cell(self._frame.glyphs.cord, "cord", self._hanging[x], age)
                self._line(number)[x] = cord

    def _line(self, number: int) -> Line:
        while len(self._lines) <= number:
            self._lines.append({})
        return self._lines[number]
