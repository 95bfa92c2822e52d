"""The maker's desk: the pieces that are kept and the projects at hand, joined for the screens."""

import shlex
from collections.abc import Callable, Collection, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import Any

from coach.cli.drawer import Drawer
from coach.cli.freehand_files import freehand_source, target_of
from coach.cli.orders.batch_on_bench import BatchOnBench, refuse_for_orders, with_orders
from coach.cli.shelf import SHELF, Found, NoSuchProject, by_key, find, shelf
from coach.piece import (
    Clock,
    NoSuchPiece,
    Sitting,
    Store,
    Summary,
    find_named,
    find_unfinished,
    notes_before,
    pieces,
    start,
)
from coach.piece.changes.freehand_text import is_freehand
from coach.piece.changes.project_diff import change_for, stay, take_over, text_sum
from coach.piece.changes.without_pattern import take_without_pattern
from coach.piece.desk_log import desk_now
from coach.piece.events import Fitted
from coach.piece.learning.beliefs import Beliefs, hands_of
from coach.piece.learning.carry_over import carry_over
from coach.piece.learning.estimates import in_hands
from coach.piece.list_keeping import delete, rename, repeat_like
from coach.piece.open_piece import OpenPiece, open_piece
from coach.piece.order_log import Begins, ToBegin, begin_order, orders_now
from coach.piece.reports.forecast import Forecast
from coach.piece.stock_ticks import StockTicks
from coach.piece.storage.read_piece import kept_piece, the_piece
from coach.plan.from_text import read_plan
from coach.plan.measure.tension import NOMINAL, Hands
from coach.plan.plan_model import Plan, remeasured
from coach.plan.resize.aim import aimed
from coach.plan.resize.refit import CannotRefit, Refitted, as_wished, plan_of
from coach.plan.resize.size_request import Wish
from coach.project.model import Project
from coach.recording.record import Record
from coach.recording.yaml_nodes import CannotCut
from coach.session.fitting import Wishing
from coach.session.ports import CannotOpen, Edited, Ending, Offer, OnBench
from coach.text import one_line
from coach.yaml_reader.diagnostics import Problem
from coach.yaml_reader.file_loader import Loaded, load
from coach.yaml_reader.render import as_lines


class Unsound(CannotOpen):
    """A project file with problems; `lines` tell them all."""

    def __init__(self, path: Path, lines: Sequence[str]) -> None:
        super().__init__(f"{one_line(str(path))} has problems: {lines[0] if lines else ''}")
        self.lines = tuple(lines)


@dataclass(frozen=True, slots=True)
class Sound:
    """A project without errors: its text and its plan."""

    text: str
    plan: Plan


