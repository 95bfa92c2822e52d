"""Problems as values: collected while reading and compiling, shown once at the end."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

Severity = Literal["error", "warning"]


@dataclass(frozen=True, slots=True, order=True)
class Span:
    """A place in a file: 1-based line and column, and a length in characters."""

    line: int = 1
    column: int = 1
    length: int = 1


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong in a file: what, where, and what to write (`hint`)."""

    code: str
    span: Span
    message: str
    hint: str = ""
    severity: Severity = "error"


class Problems:
    """Collects problems; the same one in the same place is kept once."""

    def __init__(self, found: Iterable[Problem] = ()) -> None:
        self._found: dict[tuple[str, Span], Problem] = {}
        for problem in found:
            self.put(problem)

    def put(self, problem: Problem) -> None:
        """Add a problem unless its code was reported at that place before."""
        self._found.setdefault((problem.code, problem.span), problem)

    def error(self, code: str, span: Span, message: str, hint: str = "") -> None:
        """Add an error.

        Args:
            code: Its code, one of `coach.yaml_reader.codes`.
            span: Where in the file it is.
            message: What is wrong, in a sentence.
            hint: What to do, in a sentence; "" where the message says so.
        """
        self.put(Problem(code, span, message, hint))

    def warn(self, code: str, span: Span, message: str, hint: str = "") -> None:
        """Add a warning: the file can be used, but a colleague would ask.

        Args:
            code: Its code, one of `coach.yaml_reader.codes`.
            span: Where in the file it is.
            message: What is odd, in a sentence.
            hint: What to do, in a sentence; "" where the message says so.
        """
        self.put(Problem(code, span, message, hint, "warning"))

    @property
    def errors(self) -> int:
        """How many of the problems are errors."""
        return sum(problem.severity == "error" for problem in self._found.values())

    def sorted(self) -> tuple[Problem, ...]:
        """Return all problems in the order of the file."""
        return tuple(sorted(self._found.values(), key=lambda p: (p.span, p.code)))
