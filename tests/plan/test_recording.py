"""Knot first: sentences, what they tie, repeats that are found, and the file that is written."""

import json
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from planned import knots, planned
from recorded import HUNG, STARTS, assert_written_as_knotted, works

from coach.cli.project_finder import shipped_projects
from coach.plan.from_text import read_plan
from coach.recording.examples import FORMS, completions
from coach.recording.project_joining import CannotJoin, open_ended
from coach.recording.project_text import StartingCords
from coach.recording.record import (
    Recording,
    after_change,
    change_between,
    change_from_data,
    new_recording,
    tied,
)
from coach.recording.repeat_folding import Block, Repeat, fold_repeats
from coach.recording.sentence_check import after_sentence
from coach.recording.sentence_parser import step_of
from coach.recording.sentence_words import NotUnderstood

WIDE = StartingCords(
    {"reed": "{diameter: 2 mm}", "clay": "{diameter: 2 mm}"}, "{hang: [10 reed], on: ring}"
)


def said(*sentences: str, hung: StartingCords = HUNG) -> Recording:
    record = new_recording(hung)
    for sentence in sentences:
        record = after_sentence(record, sentence)
    return record


def test_every_form_is_understood_and_can_be_worked() -> None:
    """Each on work that has what it speaks of."""
    handle = "apart handle, 2 of them, from 2 reed: square knots 1-4, 5 times"
    before = {
        "take up clay.1a at 1": ["add clay at 1", "lay aside 1"],
        "fold back 1-4, loop 15 cm": ["square knots 1-4, 60 times"],
        "make handle": [handle],
        "attach handle at 1, 6, sewn": [handle],
    }
    other = {
        "seam 3": STARTS[2],
        "turn end for end": STARTS[3],
        "bring down clay.1 at 2": STARTS[4],
    }
    for form in FORMS:
        sentence = form.replace("clay.1 ", "reed.1 ")
        record = other[form] if form in other else said(*before.get(form, []), hung=WIDE)
        assert after_sentence(record, sentence).plan is not None
        assert form in completions(form[:4])


@pytest.mark.parametrize(
    ("sentence", "step"),
    [
        ("Row 1 to 6.", 'row: "clove hitch", holder: 1, across: 2-6'),
        ("row 6-1", 'row: "clove hitch", holder: 6, across: 5-1'),
        ("reverse row 1 to 2", 'row: "reverse clove hitch", knotter: 1, across: 2'),
        ("lark's heads 1-4 onto the dowel, twice",
         'row: "lark\'s head", holder: dowel, across: 1-4, times: 2'),
        ("weave 1 over 2-6: 3 clove hitches, 2 reverse clove hitches",
         "weave: 1, across: 2-6, knots: [3 clove hitch, 2 reverse clove hitch]"),
        ("half hitch by the longest of 1-4, twice",
         'knot: "half hitch", knotter: longest, strands: 1-4, times: 2'),
        ("barrel knot 3 round 1-2, 4 or more turns",
         "knot: barrel knot, knotter: 3, around: 1-2, turns: 4 or more"),
        ("gathering knot of Sea Reed round all, about 3 cm",
         "knot: gathering knot, wrap: Sea Reed, around: all, length: about 3 cm"),
        ("half knots 1-4, about thirty times", None),
        ("half knots 1-4, about 30 times", "knot: half knot, strands: 1-4, times: about 30"),
        ("attach handle at 1, 6, sewn, behind",
         'attach: handle, at: [1, 6], by: "sewn", layer: behind'),
        ("in each of 1-8 by 4, in any order: row 1 to 4; gap 1 cm",
         'each: 1-8 by 4, order: any, steps: [{row: "clove hitch", holder: 1, across: 2-4}, {space: 1 cm}]'),  # noqa: E501
        ("square knots 1-4, 5-8, three times",
         "knot: square knot, groups: [1-4, 5-8], times: 3"),
        ("3 flat knots on 1 to 4", "knot: square knot, strands: 1-4, times: 3"),
        ("three square knots 1-4", "knot: square knot, strands: 1-4, times: 3"),
        ("a square knot 1-4", "knot: square knot, strands: 1-4"),
        ("2 square knots 1-4, 5-8", "knot: square knot, groups: [1-4, 5-8]"),
        ("3 square knots 1-4, 5-8", None),
        ("3 square knots 1-4, twice", None),
        ("6 lark's heads 1 round 2-3", 'knot: "lark\'s head", knotter: 1, around: 2-3, times: 6'),
        ("row from 6 to 1", 'row: "clove hitch", holder: 6, across: 5-1'),
        ("leave a gap of 3 cm", "space: 3 cm"),
        ("plait 1 to 3 for 10 cm", "braid: 1-3, length: 10 cm"),
        ("half knots 2-5, 12 times", "knot: half knot, strands: 2-5, times: 12"),
        ("overhand knot all", "knot: overhand knot, strands: all"),
        ("plait 1-3, 10 cm", "braid: 1-3, length: 10 cm"),
        ('do Press it "flat": now', 'do: "Press it \\"flat\\": now"'),
    ],
)  # fmt: skip
def test_a_sentence_is_a_step(sentence: str, step: str | None) -> None:
    if step is None:
        with pytest.raises(NotUnderstood):
            step_of(sentence)
    else:
        assert step_of(sentence) == step


