"""One judge for events: what is kept can be read, planned and measured, and spoils no piece."""

import json
import time
from collections.abc import Sequence
from dataclasses import fields, replace
from pathlib import Path

import command_line
import pytest
from hand_clock import HandClock
from hypothesis import given
from hypothesis import strategies as st
from marsh_band import TEXT, band
from processes import Completed

from coach.pace.cord_learning import SLACKS, THICKEST, THINNEST
from coach.pace.estimate import initial_paces
from coach.pace.pace_json import to_data
from coach.piece import CannotTakeIn, PieceError, Sitting, Store, SystemClock, look, start_piece
from coach.piece.event_bounds import MOST_ENTRIES, MOST_OF, checked_event
from coach.piece.event_reading import from_values
from coach.piece.events import PIECE_EVENTS, Begun, Counted, Event, Joined, Measured, Noted, Opened
from coach.piece.export_import import PART, export_piece, from_text, take_in_piece, to_text
from coach.piece.learning.carry_over import carry_over
from coach.piece.piece_errors import CannotBe
from coach.piece.service import set_teaching
from coach.piece.state import State
from coach.piece.storage.event_rows import event_of, row_of

BAND = band()
WHEN = {"at_ms": 1_900_000_000_000, "tick_ms": 0, "sitting": 2}
FIGURES = [(kind, f.name) for kind, known in PIECE_EVENTS.by_name.items() for f in fields(known)
           if f.type in (int, float, "int", "float")]  # fmt: skip
BEGUN = Begun(
    at_ms=WHEN["at_ms"], tick_ms=0, sitting=0, title="Sluice band", project_text=TEXT,
    source="band.yaml", total=BAND.total,
)  # fmt: skip


def began(*more: Event) -> list[Event]:
    return [BEGUN, Opened(**WHEN), *more]


def seen(length_mm: float, strand: str = "") -> Measured:
    return Measured(**WHEN, at_done=36, total=BAND.total, strand=strand, length_mm=length_mm)


def counted(count: int, from_done: int = 0) -> Counted:
    return Counted(**WHEN, count=count, from_done=from_done)


@pytest.mark.parametrize(("kind", "name"), FIGURES)
def test_every_figure_of_every_kind_has_a_most(kind: str, name: str) -> None:
    """A new one without its own would go by the judge."""
    assert MOST_OF[name] > 0
    values = {f.name: "x" if f.type is str else {} if "Mapping" in str(f.type) else 0
              for f in fields(PIECE_EVENTS.by_name[kind])}  # fmt: skip
    checked_event(from_values(kind, values))
    over = PIECE_EVENTS.by_name[kind](**{**values, name: MOST_OF[name] * 2 + 2})
    with pytest.raises(PieceError):
        checked_event(over)
    with pytest.raises(PieceError):
        checked_event(PIECE_EVENTS.by_name[kind](**{**values, name: -1}))


@given(st.sampled_from(FIGURES), st.integers(-(10**25), 10**25) | st.floats())
def test_what_passes_is_read_back_as_it_was(figure: tuple[str, str], value: float) -> None:
    kind, name = figure
    values = {f.name: "x" if f.type is str else {} if "Mapping" in str(f.type) else 0
              for f in fields(PIECE_EVENTS.by_name[kind])}  # fmt: skip
    event = PIECE_EVENTS.by_name[kind](**{**values, name: value})
    try:
        checked_event(event)
    except PieceError:
        return
    assert event_of(row_of(1, 2, event)) == event
    assert from_values(kind, json.loads(json.dumps(event.values()))) == event


@pytest.mark.parametrize(
    "event",
    [
        seen(1e20),
        replace(seen(40.0), at_done=10**9),
        Joined(**WHEN, at_done=1, total=109, strand="reed.1a", length_mm=1e20),
        replace(counted(1), expected_s=1e300),
        replace(counted(1), standard_s={"clove hitch": 1e300}),
        replace(counted(1), at_ms=2**60),
        Noted(**WHEN, tie=1, place="x", within=0, words="reed" * 30_000),
    ],
    ids=lambda event: event.kind,
)
def test_an_import_that_no_piece_can_hold_is_refused(event: Event) -> None:
    with pytest.raises(CannotTakeIn, match="cannot"):
        from_text(to_text("Ebb", began(event)))


