"""Rigid holders, the other ends, ends that come down or fold back, and knots of one's own."""

from itertools import pairwise
from math import atan2, hypot, pi

import pytest
from planned import (
    MIXED,
    fault,
    finish,
    knots,
    names,
    on_strands,
    planned,
    project,
    said,
    singles,
    ties,
)
from reference import permutation

from coach.knots.geometry import row_tie
from coach.picture.boards import half_turned
from coach.picture.compose import scene_of
from coach.plan.cord.cut_list import cut_list
from coach.plan.measure.measure import contact_mm
from coach.plan.plan_model import Plan
from coach.plan.wording.advice import advice
from coach.plan.wording.knot_how import how_at
from coach.plan.wording.sentences import step_sentence
from coach.plan.wording.who_ties import who_ties

BUTTON = """knots:
  sea button:
    {{strands: 4, uses: [12 cm, 8 cm, 9 cm, 12 cm], size: 14 mm, order: {order}, passes: 6,
     takes: 2 min, how: [Cross them., Pull.], like: {like}}}
"""


def with_button(*work: str, order: str = "keeps") -> Plan:
    start, single = singles(5)
    text = BUTTON.format(order=order, like="overhand knot")
    return planned(project(work, start, single, rest=text))


@pytest.mark.parametrize("onto", ["ring", "dowel", "bar", "buckle", "cord"])
def test_strands_hitched_onto_something_rigid_keep_their_order(onto: str) -> None:
    plan = on_strands(4, f"row: clove hitch, holder: {onto}, across: 4-2, times: 2")
    assert ties(plan) == [("clove hitch", [p], []) for p in (4, 4, 3, 3, 2, 2)]
    assert finish(plan) == [1, 2, 3, 4]
    assert plan.steps[0].direction == "left"
    assert step_sentence(plan, 0) == (
        f"Strand 4 (c4) ties a clove hitch onto the {onto}; then strands 3 and 2."
    )
    assert [part.text for part in who_ties(plan, 0)] == ["4", f"onto the {onto}", "◂ leftwards"]


def test_a_hitch_onto_a_bar_takes_two_turns_of_its_circumference() -> None:
    """As any row tie whose holder is that thick: 2 pi (D + d) and the rest, from the formula."""
    plan = on_strands(2, "row: clove hitch, holder: bar, diameter: 10 mm, across: all")
    d = contact_mm(plan, plan.hands)[0]
    used = plan.ledgers[plan.start[0]].total_mm
    assert used == pytest.approx(row_tie("clove hitch", d, 10, mover_holds=True).knotter_use_mm[0])
    thin = on_strands(2, "row: clove hitch, holder: bar, diameter: 5 mm, across: all")
    assert used - thin.ledgers[thin.start[0]].total_mm == pytest.approx(2 * pi * 5)
    assert plan.ledgers[plan.start[0]].total_mm == pytest.approx(used)


def test_in_the_round_all_go_once_round_a_ring() -> None:
    plan = on_strands(6, "row: lark's head, holder: ring, across: all", closed=True)
    assert knots(plan) == {"lark's head": 6}
    assert finish(plan) == [1, 2, 3, 4, 5, 6]


MIDDLE = "{hang: [reed, 2 clay], from: middle}"
TURNED = [
    "knot: square knot, strands: all, times: 4",
    "flip: end for end",
    "row: clove hitch, holder: 1, across: all",
    "knot: square knot, strands: all, times: 6",
]


def test_the_other_ends_hang_after_the_work_is_turned_end_for_end() -> None:
    plan = planned(project(TURNED, MIDDLE, MIXED))
    assert names(plan, plan.start) == ["reed.1a", "clay.1a", "clay.2a"]
    assert names(plan, plan.steps[2].before) == ["clay.2b", "clay.1b", "reed.1b"]
    assert names(plan, plan.finish) == ["clay.1b", "reed.1b", "clay.2b"]


