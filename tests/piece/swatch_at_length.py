"""Whether as many makers reach the end as are told, when they cut after a swatch."""

import numpy as np
from cutting_risk import STRAND_SD, all_reach, some_hands
from marsh_band import band
from test_piece_swatches import FREE, swatch_of

from coach.piece.learning.carry_over import starting_beliefs
from coach.piece.learning.estimates import in_hands
from coach.piece.learning.swatches import beliefs_from, learnt_from
from coach.plan.cord.cut_list import cut_list
from coach.plan.plan_model import remeasured


def test_cut_after_a_swatch_as_many_makers_reach_as_are_told() -> None:
    """Each maker ties the swatch and reads it, with her own hands, errors and all."""
    plan, rng = band(FREE), np.random.default_rng(3)
    swatch, reached, makers = swatch_of(plan), 0, 120
    for _ in range(makers):
        hands = some_hands(plan, rng)
        tied = remeasured(swatch.plan, hands)
        took = sum(
            tied.ledgers[end].total_mm * (1 + STRAND_SD * rng.standard_normal())
            + 3 * rng.standard_normal()
            for end in swatch.ends
        )
        length = tied.length_mm * (1 + 0.03 * rng.standard_normal()) + rng.standard_normal()
        taught = beliefs_from(swatch, learnt_from(swatch, {}, length, took))
        known = in_hands(plan, starting_beliefs(plan.project, taught))
        reached += all_reach(known, cut_list(known, "mm"), remeasured(plan, hands), rng)
    assert 0.90 <= reached / makers <= 0.995
