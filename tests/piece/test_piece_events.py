"""Events as values, as they are written down and as they are read again."""

import json
from dataclasses import FrozenInstanceError, fields, is_dataclass
from typing import get_origin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.kept_events import MOST
from coach.piece.event_reading import from_json, from_values
from coach.piece.events import PIECE_EVENTS, Counted, Event, Left, Paused
from coach.piece.piece_errors import Damaged, NewerVersion
from coach.piece.storage.event_rows import event_of, is_sound, row_of, utc

BY_TYPE = {
    "int": st.integers(0, MOST),
    "str": st.text(),
    "float": st.floats(0, 1e9),
    "Mapping": st.dictionaries(st.text(), st.floats(0, 1)),
}


def values_of(kind: type[Event]) -> dict[str, st.SearchStrategy[object]]:
    """Return what each field of a kind may hold, by the field's type."""
    return {f.name: BY_TYPE[(get_origin(f.type) or f.type).__name__] for f in fields(kind)}


events = st.sampled_from(sorted(PIECE_EVENTS.by_name)).flatmap(
    lambda kind: st.builds(PIECE_EVENTS.by_name[kind], **values_of(PIECE_EVENTS.by_name[kind]))
)
COUNTED = {"at_ms": 1, "tick_ms": 2, "sitting": 2, "count": 1, "from_done": 0}


@given(events)
def test_what_is_written_is_read_back(event: Event) -> None:
    """As values in JSON, and as a row of the database, which is sound in its own place alone."""
    assert from_values(event.kind, json.loads(json.dumps(event.values()))) == event
    assert from_json(event.kind, json.dumps(event.values())) == event
    row = row_of(7, 3, event)
    assert event_of(row) == event
    assert is_sound(7, row)
    assert not is_sound(8, row)
    assert not is_sound(7, (4, *row[1:]))


@given(st.integers(0, MOST))
def test_the_time_of_a_row_can_be_read_and_is_exact(at_ms: int) -> None:
    """By ISO 8601 in UTC, so that it sorts and any tool reads it; to the millisecond."""
    event = Paused(at_ms=at_ms, tick_ms=0, sitting=2)
    assert event_of(row_of(1, 2, event)).at_ms == at_ms
    assert utc(1_900_000_000_001) == "2030-03-17T17:46:40.001Z"


def test_events_of_two_kinds_are_never_equal() -> None:
    """The same moment, and no other field: only the class tells a pause from a leave."""
    when = {"at_ms": 1, "tick_ms": 2, "sitting": 2}
    assert Paused(**when) != Left(**when)
    assert {Paused(**when), Left(**when), Paused(**when)} == {Left(**when), Paused(**when)}


@pytest.mark.parametrize("kind", PIECE_EVENTS.by_name.values(), ids=PIECE_EVENTS.by_name)
def test_every_kind_is_a_frozen_value_of_named_fields(kind: type[Event]) -> None:
    """Without its own decorator a kind would have the fields and the equality of the one above."""
    assert is_dataclass(kind)
    assert "__slots__" in kind.__dict__
    names = [field.name for field in fields(kind)]
    event = kind(**dict.fromkeys(names, 1))
    assert list(event.values()) == names
    with pytest.raises(FrozenInstanceError):
        event.at_ms = 2
    with pytest.raises(TypeError):
        kind(*([1] * len(names)))


def test_a_field_that_came_later_has_its_default() -> None:
    assert from_json("counted", json.dumps(COUNTED)) == Counted(**COUNTED, knot="")


@pytest.mark.parametrize(
    ("kind", "values"),
    [("dreamt", {"at_ms": 1}), ("counted", {**COUNTED, "mood": "calm"})],
)
def test_what_a_newer_coach_wrote_is_refused_by_name(kind: str, values: dict[str, object]) -> None:
    """It is neither skipped nor taken for damage, and the message names the version at hand."""
    with pytest.raises(NewerVersion, match=r"coach \d+\.\d+"):
        from_json(kind, json.dumps(values))


@pytest.mark.parametrize(
    "data",
    [
        "{",
        "[]",
        json.dumps({"at_ms": 1}),
        json.dumps({**COUNTED, "count": "one"}),
        json.dumps({**COUNTED, "count": 1.5}),
        json.dumps({**COUNTED, "count": True}),
        json.dumps({**COUNTED, "knot": 7}),
        json.dumps({**COUNTED, "expected_s": float("nan")}),
        json.dumps({**COUNTED, "expected_s": -1.0}),
    ],
)
def test_damage_is_told(data: str) -> None:
    with pytest.raises(Damaged, match="counted"):
        from_json("counted", data)
