"""Events that could not be stored at once, rebased onto whatever came between."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from coach.piece.events import Counted, Event, Opened, TakenBack
from coach.piece.folding import fold
from coach.piece.state import State


def not_stored(state: State, waiting: Sequence[Event], stored: Sequence[Event]) -> Sequence[Event]:
    """Return those of `waiting` that are not among the first of `stored`.

    A fault may come between storing and the confirmation: then the same events come back as if
    another coach had written them, fitted to the state at that point.

    Args:
        state: The state before `stored`.
        waiting: Events not known to be stored.
        stored: Events read since.
    """
    known, rest = 0, iter(stored)
    for number, (_, event) in enumerate(_fitted_after(state, waiting), start=1):
        if event and next(rest, None) != event:
            break
        # Events with nothing left to do are known to be settled only if a stored one follows.
        known = number if event else known
    return waiting[known:]


def put_after(state: State, waiting: Sequence[Event]) -> Iterator[tuple[State, Event]]:
    """Yield the waiting events rebased onto a state, each with the state after it.

    Counts go on from the state's count, and stay in range; an event of a sitting that was opened
    among them gets that sitting's new number.
    """
    for after, event in _fitted_after(state, waiting):
        if event:
            yield after, event


def _fitted_after(state: State, waiting: Sequence[Event]) -> Iterator[tuple[State, Event | None]]:
    """Yield each event as `put_after` does, None for one with nothing left to do."""
    numbers: dict[int, int] = {}
    for event in waiting:
        if isinstance(event, Opened):
            # The number is the place of the `Opened` itself, which differs after other events.
            numbers[event.sitting] = state.seq + 1
        sitting = numbers.get(event.sitting, event.sitting)
        fitted = _fitted(state, replace(event, sitting=sitting))
        if fitted:
            state = fold(state, fitted)
        yield state, fitted


def _fitted(state: State, event: Event) -> Event | None:
    if not isinstance(event, Counted | TakenBack):
        return event
    room = state.total - state.done if isinstance(event, Counted) else state.done
    count = min(event.count, room)
    return replace(event, from_done=state.done, count=count) if count > 0 else None