def test_both_sides_of_work_begun_in_the_middle_add_up() -> None:
    plan = planned(project(TURNED, MIDDLE, MIXED))
    single = dict.fromkeys("abc", MIXED["clay"][:-1] + ", fold: none}")
    works = (TURNED[:1], TURNED[2:])
    sides = [planned(project(work, "{strands: [a, b, c]}", single)) for work in works]
    assert plan.length_mm == pytest.approx(sum(side.length_mm for side in sides))
    assert plan.height_mm[4] == pytest.approx(sides[0].length_mm)


def test_turning_twice_goes_on_where_the_first_side_was_left() -> None:
    plan = planned(project([*TURNED[:2], "flip: end for end", TURNED[3]], MIDDLE, MIXED))
    once = planned(project([TURNED[0], TURNED[3]], MIDDLE, MIXED))
    assert plan.finish == once.finish
    assert plan.length_mm == pytest.approx(once.length_mm)


def test_the_side_made_first_is_seen_above_turned_half_round() -> None:
    plan = planned(project(TURNED, MIDDLE, MIXED))
    whole, below = scene_of(plan), scene_of(plan.by_section[1].plan)
    first = half_turned(scene_of(plan.by_section[0].plan))
    assert {(t.x_mm, t.y_mm) for t in first.ties} <= {(t.x_mm, t.y_mm) for t in whole.ties}
    assert min(tie.box[1] for tie in whole.ties) < 0 < max(tie.box[3] for tie in below.ties)


@pytest.mark.parametrize(
    ("work", "start", "says"),
    [
        (["flip: end for end"], "{hang: [reed]}", "folded at the start"),
        (["each: 1-2 by 2, steps: [{flip: end for end}]"], MIDDLE, "inside ‘each’"),
        (["use: turn, mirror: all"], MIDDLE, "a mirrored part"),
    ],
)
def test_what_cannot_be_turned_end_for_end_is_told(work: list[str], start: str, says: str) -> None:
    found = fault(project(work, start, MIXED, {"turn": ["flip: end for end"]}))
    assert found.code == "FLIP"
    assert says in found.message


@pytest.mark.parametrize("layout", ["nest: [reed]", "hang: [reed], before fold: [{do: Look.}]"])
def test_work_begun_in_the_middle_is_neither_nested_nor_folded(layout: str) -> None:
    found = fault(project(["do: Look."], f"{{{layout}, from: middle}}", MIXED))
    assert found.code == "EXCLUSIVE"


LEAD = {
    "core": "{colour: green, diameter: 2 mm, fold: none, lead: 20 cm}",
    "clay": "{colour: sienna, diameter: 2 mm}",
}
CLASPED = ["knot: square knot, strands: all, times: 4", "bring down: [core.1, core.2], at: 2"]


def test_free_ends_of_the_start_come_down_and_are_cut_long_enough() -> None:
    start = "{strands: [core.1, clay, clay, core.2]}"
    plan = planned(project(CLASPED, start, LEAD))
    assert names(plan, plan.finish) == [
        "core.1a", "core.1b", "core.2b", "clay.1a", "clay.1b", "core.2a",
    ]  # fmt: skip
    bare = planned(project(CLASPED[:1], start, LEAD))
    assert plan.length_mm == pytest.approx(bare.length_mm)
    cuts = [[c.cut_mm for c in cut_list(one)] for one in (plan, bare)]
    assert cuts[0] == pytest.approx(cuts[1], rel=0.03)
    tied = planned(project([*CLASPED, "knot: overhand knot, strands: 2, times: 20"], start, LEAD))
    assert cut_list(tied)[0].cut_mm > cut_list(plan)[0].cut_mm + 100
    assert step_sentence(plan, 4) == (
        "Bring the free ends of core down beside the work as strands 2 and 3."
    )


@pytest.mark.parametrize(
    ("work", "says"),
    [
        ("bring down: clay, at: 1", "folded"),
        ("bring down: core.3, at: 1", "no piece"),
        ("bring down: core.1, at: 9", "no place 9"),
        ("bring down: [core.1, core.1], at: 1", "down already"),
    ],
)
def test_ends_that_cannot_come_down_are_told(work: str, says: str) -> None:
    found = fault(project([work], "{strands: [core.1, clay, clay, core.2]}", LEAD))
    assert says in found.message


