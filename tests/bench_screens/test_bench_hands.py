"""What each setting does on the bench: counting, keys, sounds, words, units, rest.

Needs POSIX: rights of files and a POSIX shell.
"""

import asyncio
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from types import MappingProxyType

import pytest
from bench_pieces import ABOUT, Clock, knot, on_bench, plan_of, row

from coach.audio.keep_awake import Awake
from coach.audio.speech import Voice
from coach.cli.plain_lines import wrap_words
from coach.pace.working_time import BreakReminder
from coach.plain_ui.plain_commands import WORD_OF
from coach.plain_ui.walk import PlainWalk
from coach.plan.plan_model import Plan
from coach.project import model
from coach.quantities import in_units
from coach.session.announcer import Spoken
from coach.session.controller import BenchController
from coach.session.count_mode import PassStore
from coach.session.keymap import ACTIONS, Keys, rebound
from coach.session.ports import Aids
from coach.session.time_format import length_span
from coach.settings.overrides import Kept
from coach.settings.settings import Settings
from coach.tui.app import BenchApp
from coach.tui.layout.key_footer import work_hints


def two_steps() -> Plan:
    """Return a row of three clove hitches and five square knots."""
    return plan_of(row(1, (2, 3, 4)), knot("square knot", (1, 2, 3, 4), times=5))


def bench(
    folder: Path, settings: Settings, plan: Plan | None = None, done: int = 0
) -> tuple[BenchController, Clock]:
    """Return a piece on the bench with settings."""
    clock, plan = Clock(), plan or two_steps()
    opened = on_bench(folder, plan, clock, done)
    aids = Aids(kept=Kept(settings), passes=PassStore(folder))
    return BenchController(plan, opened.sitting, clock, Keys(), aids=aids), clock


def press(work: BenchController, clock: Clock, *actions: str, apart_ms: int = 1000) -> list[str]:
    """Do things one after another; give what rang."""
    rung = []
    for action in actions:
        clock.ms += apart_ms
        rung.append(work.act(action))
    return rung


def test_by_pass_a_tie_is_made_with_its_last_pass(tmp_path: Path) -> None:
    work, clock = bench(tmp_path, Settings(count_by="pass"))
    seen = []
    for _ in range(4):
        seen.append((work.done, work.view().passing))
        press(work, clock, "count")
    assert seen == [(0, (1, 2)), (0, (2, 2)), (1, (1, 2)), (1, (2, 2))]
    assert work.done == 2


def test_by_pass_one_back_is_one_pass(tmp_path: Path) -> None:
    work, clock = bench(tmp_path, Settings(count_by="pass"), done=2)
    press(work, clock, "take_back")
    assert (work.done, work.view().passing) == (1, (2, 2))
    press(work, clock, "take_back")
    assert (work.done, work.view().passing) == (1, (1, 2))
    press(work, clock, "count", "count")
    assert work.done == 2


def test_by_step_one_press_is_the_whole_step_either_way(tmp_path: Path) -> None:
    work, clock = bench(tmp_path, Settings(count_by="step"))
    assert press(work, clock, "count", "count") == ["step", "step"]
    assert work.done == 8
    press(work, clock, "take_back")
    assert work.done == 3
    press(work, clock, "take_back")
    assert work.done == 0


def test_one_knot_can_be_counted_otherwise_than_the_rest(tmp_path: Path) -> None:
    by_knot = MappingProxyType({"square knot": "step"})
    work, clock = bench(tmp_path, Settings(count_by_knot=by_knot))
    press(work, clock, "count", "count", "count")
    assert work.done == 3
    press(work, clock, "count")
    assert work.done == 8


def test_passes_are_there_again_after_a_restart_and_gone_when_the_count_moved(
    tmp_path: Path,
) -> None:
    work, clock = bench(tmp_path, Settings(count_by="pass"), done=1)
    press(work, clock, "count")
    piece = work.sitting.piece_id
    assert PassStore(tmp_path).made(piece, 1) == 1
    assert PassStore(tmp_path).made(piece, 2) == 0
    press(work, clock, "count")
    assert PassStore(tmp_path).made(piece, 2) == 0


