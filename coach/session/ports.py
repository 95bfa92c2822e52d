"""What the screens need from the rooms behind them: pieces under way, projects, plans."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

from coach.piece import Note, Sitting, Summary

if TYPE_CHECKING:
    from coach.piece.changes.project_diff import Change
    from coach.plan.plan_model import Plan
    from coach.plan.resize.size_request import Wish


class CannotOpen(Exception):
    """A project or piece that cannot be opened; its text tells the maker why."""


@dataclass(frozen=True, slots=True)
class Offer:
    """One project that can be begun; `key` is what the shelf knows it by."""

    key: str
    title: str
    about: str = ""
    skill: str = ""


@dataclass(frozen=True, slots=True)
class OnBench:
    """A piece opened for work; `left_ms` is when it was left before, if it ever was.

    `plan` is the one that it was begun with, `now` the one that it follows by now, if that is
    known. `earlier` are the notes of earlier pieces of the same project. `edited` is there if the
    project's file is not what the piece follows.
    """

    plan: "Plan"
    sitting: Sitting
    left_ms: int | None = None
    earlier: tuple[Note, ...] = ()
    edited: "Edited | None" = None
    now: "Plan | None" = None


@dataclass(frozen=True, slots=True)
class Edited:
    """The project file was edited since: what that means, and what can be done about it.

    `take` lets the piece go on with the edited project, `stay` leaves it with its own for good.
    Both raise CannotOpen or PieceError.
    """

    change: "Change"
    take: Callable[[], OnBench]
    stay: Callable[[], None]


@dataclass(frozen=True, slots=True)
class Opening:
    """A piece that is about to be opened: its line in the list, and what opens it.

    `open` raises CannotOpen or PieceError.
    """

    piece: Summary
    open: Callable[[], OnBench]


class Shelf(Protocol):
    """Where pieces and projects come from. Its methods raise CannotOpen or PieceError."""

    def pieces(self) -> Sequence[Summary]:
        """Return the pieces, last touched first."""

    def projects(self) -> Sequence[Offer]:
        """Return the projects that can be begun."""

    def plan(self, key: str) -> "Plan":
        """Return the plan of a project."""

    def begin(self, key: str, wish: "Wish | None" = None, *, plan: "Plan | None" = None) -> OnBench:
        """Begin a new piece of a project, fitted as it is wished for, which `plan` follows."""

    def open(self, piece_id: int) -> OnBench:
        """Open a piece that is under way."""