def test_a_fold_back_adds_its_loop_and_ties_round_it_add_nothing() -> None:
    work = ["knot: square knot, strands: all, times: 30"]
    bare = on_strands(4, *work)
    folded = on_strands(4, *work, "fold back: 2-3, loop: 15 cm", work[0].replace("30", "10"))
    assert folded.length_mm == pytest.approx(bare.length_mm + 150)
    used = [p.ledgers[p.start[1]].total_mm for p in (bare, folded)]
    round_it = on_strands(4, work[0].replace("30", "10"))
    held = round_it.ledgers[round_it.start[1]].total_mm
    assert used[1] - used[0] == pytest.approx(300 + held, rel=0.02)
    knotter = round_it.ledgers[round_it.start[0]].total_mm
    grown = folded.ledgers[folded.start[0]].total_mm - bare.ledgers[bare.start[0]].total_mm
    assert grown == pytest.approx(knotter, rel=0.02)


def test_a_loop_longer_than_the_work_is_refused() -> None:
    found = fault(project(["knot: square knot, strands: all", "fold back: 1, loop: 9 cm"]))
    assert (found.code, found.span.line) == ("FOLD-BACK", 9)
    assert "loop:" in found.hint


def test_a_knot_of_ones_own_takes_what_was_measured() -> None:
    plan = with_button("knot: sea button, strands: 1-4, times: 2")
    assert ties(plan)[0] == ("sea button", [1, 2, 3, 4], [])
    assert [plan.ledgers[s].total_mm for s in plan.start] == pytest.approx([240, 160, 180, 240, 0])
    assert plan.length_mm == pytest.approx(28)
    assert plan.counts[0].passes == 6
    assert step_sentence(plan, 0) == "Tie your sea button with strands 1 to 4."
    told = how_at(plan, 0)
    assert told.roles == "Your own knot of 4 strands. 1. Cross them. 2. Pull."


def test_it_grows_with_the_thickness_of_the_cord_that_it_was_measured_in() -> None:
    text = BUTTON.format(order="keeps", like="overhand knot")
    text = text.replace("size:", "measured in: 1 mm, size:")
    start, single = singles(4)
    plan = planned(project(["knot: sea button, strands: all"], start, single, rest=text))
    assert plan.length_mm == pytest.approx(28)
    assert plan.ledgers[plan.start[0]].total_mm == pytest.approx(240)


@pytest.mark.parametrize("order", [[3, 4, 1, 2], [2, 1, 4, 3], [4, 3, 2, 1], [2, 3, 4, 1]])
@pytest.mark.parametrize("times", [1, 2, 3])
def test_its_order_is_the_permutation_that_it_names(order: list[int], times: int) -> None:
    """Powers of the permutation, by the reference library."""
    plan = with_button(f"knot: sea button, strands: 2-5, times: {times}", order=str(order))
    power = permutation([at - 1 for at in order]) ** times
    assert finish(plan) == [1, *(2 + at for at in power.array_form)]


def test_reverses_is_the_reversed_order_and_a_mirror_mirrors_it() -> None:
    plan = with_button("knot: sea button, strands: 1-4", order="reverses")
    assert finish(plan) == [4, 3, 2, 1, 5]
    start, single = singles(4)
    text = BUTTON.format(order="[2, 3, 4, 1]", like="berry knot")
    part = {"m": ["knot: sea button, strands: all"]}
    plan = planned(project(["use: m, mirror: all"], start, single, part, rest=text))
    assert finish(plan) == [4, 1, 2, 3]


@pytest.mark.parametrize(
    ("work", "code"),
    [
        ("knot: sea button, strands: 1-3", "GROUPS"),
        ("knot: sea button, strands: all", "STRANDS"),
        ("knot: sea bottom, strands: 1-4", "KNOT"),
    ],
)
def test_a_wrong_number_of_strands_is_told(work: str, code: str) -> None:
    start, single = singles(5)
    text = BUTTON.format(order="keeps", like="berry knot")
    assert fault(project([work], start, single, rest=text)).code == code