class Desk:
    """Opens and begins pieces; what it is asked for, it reads from the store and the files."""

    def __init__(
        self,
        store: Store,
        clock: Clock,
        skill: Callable[[], str] = str,
        drawer: Drawer | None = None,
        units: Callable[[], str] = lambda: "cm",
    ) -> None:
        """Take what keeps pieces.

        Args:
            store: The pieces.
            clock: Tells the time.
            skill: Tells the maker's skill when a first piece is begun.
            drawer: Remembers what was put away; without one that is forgotten at the end.
            units: Tells whether cord is cut by cm or in.
        """
        self._store = store
        self._clock = clock
        self._skill = skill
        self._drawer = drawer or Drawer()
        self._units = units
        self._read: Sound | None = None  # the project that was read last
        self._aim: tuple[tuple[Project, Hands], Refitted | None] | None = None

    def pieces(self) -> Sequence[Summary]:
        """Return the pieces, last touched first; an order under way is one of them."""
        return with_orders(pieces(self._store), orders_now(self._store))

    def projects(self) -> Sequence[Offer]:
        """Return the projects that come with the program and can be begun."""
        offers = []
        for path in shelf():
            plan = _plan_of(load(path).text or "")
            if plan:
                project = plan.project
                offers.append(
                    Offer(path.stem, project.title, project.about, project.skill, plan.total)
                )
        return offers

    def plan(self, key: str, cords: Wish | None = None) -> Plan:
        """Return the plan of a project by path or shelf name, fitted to its own wish.

        It is in the hands of these `cords`, where some of other diameters are wished for.

        Raises CannotOpen.
        """
        plan = self._sound(_found(key)).plan
        looked = _wished(plan, cords)
        plan = _in_hands(plan, carry_over(self._store, looked.project, looked).beliefs)
        found = self._aimed(plan)
        return found.plan if found else plan

    def fitting(self, key: str) -> Wishing:
        """Return what fits a project, by path or shelf name, before it is begun.

        Raises CannotOpen, PieceError.
        """
        written = self._sound(_found(key)).plan
        carried = carry_over(self._store, written.project, written, self._skill())
        own = _in_hands(written, carried.beliefs)
        found = self._aimed(own)
        return Wishing(found.plan if found else own, carried.paces, written, self._hands)

    def _hands(self, project: Project) -> Hands:
        """Return the hands for a project's cords. Raises PieceError."""
        return hands_of(carry_over(self._store, project).beliefs)

    def begin(
        self,
        key: str,
        wish: Wish | None = None,
        name: str = "",
        *,
        plan: Plan | None = None,
        again: bool = True,
    ) -> OnBench:
        """Begin a new piece, fitted to its file's own wish and to `wish`, which comes first.

        Args:
            key: The project, by path or shelf name.
            wish: How it is to be fitted, if at all.
            name: The maker's name for the piece.
            plan: The plan that follows from the wish, if it is compiled already.
            again: Whether a new one is begun where another coach has begun one by now.

        Raises:
            CannotOpen, PieceError: It cannot be read, fitted or kept.
        """
        found = _found(key)
        seen, sound = self._read, self._sound(found)
        wished = plan if plan and sound is seen else _wished(sound.plan, wish)
        carried = carry_over(self._store, wished.project, wished, self._skill())
        own = self._aimed(_in_hands(sound.plan, carried.beliefs))
        if own and (wish is None or not wish.speaks_of(_varied(sound.plan))):
            wish = own.wish.also(wish) if wish else own.wish
            wished = _wished(sound.plan, wish)
        with self._store.atomic():
            there = None if again else find_unfinished(self._store, found.key)
            piece_id = there.id if there else start(
                self._store, self._clock, title=sound.plan.project.title, project_text=sound.text,
                source=found.key, total=sound.plan.total, name=name,
                paces=Forecast(sound.plan).prior(carried.paces), beliefs=carried.beliefs,
            )  # fmt: skip
        if there:
            return self.open(piece_id)
        base = _in_hands(wished, carried.beliefs)
        opened = self._on_bench(OpenPiece(kept_piece(self._store, piece_id), base, base))
        if wish:
            opened.sitting.jot(Fitted, at_done=0, total=base.total, wish=wish.to_data())
        return opened

    def begins(self, key: str) -> Begins:
        """Return what every piece of a project begins with. Raises CannotOpen, PieceError."""
        found = _found(key)
        sound = self._sound(found)
        carried = carry_over(self._store, sound.plan.project, sound.plan, self._skill())
        return Begins(
            sound.plan.project.title, sound.text, found.key, sound.plan.total,
            Forecast(sound.plan).prior(carried.paces), carried.beliefs,
        )  # fmt: skip

    def begin_order(
        self, key: str, name: str, groups: Sequence[ToBegin], quote: Mapping[str, Any]
    ) -> None:
        """Begin an order with all its pieces, as it was quoted. Raises CannotOpen, PieceError."""
        begin_order(self._store, self._clock, name, groups, begins=self.begins(key), quote=quote)

    def open_order(self, name: str) -> OnBench:
        """Open the piece of an order that comes next, or its last one where all are finished.

        Raises CannotOpen, PieceError.
        """
        return BatchOnBench(self._store, self._clock, name, self.open).first()

    def begin_freehand(self, record: Record, target: str = "") -> OnBench:
        """Begin a piece that is knotted without a pattern, with what hangs.

        Raises CannotOpen, PieceError.
        """
        plan = record.plan
        if plan is None:
            raise CannotOpen("Nothing can hang like that.")
        carried = carry_over(self._store, plan.project, plan, self._skill())
        piece_id = start(
            self._store, self._clock, title=plan.project.title, project_text=record.base,
            source=freehand_source(target), total=plan.total, paces=carried.paces,
            beliefs=carried.beliefs,
        )  # fmt: skip
        return self.open(piece_id)

    def freehand_under_way(self, target: str) -> Summary | None:
        """Return the unfinished piece whose pattern is written to a file, if there is one."""
        return find_unfinished(self._store, freehand_source(target))

    def away(self) -> Collection[int]:
        """Return the numbers of the pieces that were put away."""
        return {piece.id for piece in pieces(self._store) if piece.uid in self._drawer.uids}

    def put_away(self, piece_id: int, *, away: bool) -> None:
        """Put a piece away, or take it out again. Raises PieceError."""
        refuse_for_orders(self._store, piece_id)
        self._drawer.put(the_piece(self._store, piece_id).uid, away=away)

    def rename(self, piece_id: int, name: str) -> str:
        """Give a piece another name, and return it as it is kept. Raises NameTaken, PieceError."""
        refuse_for_orders(self._store, piece_id)
        return rename(self._store, piece_id, name)

    def delete(self, piece_id: int) -> Callable[[], str]:
        """Delete a piece, and return what brings it back and says so. Raises PieceError."""
        refuse_for_orders(self._store, piece_id)
        return delete(self._store, piece_id)

    def again(self, piece_id: int, name: str = "") -> OnBench:
        """Begin another piece like one, with its measures and its repeats.

        Raises CannotOpen, PieceError.
        """
        kept = kept_piece(self._store, piece_id)
        others = kept.state.happenings
        fitted = next((one for one in others if isinstance(one, Fitted)), None)
        wish = Wish.from_data(fitted.wish) if fitted else None
        opened = self.begin(kept.summary.source.removeprefix(SHELF), wish, name=name)
        repeat_like(opened.sitting, opened.plan, others)
        return replace(opened, now=None)

    def named(self, name: str) -> Summary | None:
        """Return the piece that a maker calls so, where no project is; None without either."""
        try:
            find(name)
        except NoSuchProject:
            with suppress(NoSuchPiece):
                return find_named(self._store, name)
        return None

    def under_way(self, key: str) -> Summary | None:
        """Return the piece of a project that was last worked on and is not finished, if any."""
        try:
            return find_unfinished(self._store, find(key).key)
        except NoSuchProject as error:
            raise CannotOpen(self._gone(key) or str(error)) from error

    def _gone(self, key: str) -> str:
        """Return how a piece is gone on with whose file is not there any more, "" for no piece."""
        try:
            piece = find_unfinished(self._store, str(Path(key).resolve()))
        except (OSError, ValueError, RuntimeError):  # a name that no file can have
            return ""
        if piece is None:
            return ""
        return (
            f"{one_line(key)} is not there any more, but a piece of it is. Go on with "
            f"`coach knot {shlex.quote(one_line(piece.name))}`."
        )

    def unfinished(self, key: str) -> OnBench | None:
        """Open that piece. Raises CannotOpen, PieceError."""
        piece = self.under_way(key)
        return self.open(piece.id) if piece else None

    def open(self, piece_id: int) -> OnBench:
        """Open a piece with the project's text that it was begun with. Raises PieceError."""
        piece = open_piece(self._store, piece_id)
        left_ms = piece.state.touched_ms if piece.state.done else None
        opened = replace(self._on_bench(piece), left_ms=left_ms)
        if is_freehand(piece.state):
            return replace(opened, freehand=True, target=target_of(piece.state.source))
        batch = self._batch(piece.kept.summary.uid)
        without = None if batch else partial(self._without_pattern, piece_id)
        return replace(opened, edited=self._edited(piece), batch=batch, without_pattern=without)

    def _without_pattern(self, piece_id: int) -> OnBench:
        """Let a piece go on without its pattern. Raises CannotOpen, PieceError."""
        piece = open_piece(self._store, piece_id)
        try:
            take_without_pattern(self._store, self._clock, piece)
        except CannotCut as error:
            raise CannotOpen(str(error)) from error
        return self.open(piece_id)

    def _batch(self, uid: str) -> BatchOnBench | None:
        """Return the order under way that a piece belongs to, by the piece's own id."""
        order = desk_now(self._store).order_of(uid)
        if order is None or not order.is_open:
            return None
        return BatchOnBench(self._store, self._clock, order.name, self.open, uid)

    def _edited(self, piece: OpenPiece) -> Edited | None:
        """Return what became of a piece's file since, unless it is gone, unsound or declined."""
        state, piece_id = piece.state, piece.kept.summary.id
        found = by_key(state.source)
        if found is None or state.finished:
            return None
        text = load(found).text
        if text in (None, state.project_text):
            return None
        if text_sum(text or "") == state.declined:
            return None
        new = _plan_of(text or "")
        if new is None:
            return None
        change = change_for(piece, new, text or "")

        def take() -> OnBench:
            if change.refused:
                raise CannotOpen(change.refused)
            take_over(self._store, self._clock, piece_id, change)
            return self.open(piece_id)

        def keep_on() -> None:
            stay(self._store, self._clock, piece_id, change)

        return Edited(change, take, keep_on)

    def _on_bench(self, piece: OpenPiece) -> OnBench:

        knots = [count.knot for count in piece.plan.counts]
        piece_id = piece.kept.summary.id
        sitting = Sitting(
            self._store,
            self._clock,
            piece_id,
            knots,
            Forecast(piece.plan).work,
            kept=piece.kept,
            beside=StockTicks(self._store, piece.kept.summary.uid, piece.base, self._units),
        )
        earlier = notes_before(self._store, piece_id)
        ending = Ending(lambda: self.again(piece_id), lambda: self.put_away(piece_id, away=True))
        return OnBench(piece.base, sitting, earlier=earlier, now=piece.plan, ending=ending)

    def _aimed(self, plan: Plan) -> Refitted | None:
        """Return a plan refitted to its project's own wish; one project is searched once."""
        asked = (plan.project, plan.hands)
        if self._aim is None or self._aim[0] != asked:
            self._aim = (asked, aimed(plan))
        return self._aim[1]

    def _sound(self, found: Found) -> Sound:
        """Read a project, once as long as its text stays. Raises Unsound for a file with errors."""
        loaded = load(found.path)
        if self._read is None or loaded.text is None or loaded.text != self._read.text:
            self._read = _sound(found, loaded)
        return self._read


