"""What is said of nets: the gap above each row, and whether strands are left over at the sides."""

from collections.abc import Sequence
from dataclasses import dataclass

from examples import examples
from hypothesis import given
from hypothesis import strategies as st
from planned import on_strands

from coach.plan.plan_model import Plan, PlannedStep
from coach.plan.wording.place_words import place_in_piece, step_line
from coach.plan.wording.sentences import step_sentence
from coach.text import number_in_words
from coach.words.instructions import instructions

FREE = "left over at the sides hang free"


@dataclass(frozen=True, slots=True)
class Drawn:
    """A net on some of the strands of a board, and how it is come to."""

    groups: int
    size: int
    rows: int
    beside: int  # strands that hang to the right of it
    gap_mm: int
    closed: bool
    within: str

    @property
    def strands(self) -> int:
        return self.groups * self.size + self.beside

    def plan(self) -> Plan:
        last = self.groups * self.size
        gap = f", gap: {self.gap_mm} mm" if self.gap_mm else ""
        net = f"net: 1-{last} by {self.size}, of: square knot, rows: {self.rows}{gap}"
        around = {
            "": net,
            "part": "use: m, mirror: all",
            "each": f"each: 1-{self.strands} by {self.strands}, steps: [{{{net}}}]",
        }[self.within]
        return on_strands(self.strands, around, parts={"m": [net]}, closed=self.closed)


NETS = st.builds(
    Drawn, st.integers(2, 5), st.sampled_from((2, 4, 6)), st.integers(2, 4),
    st.sampled_from((0, 3)), st.sampled_from((0, 5, 20)), st.booleans(),
    st.sampled_from(("", "part", "each")),
)  # fmt: skip


def free_strands(rows: Sequence[PlannedStep]) -> set[int]:
    """Return the strands of the first row that some other row does not tie."""
    tied = [{strand for group in row.groups for strand in group} for row in rows]
    return set.union(*(tied[0] - row for row in tied))


@examples(150)
@given(NETS)
def test_strands_hang_free_in_the_words_only_where_the_plan_leaves_them(drawn: Drawn) -> None:
    """In the round every strand is tied in every row, so none is said to be left over."""
    plan = drawn.plan()
    told = [line.text for line in instructions(plan) if "Net strands 1 to" in line.text]
    assert told
    assert all((FREE in text) == bool(free_strands(plan.steps)) for text in told)
    rounds = drawn.closed and not drawn.beside
    assert all((f"{number_in_words(drawn.rows)} rounds of" in text) == rounds for text in told)
    assert (place_in_piece(plan, 0)[-1] == "net round 1") == rounds


@examples(150)
@given(NETS)
def test_each_row_below_another_is_told_with_its_gap(drawn: Drawn) -> None:
    """In the sentence of each of its knots, and in the line that is read before it is begun."""
    plan = drawn.plan()
    gap = {0: "", 5: "5 mm gap", 20: "2 cm gap"}[drawn.gap_mm]
    for step in plan.steps:
        wanted = bool(gap) and step.net_row > 1
        texts = [step_sentence(plan, done) for done in range(step.first, step.end)]
        assert all((f"Leave a {gap} below the ro" in text) == wanted for text in texts if gap)
        assert (f"after a {gap} below the ro" in step_line(plan, step.index)) == wanted or not gap
        assert wanted or not any("gap" in text for text in (*texts, step_line(plan, step.index)))


def test_a_row_that_is_set_off_in_the_round_ends_over_the_seam() -> None:
    plan = on_strands(8, "net: 1-8 by 4, of: square knot, rows: 4, gap: 2 cm", closed=True)
    (line,) = instructions(plan)
    assert line.text == (
        "Net strands 1 to 8 with four rounds of square knots in groups of four, leaving 2 cm "
        "between rounds. Offset alternate rounds by two strands; the last knot of each offset "
        "round takes strands 7, 8, 1 and 2."
    )
    assert step_sentence(plan, 3).startswith("Leave a 2 cm gap below the round above. Square knot")
    assert step_line(plan, 1) == (
        "after a 2 cm gap below the round above, square knot on each group: 3 to 6; 7, 8, 1 and 2"
    )
    assert {frozenset(plan.counts[3].knotters)} == {frozenset({6, 1})}
