"""A swatch: which knots it has, what its measures teach, and that the next piece knows of it."""

import json
import math
from pathlib import Path

import pytest
from hand_clock import HandClock
from marsh_band import TEXT, band, in_true_hands

from coach.cli.project_finder import shipped_projects
from coach.pace.gaussian import Belief
from coach.piece import Store, look
from coach.piece.beliefs import (
    Shared,
    beliefs_from_data,
    beliefs_to_data,
    hands_of,
)
from coach.piece.export_import import export_piece, from_text, take_in_piece
from coach.piece.learning.carry_over import carry_over, starting_beliefs
from coach.piece.learning.estimates import in_hands
from coach.piece.learning.swatches import (
    beliefs_from,
    keep_swatch,
    learnt_from,
    question_length,
    question_took,
)
from coach.plan.cord.cut_list import CordCut, cut_list
from coach.plan.cord.swatch import KNOTS, TrialSwatch, swatch_for, swatch_offer
from coach.plan.doubt.sensitivity import slopes_of
from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan, remeasured
from coach.yaml_reader.file_loader import load

FREE = TEXT.replace("margin: 25 %\n", "")
SHELF = {path.stem: path for path in shipped_projects()}
HALF_HITCHES = "knot: half hitch, knotter: 1, around: 2-3, times: 90"
STEPS = {
    "square knot": "knot: square knot, strands: 1-4, times: 60",
    "half knot": "knot: half knot, strands: 1-4, times: 90",
    "clove hitch": "row: clove hitch, holder: 1, across: 2-4, times: 9",
    "reverse clove hitch": "row: reverse clove hitch, knotter: 1, across: 2-4, times: 9",
    "half hitch": HALF_HITCHES,
    "lark's head": 'knot: "lark\'s head", knotter: 1, around: 2, times: 60',
    "half hitch chain": "knot: half hitch chain, strands: 1-2, times: 90",
    "net": "net: 1-4 by 4, of: square knot, rows: 1",
}


def total_mm(cuts: tuple[CordCut, ...]) -> float:
    return sum(cord.total_mm for cord in cuts)


def swatch_of(plan: Plan) -> TrialSwatch:
    found = swatch_for(plan)
    assert found
    return found


def of_step(step: str, rest: str = "") -> Plan:
    return band(
        "coach: 1\ntitle: Try\ncords:\n  reed: {colour: green, fibre: cotton, diameter: 2 mm}\n"
        f"start: {{hang: [2 reed]}}\nwork:\n  - {{{step}}}\n"
        f"  - {{knot: overhand knot, strands: all}}\n{rest}"
    )


@pytest.mark.parametrize("knot", STEPS)
def test_a_swatch_has_ten_of_the_knot_as_it_is_tied_in_the_piece(knot: str) -> None:
    swatch = swatch_of(of_step(STEPS[knot]))
    tied = [count.knot for count in swatch.plan.counts]
    assert tied == ["square knot" if knot == "net" else knot] * KNOTS == [swatch.knot] * KNOTS
    assert {strand.cord for strand in swatch.plan.strands} == {"reed"}
    assert 1 <= len(swatch.ends) <= 2
    assert all(swatch.plan.knotted[end] for end in swatch.ends)
    assert swatch.took_mm == sum(swatch.plan.ledgers[end].total_mm for end in swatch.ends) > 0
    assert swatch.length_mm > 0


def test_a_swatch_takes_what_the_piece_takes_a_knot() -> None:
    """Of the same knots in the same run: sixty of them, and ten."""
    plan = of_step(STEPS["square knot"])
    outer = plan.ledgers[plan.start[0]].used_after(60)
    assert swatch_of(plan).took_mm / 2 / KNOTS == pytest.approx(outer / 60, rel=0.01)


def test_the_knot_that_takes_most_and_is_not_measured_yet_is_tried() -> None:
    """Knots that come singly cannot be tried in a run; what the file has measured need not be."""
    step = f"{STEPS['square knot']}}}\n  - {{{HALF_HITCHES}"
    plan = of_step(step)
    taken = {
        knot: sum(
            slopes_of(plan).of_use(s, plan.total).get(("reed", knot), 0.0)
            for s in range(len(plan.strands))
        )
        for knot in ("square knot", "half hitch")
    }
    first, second = sorted(taken, key=lambda knot: -taken[knot])
    assert swatch_of(plan).knot == first
    measured = f"measured: [{{knot: {first}, cord: reed, times: 9, uses: 20 cm}}]\n"
    assert swatch_of(of_step(step, measured)).knot == second
    assert swatch_for(of_step("knot: barrel knot, strands: 1, turns: 4")) is None


