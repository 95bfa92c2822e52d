"""The maker's desk: the pieces that are kept and the projects at hand, joined for the screens.

What reads projects is loaded when one is to be read: a piece's name is shown before.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from coach.cli.missing import NoSuchProject
from coach.cli.shelf import Found, by_key, find, shelf
from coach.piece import (
    Clock,
    Sitting,
    State,
    Store,
    Summary,
    find_unfinished,
    look,
    notes_before,
    pieces,
    start,
)
from coach.piece.events import Fitted
from coach.session.ports import CannotOpen, Edited, Offer, OnBench
from coach.text import one_line
from coach.yaml_reader.file_loader import load

if TYPE_CHECKING:
    from coach.piece.learning.beliefs import Beliefs
    from coach.plan.plan_model import Plan
    from coach.plan.resize.size_request import Wish
    from coach.project.model import Project
    from coach.yaml_reader.diagnostics import Problem


class Unsound(CannotOpen):
    """A project file with problems; `lines` tell them all."""

    def __init__(self, path: Path, lines: Sequence[str]) -> None:
        super().__init__(f"{one_line(str(path))} has problems: {lines[0] if lines else ''}")
        self.lines = tuple(lines)


class Desk:
    """Opens and begins pieces; what it is asked for, it reads from the store and the files."""

    def __init__(self, store: Store, clock: Clock, skill: Callable[[], str] = str) -> None:
        """Take what keeps pieces, and what tells the maker's skill when a first piece is begun."""
        self._store = store
        self._clock = clock
        self._skill = skill

    def pieces(self) -> Sequence[Summary]:
        """Return the pieces, last touched first."""
        return pieces(self._store)

    def projects(self) -> Sequence[Offer]:
        """Return the projects that come with the program and can be begun."""
        offers = []
        for path in shelf():
            plan = _plan_of(load(path).text or "")
            if plan:
                project = plan.project
                offers.append(Offer(path.stem, project.title, project.about, project.skill))
        return offers

    def plan(self, key: str) -> Plan:
        """Return the plan of a project by path or shelf name, fitted to its own wish.

        Raises CannotOpen.
        """
        from coach.piece.learning.carry_over import carry_over
        from coach.plan.resize.aim import aimed

        plan = sound_plan(_found(key))[1]
        plan = _in_hands(plan, carry_over(self._store, plan.project).beliefs)
        found = aimed(plan)
        return found.plan if found else plan

    def begin(
        self, key: str, wish: Wish | None = None, name: str = "", *, again: bool = True
    ) -> OnBench:
        """Begin a new piece, fitted to its file's own wish and to `wish`, which comes first.

        Unless `again`, one that another coach has begun of the project by now is opened instead.
        Raises CannotOpen, PieceError.
        """
        from coach.piece.learning.carry_over import carry_over
        from coach.piece.reports.forecast import Forecast
        from coach.plan.resize.aim import own_wish

        found = _found(key)
        text, plan = sound_plan(found)
        carried = carry_over(self._store, _wished(plan.project, wish), self._skill())
        plan = _in_hands(plan, carried.beliefs)
        own = own_wish(plan)
        wish = own.also(wish) if wish else own
        total = _total_of(plan, wish) if wish else plan.total
        paces = Forecast(plan).prior(carried.paces)
        with self._store.atomic():
            there = None if again else find_unfinished(self._store, found.key)
            piece_id = there.id if there else start(
                self._store, self._clock, title=plan.project.title, project_text=text,
                source=found.key, total=plan.total, name=name, paces=paces,
                beliefs=carried.beliefs,
            )  # fmt: skip
        if there:
            return self.open(piece_id)
        opened = self._on_bench(piece_id, plan, None)
        if not wish:
            return opened
        opened.sitting.jot(Fitted, at_done=0, total=total, wish=wish.to_data())
        return self.open(piece_id)

    def under_way(self, key: str) -> Summary | None:
        """Return the piece of a project that was last worked on and is not finished, if any."""
        return find_unfinished(self._store, _found(key).key)

    def unfinished(self, key: str) -> OnBench | None:
        """Open that piece. Raises CannotOpen, PieceError."""
        piece = self.under_way(key)
        return self.open(piece.id) if piece else None

    def open(self, piece_id: int) -> OnBench:
        """Open a piece with the project's text that it was begun with. Raises CannotOpen."""
        state = look(self._store, piece_id)
        plan = _plan_of(state.project_text)
        if plan is None or not _follows(plan, state):
            raise CannotOpen(
                f"{one_line(state.title)} was begun with another version of the coach, which "
                "counted it differently. It is kept as it is; go on with that version."
            )
        plan = _in_hands(plan, state.beliefs)
        opened = self._on_bench(
            piece_id, _fitted(plan, state), state.touched_ms if state.done else None
        )
        return replace(opened, edited=self._edited(piece_id, state, plan))

    def _edited(self, piece_id: int, state: State, plan: Plan) -> Edited | None:
        """Return what became of a piece's file since, unless it is gone, unsound or declined."""
        found = by_key(state.source)
        if found is None or state.finished:
            return None
        text = load(found).text
        if text in (None, state.project_text):
            return None
        from coach.piece.changes.project_diff import change_for, stay, take_over, text_sum

        if text_sum(text or "") == state.declined:
            return None
        new = _plan_of(text or "")
        if new is None:
            return None
        change = change_for(state, plan, new, text or "")

        def take() -> OnBench:
            if change.refused:
                raise CannotOpen(change.refused)
            take_over(self._store, self._clock, piece_id, change)
            return self.open(piece_id)

        def keep_on() -> None:
            stay(self._store, self._clock, piece_id, change)

        return Edited(change, take, keep_on)

    def _on_bench(self, piece_id: int, plan: Plan, left_ms: int | None) -> OnBench:
        from coach.piece.reports.forecast import Forecast

        knots = [count.knot for count in plan.counts]
        sitting = Sitting(self._store, self._clock, piece_id, knots, Forecast(plan).work)
        return OnBench(plan, sitting, left_ms, notes_before(self._store, piece_id))