@pytest.mark.parametrize("text", ["", "{", '{"1": [1, "x"]}', '{"1": 3}', '{"1": [1, -4]}'])
def test_a_damaged_file_of_passes_is_none(tmp_path: Path, text: str) -> None:
    (tmp_path / "passes.json").write_text(text)
    assert PassStore(tmp_path).made(1, 1) == 0


def test_the_way_of_counting_goes_round_on_its_keys(tmp_path: Path) -> None:
    work, clock = bench(tmp_path, Settings())
    told = []
    for _ in range(3):
        press(work, clock, "count_by")
        told.append(work.settings.count_by)
    assert told == ["pass", "step", "tie"]
    each = []
    for _ in range(4):
        press(work, clock, "count_by_knot")
        each.append(dict(work.settings.count_by_knot))
    knot_name = "clove hitch"
    assert each == [{knot_name: "tie"}, {knot_name: "pass"}, {knot_name: "step"}, {}]


def test_any_key_counts_but_escape_and_what_takes_back(tmp_path: Path) -> None:
    work, _ = bench(tmp_path, Settings(any_key=True))
    keys = ("q", "f5", "space", "p", "tab", "t", "escape", "backspace", "left")
    asked = [work.action(key) for key in keys]
    assert asked == ["count"] * 6 + ["any_key", "take_back", "take_back"]
    work.act("any_key")
    assert [work.action(key) for key in ("q", "f5", "escape")] == ["leave", None, None]
    assert not work.view().any_key


def test_the_footer_tells_what_keys_do_while_any_key_counts() -> None:
    hints = work_hints(Keys(), any_key=True, finished=False)
    told = [f"{hint.key} {hint.what}" for hint in hints]
    assert told == ["any key made", "backspace one back", "escape only set keys"]


@pytest.mark.parametrize(("bounce_ms", "made"), [(150, 1), (0, 5), (30, 5), (41, 1)])
def test_the_bounce_time_is_the_one_that_is_set(tmp_path: Path, bounce_ms: int, made: int) -> None:
    work, clock = bench(tmp_path, Settings(bounce_ms=bounce_ms))
    press(work, clock, *["count"] * 5, apart_ms=40)
    assert work.done == made


@pytest.mark.parametrize(
    ("settings", "bells"),
    [(Settings(), 5), (Settings(bell_step=False), 4), (Settings(bell_repeat=False), 1),
     (Settings(bell_step=False, bell_repeat=False), 0)],
)  # fmt: skip
def test_each_bell_can_be_turned_off(tmp_path: Path, settings: Settings, bells: int) -> None:
    """A step of three before two repeats of one row: one bell, and two for each repeat."""
    plan = plan_of(
        row(1, (2, 3, 4)), model.Use(ABOUT, "wave", 2), row(1, (2,)),
        parts={"wave": (row(6, (5, 4)),)},
    )  # fmt: skip
    clock = Clock()
    app = BenchApp(
        on_bench=on_bench(tmp_path, plan, clock), clock=clock, aids=Aids(kept=Kept(settings))
    )
    rung: list[str] = []

    async def go() -> None:
        async with app.run_test() as pilot:
            app.bell = lambda: rung.append("bell")  # type: ignore[method-assign]
            app.screen.set_timer = lambda _s, ring: ring()  # type: ignore[method-assign, assignment]
            for _ in range(plan.total):
                clock.ms += 1000
                await pilot.press("space")
            await pilot.pause()

    asyncio.run(go())
    assert len(rung) == bells


class Listening(Voice):
    """Keeps what it should say."""

    def __init__(self) -> None:
        super().__init__(None)
        self.heard: list[str] = []

    def say(self, text: str) -> None:
        self.heard.append(text)


