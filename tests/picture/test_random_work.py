"""Whatever can be tied can be drawn, and all of it is true."""

import sys
from pathlib import Path

from examples import examples
from hypothesis import given
from hypothesis import strategies as st
from pictured import as_drawn, differ, ends

from coach.picture.compose import scene_of
from coach.picture.render.shades import looks
from coach.picture.render.svg_drawing import render_svg
from coach.picture.scene import Scene
from coach.plan.board_at_count import order_at

sys.path.append(str(Path(__file__).parents[1] / "plan"))
from planned import REED, planned, project, singles
from random_steps import INNER, parts

INSIDE = {"inner": INNER}


@examples(120)
@given(parts(8), st.floats(0, 1), st.booleans(), st.booleans())
def test_random_work_is_drawn_with_its_ties_its_order_and_its_length(
    steps: list[str], share: float, closed: bool, back: bool
) -> None:
    around = ", round: yes" if closed else ""
    plan = planned(project(steps, f"{{hang: [2 reed, 2 clay]{around}}}", parts=INSIDE))
    done = round(share * len(plan.counts))
    scene = scene_of(plan, done, back=back)
    ties = {tie.count for tie in scene.ties if tie.knot}
    assert ties == {number for number in range(done) if plan.counts[number].knot}
    assert scene.length_mm == plan.height_mm[done]
    assert set(order_at(plan, done)) <= set(ends(scene))
    assert render_svg(
        scene, looks(["reed", "clay"], {"reed": "#5b7f3a", "clay": "#a4553a"}), "Tide"
    )


def worked(steps: list[str], number: int, *, mirrored: bool) -> Scene:
    """Return a part worked mirrored, or plainly with all strands hung the other way round."""
    cords = singles(number)[1] | {"clay": REED}
    order = list(cords)[:number]
    start = f"{{strands: [{', '.join(order if mirrored else order[::-1])}]}}"
    use = "use: motif, mirror: all" if mirrored else "use: motif"
    return scene_of(planned(project([use], start, cords, {"motif": steps, "inner": INNER})))


@examples(120)
@given(st.integers(4, 8).flatmap(lambda n: st.tuples(st.just(n), parts(n))))
def test_random_work_mirrored_is_drawn_as_its_mirror_image(drawn: tuple[int, list[str]]) -> None:
    number, steps = drawn
    plain, mirror = (worked(steps, number, mirrored=mirrored) for mirrored in (False, True))
    assert not differ(as_drawn(plain, mirrored=True), as_drawn(mirror))