def _plan_of(text: str) -> Plan | None:
    """Return the plan of a project's text, None where it has errors."""
    from coach.plan.from_text import read_plan

    return read_plan(text).plan


def _in_hands(plan: Plan, beliefs: Beliefs) -> Plan:
    """Return a plan in the hands that beliefs take for likely."""
    if not beliefs:
        return plan
    from coach.piece.learning.carry_over import in_hands

    return in_hands(plan, beliefs)


def _wished(project: Project, wish: Wish | None) -> Project:
    """Return a project as it is wished for. Raises CannotOpen."""
    if not wish:
        return project
    from coach.plan.resize.refit import CannotRefit, as_wished

    try:
        return as_wished(project, wish)
    except CannotRefit as error:
        raise CannotOpen(str(error)) from error


def _total_of(plan: Plan, wish: Wish) -> int:
    """Return how many counts a plan has as it is wished for. Raises CannotOpen."""
    from coach.plan.resize.refit import CannotRefit, as_wished, plan_of

    try:
        return plan_of(as_wished(plan.project, wish), plan.hands).total
    except CannotRefit as error:
        raise CannotOpen(str(error)) from error


def _follows(plan: Plan, state: State) -> bool:
    """Return whether a plan comes to as many counts as the piece has, after all that happened."""
    if not state.happenings:
        return plan.total == state.total
    from coach.piece.changes.effective_plan import follow
    from coach.piece.changes.repeats import CannotFollow

    try:
        return follow(plan, state.happenings).total == state.total
    except CannotFollow:
        return False


def _fitted(plan: Plan, state: State) -> Plan:
    """Return a plan as the piece was fitted at its beginning."""
    if not state.happenings:
        return plan
    from coach.piece.changes.effective_plan import fitted

    return fitted(plan, state.happenings)


def _found(key: str) -> Found:
    try:
        return find(key)
    except NoSuchProject as error:
        raise CannotOpen(str(error)) from error


def sound_plan(found: Found) -> tuple[str, Plan]:
    """Return a project's text and plan. Raises Unsound where its file has errors."""
    loaded = load(found.path)
    problems: tuple[Problem, ...] = loaded.problems
    if loaded.text is not None:
        from coach.plan.from_text import read_plan

        reading = read_plan(loaded.text)
        if reading.plan is not None:
            return loaded.text, reading.plan
        problems = (*problems, *reading.problems)
    from coach.yaml_reader.render import as_lines

    raise Unsound(found.path, as_lines(str(found.path), loaded.text or "", problems))
