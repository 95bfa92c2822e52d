"""The printed instructions of random projects, followed by the second reader."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from planned import REED, planned, project, singles
from random_projects import drawn
from random_steps import INNER, parts
from read_back import LONGEST, Tie
from test_words_read_back import tied_by_plan, tied_by_words

WORK = st.integers(4, 8).flatmap(lambda strands: st.tuples(st.just(strands), parts(strands)))


@settings(max_examples=15)
@given(WORK)
def test_the_words_of_random_work_tie_what_its_plan_ties(drawn: tuple[int, list[str]]) -> None:
    """Steps of all kinds, in groups and parts, mirrored and turned over, with cords added."""
    strands, steps = drawn
    start, cords = singles(strands)
    plan = planned(project(steps, start, cords | {"clay": REED}, {"inner": INNER}))
    assert tied_by_words(plan) == tied_by_plan(plan)


def told_otherwise(seed: int) -> str:
    """Return what the words of a random project tie otherwise than its plan, "" for nothing."""
    text = drawn(seed).text
    plan = planned(text)
    told, tied = tied_by_words(plan), tied_by_plan(plan)
    alike = [one == other or _longest(one, other) for one, other in zip(told, tied, strict=False)]
    if all(alike) and len(told) == len(tied):
        return ""
    return f"seed {seed}: {len(told)} and {len(tied)} ties, {alike.count(False)} of them differ"


def _longest(told: Tie, tied: Tie) -> bool:
    """Whether two ties are one where the words leave it to the bench which strand knots."""
    return LONGEST in told[1] and told[0] == tied[0] and tied[1] | tied[2] == told[2]


@pytest.mark.parametrize("first", [0, 10])
def test_the_words_of_every_kind_of_step_tie_what_the_plan_ties(first: int) -> None:
    """Own knots, rows onto a dowel, strands that come and go in mirrored parts, parts apart."""
    assert not "".join(told_otherwise(seed) for seed in range(first, first + 6))
