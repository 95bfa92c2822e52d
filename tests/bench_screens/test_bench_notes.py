"""Notes and marked spots: kept with their tie, and there when the same place comes round."""

from pathlib import Path

from bench_pieces import ABOUT, Clock, on_bench, plan_of, row
from hypothesis import given
from hypothesis import strategies as st
from test_bench_screens import Bench, run
from textual import events

from coach.piece import Note, Store, look, notes_before, start_piece
from coach.plan.board_at_count import END, place_at
from coach.plan.plan_model import Plan
from coach.project import model
from coach.session.annotations import Annotations, marked_spots, notes_here
from coach.session.ports import OnBench
from coach.tui.app import BenchApp

WAVE = (row(1, (2, 3)), row(6, (5, 4)), row(1, (2,)))


def waves(times: int = 3) -> Plan:
    """Return rows of two, two and one ties, every second time mirrored."""
    return plan_of(model.Use(ABOUT, "wave", times, "every second"), parts={"wave": WAVE})


def noted(plan: Plan, done: int, words: str, at_ms: int = 5) -> Note:
    place, within = place_at(plan, done)
    return Note(at_ms, done, place, within, words)


def test_a_place_has_one_name_in_every_repeat_mirrored_or_not() -> None:
    """The second tie of the second row is counts 3, 8 and 13; no other count is there."""
    plan = waves()
    wanted = place_at(plan, 3)
    assert [done for done in range(plan.total) if place_at(plan, done) == wanted] == [3, 8, 13]
    assert place_at(plan, plan.total) == (END, 0)


@given(st.integers(0, 14))
def test_a_note_comes_up_in_its_step_in_every_repeat(done: int) -> None:
    plan = waves()
    here = [n for n in range(plan.total) if notes_here(plan, n, [noted(plan, done, "Tight.")], ())]
    step = plan.step_of(done)
    offset = step.first % 5
    expected = [n for n in range(plan.total) if 0 <= n % 5 - offset < step.counts]
    assert here == expected


def test_a_note_says_at_which_tie_and_from_which_piece() -> None:
    """That of the tie at hand first; words said twice are told once; marks without words never."""
    plan = waves()
    own = [noted(plan, 0, "One."), noted(plan, 1, "Two."), noted(plan, 5, "One."),
           noted(plan, 0, "")]  # fmt: skip
    assert notes_here(plan, 11, own, [noted(plan, 0, "Before.")]) == (
        "Noted at 2 of 2: Two.", "Noted at 1 of 2: One.",
        "Noted at 1 of 2 in an earlier piece: Before.",
    )  # fmt: skip


def test_spots_without_words_stand_first_then_the_latest() -> None:
    plan = waves()
    notes = [noted(plan, 1, "old", 1), noted(plan, 2, "", 2), noted(plan, 3, "new", 3)]
    assert [note.words for note in marked_spots(notes)] == ["", "new", "old"]


def test_words_can_be_written_later_changed_and_taken_away(tmp_path: Path) -> None:
    plan, clock = waves(), Clock()
    sitting = on_bench(tmp_path, plan, clock, 3).sitting
    asides = Annotations(plan, sitting)
    asides.note(3, "")
    clock.ms += 1000
    asides.note(3, "Of another minute.")
    asides.note(9, "Pull here.", asides.notes[0])
    assert [(n.tie, n.words) for n in asides.notes] == [
        (3, "Pull here."),
        (3, "Of another minute."),
    ]
    asides.note(9, "Pull \x1b[31m harder.\n", asides.notes[0])
    assert asides.notes[0].words == "Pull [31m harder."
    asides.note(9, "", asides.notes[0])
    assert [n.words for n in asides.notes] == ["Of another minute."]
    with Store(tmp_path / "pieces.db") as store:
        assert look(store, sitting.piece_id).notes == asides.notes


def test_a_note_leaves_count_pause_and_clock_alone(tmp_path: Path) -> None:
    """The gap between two counts shows the pace, whether or not a note was written in it."""
    plan, clock = waves(), Clock()
    sittings = []
    for name in ("plain", "noted"):
        (tmp_path / name).mkdir()
        sitting = on_bench(tmp_path / name, plan, clock).sitting
        for done in range(6):
            clock.ms += 9000
            if name == "noted":
                Annotations(plan, sitting).note(done, "Tight.")
            clock.ms += 1000
            sitting.count()
        sittings.append(sitting.state)
    assert sittings[0].worked_ms == sittings[1].worked_ms
    assert sittings[0].paces == sittings[1].paces
    sitting.pause()
    Annotations(plan, sitting).note(6, "While the clock stands.")
    assert sitting.state.paused