def heard(folder: Path, settings: Settings, *keys: str) -> list[str]:
    """Return what is spoken while keys are pressed."""
    clock, plan, voice = Clock(), two_steps(), Listening()
    app = BenchApp(
        on_bench=on_bench(folder, plan, clock), clock=clock,
        aids=Aids(kept=Kept(settings), voice=voice),
    )  # fmt: skip

    async def go() -> None:
        async with app.run_test() as pilot:
            for key in keys:
                clock.ms += 1000
                await pilot.press(key)
            await pilot.pause()

    asyncio.run(go())
    return [text for text in voice.heard if text]


def test_a_step_is_spoken_at_its_start_and_every_second_count(tmp_path: Path) -> None:
    spoken = heard(tmp_path, Settings(speech=True, speech_every=2), *["space"] * 6)
    assert spoken[0].startswith("Hold strand 1")
    assert spoken[1] == "3 of 3."
    assert spoken[2].startswith("Square knot round strands 2 and 3")
    assert spoken[3:] == ["3 of 5."]


def test_nothing_is_spoken_unless_it_is_wanted(tmp_path: Path) -> None:
    assert heard(tmp_path, Settings(), *["space"] * 6) == []


def test_speech_is_turned_on_and_asked_for_with_keys(tmp_path: Path) -> None:
    assert heard(tmp_path, Settings(), "y")[0].startswith("1 of 3. Hold strand 1")
    (tmp_path / "other").mkdir()
    assert heard(tmp_path / "other", Settings(), "v", "space", "space", "space")[-1].startswith(
        "Square knot"
    )


def test_a_strand_that_runs_short_is_spoken_once(tmp_path: Path) -> None:
    work, clock = bench(tmp_path, Settings())
    spoken = Spoken(work.plan, 0)
    spoken.words(work.view())
    press(work, clock, "count")
    short = replace(work.view().cords[0], short=True, runs_out_at=6)
    view = replace(work.view(), short=(short,))
    assert "will not reach" in spoken.words(view)
    assert spoken.words(view) == ""
    assert "will not reach" in spoken.again(view)


def test_lengths_follow_the_units(tmp_path: Path) -> None:
    plan = plan_of(model.Space(ABOUT, None, 30.0), row(1, (2,)))
    work, clock = bench(tmp_path, Settings(units="in"), plan)
    assert "1 3/16 in" in work.view().sentence
    press(work, clock, "units")
    assert "3 cm" in work.view().sentence


def test_the_makers_own_words_keep_their_units(tmp_path: Path) -> None:
    plan = plan_of(model.Do(ABOUT, "Pin it 3 cm down."), row(1, (2,)))
    work, _ = bench(tmp_path, Settings(units="in"), plan)
    assert work.view().sentence == "Pin it 3 cm down."


@pytest.mark.parametrize(
    ("said", "shown"),
    [("Leave 3 cm, then 15 mm.", "Leave 1 3/16 in, then 9/16 in."), ("1.5 m", "59 1/16 in"),
     ("1 to 3 mean", "1 to 3 mean"), ("a2 cm", "a2 cm")],
)  # fmt: skip
def test_lengths_in_a_sentence_are_turned_into_inches(said: str, shown: str) -> None:
    assert in_units(said, "in") == shown
    assert in_units(said, "cm") == said


def test_a_range_has_its_unit_once() -> None:
    assert length_span(254, 508, "in") == "10-20 in"
    assert length_span(120, 180) == "12-18 cm"


def test_a_pause_is_proposed_after_so_much_work_and_not_after_a_rest() -> None:
    """5 to 10 minutes after 50 to 60 are better than 15 to 20 every 2 hours (UK HSE; quoted)."""
    rest = BreakReminder(50)
    for minute in range(50):
        rest.count(minute * 60_000, minute * 60.0)
        assert not rest.proposal(minute * 60.0)
    assert rest.proposal(3000.0).startswith("50 minutes of knotting")
    rest.count(50 * 60_000 + 300_000, 3000.0)
    assert not rest.proposal(3060.0)
    assert rest.proposal(6000.0)
    assert not BreakReminder(0).proposal(99_999.0)


