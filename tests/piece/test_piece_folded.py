"""How a piece stood is kept beside its entries: a help to open it fast, and never the truth."""

import sqlite3
import struct
from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from functools import reduce
from pathlib import Path

import pytest
from examples import examples
from hand_clock import HandClock
from hypothesis import given
from hypothesis import strategies as st

from coach.knots import names
from coach.piece import Damaged, NewerVersion, Sitting, Store, look, start_piece
from coach.piece.event_reading import from_values
from coach.piece.events import (
    Counted,
    Event,
    Fitted,
    Joined,
    KeptProject,
    Measured,
    Noted,
    Opened,
    Paused,
    TakenBack,
    Ticked,
    TookProject,
    Unticked,
)
from coach.piece.folding import fold
from coach.piece.state import State
from coach.piece.storage import store as store_room
from coach.piece.storage.event_rows import event_of, placed_sum
from coach.piece.storage.packed_events import PLACES, is_whole, unpack_entry, with_sum, without_sum
from coach.piece.storage.read_piece import read_state
from coach.piece.storage.state_cache import FOLD, state_of, to_text_of

LAYOUTS = Path(__file__).with_name("layouts")
TOTAL = 60
KNOTS = (names.CLOVE, names.SQUARE, names.HALF_KNOT, "a knot of the marsh", "")
WORDS = st.text(max_size=9)
FIGURES = st.floats(0, 1e9)


def sequences() -> st.SearchStrategy[list[tuple[type[Event], dict[str, object], int]]]:
    """Return lists of kinds with their fields and the ms since the one before."""
    kinds: list[tuple[type[Event], dict[str, st.SearchStrategy[object]]]] = [
        (Counted, {"count": st.integers(1, 5), "knot": st.sampled_from(KNOTS),
                   "expected_s": st.just(0.0) | FIGURES}),
        (TakenBack, {"count": st.integers(1, 5)}),
        (Opened, {}),
        (Paused, {}),
        (Ticked, {"what": WORDS, "mark": WORDS}),
        (Unticked, {"what": st.just(""), "mark": st.just("")}),
        (Noted, {"tie": st.integers(0, 9), "place": WORDS, "within": st.just(1), "words": WORDS}),
        (Measured, {"strand": WORDS, "length_mm": FIGURES}),
        (Joined, {"strand": WORDS, "length_mm": FIGURES}),
        (Fitted, {"wish": st.dictionaries(WORDS, st.dictionaries(WORDS, FIGURES))}),
        (KeptProject, {"declined": st.integers(0, 2**32)}),
        (TookProject, {"project_text": WORDS, "done": st.integers(0, TOTAL)}),
    ]  # fmt: skip
    ms = st.integers(0, 30_000)
    one = st.one_of(*(st.tuples(st.just(k), st.fixed_dictionaries(f), ms) for k, f in kinds))
    counted = st.tuples(st.just(Counted), st.fixed_dictionaries(kinds[0][1]), ms)
    return st.lists(one | counted, max_size=30)


def told(
    state: State, what: list[tuple[type[Event], dict[str, object], int]]
) -> Iterator[tuple[State, Event]]:
    """Yield each event that can happen to a piece that stands so, with the state after it."""
    tick_ms = 0
    for kind, fields, ms in what:
        tick_ms += ms
        values = {**fields, "at_ms": tick_ms, "tick_ms": tick_ms, "sitting": state.sitting}
        if kind is Opened:
            values["sitting"] = state.seq + 1
        if kind in (Counted, TakenBack):
            room = TOTAL - state.done if kind is Counted else state.done
            values |= {"count": min(fields["count"], room), "from_done": state.done}
        if kind in (Measured, Joined, Fitted):
            values |= {"at_done": state.done, "total": TOTAL}
        if kind is TookProject:
            values["total"] = TOTAL
        if values.get("count") != 0:
            event = kind(**values)
            state = fold(state, event)
            yield state, event


@examples(60)
@given(sequences(), st.integers(1, 7))
def test_opening_from_what_was_kept_gives_what_folding_everything_gives(
    tmp_path_factory: pytest.TempPathFactory,
    what: list[tuple[type[Event], dict[str, object], int]],
    every: int,
) -> None:
    """Every figure of it, to the last bit, wherever it was kept; and all events come back."""
    clock = HandClock()
    path = tmp_path_factory.mktemp("folded") / "coach.db"
    with pytest.MonkeyPatch.context() as patch, Store(path) as store:
        patch.setattr(store_room, "FOLDED_EVERY", every)
        piece_id = start_piece(store, clock, title="Ebb", project_text="x", source="y", total=TOTAL)
        happened = list(told(look(store, piece_id), what))
        for state, event in happened:
            store.append(piece_id, state, event)
        whole = reduce(fold, store.events_after(piece_id), State())
        assert [event for _, event in happened] == list(store.events_after(piece_id, 1))
        assert not happened or store.folded(piece_id).seq > whole.seq - every
        (piece,) = store.pieces()
        assert look(store, piece_id) == read_state(store, piece) == whole


