"""Cut by risk: how far cord may be off, what that makes of the lengths, and what is told of it."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import product
from math import inf, sqrt
from statistics import NormalDist

import cutting_risk
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from planned import REED, on_strands, planned, project

from coach.plan.compile.compiler import compile_project
from coach.plan.cord.cut_list import CordCut, cut_list, lengths_of, with_repeats
from coach.plan.cord.outlook import fold_savings, outlook
from coach.plan.doubt.cut_lengths import Cutting, rounded_up, step_mm
from coach.plan.doubt.doubt import (
    STRAND_SD,
    doubt_after_measures,
    prior,
    prior_correlation,
    prior_sd,
)
from coach.plan.doubt.joint_ranges import Z80, deviations_at_once, normal_points
from coach.plan.doubt.risk import risk_of
from coach.plan.doubt.sensitivity import slopes_of
from coach.plan.pieces import pieces_of
from coach.plan.plan_model import Plan, remeasured
from coach.plan.tension import HARD, NOMINAL, SOFT, UNKNOWN, Hands, give_of, usual_hands
from coach.report.plan_report import report_of
from coach.report.report_phrases import promise

SENNIT = ["knot: square knot, strands: 1-4, times: 40"]
HEMP = "{colour: tan, fibre: hemp, diameter: 2 mm}"
INCH_MM = 25.4
STANDARD = NormalDist()


def total_mm(cuts: tuple[CordCut, ...]) -> float:
    return sum(cord.total_mm for cord in cuts)


def reach(plan: Plan, cuts: tuple[CordCut, ...]) -> float:
    return outlook(plan, cuts).reach


@pytest.mark.parametrize(
    ("fibre", "give"),
    [
        ("cotton", SOFT), ("Recycled Cotton", SOFT), ("wool", SOFT), ("waxed cotton", HARD),
        ("hard-laid cotton", HARD), ("hemp", HARD), ("linen", HARD), ("jute", HARD),
        ("polyester", HARD), ("", UNKNOWN), ("moss", UNKNOWN), ("cotton and polyester", UNKNOWN),
    ],
)  # fmt: skip
def test_compression_goes_by_fibre(fibre: str, give: object) -> None:
    assert give_of(fibre) is give


def test_compressions_are_centred_in_their_range_and_no_cord_is_thicker_than_it_is() -> None:
    """Soft cord gives as the printed net does (0.78), hard cord less (tests/bench/published.py)."""
    for give in (SOFT, HARD, UNKNOWN):
        assert give.likely == pytest.approx((give.low + give.high) / 2)
        assert NormalDist(give.likely, give.sd).cdf(give.high) == pytest.approx(0.95, abs=1e-6)
        assert give.high < 1
    assert SOFT.likely == pytest.approx(0.78)
    assert 0.89 <= HARD.likely <= 0.91
    assert SOFT.likely < UNKNOWN.likely < HARD.likely
    assert (UNKNOWN.low, UNKNOWN.high) <= (HARD.low, HARD.high)


def test_hard_cord_takes_more_a_knot_than_soft_cord() -> None:
    """Dillmont, p. 345 (read): coarse stiff thread takes more length per knot."""
    soft, hard = (planned(project(SENNIT, cords={"reed": cord})) for cord in (REED, HEMP))
    for one, other in zip(soft.ledgers, hard.ledgers, strict=True):
        assert other.total_mm == pytest.approx(one.total_mm * 0.90 / 0.78)


def test_what_is_told_of_hands_goes_before_the_fibre() -> None:
    plan = planned(project(SENNIT, cords={"reed": HEMP}))
    assert remeasured(plan, Hands({"reed": 0.8})).hands.compression_of("reed") == 0.8
    assert remeasured(plan, NOMINAL).hands.compression_of("reed") == HARD.likely


TWO = {"reed": REED, "clay": REED, "mud": REED.replace("2 mm", "4 mm"), "flax": HEMP}
FIGURES = [
    *((cord, "") for cord in TWO),
    *((c, k) for c in ("reed", "clay") for k in ("square knot", "half knot")),
]


def prior_of_four() -> np.ndarray:
    plan = planned(project(SENNIT, "{nest: [reed, clay]}", TWO))
    return np.array(prior(plan.project, FIGURES).covariance)


def test_cords_of_one_fibre_and_knots_of_one_hand_move_together() -> None:
    """Most of it where the thickness is the same too; nothing between cord and hand."""
    cords = planned(project(SENNIT, "{nest: [reed, clay]}", TWO)).project
    share = {pair: prior_correlation(cords, *pair) for pair in product(FIGURES, FIGURES)}
    assert share[("reed", ""), ("clay", "")] > 0.8 > share[("reed", ""), ("mud", "")] > 0
    assert share[("reed", ""), ("flax", "")] == 0
    square, half = ("reed", "square knot"), ("reed", "half knot")
    assert share[square, ("clay", "square knot")] > 0.9 > share[square, half] >= 0.5
    assert share[("reed", ""), square] == 0
    assert np.linalg.eigvalsh(prior_of_four()).min() > 0


def test_what_was_measured_moves_and_narrows_all_that_goes_together_with_it() -> None:
    """Reference: the conditional of a normal, by numpy's inverse."""
    plan = planned(project(SENNIT, "{nest: [reed, clay]}", TWO))
    known = [("reed", ""), ("reed", "square knot")]
    hands = Hands(
        {"reed": 0.85}, {known[1]: 0.08}, {known[0]: 0.02, known[1]: 0.03}, {tuple(known): -0.5}
    )  # type: ignore[arg-type]
    found = doubt_after_measures(plan.project, hands, FIGURES)
    before = prior_of_four()
    at = [FIGURES.index(figure) for figure in known]
    weights = before[:, at] @ np.linalg.inv(before[np.ix_(at, at)])
    measured = np.array([[0.02**2, -0.5 * 0.02 * 0.03], [-0.5 * 0.02 * 0.03, 0.03**2]])
    usual = np.array([usual_hands(plan.project).figure(figure) for figure in FIGURES])
    means = usual + weights @ (np.array([0.85, 0.08]) - usual[at])
    covariance = before - weights @ (before[np.ix_(at, at)] - measured) @ weights.T
    assert np.array(found.means) == pytest.approx(means)
    assert np.array(found.covariance) == pytest.approx(covariance)
    assert found.belief(("clay", "")).mean > 0.82
    assert found.belief(("clay", "half knot")).mean > 0.03