def test_the_proposal_stands_quietly_among_the_notes(tmp_path: Path) -> None:
    work, clock = bench(tmp_path, Settings(rest_after_min=1))
    press(work, clock, *["count"] * 7, apart_ms=20_000)
    assert "would do your hands good" in work.view().notes[0]
    assert not work.view().message


def waiting(folder: Path, name: str, script: str) -> None:
    path = folder / name
    path.write_text(f"#!/bin/sh\n{script}\n")
    path.chmod(0o755)


@pytest.mark.parametrize("name", ["systemd-inhibit", "caffeinate"])
def test_the_display_is_kept_awake_as_long_as_the_piece_is_open(tmp_path: Path, name: str) -> None:
    waiting(tmp_path, name, 'for last; do :; done; exec "$last"')
    found: Mapping[str, str] = {name: str(tmp_path / name), "cat": "/bin/cat"}
    awake = Awake(found.get)
    awake.begin()
    process = awake._process
    assert process
    assert process.poll() is None
    awake.end()
    assert process.poll() is not None


def test_where_nothing_keeps_the_display_awake_nothing_happens(tmp_path: Path) -> None:
    for found in ({}, {"caffeinate": str(tmp_path / "none"), "cat": "/bin/cat"}):
        awake = Awake(dict(found).get)
        awake.begin()
        assert awake._process is None
        awake.end()


def test_the_footer_and_the_help_show_the_keys_that_are_set(tmp_path: Path) -> None:
    clock = Clock()
    app = BenchApp(
        on_bench=on_bench(tmp_path, two_steps(), clock), clock=clock,
        keys=rebound({"count": ("f13", "shift+f1"), "help": ("H",)}),
    )  # fmt: skip

    async def go() -> None:
        async with app.run_test() as pilot:
            await pilot.press("space")
            await pilot.pause()
            strips = app.screen._compositor.render_strips()
            shown = "\n".join(strip.text for strip in strips)
            assert "f13 made" in shown
            assert "H help" in shown
            assert "0 of 8" in shown

    asyncio.run(go())


def test_every_action_of_the_bench_has_a_word_in_plain_lines(tmp_path: Path) -> None:
    work, clock = bench(tmp_path, Settings(bounce_ms=0))
    assert {action.id for action in ACTIONS} <= set(WORD_OF)
    helped = {line.split(":")[0] for line in PlainWalk(work).answer("help")}
    assert set(WORD_OF.values()) - {"help"} <= helped
    for word in sorted(set(WORD_OF.values())):
        assert "no word" not in " ".join(PlainWalk(work).answer(word)), word
    assert clock


def test_plain_lines_say_again_only_what_has_changed(tmp_path: Path) -> None:
    work, clock = bench(tmp_path, Settings(), done=3)
    walk = PlainWalk(work)
    assert "Square knot round strands 2 and 3" in walk.begin()[-1]
    clock.ms += 1000
    assert walk.answer("") == ["2 of 5."]
    assert walk.answer("-") == ["Took one back.", "1 of 5."]
    clock.ms += 1000
    assert walk.answer("3")[-1] == "4 of 5."
    assert "3 ties to unpick" in walk.answer("unpick")[0]
    assert walk.answer("unpick 1")[-1].startswith("1 of 5. Square knot")
    assert work.done == 3
    assert walk.answer("go 8")[-2:-1] == ["Finished: all 8 made."]
    assert walk.answer("lave") == ["There is no word ‘lave’. Did you mean leave?"]


def test_plain_lines_break_between_words_for_a_terminal_only() -> None:
    said = "Strand 4 ties a clove hitch onto strand 5, which lies leftwards across strands 7 to 1."
    lines = wrap_words(said, 40)
    assert " ".join(lines) == said
    assert len(lines) == 3
    assert max(map(len, lines)) <= 40
    assert wrap_words(said, 0) == [said]
    assert wrap_words("", 40) == [""]