@pytest.mark.parametrize(
    ("sentence", "says"),
    [
        ("rwo 1 to 6", "Unknown knot ‘rwo’"),
        ("knot it", "‘knot it’ is not clear. Say, for example,"),
        ("squre knost 1-4", "Unknown knot"),
        ("x" * 5_000, "x…’ is not clear"),
        ("row 1 to 99999999999999999999999999", "goes beyond position"),
        ("half knots 1-4, 99999999999999999999 times", "at most"),
        ("again, 100000 times", "say at most 500 at once"),
        ("the last step, 999 times", "say at most 500 at once"),
        ("plait 1-3, 99999999 m", "too"),
        ("own knot sea button: 4 strands", "is not clear"),
        ("add {x: [} at 1", "is not clear"),
        ("take up clay.1a at 1", "not among the strands laid aside"),
        ("make handle", "no part made apart"),
        ("row 1 to 9", "There is no position"),
        ("square knots 1-4, umpteen times", "not a number"),
        ("granny knots 1-4", "Unknown knot"),
        ("the last nine steps", "So far you have said 1 step"),
        ("unpick 3", "So far you have said 1 step"),
    ],
)
def test_what_cannot_be_is_told_and_nothing_is_kept(sentence: str, says: str) -> None:
    record = said("row 1 to 6")
    with pytest.raises(NotUnderstood) as told:
        after_sentence(record, sentence)
    assert says in str(told.value)


def test_again_last_and_unpick_do_what_they_say() -> None:
    record = said("row 1 to 6", "square knots 1-3", "the last two steps, eleven times")
    assert knots(planned(record.text())) == {"clove hitch": 60, "square knot": 12}
    for sentence in ("unpick 2 steps", "undo the last two rows", "unpick the last 2"):
        assert len(after_sentence(record, sentence).blocks) == 22, sentence
    for sentence in ("unpick", "undo", "unpick the last row", "unpick one"):
        assert len(after_sentence(record, sentence).blocks) == 23, sentence
    assert after_sentence(record, "again").blocks[-1] == Block(("knot: square knot, strands: 1-3",))
    mirrored = after_sentence(record, "again mirrored").blocks[-1]
    assert mirrored == Block(("knot: square knot, strands: 1-3",), mirrored=True)