@pytest.fixture
def kept(store: Store, clock: HandClock, monkeypatch: pytest.MonkeyPatch) -> Store:
    """A store with one piece of forty counts, notes and a measure, kept as it stood twice."""
    monkeypatch.setattr(store_room, "FOLDED_EVERY", 20)
    piece_id = start_piece(store, clock, title="Ebb", project_text="x", source="y", total=TOTAL)
    sitting = Sitting(store, clock, piece_id, [names.CLOVE] * TOTAL)
    sitting.jot(Noted, tie=3, place="strap", within=1, words="tight")
    sitting.jot(Measured, at_done=0, total=TOTAL, strand="reed.1a", length_mm=312.5)
    for _ in range(40):
        clock.go_on(8.25)
        sitting.count()
    return store


def test_a_damaged_one_never_changes_what_is_read(kept: Store) -> None:
    """Each byte of it with one bit flipped in turn: then all is folded from the first entry."""
    whole = reduce(fold, kept.events_after(1), State())
    (data,) = kept._db.execute("SELECT CAST(data AS BLOB) FROM folded").fetchone()
    assert kept.folded(1).seq > 20
    for at in range(len(data)):
        torn = bytearray(data)
        torn[at] ^= 1 << at % 8
        kept._db.execute("UPDATE folded SET data = CAST(? AS TEXT)", (bytes(torn),))
        assert kept.folded(1) == State()
    assert look(kept, 1) == whole


@pytest.mark.parametrize(
    "spoil",
    [
        "DELETE FROM folded",
        "UPDATE folded SET data = 'x'",
        "UPDATE folded SET fold = fold + 1",
        "UPDATE folded SET sum = sum + 1",
        "UPDATE folded SET data = '{}', sum = sum_of('{}')",
        "UPDATE folded SET data = '[', sum = sum_of('[')",
        "UPDATE folded SET data = beyond(data), sum = sum_of(beyond(data))",
    ],
)
def test_what_is_missing_or_of_another_coach_is_folded_anew(kept: Store, spoil: str) -> None:
    """And what happens next goes on from there."""
    whole = reduce(fold, kept.events_after(1), State())
    kept._db.create_function("sum_of", 1, lambda data: placed_sum(1, -FOLD, data.encode()))
    kept._db.create_function("beyond", 1, beyond)
    kept._db.execute(spoil)
    assert look(kept, 1) == whole
    ((paused, event),) = told(whole, [(Paused, {}, 0)])
    kept.append(1, paused, event)
    assert look(kept, 1) == paused


def beyond(data: str) -> str:
    """Return a state that claims more entries than there are."""
    state = state_of(data.encode())
    assert state is not None
    return to_text_of(replace(state, seq=9999))


def test_it_is_kept_again_after_it_was_lost(kept: Store, clock: HandClock) -> None:
    """As after a database of an earlier layout is brought up to date."""
    kept._db.execute("DELETE FROM folded")
    sitting = Sitting(kept, clock, 1, [names.CLOVE] * TOTAL)
    assert kept.folded(1) == sitting.state


def test_a_flipped_bit_in_an_entry_folded_before_is_noticed_at_opening(
    kept: Store, clock: HandClock
) -> None:
    """Nothing of it would be folded again, and still the piece is not opened."""
    columns = ("kind", "at", "data")
    found = kept._db.execute("SELECT kind, at, data FROM event WHERE seq = 9").fetchone()
    for column, text in zip(columns, found, strict=True):
        for at in range(len(text)):
            torn = bytearray(text.encode())
            torn[at] ^= 1 << at % 8
            change = f"UPDATE event SET {column} = CAST(? AS TEXT) WHERE seq = 9"  # noqa: S608
            kept._db.execute(change, (bytes(torn),))
            with pytest.raises(Damaged, match="written"):
                Sitting(kept, clock, 1, [names.CLOVE] * TOTAL)
        kept._db.execute(f"UPDATE event SET {column} = ? WHERE seq = 9", (text,))  # noqa: S608
    Sitting(kept, clock, 1, [names.CLOVE] * TOTAL)
    kept._db.execute("DELETE FROM event WHERE seq = 9")
    with pytest.raises(Damaged, match="missing"):
        Sitting(kept, clock, 1, [names.CLOVE] * TOTAL)


