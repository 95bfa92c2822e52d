"""How pieces hang, what comes before the fold, and how a piece is folded and cut."""

import pytest
from planned import REED, SINGLE, names, planned, project, singles

from coach.plan.cord.cut_list import cut_list


def test_nest_lays_pieces_over_each_other_the_first_outermost() -> None:
    plan = planned(project(["do: Look."], "{nest: [reed, 2 clay]}"))
    assert names(plan, plan.start) == [
        "reed.1a", "clay.1a", "clay.2a", "clay.2b", "clay.1b", "reed.1b",
    ]  # fmt: skip


def test_hung_pieces_stand_side_by_side() -> None:
    plan = planned(project(["do: Look."], "{hang: [reed, 2 clay]}"))
    assert names(plan, plan.start) == [
        "reed.1a", "reed.1b", "clay.1a", "clay.1b", "clay.2a", "clay.2b",
    ]  # fmt: skip


def test_strands_stand_as_they_are_named_and_end_a_is_further_left() -> None:
    cords = {"reed": REED[:-1] + ", pieces: 2}", "clay": SINGLE}
    plan = planned(
        project(["do: Look."], "{strands: [reed.2, clay, reed.1, reed.2, reed.1]}", cords)
    )
    assert names(plan, plan.start) == ["reed.2a", "clay.1a", "reed.1a", "reed.2b", "reed.1b"]


def test_steps_before_the_fold_are_worked_on_the_middles_where_positions_count_pieces() -> None:
    start = (
        "{nest: [3 reed], before fold: [{braid: 1-3, crossings: 6}, "
        "{knot: square knot, strands: 1-3, with: clay}]}"
    )
    plan = planned(project(["knot: overhand knot, strands: all"], start))
    assert [step.unfolded for step in plan.steps] == [True, True, False]
    assert names(plan, plan.steps[0].before) == ["reed.1a", "reed.2a", "reed.3a"]
    assert len(plan.steps[2].before) == 6
    assert plan.total == 8
    reed = [
        ledger for ledger, s in zip(plan.ledgers, plan.strands, strict=True) if s.cord == "reed"
    ]
    for one, other in zip(reed[::2], reed[1::2], strict=True):
        assert one.used_after(6) == pytest.approx(other.used_after(6))
        assert one.used_after(6) > 0


def test_loop_made_before_the_fold_is_half_as_long_in_the_work() -> None:
    start = "{nest: [3 reed], before fold: [{braid: 1-3, length: 6 cm}]}"
    plan = planned(project(["space: 2 cm"], start))
    assert plan.height_mm == pytest.approx((0, 30, 50))


def test_single_strands_keep_their_free_end_above_the_first_knot() -> None:
    lead = SINGLE[:-1] + ", lead: 12 cm}"
    plans = [
        planned(project(["space: 5 cm"], "{strands: [reed]}", {"reed": cord}, rest="margin: 0 %"))
        for cord in (SINGLE, lead)
    ]
    assert [cut_list(plan)[0].cut_mm for plan in plans] == [150, 270]


def test_piece_folded_to_fit_gives_each_strand_what_it_needs() -> None:
    cuts = []
    for fold in ("middle", "fit"):
        cord = REED[:-1] + f", fold: {fold}}}"
        work = ["space: 40 cm, strands: 1"]
        cuts.append(
            cut_list(planned(project(work, "{nest: [reed]}", {"reed": cord}, rest="margin: 0 %")))[
                0
            ]
        )
    assert cuts[0].cut_mm - cuts[1].cut_mm == pytest.approx(400, abs=5)


def test_added_piece_is_cut_by_its_own_fold() -> None:
    """It says how it is folded, whatever its cord does else."""
    cords = singles(2)[1] | {"clay": REED[:-1] + ", fold: fit}"}
    cuts = {}
    for fold in ("middle", "fit"):
        work = [f"add: [clay], at: 1, fold: {fold}", "space: 40 cm, strands: 1"]
        plan = planned(project(work, singles(2)[0], cords, rest="margin: 0 %"))
        cuts[fold] = next(cord.cut_mm for cord in cut_list(plan) if cord.cord == "clay")
    assert cuts["middle"] - cuts["fit"] == pytest.approx(400, abs=5)
