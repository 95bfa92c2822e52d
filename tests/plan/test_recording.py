"""Knot first: sentences, what they tie, repeats that are found, and the file that is written."""

from pathlib import Path

import pytest
from command_line import coach
from hypothesis import HealthCheck, given, settings
from planned import knots, planned
from recorded import HUNG, assert_written_as_knotted, tied, works

from coach.cli.shelf import shelf
from coach.plan.from_text import read_plan
from coach.recording.fold import Block, Repeat, folded
from coach.recording.joined import CannotJoin, joined
from coach.recording.project_text import Hung
from coach.recording.record import Record, begun, say
from coach.recording.said import FORMS, NotUnderstood, completions, step_of

WIDE = Hung({"reed": "{diameter: 2 mm}", "clay": "{diameter: 2 mm}"}, "{hang: [10 reed], on: ring}")


def said(*sentences: str, hung: Hung = HUNG) -> Record:
    record = begun(hung)
    for sentence in sentences:
        record = say(record, sentence)
    return record


@pytest.mark.parametrize("form", FORMS)
def test_every_form_is_understood_and_can_be_worked(form: str) -> None:
    before = {
        "take up clay.1a at 1": ["add clay at 1", "lay aside 1"],
        "fold back 1-4, loop 15 cm": ["square knots 1-4, 60 times"],
    }
    record = said(*before.get(form, []), form, hung=WIDE)
    assert record.plan is not None
    assert completions(form[:4])


@pytest.mark.parametrize(
    ("sentence", "step"),
    [
        ("Row 1 to 6.", 'row: "clove hitch", holder: 1, across: 2-6'),
        ("row 6-1", 'row: "clove hitch", holder: 6, across: 5-1'),
        ("reverse row 1 to 2", 'row: "reverse clove hitch", knotter: 1, across: 2'),
        ("square knots 1-4, 5-8, three times",
         "knot: square knot, groups: [1-4, 5-8], times: 3"),
        ("3 flat knots on 1 to 4", "knot: square knot, strands: 1-4"),
        ("half knots 2-5, 12 times", "knot: half knot, strands: 2-5, times: 12"),
        ("overhand knot all", "knot: overhand knot, strands: all"),
        ("plait 1-3, 10 cm", "braid: 1-3, length: 10 cm"),
        ('do Press it "flat": now', 'do: "Press it \\"flat\\": now"'),
    ],
)  # fmt: skip
def test_a_sentence_is_a_step(sentence: str, step: str) -> None:
    assert step_of(sentence) == step


@pytest.mark.parametrize(
    ("sentence", "says"),
    [
        ("rwo 1 to 6", "Unknown knot ‘rwo’"),
        ("knot it", "says nothing that is known"),
        ("row 1 to 9", "There is no position"),
        ("square knots 1-4, umpteen times", "no number here"),
        ("granny knots 1-4", "Unknown knot"),
        ("the last nine steps", "So far you have said 1 step"),
        ("unpick 3", "So far you have said 1 step"),
    ],
)
def test_what_cannot_be_is_told_and_nothing_is_kept(sentence: str, says: str) -> None:
    record = said("row 1 to 6")
    with pytest.raises(NotUnderstood) as told:
        say(record, sentence)
    assert says in str(told.value)


def test_again_last_and_unpick_do_what_they_say() -> None:
    record = said("row 1 to 6", "square knots 1-3", "the last two steps, eleven times")
    assert knots(planned(record.text())) == {"clove hitch": 60, "square knot": 12}
    assert len(say(record, "unpick 2 steps").blocks) == 22
    assert say(record, "again").blocks[-1] == Block(("knot: square knot, strands: 1-3",))
    mirrored = say(record, "again mirrored").blocks[-1]
    assert mirrored == Block(("knot: square knot, strands: 1-3",), mirrored=True)


def test_repeats_and_mirrors_are_found_and_become_parts() -> None:
    record = said("row 1 to 6", "half knots 2-5", "the last two steps, mirrored")
    record = say(say(record, "unpick"), "row 1 to 6")
    once = (Block(("a",)), Block(("b",)))
    again = Block(("a", "b"), mirrored=True)
    assert folded((*once, again, *once, again)) == (Repeat(("a", "b"), 4, alternates=True),)
    assert folded(once * 3) == (Repeat(("a", "b"), 3),)
    nested = (*once, *once, Block(("c",)))
    assert folded(nested * 2) == (Repeat((Repeat(("a", "b"), 2), "c"), 2),)
    assert folded((Block(("a",)), Block(("c",)))) == ("a", "c")


def test_the_file_has_parts_notes_and_measures() -> None:
    record = said(
        "row 1 to 6", "square knots 2-5, twice", "the last two steps mirrored",
        "the last three steps, twice", "overhand knot all", "note Press it.",
        "measured: 20 clove hitches of reed 26 cm, 44 mm long",
    )  # fmt: skip
    text = record.text()
    assert "use: part 1, times: 6, mirror: every second" in text
    assert 'note: "Press it"' in text
    assert 'knot: "clove hitch", cord: reed, times: 20, uses: 26 cm, length: 44 mm' in text
    assert assert_written_as_knotted(record)


@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
@given(works())
def test_what_is_written_compiles_to_what_was_knotted(record: Record) -> None:
    """Two thousand more in recorded_by_hand.py."""
    assert_written_as_knotted(record)


def hangs(path: Path) -> bool:
    """Return whether a project's strands hang when it is made; some are all made apart."""
    plan = read_plan(path.read_text("utf-8")).plan
    return plan is not None and bool(plan.finish)


@pytest.mark.parametrize("path", list(filter(hangs, shelf())), ids=lambda path: path.stem)
def test_a_piece_begun_from_a_file_can_go_on_without_it(path: Path) -> None:
    base = path.read_text("utf-8")
    record = say(begun(None, base), "overhand knot all")
    record = say(say(record, "gap 1 cm"), "the last two steps, twice")
    before, after = read_plan(base).plan, read_plan(record.text()).plan
    assert before
    assert after
    assert after.total == before.total + 6
    assert tied(after)[0][: before.total] == tied(before)[0]  # type: ignore[index]
    assert set(base.splitlines()) <= set(record.text().splitlines())


def test_steps_on_one_line_cannot_be_joined_onto() -> None:
    with pytest.raises(CannotJoin):
        joined("coach: 1\nwork: [{do: Look.}]\n", ["do: Look."], {})


def test_a_piece_is_knotted_left_and_gone_on_with_in_plain_lines(tmp_path: Path) -> None:
    lines = "2 reed, clay\n\n\nring\n\nrow 1 to 6\nagain\nrow 1 to 9\nsqu?\nw\nplait 1-3, 4 cm\nq\n"
    home = {"COACH_HOME": str(tmp_path / "home")}
    new = ("knot", "--new", "band.yaml")
    done = coach(*new, typed=lines, cwd=tmp_path, environment=home)
    assert (done.returncode, done.stderr) == (0, "")
    assert "There is no position" in done.stdout
    assert "square knots 1-4, 5-8, three times" in done.stdout
    plan = read_plan((tmp_path / "band.yaml").read_text("utf-8")).plan
    assert plan
    assert plan.total == 11
    lines = "unpick\nagain\ntrim all to 2 cm\nq\n"
    done = coach(*new, typed=lines, cwd=tmp_path, environment=home)
    assert done.returncode == 0
    after = read_plan((tmp_path / "band.yaml").read_text("utf-8")).plan
    assert after
    assert after.total == 12