def paces_with(figure: float) -> dict[str, object]:
    return {**to_data(initial_paces()), "looks": figure, "made": {"clove hitch": figure}}


@pytest.mark.parametrize("figure", [1e308, 1e19, -1.0, float("nan")])
def test_paces_beyond_all_time_are_refused(figure: float) -> None:
    begun = replace(BEGUN, paces=paces_with(figure))
    with pytest.raises(PieceError):
        from_text(to_text("Ebb", [begun, *began()[1:]]))


def taught(store: Store) -> dict[tuple[str, str], float]:
    found = carry_over(store, BAND.project, BAND)
    return {figure: belief.mean for figure, belief in found.beliefs.items()}


@pytest.mark.parametrize(
    "events",
    [
        began(counted(36), seen(1e8)),
        began(counted(36), seen(4.7)),
        began(counted(36), seen(1e-9)),
        began(counted(36), seen(1e8, "reed.1a")),
        [replace(BEGUN, cord={"reed\t": [1e9, 1e-30]}), Opened(**WHEN), counted(36), seen(47.0)],
        [replace(BEGUN, paces=paces_with(1e17)), Opened(**WHEN), counted(36), counted(5, 36)],
    ],
    ids=["100 km", "a tenth", "nothing", "100 km of rest", "beliefs", "paces"],
)
def test_no_piece_that_is_taken_in_spoils_the_next(
    store: Store, clock: HandClock, events: Sequence[Event]
) -> None:
    """What passes for a piece still teaches nothing that cords and hands cannot be."""
    take_in_piece(store, from_text(to_text("Ebb", events)))
    begun_s = time.monotonic()
    found = carry_over(store, BAND.project, BAND)
    for (_, knot), belief in found.beliefs.items():
        least, most = SLACKS if knot else (THINNEST, THICKEST)
        assert least <= belief.mean <= most + 0.005
        assert abs(belief.mean - (0.0 if knot else 0.78)) < 0.23
    number = start_piece(
        store, clock, title="Flood", project_text=TEXT, source="y", total=BAND.total,
        paces=found.paces, beliefs=found.beliefs,
    )  # fmt: skip
    Sitting(store, clock, number, [count.knot for count in BAND.counts]).count(3)
    assert look(store, number).done == 3
    assert time.monotonic() - begun_s < 30, "it hung"


def test_a_slipped_decimal_that_came_in_teaches_nothing(store: Store) -> None:
    """4.7 mm for 4.7 cm; believed, the next piece would be planned in a cord of half its width."""
    take_in_piece(store, from_text(to_text("Ebb", began(counted(36), seen(4.7)))))
    assert taught(store) == {}


def test_a_piece_that_is_left_out_teaches_nothing_until_it_is_learnt_from_again(
    store: Store, clock: HandClock
) -> None:
    right = BAND.height_mm[36] * 0.93
    take_in_piece(store, from_text(to_text("Ebb", began(counted(36), seen(right)))))
    believed = taught(store)
    assert believed["reed", ""] < 0.76
    assert set_teaching(store, clock, 1, teaches=False)
    assert not set_teaching(store, clock, 1, teaches=False)
    assert taught(store) == {}
    there = from_text(export_piece(store, 1))
    assert not [*there.states()][-1].teaches
    assert set_teaching(store, clock, 1, teaches=True)
    assert taught(store) == believed


