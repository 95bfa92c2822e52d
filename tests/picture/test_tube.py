"""Round work rolled up: half of it in front, half behind, as far round as it was wide."""

from math import pi

import pytest
from pictured import plan_of, scene_with, shipped

from coach.picture.compose import scene_of
from coach.picture.render.shades import looks_of
from coach.picture.render.svg_drawing import render_svg
from coach.picture.render.tube import rolled_up

ROUND = "{hang: [reed, clay, reed, clay], on: dowel, round: yes}"
NET = "knot: square knot, groups: 1-8 by 4"
OVER = "knot: square knot, groups: 3-10 by 4"


def test_flat_work_stays_as_it_is() -> None:
    _, scene = scene_with(NET)
    assert rolled_up(scene) is scene


def test_a_tube_is_as_far_round_as_the_opened_work_is_wide() -> None:
    opened = scene_of(plan_of(NET, OVER, start=ROUND))
    tube = rolled_up(opened)
    assert tube.behind
    assert 2 * pi * tube.half_mm == pytest.approx(2 * opened.half_mm)
    for scene in (tube, tube.behind):
        widest = max(s.width_mm for s in scene.stretches())
        xs = [x for s in scene.stretches() for x, _ in s.path]
        assert max(map(abs, xs)) <= tube.half_mm + widest


def test_nothing_is_lost_and_each_part_is_in_front_or_behind() -> None:
    opened = scene_of(plan_of(NET, OVER, start=ROUND))
    tube = rolled_up(opened)
    assert tube.behind
    once = [tie for tie in opened.ties if tie.half != "right"]
    parts = sum(len(tie.shape.stretches) for tie in (*tube.ties, *tube.behind.ties))
    assert parts == sum(len(tie.shape.stretches) for tie in once)
    assert len(tube.runs) + len(tube.behind.runs) == len(opened.runs)
    assert all(tie.half == "" for tie in tube.ties)


def test_the_back_half_is_seen_from_within() -> None:
    """What lies uppermost of a knot at the back lies lowest as it is seen."""
    opened = scene_of(plan_of(OVER, start=ROUND))
    tube = rolled_up(opened)
    assert tube.behind
    behind = max(tube.behind.ties, key=lambda tie: len(tie.shape.stretches))
    count = next(tie for tie in opened.ties if tie.count == behind.count)
    layers = {s.layer for s in behind.shape.stretches}
    assert layers <= {-s.layer for s in count.shape.stretches}
    assert min(layers) < 0


def test_the_picture_says_that_it_is_a_tube_and_draws_the_back_first() -> None:
    plan = shipped("marsh-pot-hanger")
    text = render_svg(rolled_up(scene_of(plan)), looks_of(plan.project), "Hanger")
    assert "Hanger, as a tube, at a scale of" in text
    assert text.index('id="bk0"') < text.index('id="k0"')


def test_pieces_made_apart_stay_beside_the_tube_as_they_are() -> None:
    """The handles of the net bag are no part of its round."""
    opened = scene_of(shipped("cockle-net-bag"))
    tube = rolled_up(opened)
    assert tube.behind
    spirals = [tie for tie in opened.ties if tie.knot == "half knot"]
    beside = [tie for tie in tube.ties if tie.knot == "half knot"]
    assert [tie.shape for tie in beside] == [tie.shape for tie in spirals]
    assert min(tie.box[0] for tie in beside) > tube.half_mm
    assert {fitting.kind for fitting in tube.fittings} == {"cord", "hook"}
    assert not any(tie.knot == "half knot" for tie in tube.behind.ties)