def test_points_are_those_of_a_standard_normal() -> None:
    for directions in (1, 3, 8):
        points = np.array(normal_points(directions, 512))
        assert points.shape == (1024, directions)
        assert points.mean(axis=0) == pytest.approx(0, abs=1e-12)
        assert np.atleast_2d(np.cov(points.T)) == pytest.approx(np.eye(directions), abs=0.05)


@pytest.mark.parametrize(
    ("correlation", "deviations"),
    [(0.0, STANDARD.inv_cdf((1 + sqrt(0.8)) / 2)), (0.999999, Z80)],
)
def test_ranges_that_hold_at_once_are_as_wide_as_cords_differ(
    correlation: float, deviations: float
) -> None:
    """Two that are independent: each holds the root of 0.8. Two that are one: as one alone."""
    found = deviations_at_once([[4.0, correlation * 6.0], [correlation * 6.0, 9.0]])
    assert found == pytest.approx(deviations, rel=0.01)
    assert deviations_at_once([[4.0]]) == deviations_at_once([[0.0, 0.0], [0.0, 1.0]]) == Z80


def test_how_far_a_need_may_be_off_is_worked_out_from_cord_hand_and_strand() -> None:
    """By hand: all of a knotter's cord follows compression, its knots' cord follows slack."""
    plan = on_strands(4, SENNIT[0])
    used, cord = plan.ledgers[0].total_mm, plan.project.cords["c1"]
    slack = slopes_of(plan).of_use(0, plan.total)["c1", "square knot"]
    assert slack == pytest.approx(used, rel=0.001)
    # The fillers' cords, of the same fibre and thickness, have a part in how long a turn is.
    give = prior(plan.project, [(f"c{n}", "") for n in range(1, 5)]).spread(
        {f: s for f, s in slopes_of(plan).of_use(0, plan.total).items() if not f[1]}
    )
    own = prior_sd(plan.project, ("c1", "square knot")) * used
    sd = np.hypot(np.hypot(give, own), STRAND_SD * used)
    assert risk_of(plan).sd_mm(0) == pytest.approx(sd, rel=1e-6)
    assert give / used == pytest.approx(give_of(cord.fibre).sd / 0.78, rel=0.1)
    need = used + cord.tail_mm
    assert risk_of(plan).falls_short(0, need) == pytest.approx(0.5)
    assert risk_of(plan).falls_short(0, need + 2 * sd) == pytest.approx(STANDARD.cdf(-2), rel=1e-6)


