"""The drawings say what the plan says: who comes in where, goes out where, and lies over whom."""

from itertools import pairwise
from xml.etree import ElementTree as ET

import pytest
from card_pages import NAMES, plan_of, planned

from coach.card.cord_paths import Run, yarns
from coach.card.courses import courses
from coach.card.frame import frame_of
from coach.card.schematic import scale_of, schematic
from coach.card.step_drawing import sketch_of
from coach.colour import ink_on
from coach.plan.plan_model import PlannedStep
from coach.project.model import Add, LayAside, TakeUp

CORDS = (
    "coach: 1\ntitle: Tide\ncords:\n"
    "  a: {colour: red, diameter: 2 mm, fold: none}\n"
    "  b: {colour: green, diameter: 2 mm, fold: none}\n"
    "  c: {colour: blue, diameter: 2 mm, fold: none}\n"
    "  d: {colour: gold, diameter: 2 mm, fold: none}\n"
    "start: {strands: [a, b, c, d]}\n"
)


def ends(runs: list[Run]) -> set[tuple[str, float, float]]:
    """Return where stretches of cord begin and end, with their colour."""
    return {
        (run.yarn.colour, round(x, 3), round(y, 3))
        for run in runs
        for x, y in (run.points[0], run.points[-1])
    }


@pytest.mark.parametrize("name", NAMES)
def test_every_strand_comes_in_and_goes_out_where_the_plan_has_it(name: str) -> None:
    plan = plan_of(name)
    looks = yarns(plan.project)
    drawn = 0
    for step in plan.steps[:80]:
        sketch = sketch_of(plan, step, frame_of(step, None), looks)
        if sketch is None or isinstance(step.source, Add | LayAside | TakeUp):
            continue
        drawn += 1
        found = ends(sketch.runs)
        for strand in step.after:
            colour = sketch.yarn(strand).colour
            for x, y in (sketch.enters(strand), sketch.leaves(strand)):
                assert (colour, round(x, 3), round(y, 3)) in found, (step.index, strand)
    assert drawn > 3


def meetings(runs: list[Run], one: str, other: str) -> list[str]:
    """Give, down the work, whether a cord of one colour lies over or under one of another."""
    found = []
    for mine in (run for run in runs if run.yarn.colour == one):
        for yours in (run for run in runs if run.yarn.colour == other):
            for a, b in pairwise(mine.points):
                for c, d in pairwise(yours.points):
                    at = crossing(a, b, c, d)
                    if at:
                        found.append((at[1], "over" if mine.layer > yours.layer else "under"))
    return [side for _, side in sorted(found)]


Point = tuple[float, float]


def crossing(a: Point, b: Point, c: Point, d: Point) -> Point | None:
    """Return where two segments cross inside both, or None."""
    r, s = (b[0] - a[0], b[1] - a[1]), (d[0] - c[0], d[1] - c[1])
    turn = r[0] * s[1] - r[1] * s[0]
    if not turn:
        return None
    t = ((c[0] - a[0]) * s[1] - (c[1] - a[1]) * s[0]) / turn
    u = ((c[0] - a[0]) * r[1] - (c[1] - a[1]) * r[0]) / turn
    inside = 1e-9 < t < 1 - 1e-9 and 1e-9 < u < 1 - 1e-9
    return (a[0] + t * r[0], a[1] + t * r[1]) if inside else None


RED, GREEN, BLUE, GOLD = "#ff0000", "#008000", "#0000ff", "#ffd700"


def runs_of(step: str) -> list[Run]:
    plan = planned(f"{CORDS}work: [{{{step}}}]\n")
    first: PlannedStep = plan.steps[0]
    sketch = sketch_of(plan, first, frame_of(first, None), yarns(plan.project))
    assert sketch
    return sketch.runs


