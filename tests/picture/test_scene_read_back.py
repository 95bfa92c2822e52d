"""The scene is read back: who is on top, what crosses over what, in what order all hangs."""

from itertools import pairwise

import pytest
from pictured import (
    PROJECTS,
    as_drawn,
    differ,
    ends,
    plan_of,
    scene_with,
    seen_at,
    seen_in,
    shipped,
)

from coach.board.permutations import plait_crossing
from coach.knots import names
from coach.picture.compose import scene_of
from coach.picture.reshaped import turned_over
from coach.picture.scene import Scene, Tie
from coach.plan.board_at_count import order_at


def tied(scene: Scene) -> list[Tie]:
    return [tie for tie in scene.ties if tie.knot]


@pytest.mark.parametrize("name", PROJECTS)
def test_every_tie_is_drawn_and_its_knotter_lies_uppermost(name: str) -> None:
    plan = shipped(name)
    scene = scene_of(plan)
    found = {tie.count for tie in tied(scene)}
    assert found == {number for number, count in enumerate(plan.counts) if count.knot}
    for tie in tied(scene):
        assert tie.on_top in plan.counts[tie.count].knotters, (tie.count, tie.knot)


@pytest.mark.parametrize("name", PROJECTS)
def test_the_picture_is_as_long_as_the_plan_and_its_lowest_tie_reaches_there(name: str) -> None:
    plan = shipped(name)
    for done in (len(plan.counts) // 3, len(plan.counts)):
        scene = scene_of(plan, done)
        assert scene.length_mm == plan.height_mm[done]
        low = max(tie.y_mm + tie.shape.leave[0][1] for tie in scene.ties if tie.shape.leave)
        # A slanting tie leaves its strand lower than it hangs a column back along the row.
        assert scene.length_mm - 2.5 < low < scene.length_mm + 1.5


@pytest.mark.parametrize("name", PROJECTS)
def test_strands_hang_at_the_bottom_in_the_plans_order_after_any_count(name: str) -> None:
    plan = shipped(name)
    for done in {*range(2, len(plan.counts), max(1, len(plan.counts) // 12)), len(plan.counts)}:
        if plan.step_of(done - 1).unfolded:
            continue
        scene = scene_of(plan, done)
        assert tuple(ends(scene)) == order_at(plan, done) == scene.finish, done
        assert {tie.count for tie in scene.ties} <= set(range(done))


@pytest.mark.parametrize("name", PROJECTS)
def test_from_the_back_all_is_exchanged_and_twice_it_is_the_same(name: str) -> None:
    plan = shipped(name)
    front, back = scene_of(plan), scene_of(plan, back=True)
    assert ends(back) == ends(front)[::-1]
    assert not differ(as_drawn(turned_over(back, back=False)), as_drawn(front))
    exchanged = {
        (cord, -int(str(layer)), *rest): [tuple((-x, y) for x, y in way) for way in ways]
        for (cord, layer, *rest), ways in as_drawn(front).items()
    }
    assert not differ(exchanged, as_drawn(back))


def test_a_hitchs_turns_lie_over_the_holder_which_is_seen_beside_them() -> None:
    plan, scene = scene_with("row: clove hitch, holder: 1, across: 2-8, lie: level")
    for tie in scene.ties:
        (knotter,), (holder,) = plan.counts[tie.count].knotters, plan.counts[tie.count].fillers
        pitch = tie.box[2] - tie.box[0]
        for turn in (-pitch / 4, pitch / 4):
            assert seen_at(tie, tie.x_mm + turn, tie.y_mm) == knotter
        assert seen_at(tie, tie.x_mm - pitch / 2, tie.y_mm) == holder


def test_a_reverse_clove_hitch_shows_the_strand_that_travels() -> None:
    _, scene = scene_with("row: reverse clove hitch, knotter: 8, across: 7-1")
    assert set(seen_in(scene.ties, scene)) == {"reed"}
    assert len(scene.ties) == 7


def test_a_weave_shows_its_two_colours() -> None:
    knots = "knots: [2 clove hitch, 3 reverse clove hitch, 2 clove hitch]"
    _, scene = scene_with(f"weave: 1, across: 2-8, {knots}", start="{hang: [reed, 2 clay, reed]}")
    # Holder under clove hitches, knotter of the reverse ones: docs of the format.
    assert seen_in(scene.ties, scene) == ["reed", "clay", "reed", "reed", "reed", "reed", "reed"]


@pytest.mark.parametrize(("knot", "left"), [("square knot", True), ("reverse square knot", False)])
def test_a_square_knot_has_both_bars_of_one_strand_and_the_bight_on_the_side_begun(
    knot: str, left: bool
) -> None:
    plan, scene = scene_with(f"knot: {knot}, strands: 1-4", start="{hang: [reed, clay], on: ring}")
    (tie,) = tied(scene)
    first, last = plan.counts[tie.count].knotters
    over, under, side = (first, last, -1) if left else (last, first, 1)
    height = tie.box[3] - tie.box[1]
    for share in (0.28, 0.72):
        assert seen_at(tie, tie.x_mm, tie.y_mm + share * height) == over
    half = (tie.box[2] - tie.box[0]) / 2
    assert seen_at(tie, tie.x_mm + side * half * 0.85, tie.y_mm + height / 2) == under
    back = scene_of(plan, back=True)
    (behind,) = tied(back)
    for share in (0.28, 0.72):
        assert seen_at(behind, behind.x_mm, behind.y_mm + share * height) == under


def test_a_run_of_half_knots_turns_and_its_ridge_goes_round() -> None:
    _, scene = scene_with(
        "knot: half knot, strands: 1-4, times: 9", start="{hang: [reed, clay], on: ring}"
    )
    ridges = []
    for tie in scene.ties:
        front = [s for s in tie.stretches() if s.layer == 3]
        ridges += [(s.path[0][0] + s.path[-1][0]) / 2 - tie.x_mm for s in front]
    assert min(ridges) < -1 < 1 < max(ridges)
    assert len({tie.shape.key for tie in scene.ties}) == len(scene.ties)


def test_at_each_crossing_of_a_plait_the_outer_strand_lies_over() -> None:
    plan, scene = scene_with("braid: [1-2, 3-4, 5-8], crossings: 8")
    for tie in scene.ties:
        count = plan.counts[tie.count]
        assert seen_at(tie, tie.x_mm, (tie.box[1] + tie.box[3]) / 2) in count.knotters


def test_in_a_whole_plait_the_outer_strand_lies_over_at_every_crossing() -> None:
    # Who goes over is told by the board, C. W. Ashley (1944), nos 2954-2955: see board/moves.py.
    _, scene = scene_with(
        "braid: [1-2, 3-4, 5-8], length: 6 cm", "knot: overhand knot, strands: all"
    )
    tie, now = scene.ties[0], [(0, 1), (2, 3), (4, 5, 6, 7)]
    crossings = tie.shape.key[2]
    assert isinstance(crossings, int)
    assert crossings % 6 == 0
    wide, high = tie.box[2] - tie.box[0], tie.box[3] - tie.box[1]
    neck = min(0.1 * high, 0.5 * wide)
    for crossing in range(crossings):
        right = crossing % 2 == 0
        mover = now[2] if right else now[0]
        y = tie.y_mm + neck + (crossing + 0.5) * (high - neck) / crossings
        seen = seen_at(tie, tie.x_mm + (1 if right else -1) * wide * 1.05 / 6.2, y)
        assert seen in [scene.ties[0].strands[strand] for strand in mover], crossing
        now = list(plait_crossing(now, crossing))


def test_strands_keep_their_places_when_others_come_and_go_beside_them() -> None:
    _, scene = scene_with(
        "knot: square knot, strands: 5-8", "add: [clay], at: 1", "knot: half knot, strands: 7-10",
        "knot: square knot, strands: 7-10",
        "lay aside: 1-2", "knot: square knot, strands: 5-8",
    )  # fmt: skip
    assert len({round(tie.x_mm, 6) for tie in tied(scene)}) == 1


def test_strands_that_cross_go_over_to_the_right_and_over_to_the_left_in_a_mirror() -> None:
    for mirror, rightward in (("none", 1), ("all", -1)):
        _, scene = scene_with(
            f"use: swap, mirror: {mirror}", "knot: square knot, strands: 1-4",
            start="{hang: [reed, clay], on: ring}", rest="parts: {swap: [{cross: [3, 4, 1, 2]}]}\n",
        )  # fmt: skip
        layers = {run.strand: run.layer for run in scene.runs if run.layer}
        assert len(layers) == 4
        for run in scene.runs:
            if run.layer:
                assert run.layer == (1 if run.end[0] > run.start[0] else -1) * rightward


STEPS = (
    "row: clove hitch, holder: 1, across: 2-4",
    "knot: half knot, strands: 1-4, times: 3",
    "row: reverse clove hitch, knotter: 5, across: 6-8",
    "knot: square knot, strands: 5-8",
    "knot: lark's head, knotter: 1, around: 2-3, times: 2",
    "knot: half hitch, knotter: 6, around: 7, times: 6",
    "braid: [1, 2, 3], crossings: 4",
    "braid: [1-2, 3, 4-5], crossings: 5",
    "braid: [1-3, 4-5, 6-8], length: 6 cm",
    "knot: josephine knot, strands: 3-6",
    "knot: overhand knot, strands: 1-3",
    "knot: gathering knot, wrap: clay, around: 2-5, length: 1 cm",
    "row: clove hitch, holder: 8, across: 7-3, lie: slant",
    "turn: 1, around: 2",
    "lay aside: 2, leave: 3 cm",
    "add: [clay], at: 1",
    "knot: berry knot, strands: 5-8, of: 2",
    "knot: barrel knot, knotter: 1, around: 2-3, turns: 3",
    "knot: half hitch chain, strands: 1-2, times: 4",
    "picot: 12 mm, strands: [1, 8]",
    "bead: 4-5, size: 6 mm",
)


@pytest.mark.parametrize("step", STEPS)
def test_mirrored_work_is_the_mirror_image(step: str) -> None:
    both = []
    for mirror in ("none", "all"):
        rest = f"parts: {{p: [{{{step}}}]}}\n"
        start = "{hang: [reed, 2 clay, reed], on: dowel}"
        _, scene = scene_with(f"use: p, mirror: {mirror}", start=start, rest=rest)
        both.append(scene)
    plain, mirror = both
    assert not differ(as_drawn(plain, mirrored=True), as_drawn(mirror))


def test_a_symmetrical_diamond_is_symmetrical() -> None:
    rows = (
        "row: clove hitch, holder: 4, across: 3-1, lie: slant",
        "row: clove hitch, holder: 5, across: 6-8, lie: slant",
        "row: clove hitch, holder: 1, across: 2-4, lie: slant",
        "row: clove hitch, holder: 8, across: 7-5, lie: slant",
        "row: clove hitch, holder: 4, across: 5",
    )
    plan, scene = scene_with(*rows, *rows)
    closing = {
        number for number, count in enumerate(plan.counts) if plan.step_of(number).counts == 1
    }
    sides = [
        {
            (round(sign * tie.x_mm, 3), round(tie.y_mm, 3), round(sign * tie.shape.lean_deg, 3),
             scene.cords[tie.on_top])
            for tie in scene.ties if sign * tie.x_mm > 0 and tie.count not in closing
        }
        for sign in (1, -1)
    ]  # fmt: skip
    assert sides[0] == sides[1]
    assert len(sides[0]) == 12
    assert [round(tie.x_mm, 6) for tie in scene.ties if tie.count in closing] == [0, 0]


def test_a_group_over_the_seam_is_seen_as_two_halves_at_the_edges() -> None:
    scene = scene_of(shipped("marsh-pot-hanger"))
    halves = [tie for tie in scene.ties if tie.half]
    assert len(halves) == 4  # two knots, each of them twice
    for left, right in zip(halves[::2], halves[1::2], strict=True):
        assert (left.half, right.half) == ("left", "right")
        assert left.x_mm - right.x_mm == pytest.approx(2 * scene.half_mm)
        assert left.strands == right.strands
    assert all(abs(run.end[0]) < scene.half_mm + 1 for run in scene.runs)


def test_what_was_tied_before_a_flip_is_seen_from_behind() -> None:
    plan, scene = scene_with(
        "row: clove hitch, holder: 1, across: 2-8", "flip: piece",
        "row: clove hitch, holder: 1, across: 2-8",
    )  # fmt: skip
    assert [tie.turned for tie in scene.ties] == [True] * 7 + [False] * 7
    assert scene.finish == plan.finish == tuple(ends(scene))
    # Two turns lie before the holder as it was tied; from behind they lie under it.
    for tie, layer in ((scene.ties[0], -3), (scene.ties[-1], 3)):
        turns = [s for s in tie.stretches() if s.capped and len(s.path) == 3]
        assert [turn.layer for turn in turns] == [layer] * 2


def test_a_part_of_the_work_is_drawn_alone() -> None:
    plan = shipped("tide-band")
    scene = scene_of(plan, 60, since=40)
    assert {tie.count for tie in scene.ties} == {n for n in range(40, 60) if plan.counts[n].knot}
    assert scene.box[1] > 10


def test_loops_beads_picots_and_what_it_hangs_on_are_there() -> None:
    scene = scene_of(shipped("tide-band"))
    loop = [tie for tie in scene.ties if tie.count == 0]
    assert min(tie.box[1] for tie in loop) == pytest.approx(0, abs=2.0)
    kinds = {
        name: {fitting.kind for fitting in scene_of(shipped(name)).fittings} for name in PROJECTS
    }
    assert kinds["reed-keyring"] == {"ring", "bead"}
    assert kinds["eel-lanyard"] == {"hook", "bead"}
    assert kinds["sluice-belt"] == {"buckle"}
    assert kinds["shoreline-hanging"] == {"dowel"}
    assert kinds["reed-bed-coaster"] == {"pin"}


KINDS = {
    "net": "net: 1-8 by 4, of: square knot, rows: 3, gap: 5 mm",
    "turn": "turn: 8, around: 7",
    "space": "space: 3 cm, strands: 1-4",
    "picot": "picot: 15 mm, strands: [1, 8]",
    "bead": "bead: 2-3, size: 8 mm",
    "add": "add: [clay], at: 5, onto: 4, by: lark's head",
    "laid in": "add: [clay], at: 9",
    "lay aside": "lay aside: 8, leave: 3 cm",
    "clasp": "knot: square knot, strands: 1-8, with: clay, times: 3",
    "gathering": "knot: gathering knot, wrap: clay, around: all, length: 1 cm",
    "slope": "row: clove hitch, holder: 1, across: 2-8, slope: 30°, times: 2",
    "lark's head row": "row: lark's head, holder: 1, across: 2-8",
    "half hitch row": "row: half hitch, knotter: 1, across: 2-8",
    "reverse lark's head row": "row: reverse lark's head, knotter: 1, across: 2-8",
    "cross": "cross: [2, 1, 3, 4, 5, 6, 8, 7]",
    "josephine knot": "knot: josephine knot, groups: 1-8 by 4",
    "barrel alone": "knot: barrel knot, strands: 1, turns: 3",
}


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_step_is_drawn_and_all_strands_hang_in_order_below(kind: str) -> None:
    plan = plan_of(KINDS[kind], "do: Look at it.")
    scene = scene_of(plan)
    assert tuple(ends(scene))[: len(plan.finish)] == plan.finish or kind == "lay aside"
    assert set(plan.finish) <= set(ends(scene))
    if plan.counts[0].knot:
        assert tied(scene)


def test_every_knot_of_the_catalogue_has_a_shape_of_its_own() -> None:
    scene = scene_of(shipped("strandline-sampler"))
    shapes = {tie.knot: tie.shape.key[0] for tie in tied(scene)}
    assert set(names.KNOTS) == set(shapes)


def test_a_strand_taken_up_comes_back_from_where_it_was_left() -> None:
    plan, scene = scene_with(
        "lay aside: 8", "knot: square knot, strands: 4-7", "take up: reed.2b, at: 8",
        "knot: square knot, strands: 5-8",
    )  # fmt: skip
    back = [run for run in scene.runs if run.layer == -1]
    assert len(back) == 1
    assert back[0].strand == plan.start[-1]


def test_the_arms_of_round_work_hang_apart_and_meet_below() -> None:
    """A pot hanger: four sennits free of each other, then knots of two strands of each of two."""
    plan = shipped("marsh-pot-hanger")
    scene = scene_of(plan)
    arms = [tie for tie in tied(scene) if tie.knot == names.HALF_KNOT]
    spans = sorted({(round(tie.box[0], 1), round(tie.box[2], 1)) for tie in arms})
    assert len(spans) == 4
    for (left, right), (beside, _) in pairwise(spans):
        assert beside - right > 0.8 * (right - left)
    cradle = next(s for s in plan.steps if s.source.about.name == "first cradle round")
    lefts = {round(tie.x_mm, 1) for tie in tied(scene) if cradle.first <= tie.count < cradle.end}
    middles = [round((one[1] + other[0]) / 2, 1) for one, other in pairwise(spans)]
    assert all(any(abs(x - m) < 0.5 for x in lefts) for m in middles)
    assert 2 * scene.half_mm - scene.spread_mm == pytest.approx(plan.width_mm)


def test_flat_sennits_side_by_side_stay_together() -> None:
    _, scene = scene_with("each: 1-8 by 4, steps: [{knot: square knot, strands: 1-4, times: 20}]")
    assert scene.spread_mm == 0


@pytest.mark.parametrize(
    ("name", "hidden"), [("marsh-pot-hanger", False), ("cockle-net-bag", True)]
)
def test_a_bundle_fans_out_below_its_wrap(name: str, hidden: bool) -> None:
    """Its ends hang side by side; where there are more than have room, some are behind."""
    scene = scene_of(shipped(name))
    last = max(run.count for run in scene.runs)
    hanging = [run for run in scene.runs if run.count == last and abs(run.end[0]) < scene.half_mm]
    front = sorted(run.end[0] for run in hanging if run.layer == 0)
    wide = hanging[0].width_mm
    assert min(b - a for a, b in pairwise(front)) > 0.8 * wide
    assert (len(front) < len(hanging)) == hidden


def test_strands_come_out_from_behind_a_knot_of_their_bundle() -> None:
    """No end of a strand is seen beside it: all leave it within its width, from above its foot."""
    plan = shipped("tide-band")
    scene = scene_of(plan)
    (knot,) = [tie for tie in scene.ties if tie.knot == names.OVERHAND]
    low = knot.y_mm + knot.shape.leave[0][1]
    below = [run for run in scene.runs if run.count == scene.made]
    assert len(below) == 8
    for run in below:
        assert run.start[1] < low
        assert knot.box[0] < run.start[0] - run.width_mm / 2
        assert run.start[0] + run.width_mm / 2 < knot.box[2]