def test_a_piece_taken_out_leaves_nothing(kept: Store) -> None:
    with kept.atomic():
        kept.remove(1)
    for table in ("event", "folded", "piece"):
        assert kept._db.execute(f"SELECT count(*) FROM {table}").fetchone() == (0,)  # noqa: S608


def entries(raw: sqlite3.Connection, piece_id: int, seq: int) -> list[Event]:
    """Return a piece's first events out of a database of layout 3 or of a later one."""
    if raw.execute("PRAGMA user_version").fetchone() == (3,):
        among = (piece_id * PLACES, piece_id * PLACES + seq)
        found = raw.execute("SELECT data FROM event WHERE id > ? AND id <= ? ORDER BY id", among)
        return [from_values(*unpack_entry(without_sum(entry))) for (entry,) in found]
    raw.text_factory = bytes
    found = raw.execute(
        "SELECT seq, kind, at, data, sum FROM event WHERE piece = ? AND seq <= ? ORDER BY seq",
        (piece_id, seq),
    )
    return [event_of(row) for row in found]


@pytest.mark.parametrize("file", sorted(LAYOUTS.glob("coach-[3-9].db")), ids=lambda p: p.name)
def test_the_way_of_folding_is_still_that_of_its_number(file: Path) -> None:
    """What was kept by a coach of this number is what this one folds; else FOLD must go up."""
    with closing(sqlite3.connect(f"file:{file}?immutable=1", uri=True)) as raw:
        found = raw.execute("SELECT * FROM folded WHERE fold = ?", (FOLD,)).fetchall()
        for piece_id, _, seq, data, *_ in found:
            folded = reduce(fold, entries(raw, piece_id, seq), State())
            assert (folded.seq, folded.done) == (seq, 10)
            assert (
                state_of(without_sum(data) if isinstance(data, bytes) else data.encode()) == folded
            )
        assert found or file.name < "coach-5.db"  # folded otherwise by the coach of its day


def test_sums_go_on_where_their_beginnings_run_over() -> None:
    """The number that a sum begins from has 32 bits; this piece's third entry is beyond them."""
    piece_id = -2 * pow(2654435761, -1, 2**32) % 2**32
    sums = {placed_sum(piece_id, seq, b"tide") for seq in range(1, 6)}
    assert len(sums) == 5


HEAD = "01000000000000000200000000000000020000000300000004000000"
FIELDS = {"at_ms": 1, "tick_ms": 2, "sitting": 2, "count": 3, "from_done": 4}


@pytest.mark.parametrize(
    ("knot", "number"),
    [("", 0), (names.CLOVE, 1), (names.SQUARE, 6), (names.OVERHAND, 12), (names.BERRY, 16)],
)
def test_the_numbers_of_knots_in_layout_3_stay_as_they_are(knot: str, number: int) -> None:
    """They stand in makers' databases and snapshots."""
    event = from_values(*unpack_entry(bytes.fromhex(f"01{HEAD}{number:02x}")))
    assert event == Counted(**FIELDS, knot=knot)


def test_the_other_forms_of_layout_3_are_read() -> None:
    """Mixed counts, counts taken back, and what was written out as JSON."""
    mixed = bytes.fromhex(f"02{HEAD}") + struct.pack("<d", 7.25)
    assert from_values(*unpack_entry(mixed)) == Counted(**FIELDS, expected_s=7.25)
    assert from_values(*unpack_entry(bytes.fromhex(f"03{HEAD}"))) == TakenBack(**FIELDS)
    assert from_values(*unpack_entry(b'paused{"at_ms":1,"tick_ms":2,"sitting":2}')) == Paused(
        at_ms=1, tick_ms=2, sitting=2
    )
    assert not is_whole(with_sum(mixed, 1, 2), 1, 3)
    assert is_whole(with_sum(mixed, 1, 2), 1, 2)


@pytest.mark.parametrize(
    ("entry", "error"),
    [
        (b"", Damaged), (b"\x01\x05", Damaged), (bytes.fromhex(f"01{HEAD}63"), Damaged),
        (b"{", Damaged), (b"paused[]", Damaged), (b"\x09", NewerVersion),
        (b"dreamt{}", NewerVersion),
    ],
)  # fmt: skip
def test_what_layout_3_never_wrote_is_refused(entry: bytes, error: type[Exception]) -> None:
    with pytest.raises(error):
        from_values(*unpack_entry(entry))
