"""Opening a piece: reading, folding and compiling it once for all that need it."""

from dataclasses import dataclass

from coach.piece.changes.effective_plan import plan_after, plan_at_start
from coach.piece.changes.repeats import CannotFollow
from coach.piece.learning.estimates import in_hands
from coach.piece.piece_errors import CountedOtherwise, Damaged
from coach.piece.state import State
from coach.piece.storage.read_piece import KeptPiece, read_whole_piece
from coach.piece.storage.store import Store
from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan
from coach.recording.project_joining import is_open_ended
from coach.recording.record import Recording, after_change, change_from_data
from coach.text import one_line


@dataclass(frozen=True, slots=True)
class OpenPiece:
    """A stored piece, and its plans.

    `base` is the plan that it began with: its project's, fitted, in the hands thought likely then.
    `plan` follows from it by all happenings; without any it is the same.
    """

    kept: KeptPiece
    base: Plan
    plan: Plan

    @property
    def state(self) -> State:
        """The state of the piece when it was read."""
        return self.kept.state


def open_piece(store: Store, piece_id: int) -> OpenPiece:
    """Read a piece and compile its plans.

    Raises:
        NoSuchPiece: No piece has that number.
        CountedOtherwise: This coach compiles its project to other counts than the piece has.
        PieceError: It cannot be read.
    """
    kept = read_whole_piece(store, piece_id)
    state = kept.state
    base = begun_plan(state)
    plan = followed_plan(base, state)
    if base is None or plan is None or plan.total != state.total:
        raise CountedOtherwise(
            f"{one_line(state.title)} was begun with another version of the coach, which "
            "counted it differently. It is kept as it is; go on with that version."
        )
    return OpenPiece(kept, base, plan)


def begun_plan(state: State) -> Plan | None:
    """Return the plan that a piece began with, None where its project can no longer be read."""
    try:
        plan = read_plan(followed_text(state)).plan
    except Damaged:
        return None
    if plan and is_freehand(state):  # what it was fitted to belonged to its pattern
        return in_hands(plan, state.beliefs)
    try:
        return plan_at_start(in_hands(plan, state.beliefs), state.happenings) if plan else None
    except CannotFollow:
        return None


def followed_plan(base: Plan | None, state: State) -> Plan | None:
    """Return the plan that a piece follows now, None where it can no longer be followed."""
    try:
        return plan_after(base, state.happenings) if base else None
    except CannotFollow:
        return None


def is_freehand(state: State) -> bool:
    """Return whether a piece goes on by sentences instead of a pattern."""
    return is_open_ended(state.project_text)


def record_of(state: State) -> Recording:
    """Return the record of a piece knotted without a pattern. Raises Damaged."""
    record = Recording(state.project_text)
    for said in state.said:
        try:
            record = after_change(record, change_from_data(said.said, said.work))
        except ValueError as error:
            raise Damaged(f"‘{said.said}’ cannot have been knotted: {error}") from error
    return record


def followed_text(state: State) -> str:
    """Return the text of the project that a piece follows. Raises Damaged."""
    return record_of(state).live_text() if is_freehand(state) else state.project_text
