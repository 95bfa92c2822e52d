"""The solver is held against certified values, a reference library, and sense."""

import numpy as np
import pytest
from scipy.stats import linregress

from coach.pace.least_squares import Row, Undetermined, belief, fit

# NIST StRD, linear regression, dataset Norris (from memory, checked below against scipy).
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
    line = linregress(x, y)
    assert len(x) == 36
    assert (line.intercept, line.slope) == pytest.approx(CERTIFIED, rel=1e-9)
    assert (line.intercept_stderr, line.stderr) == pytest.approx(CERTIFIED_SD, rel=1e-9)


def test_the_solver_meets_the_certified_values_of_norris() -> None:
    x, y = norris()
    found = fit([Row((1.0, float(at)), float(value)) for at, value in zip(x, y, strict=True)])
    assert found.values == pytest.approx(CERTIFIED, rel=1e-10)
    residual_sd = (found.misfit / (len(x) - 2)) ** 0.5
    assert residual_sd == pytest.approx(CERTIFIED_RESIDUAL_SD, rel=1e-10)
    sds = [found.sd(unknown) * residual_sd for unknown in (0, 1)]
    assert sds == pytest.approx(CERTIFIED_SD, rel=1e-10)


def test_weights_count_as_repeated_observations_do() -> None:
    once = fit([Row((1.0,), 3.0, 0.5), Row((1.0,), 5.0)])
    often = fit([Row((1.0,), 3.0)] * 4 + [Row((1.0,), 5.0)])
    assert once.values == pytest.approx(often.values)
    assert once.sd(0) == pytest.approx(often.sd(0))


def test_with_nothing_seen_the_belief_stands() -> None:
    found = fit([belief(0, 2, 1.0, 0.1), belief(1, 2, 0.0, 0.05)])
    assert found.values == pytest.approx((1.0, 0.0))
    assert (found.sd(0), found.sd(1)) == pytest.approx((0.1, 0.05))


def test_an_observation_moves_the_belief_by_how_sure_each_is() -> None:
    found = fit([belief(0, 1, 1.0, 0.1), Row((1.0,), 1.2, 0.1)])
    assert found.values[0] == pytest.approx(1.1)
    assert found.sd(0) == pytest.approx(0.1 / 2**0.5)


def test_random_systems_agree_with_a_reference_library() -> None:
    random = np.random.default_rng(7)
    for _ in range(20):
        matrix, right = random.normal(size=(9, 4)), random.normal(size=9)
        rows = [Row(tuple(line), float(value)) for line, value in zip(matrix, right, strict=True)]
        wanted, misfit, _, _ = np.linalg.lstsq(matrix, right, rcond=None)
        found = fit(rows)
        assert found.values == pytest.approx(tuple(wanted))
        assert found.misfit == pytest.approx(float(misfit[0]))
        assert np.array(found.covariance) == pytest.approx(np.linalg.inv(matrix.T @ matrix))


def test_what_is_left_open_is_said() -> None:
    with pytest.raises(Undetermined):
        fit([Row((1.0, 1.0), 2.0), Row((2.0, 2.0), 4.0)])
    with pytest.raises(Undetermined):
        fit([Row((1.0, 0.0), 2.0)])
