"""Knots tightened by computer: the printed links, the method itself, and the catalogue's formulas.

The figures in figures.json are worked out by tightening with the settings that stand in it
(`python tests/tightening/tighten.py --store`); they are local minima without friction and not
published. This is the quick form; the rest stands in tightening_at_length.py.
"""

import json
from collections.abc import Callable
from dataclasses import replace
from math import pi
from pathlib import Path

import chains
import links
import numpy as np
import pytest
import rows
import sennits
import singles
import tighten
from cases import CASES
from contacts import find_contacts
from invariants import determinant, joined_far_away
from standing import run
from tightener import QUICK, Energy, Stage, at_spacing, state_of
from tightener import tighten as tightened
from tubes import Arrangement, Strand, lengths, shifts_of

STORED = json.loads((Path(__file__).parent / "figures.json").read_text(encoding="utf-8"))["figures"]
COARSE_LINK = (Stage(0.35, 40, 1e-3), Stage(0.2, 30, 1e-3))


def test_a_link_tightened_coarsely_comes_near_print() -> None:
    """The trefoil, 16.3729 d, never under 15.66 d: as in tightening_at_length.py, within 1 %."""
    done = tightened(links.trefoil(), COARSE_LINK)
    assert sum(done.lengths) == pytest.approx(16.3729, rel=0.01)
    assert sum(done.lengths) > 15.66
    assert determinant(done.arrangement.strands[0].points) == 3


def test_no_strand_passes_through_itself_while_it_is_tightened_coarsely() -> None:
    """An overhand knot is a trefoil cut open; its determinant is 3."""
    strand = tightened(singles.overhand(1), QUICK[:1]).arrangement.strands[0]
    assert determinant(joined_far_away(strand.points, strand.pulled)) == 3


def test_a_knot_tightened_coarsely_comes_near_its_stored_figure() -> None:
    key = "half hitch: chain round 1"
    figure = run(CASES[key], quick=True)
    assert figure.cord == pytest.approx(STORED[key]["cord_d"], rel=0.02)
    assert figure.pitches == pytest.approx(STORED[key]["pitches_d"], rel=0.03)
    assert figure.overlap < 0.02


def test_every_case_is_stored_and_nothing_else() -> None:
    assert list(STORED) == list(CASES)


@pytest.mark.parametrize("key", CASES)
def test_formula_meets_the_knot_worked_out_by_tightening(key: str) -> None:
    """Within 5 %, or the reason stands in the table; the strands overlap by under 1 %."""
    stored = STORED[key]
    cord, pitches = CASES[key].formula()
    said, found = np.array([cord, *pitches]), [stored["cord_d"], *stored["pitches_d"]]
    near = bool((abs(said / found[: len(said)] - 1) < 0.05).all())
    assert near != bool(stored["reason"]), said
    assert stored["overlap_d"] < 0.01
    assert stored["settled"]


@pytest.mark.parametrize("key", CASES)
def test_loose_strands_lie_so_far_apart_that_their_over_and_under_is_plain(key: str) -> None:
    arrangement = at_spacing(CASES[key].build(), 0.2)
    near = find_contacts(arrangement, 0.0)
    points = np.concatenate([s.points for s in arrangement.strands])
    shifts = shifts_of(arrangement, np.array(arrangement.pitches))
    apart = np.linalg.norm(near.links.vectors(points, shifts), axis=1)
    assert (apart / near.least).min(initial=1) > 0.5


@pytest.mark.parametrize(
    "loose",
    [
        lambda: rows.clove_row(5.0),
        lambda: sennits.half_knots(sennits.flat(2), -40),
        lambda: singles.plait(1.5, held=False),
        lambda: chains.half_hitch_chain(2),
        lambda: singles.overhand(1),
    ],
    ids=["row", "sennit", "plait", "chain", "overhand knot"],
)
def test_slope_of_the_energy_is_its_numerical_derivative(loose: Callable[[], Arrangement]) -> None:
    """Against central differences along random directions, with strands that overlap."""
    arrangement = loose()
    thin = replace(
        at_spacing(arrangement, 0.4), pitches=tuple(0.4 * p for p in arrangement.pitches)
    )
    energy = Energy(thin)
    energy.find(thin)
    state = state_of(thin)
    energy.update(state)
    _, slope = energy(state)
    draw = np.random.default_rng(7)
    for _ in range(5):
        way = draw.standard_normal(len(state))
        ahead, behind = energy(state + 1e-6 * way)[0], energy(state - 1e-6 * way)[0]
        assert slope @ way == pytest.approx((ahead - behind) / 2e-6, rel=1e-4)


@pytest.mark.parametrize(("radius", "fits"), [(0.52, True), (0.45, False)])
def test_chord_rule_lets_a_strand_bend_to_half_its_diameter(radius: float, fits: bool) -> None:
    """A ring of radius d / 2 has chords d sin(s / d) (geometry)."""
    t = np.linspace(0, 2 * pi, 60, endpoint=False)
    ring = radius * np.column_stack((np.cos(t), np.sin(t), 0 * t))
    near = find_contacts(Arrangement((Strand(ring, closed=True),)), 0.3)
    apart = np.linalg.norm(near.links.vectors(ring, np.zeros((0, 3))), axis=1)
    assert bool((apart >= near.least - 1e-3).all()) == fits


def test_a_strand_that_goes_onward_is_as_long_as_its_way_to_the_next_cell() -> None:
    """A helix turn, sqrt((2 pi r)^2 + p^2) (geometry)."""
    t = np.linspace(0, 1, 200, endpoint=False)
    helix = np.column_stack((2 * np.cos(2 * pi * t), 2 * np.sin(2 * pi * t), 3 * t))
    turn = Arrangement((Strand(helix, onward=(1,)),), (), (3.0,), (2,), (0.0,))
    assert lengths(turn)[0] == pytest.approx(np.hypot(4 * pi, 3), rel=1e-3)


def test_table_names_knot_formula_and_difference(capsys: pytest.CaptureFixture[str]) -> None:
    assert tighten.main(["Hopf", "--quick"]) == 0
    row = capsys.readouterr().out.splitlines()[1]
    assert row.startswith("Hopf link | closed | 12.")
    assert "| 12.57 | - | +" in row


def test_unknown_knots_are_refused_with_the_list(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        tighten.main(["granny"])
    assert ended.value.code == 2
    assert "clove hitch: row" in capsys.readouterr().err
