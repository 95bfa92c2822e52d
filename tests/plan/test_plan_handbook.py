"""Orders, counts and sizes against print. Status as noted beside each figure."""

import pytest
from planned import finish, knots, names, on_strands, passes, places, planned, project

from coach.plan.as_json import plan_json
from coach.plan.cord.cord_left import CordLeft
from coach.plan.cord.cut_list import cut_list, pieces_of
from coach.plan.plan_model import Plan

ONE_MM = {"reed": "{colour: green, fibre: cotton, diameter: 1 mm, pieces: 3}"}


def after_each_step(plan: Plan) -> list[str]:
    """Return the order after each step, as in 2341."""
    return ["".join(map(str, places(plan, step.after))) for step in plan.steps]


def test_two_bars_to_the_right() -> None:
    """T. de Dillmont, Encyclopedia of Needlework (c. 1886), ch. Macramé, p. 355 figs 540-541
    (read, orders worked out)."""
    bar = "row: clove hitch, holder: 1, across: 2-4"
    assert after_each_step(on_strands(4, bar, bar)) == ["2341", "3412"]


def test_two_bars_to_the_left() -> None:
    """The same, pp. 355-356 figs 542-543 (read, orders worked out)."""
    bar = "row: clove hitch, holder: 4, across: 3-1"
    assert after_each_step(on_strands(4, bar, bar)) == ["4123", "3412"]


def test_eight_pieces_with_nine_flat_knots_and_seven_bar_knots() -> None:
    """The same, pp. 359-360 fig. 553 (read, counts worked out): 2 ends free each side, three flat
    knots on every four ends between, then a bar over seven ends."""
    work = [
        "knot: flat knot, groups: 3-14 by 4, times: 3",
        "row: double half hitch, holder: 1, across: 2-8",
    ]
    plan = planned(project(work, "{hang: [8 reed]}"))
    assert len(plan.start) == 16
    assert knots(plan) == {"square knot": 9, "clove hitch": 7}
    assert passes(plan) == 2 * 16


def test_four_bars_of_four_to_seven_threads_make_twenty_two_bar_knots() -> None:
    """The same, pp. 362-363 fig. 560 (read, sum worked out)."""
    work = [f"row: clove hitch, holder: 1, across: 2-{bar + 1}" for bar in (4, 5, 6, 7)]
    plan = planned(project(work, "{hang: [8 reed]}"))
    assert len(plan.start) == 16
    assert [step.counts for step in plan.steps] == [4, 5, 6, 7]
    assert knots(plan)["clove hitch"] == 22


def test_mounting_in_groups_gives_eighteen_threads_in_a_palindrome() -> None:
    """The same, p. 373 fig. 580 (read): threads of 2, 2, 2, 1, 1, 2, 1, 1, 2, 2, 2 colours' turns
    taken as single strands of two cords in turn."""
    groups = (2, 2, 2, 1, 1, 2, 1, 1, 2, 2, 2)
    cords = {
        name: f"{{colour: {name}, fibre: cotton, diameter: 2 mm, fold: none}}"
        for name in ("sienna", "teal")
    }
    hung = ", ".join(f"{n} {('sienna', 'teal')[g % 2]}" for g, n in enumerate(groups))
    plan = planned(project(["do: Look."], f"{{hang: [{hung}]}}", cords))
    colours = [plan.strands[strand].cord for strand in plan.start]
    assert len(colours) == 18
    assert colours == colours[::-1]


@pytest.mark.parametrize("layout", ["hang", "nest"])
@pytest.mark.parametrize("pieces", [1, 2, 8])
def test_folded_pieces_give_two_ends_each_and_are_cut_twice_the_length(
    layout: str, pieces: int
) -> None:
    """The same, p. 346 fig. 515 (read): n pieces give 2n ends, each cut twice the length."""
    text = project(["space: 30 cm"], f"{{{layout}: [{pieces} reed]}}", rest="margin: 0 %")
    plan = planned(text)
    assert len(plan.start) == 2 * pieces
    for piece in pieces_of(plan):
        assert piece.need_mm - piece.around_mm == pytest.approx(2 * (300 + 100))


def test_bar_knot_is_two_turns_of_the_end() -> None:
    """The same, p. 348 fig. 519 (read)."""
    assert passes(on_strands(2, "row: clove hitch, holder: 1, across: 2")) == 2


def test_flat_double_knot_is_two_half_knots_in_order_passes_and_cord() -> None:
    """The same, p. 347 fig. 516 (read): the outer two cross over the inner two and back."""
    square = on_strands(4, "knot: square knot, strands: 1-4")
    halves = on_strands(4, "knot: half knot, strands: 1-4", "knot: reverse half knot, strands: 1-4")
    assert after_each_step(halves) == ["4231", "1234"]
    assert finish(square) == finish(halves) == [1, 2, 3, 4]
    assert passes(square) == passes(halves) == 2
    for one, other in zip(square.ledgers, halves.ledgers, strict=True):
        assert one.total_mm == pytest.approx(other.total_mm)
    assert square.length_mm == pytest.approx(halves.length_mm)


def test_one_half_repeated_turns_its_knotters_about() -> None:
    """The same, pp. 351-352 fig. 531 (read): a spiral; in strands, the outer two swap each time."""
    plan = on_strands(4, "knot: half knot, strands: 1-4, times: 3")
    assert [places(plan, count.knotters) for count in plan.counts] == [[1, 4], [4, 1], [1, 4]]
    assert finish(plan) == [4, 2, 3, 1]


