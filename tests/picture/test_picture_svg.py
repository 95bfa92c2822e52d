"""The picture as SVG: sound, safe, at scale, and in the colours that were asked for."""

import re
from itertools import pairwise
from xml.etree import ElementTree as ET

import pytest
from pictured import PROJECTS, plan_of, scene_with, shipped

from coach.picture import compose
from coach.picture.compose import scene_of
from coach.picture.render.shades import looks
from coach.picture.render.svg_drawing import render_svg, scale_of
from coach.plan.plan_model import Plan

SVG = "{http://www.w3.org/2000/svg}"


def drawn(plan: Plan, title: str = "Tide", *, plain: bool = False, **more: int) -> str:
    colours = {cord.id: cord.colour for cord in plan.project.cords.values()}
    return render_svg(scene_of(plan, **more), looks(list(colours), colours), title, plain=plain)


@pytest.mark.parametrize("name", PROJECTS)
def test_each_projects_picture_is_sound_and_fetches_nothing(name: str) -> None:
    text = drawn(shipped(name))
    root = ET.fromstring(text)  # noqa: S314 - our own text
    used = set(re.findall(r'href="#(\w+)"', text))
    assert used <= {node.get("id") for node in root.iter()}
    assert not re.search(r"https?://(?!www\.w3\.org/2000/svg)|<script|@import|url\((?!#)", text)
    assert len(text) < 900_000


def test_a_title_from_a_file_is_only_text() -> None:
    text = drawn(plan_of("knot: square knot, strands: 1-4"), '</title><script>"&')
    root = ET.fromstring(text)  # noqa: S314 - our own text
    title = root.find(f"{SVG}title")
    assert title is not None
    assert (title.text or "").startswith('</title><script>"&')
    assert root.find(f".//{SVG}script") is None


def test_a_shape_is_written_once_and_used_wherever_it_stands() -> None:
    plan = plan_of("knot: square knot, strands: 1-4, times: 40")
    root = ET.fromstring(drawn(plan))  # noqa: S314 - our own text
    uses = [node.get("href") for node in root.iter(f"{SVG}use")]
    shapes = [node.get("id") for node in root.iter(f"{SVG}g") if node.get("id")]
    assert sum(use in {f"#{shape}" for shape in shapes} for use in uses) == 40
    assert len(shapes) == 1


def test_it_is_at_scale_with_a_ruler_that_can_be_left_out() -> None:
    plan = shipped("tide-band")
    scene, text = scene_of(plan), drawn(plan)
    root = ET.fromstring(text)  # noqa: S314 - our own text
    _, _, wide, high = map(float, (root.get("viewBox") or "").split())
    scale = scale_of(scene.box)
    assert float((root.get("height") or "")[:-2]) * scale == pytest.approx(high / 100, abs=0.2)
    assert float((root.get("width") or "")[:-2]) * scale == pytest.approx(wide / 100, abs=0.2)
    marks = {node.text: float(node.get("y") or 0) for node in root.iter(f"{SVG}text")}
    # Figures stand every so many centimetres: 1000 units of a hundredth of a millimetre each.
    assert marks["10"] - marks["5"] == 5_000
    assert "<text" not in drawn(plan, plain=True)
    assert "#fff" not in drawn(plan, plain=True)


def test_in_inches_the_ruler_and_the_size_are_in_inches() -> None:
    plan = shipped("tide-band")
    colours = {cord.id: cord.colour for cord in plan.project.cords.values()}
    text = render_svg(scene_of(plan), looks(list(colours), colours), "Tide", unit="in")
    root = ET.fromstring(text)  # noqa: S314 - our own text
    marks = {node.text: float(node.get("y") or 0) for node in root.iter(f"{SVG}text")}
    assert marks["2"] - marks["1"] == 2_540
    assert re.search(r"about 10 \d+/16 in long and \d+/16 in wide", text)
    assert " cm" not in text


def test_a_cord_is_drawn_in_its_colour_and_told_apart_in_grey() -> None:
    found = looks(
        ["tide", "foam", "clay"], {"tide": "#1f6f8b", "foam": "#dfe7e2", "clay": "#a4553a"}
    )
    assert len({look.dashes for look in found.values()}) == 3
    for look in found.values():
        tones = [look.edge, look.shade, look.body, look.light]
        assert tones == sorted(tones, key=lambda tone: sum(bytes.fromhex(tone[1:])))


def test_a_piece_too_large_to_draw_is_drawn_in_part_and_says_so(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(compose, "MOST_COUNTS", 30)
    plan, scene = scene_with("knot: square knot, strands: 1-4, times: 100")
    assert (scene.made, scene.left_out) == (30, 70)
    assert len(scene.ties) == 30
    assert "70 more counts are not drawn" in drawn(plan)


def test_upper_ties_are_written_before_lower_ones_and_no_order_tells_who_is_over() -> None:
    plan = shipped("shoreline-hanging")
    root = ET.fromstring(drawn(plan))  # noqa: S314 - our own text
    ys = [float(node.get("y") or 0) for node in root.iter(f"{SVG}use") if node.get("y")]
    assert ys
    assert all(later - earlier > -900 for earlier, later in pairwise(ys))