def test_a_clock_that_stands_before_1970_stops_nothing(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A machine whose battery is empty: what is written is read again."""
    for now_ns in (-(10**18), 0, 2**63 - 1, 2**70):
        monkeypatch.setattr(time, "time_ns", lambda now_ns=now_ns: now_ns)
        clock = SystemClock()
        number = start_piece(store, clock, title="Ebb", project_text="", source="x", total=9)
        Sitting(store, clock, number, [""] * 9).count(2)
        assert look(store, number).done == 2
        assert from_text(export_piece(store, number))


def test_what_cannot_be_is_refused_on_the_bench_and_waits_nowhere(
    store: Store, clock: HandClock
) -> None:
    number = start_piece(store, clock, title="Ebb", project_text="", source="x", total=9)
    sitting = Sitting(store, clock, number, [""] * 9)
    with pytest.raises(CannotBe, match="length_mm"):
        sitting.jot(Measured, at_done=1, total=9, strand="", length_mm=1e9)
    assert not sitting.trouble
    assert sitting.count().done == 1
    assert look(store, number).happenings == ()


def test_a_piece_has_so_many_notes_and_no_more() -> None:
    note = Noted(**WHEN, tie=1, place="x", within=0)
    full = replace(State(), notes=(None,) * MOST_ENTRIES)  # type: ignore[arg-type]
    with pytest.raises(CannotBe, match="already"):
        checked_event(note, full)
    checked_event(replace(note, written_ms=5), full)


def test_whoever_works_on_another_piece_waits_for_no_more_than_a_part(
    database: Path, store: Store, clock: HandClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A long import is stored in parts; between any two of them others get their turn."""
    number = start_piece(store, clock, title="Ebb", project_text="", source="x", total=90)
    events = [replace(BEGUN, total=200_000), Opened(**WHEN)]
    events += [counted(1, done) for done in range(3 * PART)]
    carried = from_text(to_text("Long", events))
    parts, extend = [], Store.extend
    with Store(database) as other:
        other._wait_at_most(0)
        beside = Sitting(other, clock, number, [""] * 90)

        def extended(self: Store, piece_id: int, happened: Sequence[object]) -> object:
            if self is store:
                parts.append(len(happened))
            return extend(self, piece_id, happened)  # type: ignore[arg-type]

        begin = Store.atomic

        def turn(self: Store) -> object:
            if self is store:
                beside.count()
            return begin(self)

        monkeypatch.setattr(Store, "extend", extended)
        monkeypatch.setattr(Store, "atomic", turn)
        take_in_piece(store, carried)
        assert not beside.waiting
        assert not beside.trouble
    assert max(parts) <= PART
    assert len(parts) > 3
    assert look(store, 2).done == 3 * PART


def coach(home: Path, *arguments: str, typed: str = "") -> Completed:
    at_home = {"COACH_HOME": str(home)}
    return command_line.coach(*arguments, typed=typed, cwd=home, environment=at_home)


@pytest.mark.parametrize("answer", ["", "n\n", "perhaps\n"])
def test_a_piece_is_not_removed_without_a_yes(
    tmp_path: Path, clock: HandClock, answer: str
) -> None:
    with Store(tmp_path / "data" / "coach.db") as store:
        start_piece(store, clock, title="Ebb", project_text="", source="x", total=9)
        assert coach(tmp_path, "remove", "ebb", typed=answer).returncode == 1
        assert [piece.name for piece in store.pieces()] == ["Ebb"]
    assert not (tmp_path / "data" / "removed").exists()


def test_a_piece_that_was_removed_comes_back_just_as_it_was(
    tmp_path: Path, clock: HandClock
) -> None:
    """Twice under one name: neither file goes over the other."""
    with Store(tmp_path / "data" / "coach.db") as store:
        number = start_piece(store, clock, title="Ebb", project_text="", source="x", total=9)
        Sitting(store, clock, number, [""] * 9).count(4)
        before = export_piece(store, number)
        for typed, options in (("y\n", ()), ("", ("--yes",))):
            assert coach(tmp_path, "remove", "ebb", *options, typed=typed).returncode == 0
            assert store.pieces() == []
            left = sorted((tmp_path / "data" / "removed").iterdir())
            assert coach(tmp_path, "import", str(left[0])).returncode == 0
            assert export_piece(store, store.pieces()[0].id) == before
        assert len(left) == 2
        assert coach(tmp_path, "pieces", "ebb", "--leave-out").returncode == 0
        assert "left out" in coach(tmp_path, "pieces", "ebb").stdout
        assert not look(store, store.pieces()[0].id).teaches
