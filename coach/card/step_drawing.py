"""Drawings of one step, strands coming in and going out, and of the stages of each knot."""

import re
from collections.abc import Iterator, Mapping, Sequence
from html import escape
from itertools import pairwise
from typing import Final

from coach.card.place_range import PlaceRange
from coach.knots.explanation import ExplanationStage, KnotExplanation
from coach.picture.render.shades import Look, looks
from coach.picture.render.svg_drawing import Drawing
from coach.picture.scene import Scene, Segment
from coach.picture.shapes.stage_shapes import ROLES, stage_scene
from coach.picture.step_scene import StepScene, scene_of_step
from coach.picture.svg_elements import element, svg_number
from coach.plan.plan_model import Plan, PlannedStep

_UNIT: Final = 100  # of a picture, in a millimetre
_COLUMN_PX: Final = 13.0  # that a strand's room has at least, so that its number can stand there
_CORD_PX: Final = 7.0  # that the thinnest cord has at least
_MOST_PX: Final = 720.0  # of the width
_HEAD_PX: Final = 14.0  # for a line of numbers
_NUMBER_PX: Final = 11.0
_DIGIT: Final = 1.3  # of a strand's room: the height of a digit that fills it


def step_picture(
    plan: Plan, step: PlannedStep, frame: PlaceRange, looks: Mapping[str, Look], label: str
) -> tuple[str, int] | None:
    """Draw a step as SVG; None for a step in which no cord is worked.

    Args:
        plan: The plan that the step is of.
        step: The step.
        frame: The part of the board to show.
        looks: The colours of each cord.
        label: Its description; ids in the SVG begin with what stands before the first colon.

    Returns:
        The SVG, and how often each group's knot is tied where only some are drawn, else 0.
    """
    found = scene_of_step(plan, step)
    if found is None:
        return None
    left, right = _sides(found, step, frame)
    cords = [plan.project.cords[strand.cord].diameter_mm for strand in plan.strands]
    columns = [b - a for (_, a), (_, b) in pairwise(found.above)]
    px = max(_COLUMN_PX / min(columns, default=_COLUMN_PX), _CORD_PX / min(cords))
    px = min(px, _MOST_PX / (right - left))
    name = re.sub(r"[^a-z0-9]+", "-", label.partition(":")[0].lower())
    drawing = Drawing(found.scene, looks, f"{name}-")
    places = {strand: place for place, strand in enumerate(step.before)}
    from_left = PlaceRange(0, len(step.after), 1, mirrored=False)
    counted = frame if len(step.after) == len(step.before) else from_left
    after = {strand: place for place, strand in enumerate(step.after)}
    _, top, _, low = found.scene.box
    digits = len(str(max(len(step.before), len(step.after))))
    size = min(_NUMBER_PX / px, _DIGIT * min(columns, default=_COLUMN_PX / px) / digits)
    inside = [
        drawing.drawn(),
        *_numbers(found.above, places, frame, (top - 0.35 * size, size)),
        *_numbers(found.below, after, counted, (low + 1.05 * size, size)),
    ]
    head = _HEAD_PX / px
    box = (left, top - head, right - left, low - top + 2 * head)
    return svg_picture(inside, box, label, px), found.times


def svg_picture(
    inside: Sequence[str], box: tuple[float, float, float, float], label: str, px: float
) -> str:
    """Return an SVG picture of elements given in hundredths of a millimetre.

    Args:
        inside: Its elements, as SVG.
        box: Left, top, width and height, in mm.
        label: What it shows, for those who cannot see it.
        px: Pixels per millimetre.
    """
    body = f"{element('title', escape(label))}{''.join(inside)}"
    return element(
        "svg", body, viewBox=" ".join(str(round(side * _UNIT)) for side in box), role="img",
        aria_label=label, width=round(box[2] * px), height=round(box[3] * px),
    )  # fmt: skip


def cord_swatch(looks: Mapping[str, Look], cord: str) -> str:
    """Draw a short length of a cord, for a legend; its name stands beside it."""
    alone = Scene((cord,), (), (), (), (), 0.0, 1.0, (0.0, 0.0, 1.0, 1.0), ())
    drawing = Drawing(alone, looks)
    length = Segment(0, 0, 2.0, ((1.0, 2.0), (6.0, 2.0), (11.0, 2.0)), capped=True)
    body = f'<g fill="none">{drawing.stretch(length)}</g>'
    return element(
        "svg", body, viewBox="0 0 1200 400", width="48", height="16", aria_hidden="true",
        class_="swatch",
    )  # fmt: skip


def _sides(found: StepScene, step: PlannedStep, frame: PlaceRange) -> tuple[float, float]:
    """Return the left and right edge of the picture: the frame's places, or all that is drawn."""
    scene: Scene = found.scene
    xs = [x for place, (_, x) in enumerate(found.above) if frame.has(place)]
    ends = [x for _, x in found.below]
    whole = frame.first == 0 and frame.last >= len(step.before) - 1
    column = min([b - a for a, b in pairwise(xs)], default=4.0)
    if scene.closed and whole and max(xs) - min(xs) > scene.half_mm:
        return -scene.half_mm, scene.half_mm
    if whole and not scene.closed:
        left, right = min([*xs, *ends]), max([*xs, *ends])
        return min(left - column, scene.box[0]) - 0.5, max(right + column, scene.box[2]) + 0.5
    # A part of the board; or what is made apart of a round piece, and is no round itself.
    return min(xs) - column, max(xs) + column


def _numbers(
    at: Sequence[tuple[int, float]], places: Mapping[int, int], frame: PlaceRange,
    line: tuple[float, float],
) -> Iterator[str]:  # fmt: skip
    """Yield the numbers of the strands inside the frame, at a height and in a size."""
    y, size = line
    for strand, x in at:
        if frame.has(places[strand]):
            yield element(
                "text", str(frame.count(places[strand])), x=svg_number(x * _UNIT),
                y=svg_number(y * _UNIT), font_size=svg_number(size * _UNIT), text_anchor="middle",
                class_="number",
            )  # fmt: skip


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


def stage_pictures(told: KnotExplanation) -> Iterator[tuple[str, str]]:
    """Yield the words of each stage with its drawing as SVG."""
    for at, stage in enumerate(told.stages):
        name = f"{told.knot.replace(' ', '-').replace(chr(39), '')}-{at}-"
        yield " ".join(stage.words), _stage(told, stage, name)


def _stage(told: KnotExplanation, stage: ExplanationStage, name: str) -> str:
    scene = stage_scene(stage.diagram)
    left, top, right, low = scene.box
    box = (left - _MARGIN_MM, top - _MARGIN_MM, right - left + 2 * _MARGIN_MM,
           low - top + 2 * _MARGIN_MM)  # fmt: skip
    label = f"{told.knot}, stage {stage.first}"
    return svg_picture([Drawing(scene, STAGE_LOOKS, name, STAGES).drawn()], box, label, _PX)
