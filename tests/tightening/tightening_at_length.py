"""The long form of test_tightening.py, run by .ci/run and by hand:

`python -m pytest tests/tightening/tightening_at_length.py`
"""

import json
from math import pi
from pathlib import Path

import links
import pytest
import singles
from cases import CASES
from invariants import determinant, joined_far_away
from standing import run
from tightener import QUICK, Stage
from tightener import tighten as tightened

STORED = json.loads((Path(__file__).parent / "figures.json").read_text(encoding="utf-8"))["figures"]
LINK_STAGES = (Stage(0.35, 40, 1e-3), Stage(0.2, 30, 1e-3), Stage(0.1, 30, 3e-4))


def test_tightest_hopf_link_meets_print() -> None:
    """4 pi d: Cantarella, Kusner, Sullivan, Invent. Math. 150 (2002); shape read, worked out."""
    done = tightened(links.hopf(), LINK_STAGES)
    assert sum(done.lengths) == pytest.approx(4 * pi, rel=0.005)
    assert done.overlap < 0.01


def test_tightest_trefoil_meets_print() -> None:
    """16.3729 d, and never under 15.66 d (Denne, Diao, Sullivan 2006): ideal-knot tables; read."""
    done = tightened(links.trefoil(), LINK_STAGES)
    assert sum(done.lengths) == pytest.approx(16.3729, rel=0.005)
    assert sum(done.lengths) > 15.66
    assert determinant(done.arrangement.strands[0].points) == 3


@pytest.mark.parametrize(("turns", "kind"), [(1, 3), (2, 5)])
def test_no_strand_passes_through_itself_while_it_is_tightened(turns: int, kind: int) -> None:
    """An overhand knot is a trefoil cut open, a double one 5_1; their determinants are 3 and 5."""
    strand = tightened(singles.overhand(1, turns), QUICK).arrangement.strands[0]
    assert determinant(joined_far_away(strand.points, strand.pulled)) == kind


@pytest.mark.parametrize(
    "key",
    ["half hitch: chain round 1", "square knot: sennit round 2", "clove hitch: row",
     "overhand knot: 1 strand, excess"],
)  # fmt: skip
def test_knots_tightened_coarsely_come_near_their_stored_figures(key: str) -> None:
    figure = run(CASES[key], quick=True)
    assert figure.cord == pytest.approx(STORED[key]["cord_d"], rel=0.02)
    assert figure.pitches == pytest.approx(STORED[key]["pitches_d"], rel=0.03)
    assert figure.overlap < 0.02