@pytest.mark.parametrize("name", SHELF)
def test_every_project_that_comes_with_the_coach_has_a_swatch_that_reads_as_a_project(
    name: str,
) -> None:
    plan = read_plan(load(SHELF[name]).text or "").plan
    assert plan
    swatch = swatch_of(plan)
    reading = read_plan(swatch.text)
    assert reading.problems == ()
    assert reading.plan
    assert reading.plan.counts == swatch.plan.counts


def test_a_measured_swatch_tells_cord_and_hand_apart() -> None:
    """Truth: cord that gives less than usual, tied slack. Two measures find both."""
    swatch = swatch_of(band(FREE))
    true = in_true_hands(swatch.plan, 0.85, 0.06)
    took = sum(true.ledgers[end].total_mm for end in swatch.ends)
    learnt = learnt_from(swatch, {}, true.length_mm, took)
    cord, knot = learnt.belief((swatch.cord, "")), learnt.belief((swatch.cord, swatch.knot))
    assert abs(cord.mean - 0.85) < abs(0.78 - 0.85) / 2
    assert knot.mean > 0.03
    again = remeasured(swatch.plan, hands_of(beliefs_from(swatch, learnt)))
    told = sum(again.ledgers[end].total_mm for end in swatch.ends)
    assert told == pytest.approx(took, rel=0.01)


@pytest.mark.parametrize("name", ["sluice-belt", "marsh-pot-hanger", "tide-band", "eel-lanyard"])
def test_what_a_swatch_was_said_to_save_it_saves(name: str) -> None:
    """Measured just as expected, it changes no length but by what it makes sure."""
    plan = read_plan(load(SHELF[name]).text or "").plan
    assert plan
    cuts = cut_list(plan)
    offered = swatch_offer(plan, cuts)
    assert offered
    swatch = offered.swatch
    taught = beliefs_from(swatch, learnt_from(swatch, {}, swatch.length_mm, swatch.took_mm))
    after = cut_list(in_hands(plan, starting_beliefs(plan.project, taught)))
    assert offered.saves_mm == pytest.approx(total_mm(cuts) - total_mm(after), abs=100)
    assert offered.saves_mm > 0


def test_a_kept_swatch_is_a_finished_piece_that_the_next_one_begins_with(
    store: Store, clock: HandClock
) -> None:
    """Its own knot is known well; other knots and cords follow as hand and fibre go together."""
    plan = band(FREE)
    swatch = swatch_of(plan)
    learnt = learnt_from(swatch, {}, 1.1 * swatch.length_mm, 1.2 * swatch.took_mm)
    keep_swatch(store, clock, swatch, beliefs_from(swatch, learnt), "")
    (piece,) = store.pieces()
    state = look(store, piece.id)
    assert (piece.finished, state.worked_s, piece.title) == (True, 0.0, swatch.plan.project.title)
    carried = carry_over(store, plan.project)
    assert carried.pieces == (piece.name,)
    other = "clay" if swatch.cord == "reed" else "reed"
    assert carried.beliefs.keys() <= {(c, k) for c in ("reed", "clay") for k in ("", swatch.knot)}
    hands = in_hands(plan, carried.beliefs).hands
    assert hands.compression_of(swatch.cord) > 0.80
    assert hands.compression_of(other) > 0.79
    assert hands.slack_of(swatch.cord, swatch.knot) > 0.02
    assert hands.slack_of(other, "overhand knot") > 0.01


def test_a_swatch_says_nothing_of_another_cord(store: Store, clock: HandClock) -> None:
    plan = band(FREE)
    swatch = swatch_of(plan)
    learnt = learnt_from(swatch, {}, 1.1 * swatch.length_mm, 1.2 * swatch.took_mm)
    keep_swatch(store, clock, swatch, beliefs_from(swatch, learnt), "")
    thick = band(FREE.replace("diameter: 2 mm", "diameter: 5 mm"))
    assert carry_over(store, thick.project).beliefs == {}


