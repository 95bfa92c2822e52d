"""Events that could not be stored when they happened, put after whatever came between."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from coach.piece.events import Counted, Event, Opened, TakenBack
from coach.piece.state import State, fold


def not_stored(waiting: Sequence[Event], stored: Sequence[Event]) -> Sequence[Event]:
    """Return what of `waiting` is not among the first of `stored`.

    A fault may come between storing and hearing of it: then the same events come back as if
    another coach had written them.
    """
    same = 0
    while same < min(len(waiting), len(stored)) and waiting[same] == stored[same]:
        same += 1
    return waiting[same:]


def put_after(state: State, waiting: Sequence[Event]) -> Iterator[tuple[State, Event]]:
    """Yield the events as they happen to a piece that stands so, each with the state after it.

    Counts go on from where the piece stands, and stay within it; an event of a sitting that was
    opened among them goes with its new number.
    """
    numbers: dict[int, int] = {}
    for event in waiting:
        if isinstance(event, Opened):
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