def test_the_chance_that_all_reach_is_that_of_many_draws() -> None:
    """Reference: 200,000 draws of the same figures by numpy, each strand with its own on top."""
    plan = planned(project([*SENNIT, "row: clove hitch, holder: 1, across: 2-4"]))
    cuts = cut_list(plan)
    doubt, rng = risk_of(plan).doubt, np.random.default_rng(5)
    drawn = rng.multivariate_normal(np.zeros(len(doubt.means)), doubt.covariance, size=200_000)
    given = Cutting(plan).given_mm(lengths_of(cuts))
    all_reach = np.full(len(drawn), fill_value=True)
    for strand, length in given.items():
        slopes = slopes_of(plan).of_use(strand, plan.total)
        along = np.array([slopes.get(figure, 0.0) for figure in doubt.unknowns])
        slack = np.array([bool(knot) for _, knot in doubt.unknowns])
        used = plan.ledgers[strand].total_mm
        gives, slacks = drawn @ (along * ~slack) / used, drawn @ (along * slack) / used
        own = STRAND_SD * rng.standard_normal(len(drawn))
        off = used * ((1 + gives) * (1 + slacks) - 1 + own)
        around = next(p.around_mm for p in pieces_of(plan) if strand in p.strands) / 2
        all_reach &= used + off + plan.tail_mm[strand] + around <= length
    assert reach(plan, cuts) == pytest.approx(all_reach.mean(), abs=0.006)


@pytest.mark.parametrize("sure", [0.8, 0.95, 0.99])
def test_the_list_is_as_sure_as_asked_for_and_no_step_could_be_left_out(sure: float) -> None:
    plan = planned(project([*SENNIT, "knot: half knot, strands: 1-4, times: 20"]))
    cuts = cut_list(plan, sure=sure)
    assert reach(plan, cuts) >= sure
    for at, cord in enumerate(cuts):
        for place, cut in enumerate(cord.cuts):
            shorter = replace(cut, cut_mm=cut.cut_mm - step_mm(cut.cut_mm))
            changed = replace(cord, cuts=(*cord.cuts[:place], shorter, *cord.cuts[place + 1 :]))
            assert reach(plan, (*cuts[:at], changed, *cuts[at + 1 :])) < sure


def test_surer_takes_more_cord_and_the_same_plan_is_cut_the_same_each_time() -> None:
    text = project(SENNIT)
    lists = [cut_list(planned(text), sure=sure) for sure in (0.6, 0.95, 0.999)]
    totals = [total_mm(cuts) for cuts in lists]
    assert totals == sorted(set(totals))
    assert lists[1] == cut_list(planned(text)) == cut_list(planned(text), sure=0.95)


def test_a_margin_in_the_file_rules_and_its_risk_is_told() -> None:
    little, much = (planned(project(SENNIT, rest=f"margin: {m} %")) for m in (2, 40))
    assert cut_list(little) == cut_list(little, sure=0.99)
    assert reach(little, cut_list(little)) < 0.7
    words = promise(report_of(little))
    assert words.startswith("Lengths include the project's 2 % extra, enough about ")
    assert "nearly always" in promise(report_of(much))
    free = planned(project(SENNIT))
    assert promise(report_of(free)).endswith(" % extra, enough 95 times in 100.")


@pytest.mark.parametrize("name", ["reed-keyring", "sluice-belt"])
def test_of_simulated_makers_as_many_reach_as_are_told(name: str) -> None:
    """The short form of tests/bench/cutting_risk.py, which has the table of all projects."""
    path = next(path for path in cutting_risk.PROJECTS if path.stem == name)
    plan = cutting_risk.plan_of(path, None)
    reached = cutting_risk.share_that_reach(plan, cut_list(plan, "mm"), 300, seed=1)
    assert 0.94 - 2 * sqrt(0.95 * 0.05 / 300) <= reached <= 0.97 + 2 * sqrt(0.95 * 0.05 / 300)


