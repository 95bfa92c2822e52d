"""The drawings say what the plan says: who comes in where, goes out where, and lies over whom."""

import re
from xml.etree import ElementTree as ET

import pytest
from card_pages import NAMES, card_of, plan_of, planned
from svg_reader import crossings, read

from coach.card.card_page import render_card
from coach.picture.compose import scene_of
from coach.picture.render.shades import looks_of
from coach.picture.render.svg_drawing import colour_classes, render_svg, scale_of
from coach.picture.scene import Scene
from coach.picture.step_scene import scene_of_step
from coach.project.model import Add, LayAside, TakeUp
from coach.report.plan_report import report_of

CORDS = (
    "coach: 1\ntitle: Tide\ncords:\n"
    "  a: {colour: red, diameter: 2 mm, fold: none}\n"
    "  b: {colour: green, diameter: 2 mm, fold: none}\n"
    "  c: {colour: blue, diameter: 2 mm, fold: none}\n"
    "  d: {colour: gold, diameter: 2 mm, fold: none}\n"
    "start: {strands: [a, b, c, d]}\n"
)
WIDE = 2.0  # of a cord, by which the course of a strand reaches beyond the picture at most
RED, GREEN, BLUE, GOLD = "#ff0000", "#008000", "#0000ff", "#ffd700"


def reached(scene: Scene, strand: int) -> set[tuple[float, float]]:
    """Return where the stretches of a strand begin and end."""
    own = [run for run in scene.runs if run.strand == strand]
    return {(round(x, 2), round(y, 2)) for run in own for x, y in (run.start, run.end)}


@pytest.mark.parametrize("name", NAMES)
def test_every_strand_comes_in_and_goes_out_where_the_plan_has_it(name: str) -> None:
    plan = plan_of(name)
    drawn = 0
    for step in plan.steps[:80]:
        found = scene_of_step(plan, step)
        if found is None or isinstance(step.source, Add | LayAside | TakeUp):
            continue
        drawn += 1
        if not plan.project.start.closed:
            assert tuple(strand for strand, _ in found.above) == step.before
            assert tuple(strand for strand, _ in found.below) == step.after
        _, top, _, low = found.scene.box
        for at, y in ((found.above, top), (found.below, low)):
            for strand, x in at:
                ends = reached(found.scene, strand)
                assert any(abs(x - at_x) < 0.01 and abs(y - at_y) < WIDE for at_x, at_y in ends)
    assert drawn > 3


def card(*steps: str) -> str:
    plan = planned(f"{CORDS}work: [{', '.join(f'{{{step}}}' for step in steps)}]\n")
    return render_card(plan, report_of(plan))


def drawing(text: str, number: int = 1) -> ET.Element:
    """Return the drawing of one step on a card, with the page's colours."""
    found = re.search(rf'<svg[^>]*aria-label="Step {number}[:,].*?</svg>', text, re.DOTALL)
    style = re.search(r"<style>(.*?)</style>", text, re.DOTALL)
    assert found and style  # noqa: PT018 - both are there or the page is none
    return read(re.sub(r"(<svg[^>]*>)", rf"\1<style>{style[1]}</style>", found[0], count=1))


def seen(step: str, one: str, other: str) -> list[str]:
    """Return who is on top down the work where two colours cross, those that follow once."""
    found = crossings(drawing(card(step)), one, other)
    return [who for n, who in enumerate(found) if n == 0 or who != found[n - 1]]


def test_in_a_half_knot_the_left_knotter_lies_over_the_fillers_and_the_right_one_under() -> None:
    """T. de Dillmont, Encyclopedia of Needlework (c. 1886), ch. Macrame, fig. 516 (read)."""
    step = "knot: half knot, strands: 1-4"
    assert seen(step, RED, GREEN) == seen(step, RED, BLUE) == [RED]
    assert (seen(step, GOLD, GREEN), seen(step, GOLD, BLUE)) == ([GREEN], [BLUE])


def test_a_reverse_half_knot_is_its_mirror_image() -> None:
    step = "knot: reverse half knot, strands: 1-4"
    assert (seen(step, GOLD, GREEN), seen(step, RED, GREEN)) == ([GOLD], [GREEN])


