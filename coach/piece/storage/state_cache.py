"""The cached state of a piece at some entry, so that only later entries must be folded.

It is a cache and never the truth: where it is missing, damaged or of another version of `fold`,
all entries are folded from the first one.
"""

import json
from dataclasses import asdict, fields
from typing import Any, Final

from coach.pace.pace_json import from_data, to_data
from coach.piece.beliefs import beliefs_from_data, beliefs_to_data
from coach.piece.event_reading import from_values
from coach.piece.events import Event, Happening, Said
from coach.piece.piece_errors import Damaged, NewerVersion
from coach.piece.state import Note, State

FOLD: Final = 3
"""The number of the way of folding: one more whenever the same entries give another state."""

_PLAIN: Final = tuple(
    field.name for field in fields(State)
    if field.name not in (
        "paces", "last", "ticks", "notes", "happenings", "beliefs", "teaches", "said",
    )
)  # fmt: skip


def to_text_of(state: State) -> str:
    """Return a state as JSON, all figures exact."""
    data = {
        **{name: getattr(state, name) for name in _PLAIN},
        "paces": to_data(state.paces),
        "last": state.last and _told(state.last),
        "ticks": sorted(state.ticks),
        "notes": [asdict(note) for note in state.notes],
        "happenings": [_told(happening) for happening in state.happenings],
        "beliefs": beliefs_to_data(state.beliefs),
        "teaches": state.teaches,
        "said": [_told(said) for said in state.said],
    }
    return json.dumps(data, separators=(",", ":"))


def state_of(data: bytes) -> State | None:
    """Return the state that `to_text_of` wrote, None where it cannot be read."""
    try:
        return _read(json.loads(data))
    except (ValueError, TypeError, LookupError, AttributeError, Damaged, NewerVersion):
        return None


def _read(data: dict[str, Any]) -> State:
    happenings = (from_values(*told) for told in data["happenings"])
    said = (from_values(*told) for told in data.get("said", ()))
    return State(
        **{name: data[name] for name in _PLAIN},
        paces=from_data(data["paces"]),
        last=data["last"] and from_values(*data["last"]),
        ticks=frozenset((what, mark) for what, mark in data["ticks"]),
        notes=tuple(Note(**note) for note in data["notes"]),
        happenings=tuple(one for one in happenings if isinstance(one, Happening)),
        beliefs=beliefs_from_data(data["beliefs"]),
        teaches=data.get("teaches", True) is True,
        said=tuple(one for one in said if isinstance(one, Said)),
    )


def _told(event: Event) -> tuple[str, dict[str, Any]]:
    return event.kind, event.values()