def test_the_strand_that_is_likeliest_to_fall_short_decides() -> None:
    plan = planned(project([*SENNIT, "knot: half hitch, knotter: 1, around: 2, times: 60"]))
    found = outlook(plan, cut_list(plan))
    assert found.decides == plan.start[0]
    given = Cutting(plan).given_mm(lengths_of(cut_list(plan)))
    assert found.falls_short == max(risk_of(plan).falls_short(s, mm) for s, mm in given.items())


@pytest.mark.parametrize(
    "line",
    [
        "{knot: square knot, cord: reed, times: 40, uses: %.0f mm}",
        "{part: run, uses: {reed: %.0f mm}}",
    ],
)
def test_what_the_maker_measured_herself_leaves_little_to_chance(line: str) -> None:
    def run(rest: str) -> Plan:
        return planned(project(["use: run"], parts={"run": SENNIT}, rest=rest))

    plain = run("")
    knotters = [plain.ledgers[strand].total_mm for strand in plain.knotted]
    every = [ledger.total_mm for ledger in plain.ledgers]
    uses = np.mean(knotters if "knot:" in line else every)
    known = run(f"measured: [{line % uses}]")
    outer = known.start[0]
    assert known.ledgers[outer].total_mm > 0
    share = [risk_of(p).sd_mm(outer) / p.ledgers[outer].total_mm for p in (plain, known)]
    assert share[1] < 0.5 * share[0]


def test_a_wrap_has_cord_for_a_turn_more() -> None:
    """It goes round in whole turns, so that a cord a little thinner takes a whole one more."""
    wrap = "knot: gathering knot, wrap: clay, around: all, length: 4 cm"
    plan = planned(project([wrap]))
    made = next(n for n, strand in enumerate(plan.strands) if strand.origin == "wrap")
    taken = {
        remeasured(plan, plan.hands.with_figures({("clay", ""): give})).ledgers[made].total_mm
        for give in np.arange(0.72, 0.84, 0.005)
    }
    length = next(
        cut.cut_mm for cord in cut_list(plan) for cut in cord.cuts if cut.origin == "wrap"
    )
    assert length > max(taken) + plan.tail_mm[made]


# Which pieces are cut alike


def spaces(*lengths: int) -> Plan:
    """Return a plan whose pieces of one strand need so many mm and their tails."""
    steps = [f"space: {mm} mm, strands: {n}" for n, mm in enumerate(lengths, start=1)]
    names = ", ".join(f"reed.{n}" for n in range(1, len(lengths) + 1))
    cords = {"reed": REED.replace("}", f", fold: none, pieces: {len(lengths)}}}")}
    return planned(project(steps, f"{{strands: [{names}]}}", cords, rest="margin: 0 %"))


def cut_lengths(plan: Plan) -> list[tuple[int, float]]:
    return [(cut.pieces, cut.cut_mm) for cord in cut_list(plan) for cut in cord.cuts]


def test_pieces_whose_needs_differ_by_little_are_cut_alike() -> None:
    assert cut_lengths(spaces(1365, 1370, 1375, 1365, 1370, 1375)) == [(6, 1500)]


def test_pieces_that_need_far_less_are_cut_by_need_and_named() -> None:
    plan = spaces(1300, 400, 1290, 410)
    assert cut_lengths(plan) == [(2, 1400), (2, 550)]
    (cord,) = cut_list(plan)
    assert [cut.numbers for cut in cord.cuts] == [(1, 3), (4, 2)]
    assert lengths_of((cord,)) == {
        ("reed", 1): 1400, ("reed", 3): 1400, ("reed", 2): 550, ("reed", 4): 550
    }  # fmt: skip


def test_no_cord_is_cut_to_more_lengths_than_a_maker_keeps_apart() -> None:
    lengths = cut_lengths(spaces(*range(200, 2200, 100)))
    assert len(lengths) == 3
    assert sum(pieces for pieces, _ in lengths) == 20


def test_nearly_equal_pieces_of_several_cords_are_cut_to_one_length() -> None:
    """A bracelet's three cords that need 1.465, 1.47 and 1.475 m."""
    cords = {
        name: REED.replace("}", ", fold: none, pieces: 1}") for name in ("reed", "clay", "foam")
    }
    steps = [f"space: {mm} mm, strands: {n}" for n, mm in enumerate((1365, 1370, 1375), start=1)]
    for rest in ("", "margin: 0 %"):
        plan = planned(project(steps, "{strands: [reed, clay, foam]}", cords, rest=rest))
        assert len({cut.cut_mm for cord in cut_list(plan) for cut in cord.cuts}) == 1


