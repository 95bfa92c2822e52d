"""The context in which a step is compiled, and the lines of work that come of it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from types import TracebackType

from coach.board.board import Board, Order
from coach.board.board_errors import BoardError, Twice
from coach.knots.names import mirror_image
from coach.plan.compile.strands import Roster
from coach.plan.steps import Count, Direction, Role
from coach.project.model import Groups, Positions
from coach.yaml_reader.diagnostics import Problem, Span


class Misfit(Exception):
    """A step that cannot be done on the board as it is; carries the problem to report."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem.message)
        self.problem = problem


class placed:  # noqa: N801 - read as a word: with placed(span)
    """Turn a BoardError raised in the block into a Misfit at a place in the file."""

    # No generator: a net opens one of these for each of its knots.
    __slots__ = ("_span",)

    def __init__(self, span: Span) -> None:
        self._span = span

    def __enter__(self) -> None:
        return None

    def __exit__(
        self, kind: type[BaseException] | None, error: object, trace: TracebackType | None
    ) -> None:
        if isinstance(error, BoardError):
            raise Misfit(Problem(error.code, self._span, str(error), error.hint)) from error


@dataclass(frozen=True, slots=True)
class WorkLine:
    """One line of work: see `coach.plan.steps.PlannedStep`."""

    role: Role
    board: Board  # after it
    ties: tuple[Count, ...]
    groups: tuple[Order, ...] = ()
    mover: int | None = None
    direction: Direction = ""
    net_row: int = 0
    new_strands: Order = ()


@dataclass(frozen=True, slots=True)
class StepContext:
    """The board and the roster that a step works on."""

    board: Board
    roster: Roster

    def strands(self, positions: Positions) -> Order:
        """Return the strands at positions, in the order written. Raises Misfit."""
        return self._strands(positions, positions.items)

    def from_left(self, positions: Positions) -> Order:
        """Return the strands at positions as they stand from the left. Raises Misfit.

        Over the seam of round work, position n + 1 stands to the right of n.
        """
        return self.board.from_left(self._strands(positions, sorted(positions.items)))

    def _strands(self, positions: Positions, items: Sequence[int]) -> Order:
        with placed(positions.span):
            found = self.board.strands(None if positions.everything else items)
        if not found:
            raise Misfit(Problem("STRANDS", positions.span, "There is no strand here."))
        return found

    def one(self, positions: Positions) -> int:
        """Return the strand at a single position. Raises Misfit."""
        return self.strands(positions)[0]

    def groups(self, groups: Groups) -> tuple[Order, ...]:
        """Return the strands of each group from the left. Raises Misfit where groups share one."""
        found = tuple(self.from_left(member) for member in groups.members)
        with placed(groups.span):
            check_apart(found, self.board)
        return found

    def knot(self, name: str) -> str:
        """Return the knot really tied: in mirrored work, the mirror image."""
        return mirror_image(name) if self.board.mirrored else name

    def place(self, positions: Positions, most: int) -> int:
        """Return a position, at most `most`, where strands are to be put in. Raises Misfit."""
        at = positions.items[0] if positions.items else most
        if not 1 <= at <= most:
            message = f"There is no place {at}: new strands can hang from 1 to {most}."
            raise Misfit(
                Problem("OFF-BOARD", positions.span, message, f"Write a place from 1 to {most}.")
            )
        return at


def check_apart(groups: Sequence[Order], board: Board) -> None:
    """Check that no two groups share a strand. Raises Twice."""
    if len(set().union(*groups)) == sum(map(len, groups)):
        return
    seen: set[int] = set()
    for group in groups:
        for strand in group:
            if strand in seen:
                raise Twice(board.here.index(strand) + 1)
            seen.add(strand)


def single_count(board: Board, strands: Order = (), new: Order = ()) -> Iterator[WorkLine]:
    """Yield the line of a step without a knot, which is one count.

    Args:
        board: The board after the step.
        strands: The strands that it is about.
        new: Those of them that it adds.
    """
    yield WorkLine("plain", board, (Count("", strands),), (strands,), new_strands=new)


def refuse(code: str, span: Span, message: str, hint: str = "") -> Misfit:
    """Return the exception for a step that cannot be done as written.

    Args:
        code: The code of the problem in reports.
        span: Where its words stand in the file.
        message: What is wrong.
        hint: What to write instead.
    """
    return Misfit(Problem(code, span, message, hint))
