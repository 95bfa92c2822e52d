"""One observation after another: held against certified values, a reference library, and sense."""

import numpy as np
import pytest

from coach.pace.gaussian import Belief, Joint, conditioned, extended, independent, redrawn, widened

# NIST StRD, linear regression, dataset Norris (from memory, checked below against numpy).
NORRIS = """
0.1 0.2  338.8 337.4  118.1 118.2  888.0 884.6  9.2 10.1  228.1 226.5  668.5 666.3  998.5 996.3
449.1 448.6  778.9 777.0  559.2 558.2  0.3 0.4  0.1 0.6  778.1 775.5  668.8 666.9  339.3 338.0
448.9 447.5  10.8 11.6  557.7 556.0  228.3 228.1  998.0 995.8  888.8 887.6  119.6 120.2  0.3 0.3
0.6 0.3  557.6 556.8  339.3 339.1  888.0 887.2  998.5 999.0  778.9 779.0  10.2 11.1  117.6 118.3
228.9 229.2  668.4 669.1  449.2 448.9  0.2 0.5
"""
CERTIFIED = (-0.262323073774029, 1.00211681802045)  # B0 and B1, from memory
CERTIFIED_SD = (0.232818234301152, 0.000429796848199937)  # their sds, from memory
CERTIFIED_RESIDUAL_SD = 0.884796396144373  # from memory


def norris() -> tuple[np.ndarray, np.ndarray]:
    pairs = np.array(NORRIS.split(), dtype=float).reshape(-1, 2)
    return pairs[:, 1], pairs[:, 0]


def test_norris_as_typed_gives_the_certified_values_in_a_reference_library() -> None:
    x, y = norris()
    (slope, intercept), covariance = np.polyfit(x, y, 1, cov=True)
    assert len(x) == 36
    assert (intercept, slope) == pytest.approx(CERTIFIED, rel=1e-9)
    assert np.sqrt(np.diag(covariance))[::-1] == pytest.approx(CERTIFIED_SD, rel=1e-9)


def seen(joint: Joint[str], slopes: dict[str, float], value: float, sd: float = 1.0) -> Joint[str]:
    """Take in that the sum of the unknowns, each times its slope, was seen to be `value`."""
    expected = sum(slopes[u] * m for u, m in zip(joint.unknowns, joint.means, strict=True))
    return conditioned(joint, slopes, value - expected, sd**2)


def test_point_after_point_meets_the_certified_values_of_norris() -> None:
    """From beliefs so vague that they say nothing: a thousand is far beyond both figures."""
    line = independent({"a": Belief(0.0, 1e3), "b": Belief(0.0, 1e3)})
    for x, y in zip(*norris(), strict=True):
        line = seen(line, {"a": 1.0, "b": float(x)}, float(y))
    assert line.means == pytest.approx(CERTIFIED, rel=1e-6)
    sds = [line.belief(u).sd * CERTIFIED_RESIDUAL_SD for u in line.unknowns]
    assert sds == pytest.approx(CERTIFIED_SD, rel=1e-6)


def test_random_systems_agree_with_a_reference_library() -> None:
    """Beliefs and observations as rows over their sds: least squares by numpy, in any order."""
    random = np.random.default_rng(7)
    for _ in range(20):
        matrix, right = random.normal(size=(9, 4)), random.normal(size=9)
        joint = independent({str(i): Belief(0.5, 2.0) for i in range(4)})
        for line, value in zip(matrix, right, strict=True):
            slopes = {str(i): float(slope) for i, slope in enumerate(line)}
            joint = seen(joint, slopes, float(value), 0.3)
        rows = np.vstack([np.eye(4) / 2.0, matrix / 0.3])
        wanted = np.linalg.lstsq(rows, np.concatenate([[0.25] * 4, right / 0.3]), rcond=None)[0]
        assert joint.means == pytest.approx(tuple(wanted))
        assert np.array(joint.covariance) == pytest.approx(np.linalg.inv(rows.T @ rows))


def test_with_nothing_seen_the_belief_stands() -> None:
    joint = independent({"a": Belief(1.0, 0.1), "b": Belief(0.0, 0.05)})
    assert joint.beliefs == {"a": Belief(1.0, 0.1), "b": Belief(0.0, 0.05)}


def test_an_observation_moves_the_belief_by_how_sure_each_is() -> None:
    found = seen(independent({"a": Belief(1.0, 0.1)}), {"a": 1.0}, 1.2, 0.1)
    assert found.belief("a").mean == pytest.approx(1.1)
    assert found.belief("a").sd == pytest.approx(0.1 / 2**0.5)


def test_what_two_unknowns_share_narrows_their_sum_and_leaves_each_open() -> None:
    joint = independent({"a": Belief(0.0, 1.0), "b": Belief(0.0, 1.0)})
    joint = seen(joint, {"a": 1.0, "b": 1.0}, 3.0, 0.01)
    assert joint.spread({"a": 1.0, "b": 1.0}) == pytest.approx(0.01, rel=0.01)
    assert joint.belief("a").sd > 0.7


def test_an_unknown_that_is_added_says_nothing_of_the_others() -> None:
    joint = seen(independent({"a": Belief(0.0, 1.0)}), {"a": 1.0}, 1.0, 0.5)
    more = extended(joint, {"b": Belief(2.0, 3.0)})
    assert more.belief("a") == joint.belief("a")
    assert more.belief("b") == Belief(2.0, 3.0)
    assert more.variance({"a": 1.0, "b": 1.0}) == pytest.approx(joint.belief("a").sd ** 2 + 9)


def test_an_unknown_drawn_anew_forgets_what_it_shared() -> None:
    joint = independent({"a": Belief(0.0, 1.0), "b": Belief(0.0, 1.0)})
    joint = redrawn(seen(joint, {"a": 1.0, "b": 1.0}, 3.0, 0.1), "b", Belief(0.0, 1.0))
    assert joint.belief("a").mean > 1
    assert joint.belief("b") == Belief(0.0, 1.0)
    assert joint.variance({"a": 1.0, "b": 1.0}) == pytest.approx(joint.belief("a").sd ** 2 + 1)


def test_an_unknown_that_may_have_moved_is_less_sure() -> None:
    joint = widened(independent({"a": Belief(1.0, 0.3), "b": Belief(0.0, 1.0)}), {"a": 0.16})
    assert [joint.belief(u).sd for u in ("a", "b")] == pytest.approx([0.5, 1.0])
