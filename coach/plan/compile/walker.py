"""The walk through a project's steps on the board: parts and repeats become one flat sequence."""

from collections.abc import Mapping, Sequence

from coach.board.board import Board
from coach.plan.compile.checks import repeats_a_round, warn_unless_back
from coach.plan.compile.free_groups import FreeGroups
from coach.plan.compile.open_choices import LeftOpen
from coach.plan.compile.side_boards import (
    Boards,
    check_made,
    mirrored_start,
    record_turn,
    waits_above,
)
from coach.plan.compile.step_context import Misfit, StepContext, WorkLine, refuse
from coach.plan.compile.step_lines import StepLines
from coach.plan.compile.strands import Roster, hang_start, middles
from coach.plan.steps import EVERYTHING, Count, PlannedStep, Section, StepList
from coach.project import model
from coach.yaml_reader.diagnostics import Problems

GROUP = "group"
_COMES_AND_GOES = (model.Add, model.LayAside, model.TakeUp, model.Each, model.BringDown)


class Lost(Exception):
    """The strands cannot be followed further: a step that adds or removes some failed."""


class Unfolding:
    """Collects planned steps and counts while it follows the strands."""

    def __init__(
        self,
        project: model.Project,
        roster: Roster,
        problems: Problems,
        expected: Mapping[int, int] | None = None,
    ) -> None:
        """Set up for a project.

        Args:
            project: The steps, and what was chosen of open ones.
            roster: The strands; it hands out more as pieces are added.
            problems: Collects what cannot be done.
            expected: Which of the named strands ties in steps that leave it open, by their numbers;
                see `coach.plan.compile.open_choices`. None before the plan was measured.
        """
        self.project = project
        self.roster = roster
        self.problems = problems
        self.unread = False
        self.steps: list[PlannedStep] = []
        self.counts: list[Count] = []
        self._frame, self._number = EVERYTHING, 1
        self._in_groups = 0
        self._free = FreeGroups()
        self._open = LeftOpen(project.chosen, expected or {})
        self._opened = -1
        self._asked: model.Step | None = None
        self._unfolded = False
        self.boards = Boards()
        self._known = StepLines(project, roster, self.boards)

    def walk_middles(self, start: model.Start, order: tuple[int, ...]) -> None:
        """Work the steps that come before the pieces are folded. Raises Lost."""
        self._unfolded = True
        pieces = middles(start, order, self.roster)
        self._walk(start.before_fold, Board.hung(pieces), "before folding")
        self._unfolded = False

    def walk_work(self, order: tuple[int, ...], first: Sequence[str] = ()) -> Board:
        """Work all steps and return the board as it hangs at the end.

        Args:
            order: The strands as they hang at the start.
            first: Names of parts made apart before everything else.

        Raises:
            Lost: A step that adds or removes strands cannot be done.
        """
        start = self.project.start
        before = self.boards.open(Section("", start, order, order))
        self._wait_above(start, order)
        for name in first:
            self._make(self.project.apart[name])
        self.walk_middles(start, order)
        board = self._walk(self.project.work, Board.hung(order, closed=start.closed))
        self.boards.close(board.whole, before)
        return board

    def _wait_above(self, start: model.Start, order: tuple[int, ...]) -> None:
        if start.from_middle:
            self.boards.waiting[self.boards.at] = waits_above(self.roster, order)

    def _make(self, apart: model.Apart) -> None:
        """Make all of a part that is made by itself, each piece on a board of its own."""
        # A part made inside a group is no part of that group: it has a board of its own.
        frame, number, groups = self._frame, self._number, self._in_groups
        self._in_groups = 0
        self.boards.under_way.append(apart.name)
        outer, self.roster.apart = self.roster.apart, apart.name
        for turn in range(1, apart.make + 1):
            mirrored = _turned(apart.mirror, turn)
            self._make_one(apart, turn, mirrored=mirrored)
        self.boards.under_way.pop()
        self.roster.apart = outer
        self.boards.made[apart.name] += apart.make
        self._frame, self._number, self._in_groups = frame, number, groups

    def _make_one(self, apart: model.Apart, turn: int, *, mirrored: bool) -> None:
        start = mirrored_start(apart.start) if mirrored else apart.start
        order = hang_start(start, self.roster)
        section = Section(apart.name, start, order, order, turn, apart.make, mirrored)
        before = self.boards.open(section)
        self._wait_above(start, order)
        self.walk_middles(start, order)
        board = Board.hung(order, closed=start.closed)
        board = board.enter(order, mirrored=True) if mirrored else board
        board = self._walk(apart.work, board, apart.name, turn, apart.make)
        self.boards.close(board.whole, before)

    def _walk(
        self, steps: Sequence[model.Step], board: Board, name: str = "", turn: int = 1, of: int = 1
    ) -> Board:
        outer, number = self._frame, self._number
        free = self._free.of_group(self._in_groups) if name == GROUP else 0
        self._frame = StepList(name, turn, of, board.mirrored, len(steps), outer, number, free)
        for self._number, step in enumerate(steps, start=1):
            board = self._take(step, board)
        self._frame, self._number = outer, number
        return board

    def _take(self, step: model.Step, board: Board) -> Board:
        """Do one step; one that cannot be done leaves the board as it is, and a problem."""
        if isinstance(step, model.Unreadable):
            self.unread = True
            # Every position after it would mean another strand: further problems would be false.
            if step.changes_count:
                raise Lost
            return board
        try:
            self._free.check(step)
            if isinstance(step, model.Use):
                return self._use(step, board)
            if isinstance(step, model.Each):
                return self._each(step, board)
            if isinstance(step, model.Make):
                check_made(step, self.boards)
                self._make(self.project.apart[step.apart])
                return board
            return self._lines(step, board)
        except Misfit as misfit:
            self.problems.put(misfit.problem)
            # Without its strands the rest cannot be followed, and would only seem wrong.
            if isinstance(step, _COMES_AND_GOES):
                raise Lost from misfit
            return board

    def _lines(self, step: model.Step, board: Board) -> Board:
        # Reported before it is compiled, since the board itself would allow it.
        self._check_place(step)
        before = board
        self._opened, taken = self._open.taken(step, board)
        self._asked = None if self._opened < 0 else step
        for line in self._known.lines(taken, board):
            self._keep(taken, board, line)
            board = line.board
        if isinstance(step, model.EndForEnd):
            record_turn(before, self.boards)
        return board

    def _check_place(self, step: model.Step) -> None:
        """Refuse what cannot be done inside a group, or before the pieces are folded."""
        if isinstance(step, (model.Flip, model.EndForEnd)) and self._in_groups:
            message = "The whole work cannot be turned over inside ‘each’."
            self.problems.error(
                "FLIP", step.about.span, message, "Put ‘flip’ before or after ‘each’."
            )
        if isinstance(step, model.Add) and self._unfolded:
            message = "New pieces cannot be hung before the others are folded."
            raise refuse("PLACE", step.about.span, message, "Put ‘add’ under ‘work’.")

    def _keep(self, step: model.Step, board: Board, line: WorkLine) -> None:
        first, ties = len(self.counts), line.ties
        self.steps.append(
            PlannedStep(
                len(self.steps), step, line.role, first, len(ties), board.whole, line.board.whole,
                line.groups, line.mover, line.direction, board.mirrored, line.net_row,
                self._unfolded, self._frame, self._number, line.new_strands, board.here,
                self.boards.at, open_number=self._opened, asked=self._asked,
            )
        )  # fmt: skip
        self.counts += ties

    def _use(self, step: model.Use, board: Board) -> Board:
        steps = self.project.parts.get(step.part, ())
        unit = repeats_a_round(step)
        period = step.returns_after or unit
        first = before = board
        once, checked = board, step.times == 1
        for turn in range(1, step.times + 1):
            mirrored = _turned(step.mirror, turn)
            inside = self._known.window(board, board.here, mirrored=True) if mirrored else board
            inside = self._walk(steps, inside, step.part, turn, step.times)
            board = inside.leave() if mirrored else inside
            # The first round shows what every later one does, which the advice is worked out from.
            once = board if turn == unit else once
            # Once warned, a step is not looked at again: its later repeats go wrong in the same
            # way.
            if turn % period == 0 and turn >= unit and not checked:
                checked = self._warned(step, (before, board), (first, once))
                before = board
        return board

    def _warned(
        self, step: model.Use, boards: tuple[Board, Board], once: tuple[Board, Board]
    ) -> bool:
        """Warn, once a step, if the colours are not back; return whether they are not."""
        warning = warn_unless_back(step, boards, once, self.roster)
        if warning:
            self.problems.put(warning)
        return warning is not None

    def _each(self, step: model.Each, board: Board) -> Board:
        groups = StepContext(board, self.roster).groups(step.groups)
        self._in_groups += 1
        if step.any_order:
            self._free.begin(self._in_groups)
        for turn, group in enumerate(groups, start=1):
            local = board.from_left(group)
            inside = self._known.window(board, local, mirrored=_turned(step.mirror, turn))
            board = self._walk(step.steps, inside, GROUP, turn, len(groups)).leave()
        self._in_groups -= 1
        if step.any_order:
            self._free.end()
        return board


def _turned(mirror: model.Mirror, turn: int) -> bool:
    """Whether repeat `turn`, from 1, is worked mirrored."""
    return mirror == "all" or (mirror == "every second" and turn % 2 == 0)
