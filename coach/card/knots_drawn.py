"""Drawings of how each knot is tied, stage by stage."""

from collections.abc import Iterator
from typing import Final

from coach.card.step_drawing import picture
from coach.knots.explanation import How, HowStage
from coach.picture.render.shades import Look, looks
from coach.picture.render.svg_drawing import Drawing
from coach.picture.shapes.stages_drawn import ROLES, stage_scene

STAGES: Final = "k"
"""The kind of the stages' cords among the classes of a page."""
_PX: Final = 3.6  # a millimetre
_MARGIN_MM: Final = 1.2
_COLOURS: Final = {"knotter": "#c8742f", "second knotter": "#2f6f8f", "filler": "#d9d4c7"}
STAGE_LOOKS: Final[dict[str, Look]] = looks(ROLES, _COLOURS)
LEGEND: Final = (
    "In these drawings the knotter is brown with single marks along it, a second knotter is blue "
    "with its marks in pairs, fillers and holders are pale."
)


def stage_pictures(told: How) -> Iterator[tuple[str, str]]:
    """Yield the words of each stage with its drawing as SVG."""
    for number, stage in enumerate(told.stages):
        name = f"{told.knot.replace(' ', '-').replace(chr(39), '')}-{number}-"
        yield " ".join(stage.words), _stage(told, stage, name)


def _stage(told: How, stage: HowStage, name: str) -> str:
    scene = stage_scene(stage.diagram)
    left, top, right, low = scene.box
    box = (left - _MARGIN_MM, top - _MARGIN_MM, right - left + 2 * _MARGIN_MM,
           low - top + 2 * _MARGIN_MM)  # fmt: skip
    label = f"{told.knot}, stage {stage.first}"
    return picture([Drawing(scene, STAGE_LOOKS, name, STAGES).drawn()], box, label, _PX)