def test_beliefs_are_kept_with_what_they_share_and_older_ones_are_read_as_well() -> None:
    reed, knot = ("reed", ""), ("reed", "square knot")
    beliefs = {
        reed: Shared(0.8, 0.02, {knot: -0.7}), knot: Shared(0.03, 0.03, {reed: -0.7}),
        ("clay", ""): Belief(0.9, 0.05),
    }  # fmt: skip
    data = json.loads(json.dumps(beliefs_to_data(beliefs)))
    assert beliefs_from_data(data) == beliefs
    assert beliefs_from_data({"clay\t": [0.9, 0.05]}) == {("clay", ""): Belief(0.9, 0.05)}
    hands = hands_of(beliefs)
    assert hands.sds == {figure: belief.sd for figure, belief in beliefs.items()}
    assert hands.together[reed, knot] == hands.together[knot, reed] == -0.7


@pytest.mark.parametrize(
    "data",
    [
        {"reed": [0.8, 0.1]}, {"reed\t": [0.8]}, {"reed\t": [0.8, 0.0]}, {"reed\t": [0.8, "x"]},
        {"reed\t": [0.8, 0.1, {"reed\tx": 2.0}]}, {"reed\t": [0.8, 0.1, {"x": 0.2}]},
        {"reed\t": [0.8, 0.1, 7]}, {"reed\t": 3}, {"reed\t": [math.inf, 0.1]},
        {"reed\t": [0.8, 0.1, {}, {}]},
    ],
)  # fmt: skip
def test_what_are_no_beliefs_is_refused(data: dict[str, object]) -> None:
    with pytest.raises(ValueError, match="no beliefs"):
        beliefs_from_data(data)


def test_a_correlation_that_only_one_of_two_tells_does_not_count() -> None:
    """The other belief is of another piece: nothing is known of how they move together."""
    reed, knot = ("reed", ""), ("reed", "square knot")
    hands = hands_of({reed: Shared(0.8, 0.02, {knot: -0.7}), knot: Belief(0.03, 0.03)})
    assert hands.together == {}


@pytest.mark.parametrize(
    ("times", "reason"),
    [
        (2.54, "Inches and centimetres"), (1 / 2.54, "Inches and centimetres"),
        (10, "decimal point"), (0.1, "decimal point"), (0.5, "one end alone"), (3.7, "ten knots"),
    ],
)  # fmt: skip
def test_a_measure_that_surprises_is_questioned_with_the_likely_reason(
    times: float, reason: str
) -> None:
    swatch = swatch_of(band(FREE))
    asked = question_took(swatch, {}, times * swatch.took_mm)
    assert asked
    assert reason in asked.reason
    assert asked.low_mm < swatch.took_mm < asked.high_mm


def test_likely_measures_are_not_questioned_and_surer_hands_are_questioned_sooner() -> None:
    swatch = swatch_of(band(FREE))
    for times in (0.85, 1.0, 1.15):
        assert question_took(swatch, {}, times * swatch.took_mm) is None
        assert question_length(swatch, {}, times * swatch.length_mm) is None
    known = beliefs_from(swatch, learnt_from(swatch, {}, swatch.length_mm, swatch.took_mm))
    assert question_took(swatch, known, 1.15 * swatch.took_mm)


def test_no_cord_is_believed_to_be_thicker_than_it_is() -> None:
    swatch = swatch_of(band(FREE))
    asked = question_length(swatch, {}, 1.6 * swatch.length_mm)
    assert asked
    assert asked.impossible


def test_a_swatch_is_carried_to_another_home_as_pieces_are(tmp_path: Path) -> None:
    with Store(tmp_path / "one.db") as one, Store(tmp_path / "other.db") as other:
        swatch = swatch_of(band(FREE))
        learnt = learnt_from(swatch, {}, swatch.length_mm, swatch.took_mm)
        keep_swatch(one, HandClock(), swatch, beliefs_from(swatch, learnt), "")
        (piece,) = one.pieces()
        take_in_piece(other, from_text(export_piece(one, piece.id)))
        project = band(FREE).project
        assert carry_over(other, project).beliefs == carry_over(one, project).beliefs != {}
