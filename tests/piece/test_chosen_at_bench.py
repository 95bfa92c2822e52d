"""What the maker chooses at the bench: an event of its own, taken back like any, and kept."""

import json
from pathlib import Path

from plain_bench import Bench

from coach.piece import Store
from coach.piece.entering.project_diff import adopt_project, change_for
from coach.piece.events import Chosen, Picked, Withdrew
from coach.piece.export_import import export_piece, from_text, take_in_piece
from coach.piece.open_piece import open_piece
from coach.plan.from_text import read_plan

HANGER = """coach: 1
title: Marsh pot hanger
cords:
  reed: {diameter: 3 mm}
start: {hang: [4 reed], on: ring}
work:
  - knot: overhand knot
    strands: all
  - each: 1-8 by 4
    order: any
    steps:
      - {knot: half knot, strands: 1-4, times: 6}
      - {space: 5 cm}
  - knot: overhand knot
    strands: all
"""


def test_groups_are_picked_left_taken_back_and_found_again(tmp_path: Path) -> None:
    bench = Bench(tmp_path, HANGER)
    first = bench.work.plan
    assert "Half knot" in bench.type("")
    assert bench.work.view().offer == ("Groups, 1: 0 of 7, 2: 0 of 7. C works another group next.")
    assert bench.type("choose").startswith(
        "choose group 1: group 1 next: 0 of 7 made, on strands 1 to 4. "
        "choose group 2: group 2 next: 0 of 7 made, on strands 5 to 8."
    )
    told = bench.type("2", "choose group 2")
    assert "Group 2 is next; 0 of 7 are made. 1 of 6. Half knot round strands 6 and 7" in told
    assert bench.type("", "", "", "choose group 1").startswith("Group 1 is next; 2 of 7 are made.")
    view = bench.work.view()
    assert (view.number, view.of, view.done) == (3, 6, 6)
    assert "group 1 of 2, 2 of 7 made" in view.where
    assert bench.type("-").startswith("Took the choice back. 4 of 6.")
    assert isinstance(bench.work.sitting.state.happenings[-1], Withdrew)
    assert bench.type("-").startswith("Took one back. 3 of 6.")
    assert bench.type("", "choose group 1", "rest").startswith("Counted the rest of the step: 4.")
    before = bench.work.view()
    bench.open()
    after = bench.work.view()
    assert (after.done, after.sentence, after.order) == (before.done, before.sentence, before.order)
    assert [left.end_mm for left in after.cords] == [left.end_mm for left in before.cords]
    assert "There is nothing to choose at this step." in bench.type(*[""] * 5, "choose")
    last = bench.work.plan
    assert sorted(map(repr, last.counts)) == sorted(map(repr, first.counts))
    assert bench.type("") == "Finished: all 16 made. Look at it from across the room."


def test_what_was_picked_goes_with_an_export_and_into_an_edited_file(tmp_path: Path) -> None:
    bench = Bench(tmp_path / "one", HANGER)
    bench.type("", "choose group 2", "", "")
    follow_counts = bench.work.plan.counts
    bench.work.leave()
    data = export_piece(bench.store, bench.number)
    assert any(event["kind"] == Picked.kind for event in json.loads(data)["events"])
    edited = HANGER.replace("space: 5 cm", "space: 6 cm")
    new = read_plan(edited).plan
    assert new
    change = change_for(open_piece(bench.store, bench.number), new, edited)
    assert (change.same, change.place, change.choices) == (True, 3, 1)
    adopt_project(bench.store, bench.clock, bench.number, change)
    bench.open()
    assert "strands 6 and 7" in bench.work.view().sentence
    with Store(tmp_path / "two" / "coach.db") as elsewhere:
        take_in_piece(elsewhere, from_text(data))
        (summary,) = elsewhere.pieces()
        assert open_piece(elsewhere, summary.id).plan.counts == follow_counts


LANYARD = """coach: 1
title: Eel lanyard
cords:
  reed: {diameter: 2 mm, pieces: 4, fold: none}
start: {strands: [reed.1, reed.2, reed.3, reed.4], on: hook}
work:
  - {knot: half knot, strands: 1-4, times: about 6}
  - {space: about 3 cm}
  - {knot: barrel knot, strands: 2, turns: 4 or more}
  - {knot: half hitch, knotter: longest, strands: all}
"""


def test_figures_and_strands_are_chosen_followed_taken_back_and_kept(tmp_path: Path) -> None:
    bench = Bench(tmp_path, LANYARD)
    assert bench.work.view().offer.startswith("Press b for the cutting list")
    assert bench.type("choose") == (
        "choose times: about 6 times: 0 made. 1 of 6. Half knot round strands 2 and 3: strand 1 "
        "(reed) goes over, strand 4 (reed) under."
    )
    assert "Write a number from 1 to 10,000" in bench.type("choose times 0")
    bench.type("", "", "", "")
    assert bench.type("choose times").startswith("4 ties here. 1 of 1. Leave a 3 cm gap")
    assert bench.work.sitting.state.total == bench.work.plan.total == 7
    assert bench.type("-").startswith("Took the choice back. 5 of 6.")
    assert bench.type("", "", "choose times 8").startswith("8 ties here. 7 of 8.")
    assert "would change what is made" in bench.type("choose times 5")
    before = bench.work.plan.length_mm
    bench.type("rest")
    assert bench.work.view().offer == "About 3 cm; C says what you made."
    told = bench.type("choose length 5 cm")
    assert told.startswith("5 cm long. 1 of 1. Leave a 5 cm gap on all strands.")
    assert bench.work.plan.length_mm - before > 15
    assert "Nothing is changed" in bench.type("choose length five")
    assert "The pattern asks for 4 or more here." in bench.type("", "choose turns 3")
    left = {one.strand: one.now_mm for one in bench.work.cords()}
    assert bench.type("choose turns 9").startswith("9 turns here.")
    assert "barrel knot of nine turns" in bench.work.view().sentence
    assert bench.type("").startswith("1 of 1. Strand")
    grown = {one.strand: left[one.strand] - one.now_mm for one in bench.work.cords()}
    assert max(grown, key=lambda strand: grown[strand]) == bench.work.order()[1]
    assert "One of the strands named ties here. Write its number: 1, 2, 3 or 4." in bench.type(
        "choose knotter 7"
    )
    assert bench.type("choose knotter 4").startswith("Strand 4 (reed) ties. 1 of 1. Strand 4")
    view = bench.work.view()
    bench.open()
    assert (bench.work.view().sentence, bench.work.plan.total) == (view.sentence, view.total)
    assert bench.type("").startswith("Finished")
    assert [event.what for event in bench.work.sitting.events if isinstance(event, Chosen)] == [
        "times", "times", "length", "turns", "knotter",
    ]  # fmt: skip
