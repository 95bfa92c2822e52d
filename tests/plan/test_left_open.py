"""What a step leaves to the maker: figures said with about or or more, and the longest strand."""

import pytest
from planned import MIXED, faults, planned, project, singles

from coach.plan.compile.open_choices import as_chosen
from coach.plan.plan_model import Plan
from coach.plan.wording.open_words import figure_asked_for, open_offer, open_to
from coach.plan.wording.sentences import step_sentence
from coach.project.model import Choice
from coach.words.instructions import instructions

OPEN = [
    ("knot: half knot, strands: all, times: about 30", "times", "about 30 times"),
    ("knot: square knot, groups: [1-2, 3-4], times: 4 or more", "times", "4 times or more"),
    ("knot: barrel knot, strands: 1, turns: About 4", "turns", "about 4 turns"),
    ("knot: barrel knot, knotter: 1, around: 2-4, turns: 4 or More", "turns", "4 turns or more"),
    ("knot: gathering knot, wrap: clay, around: all, length: about 2 cm", "length", "about 2 cm"),
    ("braid: 1-3, length: 6 cm or more", "length", "6 cm or more"),
    ("space: about 3 cm", "length", "about 3 cm"),
    ("picot: 15 mm or more, strands: 1", "length", "15 mm or more"),
    ("knot: lark's head, knotter: 1, around: 2-4, times: about 6", "times", "about 6 times"),
]
FOUR = "{nest: [reed, clay]}"


@pytest.mark.parametrize(("step", "what", "asked"), OPEN)
def test_an_open_figure_is_planned_as_it_stands_and_told_as_open(
    step: str, what: str, asked: str
) -> None:
    plan = planned(project(["do: Look.", step, step], FOUR, MIXED))
    for word in ("about ", "About ", " or more", " or More"):
        step = step.replace(word, "")
    closed = planned(project(["do: Look.", step, step], FOUR, MIXED))
    assert plan.counts == closed.counts
    assert plan.length_mm == closed.length_mm
    assert [s.open_number for s in plan.steps] == [-1, 0, 1]
    assert figure_asked_for(plan, plan.steps[1], what) == asked  # type: ignore[arg-type]  # one of them
    assert asked in open_offer(plan, plan.steps[1], "C").lower()
    assert not open_to(plan.steps[0])
    assert "you like" in printed(plan) or "bout" in printed(plan)


def printed(plan: Plan) -> str:
    return " ".join(line.text for line in instructions(plan))


@pytest.mark.parametrize(("step", "what", "asked"), OPEN)
def test_what_is_chosen_is_as_if_it_had_been_written(step: str, what: str, asked: str) -> None:
    text = project([step], FOUR, MIXED)
    source = planned(text).steps[0].source
    value = 77.0 if what == "length" else 7
    chosen = as_chosen(source, Choice(what, value))  # type: ignore[arg-type]  # one of them
    number = asked.removeprefix("about ").split()[0]
    unit = " mm" if " mm" in asked else " cm"
    figure = "77 mm" if what == "length" else "7"
    written = number + unit if what == "length" else number
    (open_,) = [w for w in (f"about {written}", f"About {written}", f"{written} or more",
                            f"{written} or More") if w in step]  # fmt: skip
    other = planned(project([step.replace(open_, figure)], FOUR, MIXED)).steps[0].source
    assert _figures(chosen) == _figures(other)
    assert as_chosen(source, Choice("knotter", 1)) == source


def _figures(step: object) -> list[object]:
    names = ("times", "turns", "length_mm", "loop_mm", "knot", "crossings")
    return [getattr(step, name, None) for name in names]


@pytest.mark.parametrize(
    ("step", "code"),
    [
        ("knot: half knot, strands: all, times: about", "NUMBER"),
        ("knot: half knot, strands: all, times: about 0", "NUMBER"),
        ("knot: half knot, strands: all, times: 4 or fewer", "NUMBER"),
        ("row: clove hitch, holder: 1, across: 2-4, times: about 2", "NUMBER"),
        ("space: about", "QUANTITY"),
        ("bead: 2, size: about 8 mm", "QUANTITY"),
        ("knot: half hitch, knotter: longest, strands: 2", "STRANDS"),
        ("knot: half hitch, knotter: longest, strands: 2-5", "OFF-BOARD"),
        ("knot: half hitch, knotter: longest, around: 2-3", "UNKNOWN-KEY"),
        ("knot: half hitch, knotter: shortest, strands: 1-4", "CHOICE"),
        ("use: m, times: about 3", "NUMBER"),
        ("row: clove hitch, holder: rung, across: all", "CHOICE"),
    ],
)
def test_what_cannot_be_left_open_is_told_where_it_stands(step: str, code: str) -> None:
    assert code in {problem.code for problem in faults(project([step], FOUR, MIXED))}


def test_the_longest_is_the_one_that_has_used_least() -> None:
    """Strand 3 has tied nothing and crossed nothing: of one cord, cut alike, it has most left."""
    work = [
        "knot: square knot, strands: [1, 2, 4], times: 5",
        "knot: half hitch, knotter: longest, strands: all, times: 3",
        "knot: half hitch, knotter: longest, strands: 1-3",
    ]
    start = "{strands: [reed.1, reed.2, reed.3, reed.4]}"
    plan = planned(project(work, start, {"reed": "{diameter: 2 mm, fold: none}"}))
    used = [plan.used_mm(s, 5) for s in plan.start]
    assert min(used) == used[2]
    assert step_sentence(plan, 5) == "Strand 3 (reed) ties a half hitch round strands 1, 2 and 4."
    assert figure_asked_for(plan, plan.steps[1], "knotter") == (
        "strand 3 (reed) is expected to have most left"
    )
    assert "With the longest of all strands, tie three half hitches round the others." in printed(
        plan
    )


def test_of_two_cords_the_longer_cut_is_the_longest() -> None:
    cords = {
        "reed": "{colour: green, diameter: 2 mm, tail: 10 cm}",
        "clay": "{colour: sienna, diameter: 2 mm, tail: 60 cm}",
    }
    work = ["knot: square knot, strands: all", "knot: half hitch, knotter: longest, strands: all"]
    plan = planned(project(work, "{nest: [reed, clay]}", cords))
    assert plan.strands[plan.counts[1].knotters[0]].cord == "clay"


def test_in_a_mirrored_group_the_strands_named_are_those_of_the_mirror() -> None:
    start, single = singles(4)
    steps = "{knot: half hitch, knotter: longest, strands: 1-2}"
    work = [f"each: [1-4], mirror: all, steps: [{steps}]"]
    plan = planned(project(work, start, single))
    assert {*plan.counts[0].knotters, *plan.counts[0].fillers} == {plan.start[3], plan.start[2]}