def test_repeats_and_mirrors_are_found_and_become_parts() -> None:
    record = said("row 1 to 6", "half knots 2-5", "the last two steps, mirrored")
    record = after_sentence(after_sentence(record, "unpick"), "row 1 to 6")
    once = (Block(("a",)), Block(("b",)))
    again = Block(("a", "b"), mirrored=True)
    assert fold_repeats((*once, again, *once, again)) == (Repeat(("a", "b"), 4, alternates=True),)
    assert fold_repeats(once * 3) == (Repeat(("a", "b"), 3),)
    nested = (*once, *once, Block(("c",)))
    assert fold_repeats(nested * 2) == (Repeat((Repeat(("a", "b"), 2), "c"), 2),)
    assert fold_repeats((Block(("a",)), Block(("c",)))) == ("a", "c")


def test_the_same_knot_again_and_again_is_one_step_of_so_many() -> None:
    """A chain of hitches begins anew on the left, so it stays as it was said."""
    record = said("half knots 1-4, 3 times", "again, four times", "half hitch chain 1-2, 3 times",
                  "again", "square knots 1-2, 3-4", "again")  # fmt: skip
    text = record.text()
    assert "{knot: half knot, strands: 1-4, times: 15}" in text
    assert text.count("{knot: half hitch chain, strands: 1-2, times: 3}") == 2
    assert text.count("{knot: square knot, groups: [1-2, 3-4]}") == 2
    assert_written_as_knotted(record)


def test_a_part_says_after_how_many_repeats_its_colours_are_back() -> None:
    """So it was knotted, and `check` has nothing to warn of."""
    record = said("row 1 to 6", "half knots 1-4", "the last 2 steps, twice")
    assert "times: 3, returns: after " in record.text()
    codes = {problem.code for problem in read_plan(record.text()).problems}
    assert "RETURNS" not in codes
    assert_written_as_knotted(record)


def test_the_file_has_parts_notes_and_measures() -> None:
    record = said(
        "row 1 to 6", "square knots 2-5, twice", "the last two steps mirrored",
        "the last three steps, twice", "overhand knot all", "note Press it.",
        "measured: 20 clove hitches of reed 26 cm, 44 mm long",
    )  # fmt: skip
    text = record.text()
    assert 'use: "part 1", times: 6, mirror: every second' in text
    assert 'note: "Press it"' in text
    assert 'knot: "clove hitch", cord: reed, times: 20, uses: 26 cm, length: 44 mm' in text
    assert_written_as_knotted(record)


@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
@given(works())
def test_what_is_written_compiles_to_what_was_knotted(work: tuple[Recording, object]) -> None:
    """And is kept as it was said, change by change. Two thousand more in recorded_by_hand.py."""
    record, _ = work
    assert_written_as_knotted(record)
    change = change_between(Recording(record.base), record, "all of it")
    kept = change_from_data(change.said, json.loads(json.dumps(change.to_data())))
    assert after_change(Recording(record.base), kept) == record


def hangs(path: Path) -> bool:
    """Return whether a project's strands hang when it is made; some are all made apart."""
    plan = read_plan(path.read_text("utf-8")).plan
    return plan is not None and bool(plan.finish)


@pytest.mark.parametrize(
    "path", list(filter(hangs, shipped_projects())), ids=lambda path: path.stem
)
def test_a_piece_begun_from_a_file_can_go_on_without_it(path: Path) -> None:
    base = path.read_text("utf-8")
    record = after_sentence(new_recording(None, base), "overhand knot all")
    record = after_sentence(after_sentence(record, "gap 1 cm"), "the last two steps, twice")
    before, after = read_plan(base).plan, read_plan(record.text()).plan
    assert before
    assert after
    assert after.total == before.total + 6
    assert tied(after)[0][: before.total] == tied(before)[0]  # type: ignore[index]
    assert set(base.splitlines()) <= set(record.text().splitlines())


def test_steps_on_one_line_cannot_be_joined_onto() -> None:
    with pytest.raises(CannotJoin):
        open_ended("coach: 1\nwork: [{do: Look.}]\n")
