"""What measured cord teaches: least squares with beliefs, against numpy and against sense."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.pace.cord_learning import Observation, for_next_piece, learn
from coach.pace.gaussian import Belief, Joint

REED, CLAY, SLACK = ("reed", ""), ("clay", ""), ("reed", "square knot")
BELIEVED = {REED: Belief(0.78, 0.076), CLAY: Belief(0.78, 0.076), SLACK: Belief(0.0, 0.05)}
AT = {REED: 0.78, CLAY: 0.78, SLACK: 0.0}


def rest(used_mm: float, seen_mm: float, sd_mm: float = 5.0) -> Observation:
    """A remainder: it speaks about compression and slack alike."""
    return Observation({REED: used_mm / 0.78, SLACK: used_mm}, used_mm, seen_mm, sd_mm)


def test_nothing_measured_leaves_what_was_believed() -> None:
    learnt = learn(BELIEVED, AT, [])
    for figure, belief in BELIEVED.items():
        assert learnt.belief(figure).mean == pytest.approx(belief.mean)
        assert learnt.belief(figure).sd == pytest.approx(belief.sd)


sights = st.lists(
    st.tuples(st.floats(50, 3000), st.floats(0.7, 1.4), st.floats(2, 60), st.booleans()),
    max_size=6,
)


@given(sights)
def test_figures_are_those_that_numpy_finds(drawn: list[tuple[float, float, float, bool]]) -> None:
    """Reference: numpy's least squares on beliefs and sights, each over its sd."""
    figures = list(BELIEVED)
    rows = [np.eye(3)[i] / BELIEVED[f].sd for i, f in enumerate(figures)]
    right = [BELIEVED[f].mean / BELIEVED[f].sd for f in figures]
    seen = []
    for used, ratio, sd, length in drawn:
        slopes = {REED: used, CLAY: used / 3} if length else {REED: used / 0.78, SLACK: used}
        seen.append(Observation(slopes, used, used * ratio, sd))
        about = sum(slope * AT[f] for f, slope in slopes.items())
        rows.append(np.array([slopes.get(f, 0.0) for f in figures]) / sd)
        right.append((used * ratio - used + about) / sd)
    matrix = np.array(rows)
    found = np.linalg.lstsq(matrix, np.array(right), rcond=None)[0]
    learnt = learn(BELIEVED, AT, seen)
    assert np.array(learnt.means) == pytest.approx(found, abs=1e-8)
    covariance = np.linalg.inv(matrix.T @ matrix)
    assert np.array(learnt.covariance) == pytest.approx(covariance, rel=1e-5, abs=1e-10)


def test_a_length_speaks_about_compression_alone() -> None:
    learnt = learn(BELIEVED, AT, [Observation({REED: 200.0}, 156.0, 170.0, 3.0)])
    assert learnt.belief(REED).mean > 0.84
    assert learnt.belief(SLACK) == BELIEVED[SLACK]


def test_a_remainder_speaks_about_both_and_a_length_then_tells_them_apart() -> None:
    """15 % more cord at the expected length is slack, not a thicker cord."""
    both = learn(BELIEVED, AT, [rest(1000, 1150)])
    assert both.belief(REED).mean > 0.82
    assert both.belief(SLACK).mean > 0.02
    apart = learn(BELIEVED, AT, [rest(1000, 1150), Observation({REED: 200.0}, 156.0, 156.0, 1.0)])
    assert apart.belief(SLACK).mean > 2 * both.belief(SLACK).mean
    assert apart.belief(REED).mean < both.belief(REED).mean


def test_much_cord_outweighs_little() -> None:
    """The same ratio read to the same millimetre: ten metres say more than ten centimetres."""
    little, much = (
        learn(BELIEVED, AT, [rest(100, 110)]),
        learn(BELIEVED, AT, [rest(10_000, 11_000)]),
    )
    assert much.belief(REED).mean > little.belief(REED).mean
    assert much.belief(REED).sd < little.belief(REED).sd


def test_what_two_figures_share_narrows_what_follows_both() -> None:
    """A remainder tells the product well and neither factor: the spread of more cord is small."""
    learnt = learn(BELIEVED, AT, [rest(2000, 2200, 10)])
    along = {REED: 2000 / 0.78, SLACK: 2000.0}
    alone = np.hypot(2000 / 0.78 * learnt.belief(REED).sd, 2000 * learnt.belief(SLACK).sd)
    assert learnt.spread(along) < 0.2 * alone


def test_what_is_carried_over_is_a_little_less_sure_and_never_less_than_the_prior() -> None:
    known = {REED: Belief(0.85, 0.02), CLAY: Belief(0.9, 0.075)}
    following = for_next_piece(known, BELIEVED)
    assert following[REED].mean == 0.85
    assert 0.02 < following[REED].sd < 0.05
    assert following[CLAY].sd == BELIEVED[CLAY].sd
    assert following[SLACK] == BELIEVED[SLACK]


def test_figures_that_move_together_are_learnt_together() -> None:
    """Reference: the conditional of a normal, by numpy. What one cord tells, the other believes."""
    sds = np.array([BELIEVED[figure].sd for figure in BELIEVED])
    share = np.array([[1, 0.8, 0], [0.8, 1, 0], [0, 0, 1.0]])
    before = share * np.outer(sds, sds)
    means = tuple(belief.mean for belief in BELIEVED.values())
    believed = Joint(tuple(BELIEVED), means, tuple(map(tuple, before.tolist())))
    seen = Observation({REED: 200.0}, 156.0, 170.0, 3.0)
    learnt = learn(believed, AT, [seen])
    along = np.array([200.0, 0, 0])
    whole = along @ before @ along + 3.0**2
    assert np.array(learnt.means) == pytest.approx(means + before @ along / whole * 14)
    assert np.array(learnt.covariance) == pytest.approx(
        before - np.outer(before @ along, along @ before) / whole
    )
    assert learnt.belief(CLAY).mean > 0.82
    assert learnt.together(REED, CLAY) < 0.8
