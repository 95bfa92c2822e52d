"""The drawing of the start: how the pieces hang, each strand with its number and name."""

from collections.abc import Mapping
from html import escape
from itertools import groupby, pairwise
from typing import Final

from coach.card.step_drawing import svg_picture
from coach.picture.compose import scene_of
from coach.picture.elements import element, svg_number
from coach.picture.render.shades import Look
from coach.picture.render.svg_drawing import Drawing
from coach.plan.plan_model import Plan

_COLUMN_PX: Final = 24.0  # for a strand's number and name
_CORD_PX: Final = 16.0  # that the thickest cord has at most
_LEAST_PX: Final = 15.0  # between strands that are named; closer ones have their numbers in a fan
_FAN_PX: Final = 26.0
_MOST_PX: Final = 900.0
_NUMBER_PX: Final = 11.0
_NAME_PX: Final = 7.5
_LINE_PX: Final = 9.0


def board_picture(plan: Plan, looks: Mapping[str, Look], name: str) -> str:
    """Draw the strands as they hang before the first knot, as SVG.

    Args:
        plan: The plan.
        looks: The colours of each cord, in the file's order.
        name: The prefix of ids in the SVG, so that several pictures can stand on one page.
    """
    scene = scene_of(plan, max((step.end for step in plan.steps if step.unfolded), default=0))
    ends = {run.strand: run.end for run in scene.runs}
    at = {strand: ends.get(strand, (0.0, 0.0))[0] for strand in plan.start}
    left, top, right, low = scene.box
    columns = [abs(b - a) for a, b in pairwise(at.values())]
    thick = max(cord.diameter_mm for cord in plan.project.cords.values())
    column = min(columns, default=_COLUMN_PX)
    px = min(_COLUMN_PX / column, _CORD_PX / thick, _MOST_PX / (right - left))
    fans = column * px < _LEAST_PX
    apart = _LEAST_PX / px if fans else column
    fan = low + (_FAN_PX / px if fans else 0.0)
    named = []
    for place, (strand, x) in enumerate(at.items()):
        to = (place - (len(at) - 1) / 2) * apart + (left + right) / 2 if fans else x
        # Names are broader than a strand's room: every second one stands a line lower.
        below = fan + (_NUMBER_PX + 12 + _LINE_PX * (place % 2)) / px
        named.append(_text(str(place + 1), (to, fan + 12 / px), _NUMBER_PX / px, "number"))
        if fans:
            named.append(_line((x, low + thick / 2), (to, fan + 2 / px), 0.6 / px))
        else:
            named.append(_text(plan.strands[strand].id, (to, below), _NAME_PX / px, "small"))
    runs = [(cord, len(list(run)))
            for cord, run in groupby(plan.strands[s].cord for s in plan.start)]  # fmt: skip
    said = ", ".join(f"{pieces} {cord}" for cord, pieces in runs)
    label = f"The starting board, strands from the left: {said}"
    margin = 16 / px
    half = max(right - left, apart * len(at) if fans else 0.0) / 2
    box = (
        (left + right) / 2 - half - margin,
        top - 4 / px,
        2 * (half + margin),
        fan - top + 40 / px,
    )
    return svg_picture([Drawing(scene, looks, name).drawn(), *named], box, label, px)


def _text(words: str, at: tuple[float, float], size: float, class_: str) -> str:
    return element(
        "text", escape(words), x=svg_number(at[0] * 100), y=svg_number(at[1] * 100),
        font_size=svg_number(size * 100), text_anchor="middle", class_=class_,
    )  # fmt: skip


def _line(start: tuple[float, float], end: tuple[float, float], wide: float) -> str:
    (x, y), (to_x, to_y) = start, end
    way = " ".join(svg_number(at * 100) for at in (x, y, to_x, to_y))
    return element("path", d=f"M{way}", class_="n", stroke_width=svg_number(wide * 100))
