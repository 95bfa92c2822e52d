"""Nets and groups are told where they really stand, and what belongs together is told together."""

from collections.abc import Sequence

import pytest
from planned import fault, on_strands, project, singles
from test_words_read_back import tied_by_plan, tied_by_words

from coach.plan.wording.place_words import groups_words, step_line
from coach.report.plan_report import report_of
from coach.words.sheet import markdown


@pytest.mark.parametrize(
    ("net", "first"),
    [
        ("1-12 by 4, of: square knot, rows: 3", "5 to 8"),  # no room: from the middle out to these
        ("1-12 by 4, of: square knot, rows: 2", "3 to 10"),
        ("5-8 by 4, of: square knot, rows: 3", "5 to 8"),  # room: from these out
        ("3-10 by 4, of: square knot, rows: 2", "3 to 10"),
    ],
)
def test_a_net_that_widens_is_told_where_its_first_row_stands(net: str, first: str) -> None:
    plan = on_strands(12, f"net: {net}, sides: widen")
    (line,) = (one for one in markdown(plan, report_of(plan)) if "Net strands" in one)
    assert f"Net strands {first} with" in line
    assert tied_by_words(plan) == tied_by_plan(plan)


def test_a_net_that_cannot_widen_says_what_it_can() -> None:
    start, cords = singles(8)
    net = "net: 1-8 by 4, of: square knot, rows: 4, sides: widen"
    found = fault(project([net], start, cords))
    assert found.hint == "Write ‘rows: 2’."
    assert "6 strands on either side" in found.message
    on_strands(8, net.replace("rows: 4", "rows: 2"))


@pytest.mark.parametrize(
    ("groups", "told"),
    [
        ([(1, 2), (3, 4)], "each pair: 1 and 2, 3 and 4"),
        ([(1, 2), (3, 4, 5)], "each group: 1 and 2, 3 to 5"),
        ([(1, 3, 5), (2, 4, 6)], "each group: 1, 3 and 5; 2, 4 and 6"),
        ([(1, 2, 3), (4, 5, 6)], "strands 1 to 3 and 4 to 6"),
        ([(1,), (2,), (3,)], "strands 1, 2 and 3"),
    ],
)
def test_groups_say_what_belongs_together(groups: Sequence[Sequence[int]], told: str) -> None:
    assert groups_words(groups) == told


def test_work_on_pairs_is_told_pair_by_pair() -> None:
    inner = "{knot: half hitch chain, strands: 1-2, times: 4}"
    plan = on_strands(6, f"each: 1-6 by 2, steps: [{inner}]", "space: 2 cm, groups: 1-4 by 2",
                      "knot: overhand knot, groups: 1-4 by 2")  # fmt: skip
    told = "\n".join(markdown(plan, report_of(plan)))
    assert "on each pair in turn: 1 and 2, 3 and 4, 5 and 6, counting" in told
    assert "gap on each pair: 1 and 2, 3 and 4." in told
    assert "overhand knot on each pair: 1 and 2, 3 and 4" in step_line(plan, len(plan.steps) - 1)
    assert tied_by_words(plan) == tied_by_plan(plan)
