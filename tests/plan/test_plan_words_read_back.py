"""The printed instructions of random projects, followed by the second reader."""

from hypothesis import given, settings
from hypothesis import strategies as st
from planned import REED, planned, project, singles
from random_steps import INNER, parts
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