def test_a_square_knot_goes_over_from_the_left_and_then_from_the_right() -> None:
    step = "knot: square knot, strands: 1-4"
    assert (seen(step, RED, GREEN), seen(step, GOLD, GREEN)) == ([RED], [GREEN])


def turns(step: str, one: str, other: str) -> int:
    """Return how often a cord of one colour is seen to lie over one of another."""
    return crossings(drawing(card(step)), one, other).count(one)


def test_each_strand_of_a_row_of_clove_hitches_shows_two_turns_over_the_holder() -> None:
    """The same, p. 348 fig. 519 (read): each end looped twice round the cord."""
    for colour in (GREEN, BLUE, GOLD):
        assert turns("row: clove hitch, holder: 1, across: 2-4", colour, RED) >= 2


def test_in_a_row_of_reverse_ones_the_knotter_shows_two_turns_over_each_filler() -> None:
    for colour in (GREEN, BLUE, GOLD):
        assert turns("row: reverse clove hitch, knotter: 1, across: 2-4", RED, colour) >= 2


def test_the_outer_right_strand_of_a_plait_goes_over_into_the_middle_first() -> None:
    step = "braid: 2-4, crossings: 2"
    assert (seen(step, GOLD, BLUE), seen(step, GREEN, GOLD)) == ([GOLD], [GREEN])


def figure(text: str, number: int = 1) -> str:
    """Return what stands under the drawing of a step."""
    found = re.search(
        rf'aria-label="Step {number}:[^>]*>.*?</svg>(?:<figcaption>(.*?)</figcaption>)?', text
    )
    assert found
    return found[1] or ""


@pytest.mark.parametrize(
    ("step", "said"),
    [
        ("knot: square knot, strands: 1-4, times: 16", "x 16"),
        ("knot: half knot, strands: 1-4, times: 17", "x 17"),
        ("knot: half hitch, knotter: 1, around: 2-3, times: 40", "x 40"),
        ("knot: square knot, strands: 1-4, times: 6", ""),
        ("row: clove hitch, holder: 1, across: 2-4, times: 2", ""),
    ],
)
def test_a_knot_of_which_some_are_drawn_says_how_often_it_is_tied(step: str, said: str) -> None:
    assert figure(card(step)) == said.replace("x", "\N{MULTIPLICATION SIGN}")


def test_of_a_long_run_so_many_are_drawn_that_all_hang_as_they_do_after_it() -> None:
    for times in (7, 8, 16, 17, 40):
        step = f"{{knot: half knot, strands: 1-4, times: {times}}}"
        plan = planned(f"{CORDS}work: [{step}]\n")
        found = scene_of_step(plan, plan.steps[0])
        assert found
        assert 4 <= len(found.scene.ties) <= 6
        last = {run.strand: run.start[0] for run in found.scene.runs if run.count}
        assert sorted(last, key=last.__getitem__) == list(plan.finish)


@pytest.mark.parametrize("name", NAMES)
def test_no_two_pictures_on_a_card_define_the_same_name(name: str) -> None:
    text = card_of(name)
    defined = re.findall(r'\bid="([^"]+)"', text)
    assert len(defined) == len(set(defined))
    assert set(re.findall(r'href="#([^"]+)"', text)) <= set(defined)


@pytest.mark.parametrize("name", NAMES)
def test_the_picture_alone_is_a_file_at_scale_that_fits_the_paper(name: str) -> None:
    plan = plan_of(name)
    scene = scene_of(plan)
    root = ET.fromstring(render_svg(scene, looks_of(plan.project), "Tide"))  # noqa: S314 - our own text
    box = [float(side) / 100 for side in root.attrib["viewBox"].split()]
    wide, high = (float(root.attrib[side].removesuffix("mm")) for side in ("width", "height"))
    assert box[3] / high == pytest.approx(scale_of(scene.box), rel=0.01)
    assert box[2] / wide == pytest.approx(scale_of(scene.box), rel=0.01)
    assert wide <= 216 - 2 * 15
    assert high <= 279 - 2 * 15, "the height of Letter less its margins"


def test_the_finished_piece_stands_first_on_the_card() -> None:
    card = card_of("tide-band")
    assert card.index('class="piece"') < card.index("<h1")
    assert card.index('class="piece"') < card.index('class="work"')
    assert colour_classes(looks_of(plan_of("tide-band").project)) in card_of("tide-band")