def test_rows_of_square_knots_on_eight_ends_alternate_two_and_one() -> None:
    """ "Handicraft", Braiding and Knotting, part 3 (read)."""
    plan = on_strands(8, "net: 1-8 by 4, of: square knot, rows: 4")
    assert [step.counts for step in plan.steps] == [2, 1, 2, 1]
    assert [names(plan, group) for group in plan.steps[1].groups] == [
        ["c3.1a", "c4.1a", "c5.1a", "c6.1a"]
    ]


def test_three_strand_plait_comes_back_after_six_crossings_and_not_before() -> None:
    """C. W. Ashley, The Ashley Book of Knots (1944), nos 2954-2955 (read)."""
    orders = [finish(on_strands(3, f"braid: 1-3, crossings: {n}")) for n in range(1, 13)]
    back = [n for n, order in enumerate(orders, start=1) if order == [1, 2, 3]]
    assert back == [6, 12]
    assert orders[:3] == [[1, 3, 2], [3, 1, 2], [3, 2, 1]]


def test_net_of_square_knots_meets_its_printed_size_and_cord() -> None:
    """Modern handbook, title page not seen; probably Mullins & Ryan-Raison, Macramé for Beginners
    and Beyond, 2017 (read, title from memory): 36 pieces of 3 mm cord folded, 47 rows of 18 and
    17 knots, 823 in all, are 27 cm long and 24.5 cm wide; ends of 1.50 m sufficed."""
    cords = {"reed": "{colour: green, fibre: cotton, diameter: 3 mm, pieces: 36}"}
    plan = planned(
        project(["net: 1-72 by 4, of: square knot, rows: 47"], "{hang: [36 reed]}", cords)
    )
    assert plan.total == knots(plan)["square knot"] == 823
    assert {step.counts for step in plan.steps} == {18, 17}
    assert plan.length_mm == pytest.approx(270, rel=0.10)
    assert plan.width_mm == pytest.approx(245, rel=0.10)
    assert max(ledger.total_mm for ledger in plan.ledgers) < 1500


def test_square_sennit_takes_four_to_five_times_its_length_of_each_working_end() -> None:
    """D. Pawson, Knot Craft, 2nd ed., p. 68 (read)."""
    plan = planned(project(["knot: square knot, strands: 1-4, times: 40"]))
    for strand in (plan.start[0], plan.start[-1]):
        assert 4 <= plan.ledgers[strand].total_mm / plan.length_mm <= 5


def test_belt_of_more_than_a_metre_takes_pieces_of_ten_to_twelve_metres() -> None:
    """The same, p. 68 (read): a belt of 1.2 m. The outer piece gives both working ends."""
    made = planned(project(["knot: square knot, strands: 1-4, times: 100"])).length_mm / 100
    times = round(1200 / made)
    work = [f"knot: square knot, strands: 1-4, times: {times}"]
    plan = planned(project(work, rest="margin: 10 %"))
    assert plan.length_mm == pytest.approx(1200, abs=made)
    longest = max(cut.cut_mm for cord in cut_list(plan) for cut in cord.cuts)
    assert 10_000 <= longest <= 12_000


@pytest.mark.parametrize(("lie", "take_up"), [("level", 6.7), ("slant", 4.5)])
def test_take_up_of_six_strands_in_rows_of_clove_hitches(lie: str, take_up: float) -> None:
    """Worked out by tightening, six strands of 1 mm."""
    row = f"row: clove hitch, holder: 1, across: 2-6, lie: {lie}"
    work = ["use: rows, times: 20"]
    plan = planned(project(work, "{nest: [3 reed]}", ONE_MM, {"rows": [row] * 6}))
    used = sum(ledger.total_mm for ledger in plan.ledgers) / 6
    assert used / plan.length_mm == pytest.approx(take_up, rel=0.10)


def test_rows_with_a_new_holder_from_one_side_slant_by_themselves() -> None:
    """Worked out by tightening: knotters leave such rows square, which makes diagonals."""
    text = "row: clove hitch, holder: 1, across: 2-6{}"
    plain, slant = (
        planned(project([text.format(lie)] * 6, "{nest: [3 reed]}", ONE_MM))
        for lie in ("", ", lie: slant")
    )
    assert plain.height_mm == slant.height_mm
    there_and_back = [
        f"row: clove hitch, holder: {way}{{}}" for way in ("1, across: 2-6", "6, across: 5-1")
    ]
    plain, level = (
        planned(project([row.format(lie) for row in there_and_back], "{nest: [3 reed]}", ONE_MM))
        for lie in ("", ", lie: level")
    )
    assert plain.height_mm == level.height_mm


def test_ends_of_a_net_are_enough_to_the_last_knot() -> None:
    """The cut list never leaves a strand under its tail."""
    plan = planned(project(["net: 1-8 by 4, of: square knot, rows: 9"], "{hang: [4 reed]}"))
    for left in CordLeft(plan).at(plan.total):
        assert not left.short
        assert left.runs_out_at is None


def test_object_for_other_programs_tells_the_same_counts() -> None:
    plan = on_strands(
        4, "knot: half knot, strands: 1-4, times: 2", "space: 1 cm", "braid: 1-3, crossings: 6"
    )
    told = plan_json(plan, cut_list(plan), {"low": 0, "likely": 0, "high": 0})
    assert (told["steps"], told["counts"], told["tie_total"], told["passes"]) == (3, 9, 2, 2)
    assert told["ties"] == {"half knot": 2}
    assert [(s["knotted"], s["filled"]) for s in told["strands"]] == [
        (2, 0),
        (0, 2),
        (0, 2),
        (2, 0),
    ]
