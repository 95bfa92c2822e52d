"""The lines of a board's picture: finished work as far as it fits, and the cords below."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import partial
from typing import Final

from coach.plan.plan_model import Plan
from coach.tui.drawing.board_frame import ColumnGrid
from coach.tui.drawing.canvas import Placed, Stack
from coach.tui.drawing.cells import BLANK, Cell, Line, aged
from coach.tui.drawing.kept_lines import KeptLines
from coach.tui.drawing.solid.solid_cords import holding_cord, knotting_cord

_STRONG: Final = 8  # lines above the hands in which colours stay as they are
_PALEST: Final = 3  # steps of fading, so that far work keeps its colours too


@dataclass(frozen=True, slots=True)
class ShownLines:
    """The lines above the labels after `done` counts; `room` is their number.

    `order` is how the strands hang then, and `kept` is the cache of lines.
    """

    plan: Plan
    done: int
    order: Sequence[int]
    frame: ColumnGrid
    room: int
    kept: KeptLines = field(default_factory=KeptLines)

    def joined(self, top: Sequence[Line], stack: Stack, newest: int, hanging: int) -> list[Line]:
        """Return the mounting, the work, and the cords below it.

        Args:
            top: The mounting, as far as it is visible.
            stack: The work.
            newest: The current step.
            hanging: The least number of lines of cord below the current tie.
        """
        hands = stack.below(self.hands()) + len(top)
        last = self._last_line(stack.height + len(top), hands, hanging)
        lines = [*top, *stack.lines(last, newest)][:last]
        first = max(0, len(lines) - self.room)
        shown = [self._aged(line, newest, hands - number)
                 for number, line in enumerate(lines[first:], start=first)]  # fmt: skip
        made = self._finished(shown, hands - first, stack.worked_below(last - len(top) - 1))
        cut = tuple(_cut(stack.runs, first - len(top)))
        if cut:
            made[0] = self.kept.kept(made[0], cut, partial(_signed, made[0], cut, self.frame))
        return made

    def _aged(self, line: Line, newest: int, above: int) -> Line:
        """Return a line of cells with step numbers turned into ages.

        A solid picture fades with the distance of a line above the work.
        """
        if self.frame.glyphs.wide:
            far = self.done < self.plan.total  # a finished piece is seen in full colours
            age = min(_PALEST, max(0, (above - _STRONG) // 3)) if far else 0
            return self.kept.kept(line, age, partial(_paler, line, age)) if age else line
        return {
            x: cell if cell.part == "bar" else aged(cell, max(0, newest - cell.age))
            for x, cell in line.items()
        }

    def hands(self) -> list[int]:
        """Return the columns of the next count; all columns if it has none."""
        at = self.frame.columns(self.order)
        count = self.plan.counts[self.done] if self.done < self.plan.total else None
        own = [at[s] for s in (*count.knotters, *count.fillers) if s in at] if count else []
        return own or list(at.values())

    def _last_line(self, deepest: int, hands: int, hanging: int) -> int:
        """Return where the picture ends: below all work, unless that hides the current tie."""
        above = min(3, self.room // 3)
        lowest = max(hands + hanging, hands - 1 - above + self.room)
        return max(self.room, min(deepest + hanging, lowest))

    def _finished(self, lines: list[Line], hands: int, deeper: set[int]) -> list[Line]:
        """Highlight the current cords, and draw all cords on the last line.

        Where the work goes on below the picture, its last line says so.
        """
        cords = _hanging(self.plan, self.done, self.frame, self.order)
        at_hand = {x: cell for x, cell in cords.items() if cell.part != "cord"}
        slack = self.frame.glyphs.slack
        shown = [
            {**line, **at_hand} if number >= hands else line for number, line in enumerate(lines)
        ]
        cords |= {
            x: cords[x]._replace(char=slack) for x in deeper & cords.keys() if x not in at_hand
        }
        return [*shown[:-1], cords]


def _paler(line: Line, age: int) -> Line:
    return {x: aged(cell, age) for x, cell in line.items()}


def _hanging(plan: Plan, done: int, frame: ColumnGrid, order: Sequence[int]) -> Line:
    """Draw the cords below the work, those of the next tie highlighted."""
    line = frame.cords(order)
    if done >= plan.total:
        return line
    count = plan.counts[done]
    if not count.knot and plan.step_of(done).role != "braid":
        return line
    for strand, x in frame.columns(order).items():
        if frame.glyphs.wide:
            if strand in (*count.knotters, *count.fillers):
                for cell in range(x, x + frame.glyphs.wide):
                    line.pop(cell, None)
                drawn = knotting_cord if strand in count.knotters else holding_cord
                line |= drawn(frame.glyphs, x, strand)
        elif strand in count.knotters:
            line[x] = Cell(frame.glyphs.knotting, "knotting", strand)
        elif strand in count.fillers:
            line[x] = Cell(frame.glyphs.holding, "holding", strand)
    return line


def _cut(runs: Sequence[Placed], first: int) -> list[Placed]:
    """Return the uppermost visible tie of each run that continues above the picture."""
    shown: dict[int, Placed] = {}
    for placed in runs:
        if placed.top > first and (
            placed.run not in shown or placed.above < shown[placed.run].above
        ):
            shown[placed.run] = placed
    return [placed for placed in shown.values() if placed.above > 0]


def _signed(line: Line, cut: Sequence[Placed], frame: ColumnGrid) -> Line:
    """Return a line with the number of hidden ties above each run."""
    for placed in cut:
        line = line | _more(placed, frame)
    return line


def _more(placed: Placed, frame: ColumnGrid) -> Line:
    """Return how many ties of a run are above the picture, as the room allows."""
    low, high = placed.columns
    room = high - low + max(1, frame.glyphs.wide) + frame.pitch - 2
    said = next(
        (words for words in (f"{placed.above} more above", f"{placed.above} more")
         if len(words) <= room),
        f"+{placed.above}",
    )  # fmt: skip
    start = max(0, (low + high - len(said) + 1) // 2)
    clear = frame.over((low, high))
    return dict.fromkeys(clear, BLANK) | {
        start + n: Cell(char, "word") for n, char in enumerate(said)
    }