def test_notes_of_a_project_come_up_in_its_next_piece(tmp_path: Path) -> None:
    plan, clock = waves(), Clock()
    with Store(tmp_path / "pieces.db") as store:
        first = on_bench(tmp_path, plan, clock, 3).sitting
        Annotations(plan, first).note(3, "Pull here.")
        Annotations(plan, first).note(4, "")
        second = on_bench(tmp_path, plan, clock).sitting
        other = start_piece(store, clock, title="Mat", project_text="", source="else", total=5)
        assert [n.words for n in notes_before(store, second.piece_id)] == ["Pull here."]
        assert notes_before(store, first.piece_id) == ()
        assert notes_before(store, other) == ()
        earlier = notes_before(store, second.piece_id)
    assert Annotations(plan, second, earlier).here(8) == (
        "Noted at 2 of 2 in an earlier piece: Pull here.",
    )


def test_a_note_is_written_on_the_bench_and_seen_in_the_next_repeat(tmp_path: Path) -> None:
    plan, clock = waves(), Clock()
    opened = on_bench(tmp_path, plan, clock, 3)

    async def drive(seen: Bench) -> None:
        await seen.press("n", *"qarb", "enter")
        assert [n.words for n in opened.sitting.state.notes] == ["qarb"]
        assert opened.sitting.state.done == 3
        assert "Noted at 2 of 2: qarb" in seen.text()
        await seen.press("space", "space", "space")
        assert "Noted" not in seen.text()
        await seen.press("space")
        assert "Noted at 2 of 2: qarb" in seen.text()

    run(BenchApp(on_bench=opened, clock=clock), clock, drive)


def test_a_spot_is_marked_on_one_key_and_named_later(tmp_path: Path) -> None:
    plan, clock = waves(), Clock()
    opened = on_bench(tmp_path, plan, clock, 3)

    async def drive(seen: Bench) -> None:
        await seen.press("x")
        assert "Marked." in seen.text()
        await seen.press("space", "n")
        assert "no words yet" in seen.text()
        await seen.press("down", "o", "k", "enter")
        assert [(n.tie, n.words) for n in opened.sitting.state.notes] == [(3, "ok")]
        await seen.press("n", "down")
        assert seen.app.focused is not None
        assert getattr(seen.app.focused, "value", "") == "ok"
        await seen.press("backspace", "backspace", "enter")
        assert opened.sitting.state.notes == ()
        await seen.press("n", "z", "escape")
        assert opened.sitting.state.notes == ()
        assert opened.sitting.state.done == 4

    run(BenchApp(on_bench=opened, clock=clock), clock, drive)


def test_what_is_pasted_into_a_note_does_nothing_to_the_terminal(tmp_path: Path) -> None:
    plan, clock = waves(), Clock()
    opened = on_bench(tmp_path, plan, clock, 3)

    async def drive(seen: Bench) -> None:
        await seen.press("n")
        seen.app.focused.insert_text_at_cursor("a\x1b[2Jb\u202ec[/]")  # type: ignore[union-attr]  # the line has the focus
        await seen.pilot.pause()
        assert "a[2Jbc[/]" in seen.text()
        assert "\x1b" not in seen.text()
        for size in ((120, 40), (40, 12), (20, 6), (3, 2), (1, 1), (80, 24)):
            await seen.pilot.resize_terminal(*size)
            await seen.pilot.pause()
            assert max(map(len, seen.text().splitlines()), default=0) <= size[0]
        await seen.press("enter")
        assert opened.sitting.state.notes[0].words == "a[2Jbc[/]"
        assert "a[2Jbc[/]" in seen.text()

    run(BenchApp(on_bench=opened, clock=clock), clock, drive)


def test_a_pasted_text_that_is_too_long_is_kept_as_far_as_there_is_room(tmp_path: Path) -> None:
    """And told so; the lines of one that has several are one line."""
    opened = on_bench(tmp_path, waves(), Clock(), 3)

    async def drive(seen: Bench) -> None:
        await seen.press("n", "a", "b", "left")
        seen.app.post_message(events.Paste("tide\n" + "w" * 100_000))
        await seen.press("n")
        assert "The line holds 400 letters; the rest" in seen.text()
        await seen.press("enter")
        assert opened.sitting.state.notes[0].words == "atide " + "w" * 393 + "b"

    run(BenchApp(on_bench=opened, clock=Clock()), Clock(), drive)


def test_notes_are_there_when_the_piece_is_opened_anew(tmp_path: Path) -> None:
    """Without leaving, as after a power cut."""
    plan, clock = waves(), Clock()
    opened = on_bench(tmp_path, plan, clock, 3)
    Annotations(plan, opened.sitting).note(3, "Pull here.")
    knots = [count.knot for count in plan.counts]
    again = type(opened.sitting)(Store(tmp_path / "pieces.db"), clock, 1, knots)

    async def drive(seen: Bench) -> None:
        assert "Pull here." in seen.text()

    run(BenchApp(on_bench=OnBench(plan, again), clock=clock), clock, drive, (40, 12))
