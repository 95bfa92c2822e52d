"""The parts of a plan: strands, counts, steps, and the ledger of a strand.

Strands are named by their index into `Plan.strands`; counts and steps by theirs.
A *done* number is how many counts have been made, from 0 to `len(plan.counts)`.
"""

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal, NamedTuple

from coach.plan.tension import NOMINAL, Hands
from coach.project.model import Project, Start, Step

Origin = Literal["hung", "added", "wrap", "clasp", "lead"]
Direction = Literal["", "right", "left"]
Role = Literal["hung", "row", "weave", "knot", "around", "gathering", "net", "braid", "plain"]


@dataclass(frozen=True, slots=True)
class Strand:
    """One end of one cut piece, `reed.1a`. `single` if its piece is not folded."""

    id: str
    cord: str
    piece: int
    end: Literal["a", "b"]
    origin: Origin = "hung"
    single: bool = False
    apart: str = ""  # what is made apart of it


# Counts, visits and steps are named tuples: a plan has up to 250,000 of each, and a frozen
# dataclass takes several times as long to make.


class Count(NamedTuple):
    """One count: a tie with its knotters and fillers, or (knot == "") a step without a knot.

    `passes` is the number of its turns of the hand (1 for a count without a knot). Repeated work
    shares its counts; `Plan.step_of` tells which step one belongs to.
    """

    knot: str
    knotters: tuple[int, ...] = ()
    fillers: tuple[int, ...] = ()
    passes: int = 1


@dataclass(frozen=True, slots=True)
class Visit:
    """One level of where in the piece a step stands: repeat `turn` of `turns` of a part or group.

    `step` of `steps` is the place among the steps written in that part, both from 1.
    """

    name: str
    turn: int
    turns: int
    mirrored: bool
    step: int
    steps: int
    free: bool = False  # a group that may be worked before others and after


@dataclass(frozen=True, slots=True)
class StepList:
    """A list of steps as it is worked once: repeat `turn` of `turns` of a part or group.

    It has `steps` steps, and is the step `number` of the list `outer`; the outermost list has none.
    `free` numbers the groups' `each`, from 1, where they are worked in any order.
    """

    name: str
    turn: int
    turns: int
    mirrored: bool
    steps: int
    outer: "StepList | None"
    number: int
    free: int = 0


EVERYTHING = StepList("", 1, 1, mirrored=False, steps=1, outer=None, number=1)


@dataclass(frozen=True, slots=True)
class Arm:
    """One group of an `each` in any order: the number of that `each`, and of the group, from 1."""

    each: int
    number: int


@dataclass(frozen=True, slots=True)
class PlannedStep:
    """One line of work as the maker thinks of it, with the board before and after it.

    `groups` holds the strands of each group from the left, groups in the order they are worked;
    a row has one group, its mover first. An `unfolded` step is worked before the pieces are
    folded, each piece named by its strand a. It is the step `number` of the list `frame`. Where a
    step was left for another group, each stretch of it is a step here; `earlier` and `later` are
    its counts before this stretch and after it. A step that leaves a choice to the maker has its
    number among those, `open_number`, and `asked` is the step as the file has it.
    """

    index: int
    source: Step
    role: Role
    first: int  # its first count
    counts: int
    before: tuple[int, ...]  # strands from the left
    after: tuple[int, ...]
    groups: tuple[tuple[int, ...], ...]
    mover: int | None = None
    direction: Direction = ""
    mirrored: bool = False
    net_row: int = 0  # 1-based where the step is a row of a net
    unfolded: bool = False
    frame: StepList = EVERYTHING
    number: int = 1
    new_strands: tuple[int, ...] = ()
    window: tuple[int, ...] = ()  # the strands that it could work on: all, or those of a group
    section: int = 0  # of the plan's sections
    earlier: int = 0
    later: int = 0
    open_number: int = -1
    asked: Step | None = None

    @property
    def end(self) -> int:
        """The count after its last one."""
        return self.first + self.counts

    @property
    def of(self) -> int:
        """How many counts the whole step has, in all its stretches."""
        return self.earlier + self.counts + self.later

    @property
    def arm(self) -> Arm | None:
        """The group that it belongs to, where groups are worked in any order."""
        frame: StepList | None = self.frame
        while frame is not None and not frame.free:
            frame = frame.outer
        return Arm(frame.free, frame.turn) if frame else None

    @property
    def note(self) -> str:
        """The file's note on it; a note to be said once is left out in later repeats."""
        about = self.source.about
        once = about.note_once if all(visit.turn == 1 for visit in self.trail) else ""
        return " ".join(filter(None, (once, about.note)))

    @property
    def trail(self) -> tuple[Visit, ...]:
        """Where in the piece it stands, from the outermost list of steps inwards."""
        visits: list[Visit] = []
        frame, number = self.frame, self.number
        while frame.outer is not None:
            visits.append(
                Visit(
                    frame.name, frame.turn, frame.turns, frame.mirrored, number, frame.steps,
                    free=bool(frame.free),
                )
            )  # fmt: skip
            frame, number = frame.outer, frame.number
        return tuple(reversed(visits))


@dataclass(frozen=True, slots=True)
class Section:
    """The work on one board: the piece itself, or a part made apart.

    Work begun in the middle has two, one for each side; the second is an `end` of section `of`.
    `name` is that of the part made apart, "" for the piece itself, made as `turn` of `turns`.
    """

    name: str
    start: Start
    order: tuple[int, ...]  # strands from the left at its start
    finish: tuple[int, ...]
    turn: int = 1
    turns: int = 1
    mirrored: bool = False
    end: bool = False
    of: int = 0


@dataclass(frozen=True, slots=True)
class Ledger:
    """Running totals of one strand: after count `at[i]` it has used `used_mm[i]` in all.

    `float_mm` is its longest run beside the work from one tie to the next, and count `float_at`
    is the one that ties it again.
    """

    at: Sequence[int]
    used_mm: Sequence[float]
    float_mm: float = 0.0
    float_at: int = 0

    def used_after(self, done: int) -> float:
        """Return the cord used, in mm, when `done` counts have been made."""
        found = bisect_right(self.at, done - 1)
        return self.used_mm[found - 1] if found else 0.0

    @property
    def total_mm(self) -> float:
        """Cord used when all is done, in mm."""
        return self.used_mm[-1] if self.used_mm else 0.0


@dataclass(frozen=True, slots=True)
class Unfolded:
    """A project unfolded to its counts in order, not measured yet."""

    project: Project
    strands: tuple[Strand, ...]
    start: tuple[int, ...]
    finish: tuple[int, ...]
    steps: tuple[PlannedStep, ...]
    counts: tuple[Count, ...]
    repeats: Mapping[str, int]
    hands: Hands = NOMINAL  # whose cord and size are told
    sections: tuple[Section, ...] = ()  # of work on more than one board, else none
    written: "Unfolded | None" = None  # the plan in the file's order, where groups changed places
    worked: tuple[int, ...] = ()  # then: which count of it each count is

    @property
    def total(self) -> int:
        """How many counts there are in all."""
        return len(self.counts)

    def step_at(self, done: int) -> PlannedStep | None:
        """Return the step of the count that comes after `done`, None when all is done."""
        if done >= self.total:
            return None
        return self.step_of(done)

    def step_of(self, count: int) -> PlannedStep:
        """Return the step that a count belongs to, by the count's index."""
        return self.steps[bisect_right(self.steps, count, key=_first) - 1]


def _first(step: PlannedStep) -> int:
    return step.first
