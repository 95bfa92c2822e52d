"""The stages of knots in light and shade lie over and under as their diagrams have it."""

from math import hypot

import pytest
from pictured import points

from coach.knots.diagram import Diagram
from coach.knots.stages import STAGES
from coach.picture.shapes.stage_shapes import stage_scene

GRID_MM = 2.0
DIAGRAMS = [
    (knot, number, stage.diagram)
    for knot, stages in STAGES.items()
    for number, stage in enumerate(stages)
    if not stage.diagram.made
]


@pytest.mark.parametrize(("knot", "number", "diagram"), DIAGRAMS)
def test_at_each_crossing_of_a_stage_the_cord_of_the_diagram_lies_over(
    knot: str, number: int, diagram: Diagram
) -> None:
    tie = stage_scene(diagram).ties[0]
    for cord, meetings in enumerate(diagram.meetings()):
        for met in meetings:
            x, y = met.at[0] * GRID_MM, met.at[1] * GRID_MM
            layers = [
                (s.layer, s.strand)
                for s in tie.shape.stretches
                if any(hypot(px - x, py - y) < 0.35 for px, py in points(s, 40))
            ]
            assert len({layer for layer, _ in layers}) >= 2, (knot, number, met.at)
            top = max(layers)[1]
            assert top == (cord if met.over else met.other), (knot, number, met.at)


def test_every_cord_of_a_stage_is_drawn_from_its_lead_to_its_end() -> None:
    for _, _, diagram in DIAGRAMS:
        tie = stage_scene(diagram).ties[0]
        for number, cord in enumerate(diagram.cords):
            own = [s for s in tie.shape.stretches if s.strand == number]
            ends = {(round(x), round(y)) for s in own for x, y in (s.path[0], s.path[-1])}
            for x, y in (cord.corners[0], cord.corners[-1]):
                assert (round(x * GRID_MM), round(y * GRID_MM)) in ends