@pytest.mark.parametrize(
    ("wrong", "right"),
    [
        ("strands: 4", "strands: 3"),
        ("sea button", "clove hitch"),
        ("order: keeps", "order: [1, 2]"),
    ],
)
def test_a_knot_that_does_not_add_up_is_told(wrong: str, right: str) -> None:
    text = BUTTON.format(order="keeps", like="berry knot").replace(wrong, right)
    assert fault(project(["do: Look."], rest=text)).code in ("COUNT", "NAME")


def test_a_row_says_which_way_its_knotter_begins() -> None:
    told = said("row: reverse clove hitch, knotter: 1, across: 2-3, first: over")
    assert "round each of strands 2 and 3, going over each first; now" in told[0]
    plan = on_strands(3, "row: reverse clove hitch, knotter: 1, across: 2-3, first: over")
    moves = " ".join(line for stage in how_at(plan, 0).stages for line in stage.words)
    assert "Pass the knotter over the filler, back under it" in moves


def test_what_is_noted_once_is_said_in_the_first_repeat_only() -> None:
    part = {"m": ["{knot: square knot, strands: all, note: Gently., note once: Pin it.}"[1:-1]]}
    plan = planned(project(["use: m, times: 3"], parts=part))
    assert [step.note for step in plan.steps] == ["Pin it. Gently.", "Gently.", "Gently."]


FLAT = "{hang: [6 reed], round: flat}"
ROUNDS = ["net: 1-12 by 4, of: square knot, rows: 3, gap: 1 cm"]


def test_flat_round_work_is_measured_across() -> None:
    """A circumference of 2 pi r: at the middle the strands lie side by side on it."""
    plan, round_it = (
        planned(project(ROUNDS, start)) for start in (FLAT, FLAT.replace("flat", "yes"))
    )
    contact = contact_mm(plan, plan.hands)
    circumference = sum(contact[strand] for strand in plan.start)
    across = plan.length_mm - 2 * round_it.length_mm
    assert pi * across == pytest.approx(circumference)
    assert plan.width_mm == pytest.approx(plan.length_mm)
    assert [plan.ledgers[s].total_mm for s in plan.start] == pytest.approx(
        [round_it.ledgers[s].total_mm for s in round_it.start]
    )


def test_flat_round_work_is_drawn_as_a_disc() -> None:
    plan = planned(project(ROUNDS, FLAT))
    scene = scene_of(plan)
    rounds = [[t for t in scene.ties if first <= t.count < first + 3] for first in (0, 3, 6)]
    reach = [
        max(hypot(x, y) for t in ties for s in t.shape.stretches for x, y in s.path)
        for ties in rounds
    ]
    assert reach == sorted(reach)
    assert 2 * reach[-1] == pytest.approx(plan.length_mm, rel=0.1)
    angles = sorted(atan2(*tie.shape.enter[0]) for tie in rounds[0])
    steps = [b - a for a, b in pairwise(angles)]
    assert steps == pytest.approx([2 * pi / 3] * 2, abs=0.05)


RUFFLED = [
    "knot: square knot, groups: 1-12 by 4",
    "add: [40 reed], at: 1",
    "knot: square knot, groups: 1-92 by 4",
]


@pytest.mark.parametrize(
    ("work", "code"),
    [
        (RUFFLED, "RUFFLE"),
        (["net: 1-12 by 4, of: square knot, rows: 8, gap: 5 mm"], "CUP"),
        (["net: 1-12 by 2, of: square knot, rows: 2, gap: 2 cm"], ""),
    ],
)
def test_a_disc_is_held_against_its_circumference(work: list[str], code: str) -> None:
    """2 pi r round, strands side by side no more than that; geometry."""
    plan = planned(project(work, FLAT))
    found = [problem.code for problem in advice(plan)]
    assert [one for one in found if one in ("RUFFLE", "CUP")] == [code] * bool(code)
    contact = contact_mm(plan, plan.hands)
    last = plan.steps[-1]
    around = pi * plan.height_mm[last.end]
    assert (sum(contact[s] for s in last.before) > 1.05 * around) == (code == "RUFFLE")


def test_in_the_round_but_not_flat_nothing_ruffles() -> None:
    plan = planned(project(RUFFLED, FLAT.replace("flat", "yes")))
    assert not {"RUFFLE", "CUP"} & {problem.code for problem in advice(plan)}