def _plan_of(text: str) -> Plan | None:
    """Return the plan of a project's text, None where it has errors."""
    return read_plan(text).plan


def _varied(plan: Plan) -> str:
    """Return the part or named step that a project changes to reach another length."""
    return plan.project.size.vary if plan.project.size else ""


def _in_hands(plan: Plan, beliefs: Beliefs) -> Plan:
    """Return a plan in the hands that beliefs take for likely; without any, in the usual ones."""
    if beliefs:
        return in_hands(plan, beliefs)
    return remeasured(plan, NOMINAL) if plan.hands.sds else plan


def _wished(plan: Plan, wish: Wish | None) -> Plan:
    """Return the plan that follows from a wish. Raises CannotOpen."""
    if not wish:
        return plan

    try:
        return plan_of(as_wished(plan.project, wish), plan.hands)
    except CannotRefit as error:
        raise CannotOpen(str(error)) from error


def _found(key: str) -> Found:
    try:
        return find(key)
    except NoSuchProject as error:
        raise CannotOpen(str(error)) from error


def _sound(found: Found, loaded: Loaded) -> Sound:
    """Return a project's text and plan. Raises Unsound where its file has errors."""
    problems: tuple[Problem, ...] = loaded.problems
    if loaded.text is not None:
        reading = read_plan(loaded.text)
        if reading.plan is not None:
            return Sound(loaded.text, reading.plan)
        problems = (*problems, *reading.problems)
    raise Unsound(found.path, as_lines(str(found.path), loaded.text or "", problems))
