"""The fold of a piece's events into its state."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any, Final, TypeAlias

from coach.pace.estimate import (
    Paces,
    discard_stretch,
    expected_seconds,
    initial_paces,
    learn_stretch,
    learn_time,
    new_day,
    practised,
)
from coach.pace.pace_json import from_data
from coach.pace.prior import least_s, prior_s
from coach.pace.work_amount import WorkAmount, ties
from coach.pace.working_time import worked_gap
from coach.piece.beliefs import beliefs_from_data
from coach.piece.events import (
    Aside,
    Begun,
    Chosen,
    Counted,
    Event,
    Fitted,
    Happening,
    Joined,
    KeptProject,
    LearntFrom,
    LeftOut,
    Measured,
    Noted,
    Opened,
    Picked,
    Resumed,
    Said,
    TakenBack,
    Ticked,
    TookProject,
    Unticked,
    Withdrew,
)
from coach.piece.piece_errors import Damaged
from coach.piece.state import State, apply_note

_Changed: TypeAlias = Mapping[str, Any]
"""The fields of a state that an event changes."""


_NOTHING: Final[_Changed] = {}


def fold(state: State, event: Event) -> State:
    """Return the state of a piece after one more event.

    Args:
        state: The state before; `State()` for the event that begins a piece.
        event: The next event.

    Raises:
        Damaged: The event cannot have happened in that state.
    """
    if isinstance(event, Begun):
        state, changed = _begin(state, event), _NOTHING
    elif state.seq == 0:
        raise Damaged("its first entry does not begin it")
    else:
        changed = _changed(state, event)
    # A tick or a note takes no time from the work, so the time to the next count runs through it.
    last = state.last if isinstance(event, Aside) else event
    return replace(state, seq=state.seq + 1, touched_ms=event.at_ms, last=last, **changed)


def _changed(state: State, event: Event) -> _Changed:
    """Return the fields of the state that an event after the first one changes."""
    if isinstance(event, Counted):
        return _count(state, event)
    if isinstance(event, TakenBack):
        return _take_back(state, event)
    if isinstance(event, Aside):
        return _set_aside(state, event)
    if isinstance(event, Opened):
        return {"sitting": event.sitting, "sitting_ms": 0, "paces": new_day(state.paces)}
    if isinstance(event, TookProject):
        return _take_project(state, event)
    if isinstance(event, Said):
        return _say(state, event)
    if isinstance(event, KeptProject):
        return {"declined": event.declined}
    return _work(state, event, state.running_s)


def _begin(state: State, event: Begun) -> State:
    """Return the first state, with the paces that the maker brought along."""
    # What folds here may come from a damaged or foreign file: impossible entries are damage.
    if state.seq or event.total < 0:
        raise Damaged("it begins twice, or with less than nothing to do")
    try:
        paces = from_data(event.paces) if event.paces else initial_paces()
    except (ValueError, OverflowError) as error:
        raise Damaged("the paces it began with cannot be read") from error
    try:
        beliefs = beliefs_from_data(event.cord)
    except ValueError as error:
        raise Damaged("what it began with of its cords cannot be read") from error
    return State(
        title=event.title,
        source=event.source,
        project_text=event.project_text,
        total=event.total,
        begun_ms=event.at_ms,
        paces=paces,
        beliefs=beliefs,
    )


def _count(state: State, event: Counted) -> _Changed:
    """Go forward; the time since the count before is work and may teach a pace."""
    _check(state, event, event.count)
    work = _work_of(state, event)
    usual_s = event.count * prior_s("")
    expected_s = event.expected_s or expected_seconds(state.paces, work) or usual_s
    return {
        "done": state.done + event.count, "paces": _watched(state, event, work, expected_s),
        "running_s": expected_s / event.count, **_work(state, event, expected_s),
    }  # fmt: skip


def _work_of(state: State, event: Counted) -> WorkAmount:
    """Return the work that was counted, empty where nothing is known of it."""
    if not event.standard_s:
        return ties(event.knot, event.count) if event.knot else WorkAmount()
    try:
        work = WorkAmount(event.standard_s).of_counts(event.count)
    except (TypeError, ValueError, OverflowError) as error:
        raise Damaged(f"the work of entry {state.seq + 1} cannot be read") from error
    return work


def _watched(state: State, event: Counted, work: WorkAmount, expected_s: float) -> Paces:
    """Return the paces after a count, taught by the time since the count before."""
    paces, gap_s = state.paces, _gap_s(state, event)
    if gap_s is None or not isinstance(state.last, Counted):
        return practised(learn_stretch(paces), work)
    if not worked_gap(gap_s, expected_s).shows_pace or not work.standard_s:
        return practised(learn_stretch(paces), work)
    # Quicker than any hand: counts that were forgotten are caught up with.
    quickest_s = max(event.count * least_s(event.knot), work.least_s)
    return learn_time(paces, work, gap_s, quickest_s)


def _take_back(state: State, event: TakenBack) -> _Changed:
    """Go back; the time spent stays spent, but teaches no pace."""
    _check(state, event, -event.count)
    return {
        "done": state.done - event.count, "paces": discard_stretch(state.paces),
        **_work(state, event, state.running_s),
    }  # fmt: skip


def _set_aside(state: State, event: Aside) -> _Changed:
    """Add a tick, a note, or a happening."""
    if isinstance(event, Happening):
        return {
            "happenings": (*state.happenings, event),
            # An imported happening must not leave the piece with more counts made than there are.
            "total": max(event.total, state.done),
        }
    if isinstance(event, Ticked):
        return {"ticks": state.ticks | {(event.what, event.mark)}}
    if isinstance(event, Unticked):
        return {"ticks": state.ticks - {(event.what, event.mark)}}
    if isinstance(event, LeftOut | LearntFrom):
        return {"teaches": isinstance(event, LearntFrom)}
    return {"notes": apply_note(state.notes, event)} if isinstance(event, Noted) else _NOTHING


def _take_project(state: State, event: TookProject) -> _Changed:
    """Go on with another project, keeping the time worked and what is known of the cords.

    Changed repeats and orders were meant for the project before.
    """
    if event.done > event.total:
        raise Damaged(f"entry {state.seq + 1} leads out of its {event.total} counts")
    chosen = (Picked, Chosen, Withdrew) if event.choices else ()
    # These are about cord and hands or the whole piece, and hold for the edited project too.
    stays = (Measured, Joined, Fitted, *chosen)
    kept = tuple(h for h in state.happenings if isinstance(h, stays))
    return {
        "project_text": event.project_text, "total": event.total, "done": event.done,
        "declined": None, "happenings": kept, "said": (),
    }  # fmt: skip


def _say(state: State, event: Said) -> _Changed:
    """Add what was knotted without a pattern; the time since the last event is work."""
    if event.done > event.total:
        raise Damaged(f"entry {state.seq + 1} leads out of its {event.total} counts")
    try:
        work = WorkAmount(event.standard_s) if event.standard_s else WorkAmount()
    except (TypeError, ValueError, OverflowError) as error:
        raise Damaged(f"the work of entry {state.seq + 1} cannot be read") from error
    expected_s = expected_seconds(state.paces, work) or prior_s("")
    return {
        "said": (*state.said, event), "done": event.done, "total": event.total,
        "paces": practised(learn_stretch(state.paces), work), "running_s": expected_s,
        **_work(state, event, expected_s),
    }  # fmt: skip


def _check(state: State, event: Counted | TakenBack, change: int) -> None:
    """Refuse a change that does not start at the current count, or leads out of range."""
    if event.from_done != state.done or event.count < 1:
        raise Damaged(f"entry {state.seq + 1} does not go on from count {state.done}")
    if not 0 <= state.done + change <= state.total:
        raise Damaged(f"entry {state.seq + 1} leads out of its {state.total} counts")


def _gap_s(state: State, event: Event) -> float | None:
    """Return the seconds since the event before, or None where no clock tells them."""
    last = state.last
    if last is None or last.sitting != event.sitting:
        return None
    # By the monotonic clock: the time of day may be set in between.
    return max(event.tick_ms - last.tick_ms, 0) / 1000


def _work(state: State, event: Event, running_s: float) -> _Changed:
    """Add the time worked since the event before.

    The clock starts with the first count of a sitting or after a pause: of the time before
    it, only what this count takes is work.
    """
    gap_s = _gap_s(state, event)
    if gap_s is not None and isinstance(state.last, Counted | TakenBack | Resumed | Said):
        worked_s = worked_gap(gap_s, running_s).worked_s
    elif isinstance(event, Counted | Said):
        worked_s = running_s if gap_s is None else min(gap_s, running_s)
    else:
        return _NOTHING
    worked_ms = round(worked_s * 1000)
    return {
        "worked_ms": state.worked_ms + worked_ms, "sitting_ms": state.sitting_ms + worked_ms
    }  # fmt: skip
