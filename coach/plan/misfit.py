"""A step that the board does not allow, with its place in the file."""

from collections.abc import Iterator
from contextlib import contextmanager

from coach.board.errors import BoardError
from coach.project.problems import Problem, Span


class Misfit(Exception):
    """Carries the problem that a step turned out to have on the board."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem.message)
        self.problem = problem


@contextmanager
def placed(span: Span) -> Iterator[None]:
    """Give what the board refuses inside this block its place in the file. Raises Misfit."""
    try:
        yield
    except BoardError as error:
        raise Misfit(Problem(error.code, span, str(error), error.hint)) from error
