"""The interfaces to the outside that the bench is given: shelf, orders, files, helpers."""

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Protocol

from coach.audio.keep_awake import Awake
from coach.audio.speech import Voice
from coach.desk.batch_lines import BatchList, Cord
from coach.piece import Note, Sitting, Summary
from coach.piece.entering.project_diff import ProjectChange
from coach.plan.plan_model import Plan
from coach.plan.resize.size_request import Wish
from coach.recording.record import Recording
from coach.session.adjusting.fitting import FittingController
from coach.session.count_mode import PassStore
from coach.session.quick_settings import Colourways
from coach.session.view_model import OrderDesk
from coach.settings.overrides import Kept


class CannotOpen(Exception):
    """A project or piece cannot be opened; the text tells the maker why."""


@dataclass(frozen=True, slots=True)
class ProjectOffer:
    """A project that can be begun; `key` is its key on the shelf."""

    key: str
    title: str
    about: str = ""
    skill: str = ""
    total: int = 0  # the counts of its plan


@dataclass(frozen=True, slots=True)
class OnBench:
    """A piece opened for work.

    Attributes:
        plan: The plan that it was begun with.
        sitting: The piece in the store.
        left_ms: When it was left before, in UTC epoch milliseconds; None if it never was.
        earlier: The notes of earlier pieces of the same project.
        edited: The edits in the project's file since, if any.
        now: The plan that it follows by now, if that is known.
        freehand: Whether it goes on by sentences, without a pattern.
        target: The default file for its pattern.
        without_pattern: Lets it go on without its pattern from where it is; None where that is
            impossible. Raises CannotOpen, PieceError.
        ending: What can be done with it once it is finished; None for nothing.
        batch: The order that it belongs to, if any.
    """

    plan: Plan
    sitting: Sitting
    left_ms: int | None = None
    earlier: tuple[Note, ...] = ()
    edited: "Edited | None" = None
    ending: "FinishedPieceActions | None" = None
    batch: "Batch | None" = None
    now: "Plan | None" = None
    freehand: bool = False
    target: str = ""
    without_pattern: "Callable[[], OnBench] | None" = None


class Batch(Protocol):
    """The order that a piece belongs to. Its methods raise CannotOpen or PieceError."""

    @property
    def over_all(self) -> bool:
        """Whether one step is worked over all of its pieces."""

    def told(self) -> str:
        """Return the order's progress, in a sentence."""

    def turn(self) -> str:
        """Change between the two ways of working, and return the new one in words."""

    def next_piece(self) -> "OnBench | None":
        """Open the piece that comes next, None where no other is left."""

    def step_over(self) -> "OnBench | None":
        """Open the piece whose turn it is after a step; None if that is the current one.

        It also is where the order is worked piece by piece.
        """

    def back_to(self, piece_id: int) -> "OnBench":
        """Open the piece again from which the bench changed to the current one."""

    def to_ready(self, unit: str) -> BatchList:
        """Return what is to be prepared for all of its pieces, in lengths of cm or in."""

    def tick(self, cords: Sequence[Cord], mark: str, unit: str, *, back: bool = False) -> str:
        """Tick lengths, or take ticks back.

        Args:
            cords: The lengths.
            mark: "cut", "labelled" or "hung".
            unit: "cm" or "in": the unit in which lengths are rounded up.
            back: Whether ticks are taken back.

        Returns:
            A warning about the stock, in a sentence; "" for none.
        """


@dataclass(frozen=True, slots=True)
class FinishedPieceActions:
    """What can be done with a finished piece.

    Attributes:
        again: Begin another piece of the same project. Raises CannotOpen, PieceError.
        put_away: Put the piece away. Raises PieceError.
    """

    again: Callable[[], OnBench]
    put_away: Callable[[], None]


@dataclass(frozen=True, slots=True)
class Edited:
    """What an edited project file means for a piece under way, and what can be done about it.

    Attributes:
        change: The edits, and the piece's place in the edited plan.
        take: Let the piece go on with the edited project. Raises CannotOpen, PieceError.
        stay: Keep the piece's own project for good. Raises PieceError.
    """

    change: ProjectChange
    take: Callable[[], OnBench]
    stay: Callable[[], None]


@dataclass(frozen=True, slots=True)
class Standing:
    """A project or piece on the list, with its progress.

    Attributes:
        plan: The plan that it follows.
        done: How many counts are made; all of them for a project that is not begun.
        source: The key of its project on the shelf.
    """

    plan: Plan
    done: int
    source: str


class CannotWrite(Exception):
    """A file cannot be written; the text tells the maker why."""


@dataclass(frozen=True, slots=True)
class Files:
    """How the pattern of a piece is written to a file.

    Attributes:
        there: Return whether there is a file of that name.
        write: Write a text to a file; return the sentence that says so. Raises CannotWrite.
    """

    there: Callable[[str], bool]
    write: Callable[[str, str], str]


@dataclass(frozen=True, slots=True)
class Aids:
    """The helpers of one run of the bench.

    Attributes:
        kept: The settings in use.
        passes: The store of passes of the next tie.
        colourways: The store of the colourway that each piece is shown in.
        voice: Speaks; None where there is no speech at all.
        awake: Keeps the display on; None where that is not wanted.
        told: What is wrong with the maker's settings, in a line.
        save_colours: Write a colourway into a project's file, given the project's key; return the
            sentence that says so. Raises WrongColour.
        order_desk: Make the desk of orders, stock and quotes, the same one each time.
        files: Writes patterns of pieces knotted without one; None where none can be written.
    """

    kept: Kept = field(default_factory=Kept)
    passes: PassStore = field(default_factory=PassStore)
    colourways: Colourways = field(default_factory=Colourways)
    voice: Voice | None = None
    awake: Awake | None = None
    told: str = ""
    save_colours: Callable[[str, str, Mapping[str, str]], str] | None = None
    order_desk: Callable[[], OrderDesk] | None = None
    files: Files | None = None


class Shelf(Protocol):
    """The source of pieces and projects. Its methods raise CannotOpen or PieceError."""

    def pieces(self) -> Sequence[Summary]:
        """Return the pieces, the last worked on first."""

    def projects(self) -> Sequence[ProjectOffer]:
        """Return the projects that can be begun."""

    def fitting(self, key: str) -> FittingController:
        """Return the fitting of a project before it is begun, by the key of its offer."""

    def begin(self, key: str, wish: Wish | None = None, *, plan: Plan | None = None) -> OnBench:
        """Begin a new piece of a project.

        Args:
            key: The project, by the key of its offer.
            wish: The size and colours that it is fitted to, if any.
            plan: The plan of that wish, if it is compiled already.
        """

    def begin_freehand(self, record: Recording) -> OnBench:
        """Begin a piece without a pattern, given what hangs."""

    def away(self) -> Collection[int]:
        """Return the numbers of the pieces that were put away."""

    def put_away(self, piece_id: int, *, away: bool) -> None:
        """Put a piece away, or take it out again."""

    def rename(self, piece_id: int, name: str) -> str:
        """Rename a piece, and return the name as it is stored."""

    def delete(self, piece_id: int) -> Callable[[], str]:
        """Delete a piece, and return a function that restores it and returns a sentence."""

    def again(self, piece_id: int) -> OnBench:
        """Begin another piece of the project that a piece was made from."""

    def standing(self, piece_id: int) -> Standing:
        """Return a piece's plan and progress without opening it."""

    def open(self, piece_id: int) -> OnBench:
        """Open a piece under way, by its number in the store."""
