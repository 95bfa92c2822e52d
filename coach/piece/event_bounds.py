"""Validation of events before they are stored, imported or learnt from.

What passes can be read, planned and measured, and cannot spoil other pieces through learning.
Entries stored before this check existed are still read.
"""

from collections.abc import Iterable, Iterator, Mapping
from types import MappingProxyType
from typing import Any, Final

from coach.kept_events import MOST
from coach.pace.pace_json import MOST_SECONDS
from coach.pace.work_amount import LONGEST_S
from coach.piece.event_reading import from_values
from coach.piece.events import Event, Happening, Noted, Ticked
from coach.piece.piece_errors import CannotBe, PieceError
from coach.piece.state import State
from coach.plan.compile.limits import MOST_COUNTS
from coach.quantities.parse import LONGEST_LENGTH_MM

_CRC: Final = 2**32 - 1
_DOUBT: Final = 1e12  # deviations
_COUNTS: Final = (
    "count", "from_done", "total", "done", "at_done", "tie", "within", "call", "times", "each",
    "arm", "choices", "step",
)  # fmt: skip
MOST_OF: Final[Mapping[str, float]] = MappingProxyType({
    "at_ms": MOST, "tick_ms": MOST, "sitting": MOST, "written_ms": MOST, "declined": _CRC,
    **dict.fromkeys(_COUNTS, MOST_COUNTS),
    **dict.fromkeys(("length_mm", "overlap_mm", "value"), LONGEST_LENGTH_MM),
    "expected_s": LONGEST_S, "doubt": _DOUBT,
})  # fmt: skip
"""The most that each figure of an event can be, by its field; none is less than 0."""

MOST_LETTERS: Final[Mapping[str, int]] = MappingProxyType({
    "words": 4_000, "title": 1_000, "source": 10_000, "project_text": 2**20,
    "order": 200_000, "place": 10_000, "said": 1_000,
})  # fmt: skip
_LETTERS: Final = 1_000  # of every other text
MOST_ENTRIES: Final = 20_000
"""Notes, ticks, and happenings that a piece can have of each."""


def checked_event(event: Event, state: State | None = None) -> Event:
    """Return an event if it is valid.

    Args:
        event: The event.
        state: The state of its piece, where that is known.

    Raises:
        CannotBe: A figure or a text is out of range, or the piece has too many such entries.
        PieceError: It cannot be read back.
    """
    values = event.values()
    from_values(event.kind, values)
    for name, value in values.items():
        if isinstance(value, int | float) and value > MOST_OF[name]:
            raise CannotBe(f"‘{name}’ of an entry ‘{event.kind}’ cannot be over {MOST_OF[name]:g}")
        if isinstance(value, str) and len(value) > MOST_LETTERS.get(name, _LETTERS):
            raise CannotBe(f"‘{name}’ of an entry ‘{event.kind}’ is too long: {len(value)} letters")
        for figure in _figures(value) if isinstance(value, Mapping) else ():
            if not -MOST_SECONDS <= figure <= MOST_SECONDS:
                raise CannotBe(f"‘{name}’ of an entry ‘{event.kind}’ cannot hold {figure}")
    if state is not None and _entries(event, state) >= MOST_ENTRIES:
        raise CannotBe(f"it has {MOST_ENTRIES} entries like ‘{event.kind}’ already")
    return event


def all_pass(events: Iterable[Event]) -> bool:
    """Return whether all of these events are valid."""
    try:
        for event in events:
            checked_event(event)
    except PieceError:
        return False
    return True


def _entries(event: Event, state: State) -> int:
    """Return how many entries of this kind a piece has; 0 where they are not limited."""
    if isinstance(event, Noted) and not event.written_ms:
        return len(state.notes)
    if isinstance(event, Ticked):
        return len(state.ticks)
    return len(state.happenings) if isinstance(event, Happening) else 0


def _figures(value: Any) -> Iterator[float]:
    """Yield every number in a nested JSON value."""
    if isinstance(value, Mapping):
        value = value.values()
    elif isinstance(value, int | float):
        yield value
        return
    elif isinstance(value, str) or value is None:
        return
    for one in value:
        yield from _figures(one)