def test_in_a_half_knot_the_left_knotter_lies_over_the_fillers_and_the_right_one_under() -> None:
    """T. de Dillmont, Encyclopedia of Needlework (c. 1886), ch. Macrame, fig. 516 (read)."""
    runs = runs_of("knot: half knot, strands: 1-4")
    assert meetings(runs, RED, GREEN) == meetings(runs, RED, BLUE) == ["over"]
    assert meetings(runs, GOLD, GREEN) == meetings(runs, GOLD, BLUE) == ["under"]
    assert meetings(runs, RED, GOLD) == ["under", "over", "under"]


def test_a_reverse_half_knot_is_its_mirror_image() -> None:
    runs = runs_of("knot: reverse half knot, strands: 1-4")
    assert meetings(runs, GOLD, GREEN) == ["over"]
    assert meetings(runs, RED, GREEN) == ["under"]


def test_a_square_knot_goes_over_from_the_left_and_then_from_the_right() -> None:
    runs = runs_of("knot: square knot, strands: 1-4")
    assert meetings(runs, RED, GREEN) == ["over", "over"]
    assert meetings(runs, GOLD, GREEN) == ["under", "under"]


def test_each_strand_of_a_row_of_clove_hitches_shows_two_turns_over_the_holder() -> None:
    """The same, p. 348 fig. 519 (read): each end looped twice round the cord."""
    runs = runs_of("row: clove hitch, holder: 1, across: 2-4")
    for colour in (GREEN, BLUE, GOLD):
        assert meetings(runs, colour, RED).count("over") == 2


def test_in_a_row_of_reverse_ones_the_knotter_shows_two_turns_over_each_filler() -> None:
    runs = runs_of("row: reverse clove hitch, knotter: 1, across: 2-4")
    for colour in (GREEN, BLUE, GOLD):
        assert meetings(runs, RED, colour).count("over") == 2


def test_the_outer_right_strand_of_a_plait_goes_over_into_the_middle_first() -> None:
    runs = runs_of("braid: 2-4, crossings: 2")
    assert meetings(runs, GOLD, BLUE) == ["over"]
    assert meetings(runs, GREEN, GOLD) == ["over"]


@pytest.mark.parametrize("name", NAMES)
def test_the_schematic_is_as_long_and_wide_as_the_plan_says(name: str) -> None:
    plan = plan_of(name)
    stretches = list(courses(plan))
    lowest = max(stretch.end[1] for stretch in stretches)
    assert lowest == pytest.approx(plan.length_mm, rel=0.02)
    right = max(abs(stretch.end[0]) for stretch in stretches)
    assert 2 * right <= plan.width_mm * 1.01


@pytest.mark.parametrize("name", NAMES)
def test_the_schematic_alone_is_a_file_at_scale_that_fits_the_paper(name: str) -> None:
    plan = plan_of(name)
    root = ET.fromstring(schematic(plan, alone=True))  # noqa: S314 - our own text
    box = [float(side) for side in root.attrib["viewBox"].split()]
    wide, high = (float(root.attrib[side].removesuffix("mm")) for side in ("width", "height"))
    assert box[3] / high == pytest.approx(scale_of(plan), rel=0.01)
    assert box[2] / wide == pytest.approx(scale_of(plan), rel=0.01)
    assert wide <= 216 - 2 * 15
    assert high <= 279 - 2 * 15, "the height of Letter less its margins"


@pytest.mark.parametrize("colour", ["#ffffff", "#000000", "#7f7f7f", "#1f6f8b", "#ffd700"])
def test_the_mark_along_a_cord_is_seen_on_its_colour(colour: str) -> None:
    assert contrast(ink_on(colour), colour) >= 3


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio of W3C, WCAG 2.2 (read): (L1 + 0.05) / (L2 + 0.05)."""
    lights = sorted((light(one), light(other)), reverse=True)
    return (lights[0] + 0.05) / (lights[1] + 0.05)


def light(colour: str) -> float:
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return sum(share * c for share, c in zip((0.2126, 0.7152, 0.0722), linear, strict=True))
