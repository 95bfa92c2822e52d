"""The error of a step that the board does not allow, with its place in the file."""

from types import TracebackType

from coach.board.board_errors import BoardError
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
