"""What the bench is given from outside: pieces, projects and plans, settings and helpers."""

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Protocol

from coach.audio.keep_awake import Awake
from coach.audio.speech import Voice
from coach.desk.batch_list import BatchList, Cord
from coach.piece import Note, Sitting, Summary
from coach.piece.changes.project_diff import ProjectChange
from coach.plan.plan_model import Plan
from coach.plan.resize.size_request import Wish
from coach.recording.record import Recording
from coach.session.adjusting.fitting import Wishing
from coach.session.count_mode import PassStore
from coach.session.quick_settings import Colourways
from coach.session.view_model import OrderDesk
from coach.settings.overrides import Kept


class CannotOpen(Exception):
    """A project or piece cannot be opened; the text tells the maker why."""


@dataclass(frozen=True, slots=True)
class Offer:
    """A project that can be begun; `key` is what the shelf knows it by."""

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
        edited: What was edited in the project's file since, if anything was.
        now: The plan that it follows by now, if that is known.
        freehand: Whether it goes on without a pattern, by what is said.
        target: The file that its pattern is written to if the maker names no other.
        without_pattern: Lets it go on without its pattern from where it stands; None where that
            cannot be. Raises CannotOpen, PieceError.
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
        """Say how far the order is, in a sentence."""

    def turn(self) -> str:
        """Change between the two ways of working, and say what holds now."""

    def next_piece(self) -> "OnBench | None":
        """Open the piece that comes next, None where no other is left."""

    def step_over(self) -> "OnBench | None":
        """Open the piece whose turn it is after a step; None where that is the one at hand.

        So it is too where one piece is worked after the other.
        """

    def back_to(self, piece_id: int) -> "OnBench":
        """Open the piece before again, from which the bench went over to the one at hand."""

    def to_ready(self, unit: str) -> BatchList:
        """Return what is made ready for all of its pieces, in lengths of cm or in."""

    def tick(self, cords: Sequence[Cord], mark: str, unit: str, *, back: bool = False) -> str:
        """Tick lengths, or take ticks back.

        Args:
            cords: The lengths.
            mark: cut, labelled or hung.
            unit: cm or in, what lengths are rounded up in.
            back: Whether ticks are taken back.

        Returns:
            What must be known of the stock, in a sentence; "" for nothing.
        """


@dataclass(frozen=True, slots=True)
class FinishedPieceActions:
    """What can be done with a finished piece.

    Attributes:
        again: Begins another piece of the same project. Raises CannotOpen, PieceError.
        put_away: Puts the piece away. Raises PieceError.
    """

    again: Callable[[], OnBench]
    put_away: Callable[[], None]


@dataclass(frozen=True, slots=True)
class Edited:
    """What an edited project file means for a piece under way, and what can be done about it.

    Attributes:
        change: What was edited, and where in the edited plan the piece would stand.
        take: Lets the piece go on with the edited project. Raises CannotOpen, PieceError.
        stay: Leaves the piece with its own project for good. Raises PieceError.
    """

    change: ProjectChange
    take: Callable[[], OnBench]
    stay: Callable[[], None]


@dataclass(frozen=True, slots=True)
class Standing:
    """How a project or piece on the list stands.

    Attributes:
        plan: The plan that it follows.
        done: How many counts are made; all of them for a project that is not begun.
        source: What the shelf knows its project by.
    """

    plan: Plan
    done: int
    source: str


class CannotWrite(Exception):
    """A file that cannot be written; the text tells the maker why."""


@dataclass(frozen=True, slots=True)
class Files:
    """How the pattern of a piece is written to a file.

    Attributes:
        there: Whether there is a file of that name.
        write: Writes a text to a file; returns the sentence that says so. Raises CannotWrite.
    """

    there: Callable[[str], bool]
    write: Callable[[str, str], str]


@dataclass(frozen=True, slots=True)
class Aids:
    """The helpers of one run of the bench.

    Attributes:
        kept: The settings in use.
        passes: The store of passes of the tie at hand.
        colourways: The store of the colourway that each piece is shown in.
        voice: Speaks; None where there is no speech at all.
        awake: Keeps the display on; None where that is not wanted.
        told: What is wrong with the maker's settings, in a line.
        save_colours: Writes a colourway into a project's file, by what the project is known by;
            returns the sentence that says so. Raises WrongColour.
        order_desk: Orders, stock and quotes.
        files: Writes patterns of pieces knotted without one; None where none can be written.
    """

    kept: Kept = field(default_factory=Kept)
    passes: PassStore = field(default_factory=PassStore)
    colourways: Colourways = field(default_factory=Colourways)
    voice: Voice | None = None
    awake: Awake | None = None
    told: str = ""
    save_colours: Callable[[str, str, Mapping[str, str]], str] | None = None
    order_desk: OrderDesk | None = None
    files: Files | None = None


class Shelf(Protocol):
    """Where pieces and projects come from. Its methods raise CannotOpen or PieceError."""

    def pieces(self) -> Sequence[Summary]:
        """Return the pieces, the one last worked on first."""

    def projects(self) -> Sequence[Offer]:
        """Return the projects that can be begun."""

    def fitting(self, key: str) -> Wishing:
        """Return what fits a project, by the key of its offer, before it is begun."""

    def begin(self, key: str, wish: Wish | None = None, *, plan: Plan | None = None) -> OnBench:
        """Begin a new piece of a project.

        Args:
            key: The project, by the key of its offer.
            wish: The size and colours that it is fitted to, if any.
            plan: What follows from the wish, where that is compiled already.
        """

    def begin_freehand(self, record: Recording) -> OnBench:
        """Begin a piece that is knotted without a pattern, with what hangs."""

    def away(self) -> Collection[int]:
        """Return the numbers of the pieces that were put away."""

    def put_away(self, piece_id: int, *, away: bool) -> None:
        """Put a piece away, or take it out again."""

    def rename(self, piece_id: int, name: str) -> str:
        """Give a piece another name, and return it as it is kept."""

    def delete(self, piece_id: int) -> Callable[[], str]:
        """Delete a piece, and return what brings it back and says so."""

    def again(self, piece_id: int) -> OnBench:
        """Begin another piece of the project that a piece was made from."""

    def standing(self, piece_id: int) -> Standing:
        """Return how a piece stands, which is not opened for that."""

    def open(self, piece_id: int) -> OnBench:
        """Open a piece that is under way, by its number in the store."""