def test_one_fold_in_the_middle_that_wastes_cord_is_told_with_what_another_saves() -> None:
    """One end of each piece knots round the other, which uses a quarter as much."""
    knots = ["knot: half hitch, knotter: 1, around: 2, times: 60",
             "knot: half hitch, knotter: 4, around: 3, times: 60"]  # fmt: skip
    plan = planned(project(knots, "{hang: [2 reed]}"))
    cuts = cut_list(plan)
    (saving,) = fold_savings(plan, cuts)
    cords = plan.project.cords
    fitted = compile_project(
        replace(plan.project, cords={**cords, "reed": replace(cords["reed"], fold="fit")})
    ).plan
    assert fitted
    assert saving.saved_mm == total_mm(cuts) - total_mm(cut_list(fitted)) > 0.2 * total_mm(cuts)
    assert list(fold_savings(fitted, cut_list(fitted))) == []
    assert list(fold_savings(plan_alike(), cut_list(plan_alike()))) == []


def plan_alike() -> Plan:
    return planned(project(SENNIT))


def test_folded_to_fit_each_strand_hangs_with_its_need_and_its_share_of_the_rest() -> None:
    """What is more than needed is shared by how far each need may be off, so that all reach."""
    cords = {"reed": REED.replace("}", ", fold: fit}")}
    work = ["knot: half hitch, knotter: 1, around: 2, times: 60"]
    plan = planned(project(work, "{nest: [reed]}", cords))
    lengths = lengths_of(cut_list(plan))
    shares = Cutting(plan).shares_mm(lengths)
    (piece,) = pieces_of(plan)
    assert sum(shares.values()) == pytest.approx(lengths[piece.label] - piece.around_mm)
    spare = [shares[s] - need for s, need in zip(piece.strands, piece.needs_mm, strict=True)]
    sds = [risk_of(plan).sd_mm(strand) for strand in piece.strands]
    assert spare[0] / spare[1] == pytest.approx(sds[0] / sds[1])


# Rounded as makers cut: common practice, no source.


@pytest.mark.parametrize(
    ("length_mm", "unit", "cut_mm"),
    [
        (123.0, "cm", 130.0), (500.0, "cm", 500.0), (501.0, "cm", 550.0), (1991.0, "cm", 2000.0),
        (2001.0, "cm", 2100.0), (2000.0, "cm", 2000.0), (3.1 * INCH_MM, "in", 3.5 * INCH_MM),
        (21 * INCH_MM, "in", 22 * INCH_MM), (73 * INCH_MM, "in", 81 * INCH_MM),
    ],
)  # fmt: skip
def test_lengths_are_rounded_up_as_they_are_measured_off(
    length_mm: float, unit: str, cut_mm: float
) -> None:
    assert rounded_up(length_mm, unit) == pytest.approx(cut_mm)


@given(st.floats(0, 50_000), st.sampled_from(["cm", "in"]))
def test_a_rounded_length_is_enough_and_at_most_a_step_more(length_mm: float, unit: str) -> None:
    found = rounded_up(length_mm, unit)
    assert length_mm - 1e-3 <= found < length_mm + step_mm(length_mm, unit) + 1e-3
    assert rounded_up(found, unit) == pytest.approx(found)


def test_one_repeat_more_is_told_in_the_hands_of_the_plan() -> None:
    part = {"m": SENNIT}
    plan = planned(project(["use: m, times: 3"], parts=part, rest="margin: 0 %"))
    loose = remeasured(plan, Hands({"reed": 0.9}))
    (usual,), (more,) = (with_repeats(cut_list(p), p) for p in (plan, loose))
    assert more.per_repeat_mm == pytest.approx(usual.per_repeat_mm * 0.9 / 0.78, rel=0.01)


def test_no_length_is_endless_where_nothing_could_make_it_sure() -> None:
    lengths: Sequence[float] = Cutting(plan_alike()).lengths_mm(1.0)
    assert all(0 < length < inf for length in lengths)
