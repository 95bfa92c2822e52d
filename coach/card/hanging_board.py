"""The drawing of the start: how the pieces hang, each strand with its number and name."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from html import escape
from itertools import groupby, pairwise
from typing import Final

from coach.card.step_drawing import svg_picture
from coach.picture.compose import scene_of
from coach.picture.render.shades import Look
from coach.picture.render.svg_drawing import Drawing
from coach.picture.scene import Box, Scene
from coach.picture.svg_elements import element, svg_number
from coach.plan.plan_model import Plan

_COLUMN_PX: Final = 24.0  # for a strand's number and name
_CORD_PX: Final = 16.0  # that the thickest cord has at most
_LEAST_PX: Final = 15.0  # between strands that are named; closer ones have their numbers in a fan
_FAN_PX: Final = 26.0
_MOST_PX: Final = 900.0
_NUMBER_PX: Final = 11.0
_NAME_PX: Final = 7.5
_LINE_PX: Final = 9.0


@dataclass(frozen=True, slots=True)
class _Room:
    """Where strands end in a picture, in mm, and what room is below them for their names.

    Attributes:
        at: Where each strand ends, from the left.
        box: The box of the strands alone.
        column: The narrowest gap between two of them.
        px: Pixels a mm.
    """

    at: Mapping[int, float]
    box: Box
    column: float
    px: float

    @property
    def fans(self) -> bool:
        """Whether strands hang so close that their numbers stand in a fan."""
        return self.column * self.px < _LEAST_PX

    @property
    def apart(self) -> float:
        """From one number to the next."""
        return _LEAST_PX / self.px if self.fans else self.column

    @property
    def low(self) -> float:
        """Where the numbers begin."""
        return self.box[3] + (_FAN_PX / self.px if self.fans else 0.0)

    def place(self, number: int, x: float) -> float:
        """Return where the number of a strand that ends at `x` stands, counted from 0."""
        middle = (self.box[0] + self.box[2]) / 2
        return (number - (len(self.at) - 1) / 2) * self.apart + middle if self.fans else x

    def around(self) -> Box:
        """Return left, top, width and height of all that is drawn."""
        left, top, right, _ = self.box
        margin = 16 / self.px
        half = max(right - left, self.apart * len(self.at) if self.fans else 0.0) / 2
        return (
            (left + right) / 2 - half - margin,
            top - 4 / self.px,
            2 * (half + margin),
            self.low - top + 40 / self.px,
        )


def board_picture(plan: Plan, looks: Mapping[str, Look], name: str) -> str:
    """Draw the strands as they hang before the first knot, as SVG.

    Args:
        plan: The plan.
        looks: The colours of each cord, in the file's order.
        name: The prefix of ids in the SVG, so that several pictures can stand on one page.
    """
    scene = scene_of(plan, max((step.end for step in plan.steps if step.unfolded), default=0))
    thick = max(cord.diameter_mm for cord in plan.project.cords.values())
    room = _room(plan, scene, thick)
    runs = [(cord, len(list(run)))
            for cord, run in groupby(plan.strands[s].cord for s in plan.start)]  # fmt: skip
    said = ", ".join(f"{pieces} {cord}" for cord, pieces in runs)
    label = f"The starting board, strands from the left: {said}"
    drawn = [Drawing(scene, looks, name).drawn(), *_names(plan, room, thick)]
    return svg_picture(drawn, room.around(), label, room.px)


def _room(plan: Plan, scene: Scene, thick: float) -> _Room:
    ends = {run.strand: run.end for run in scene.runs}
    at = {strand: ends.get(strand, (0.0, 0.0))[0] for strand in plan.start}
    column = min((abs(b - a) for a, b in pairwise(at.values())), default=_COLUMN_PX)
    wide = scene.box[2] - scene.box[0]
    return _Room(at, scene.box, column, min(_COLUMN_PX / column, _CORD_PX / thick, _MOST_PX / wide))


def _names(plan: Plan, room: _Room, thick: float) -> Iterator[str]:
    """Yield the number of each strand, and its name, or in a fan the line that leads to it."""
    px, low = room.px, room.low
    for place, (strand, x) in enumerate(room.at.items()):
        to = room.place(place, x)
        yield _text(str(place + 1), (to, low + 12 / px), _NUMBER_PX / px, "number")
        if room.fans:
            yield _line((x, room.box[3] + thick / 2), (to, low + 2 / px), 0.6 / px)
        else:
            # Names are broader than a strand's room: every second one stands a line lower.
            below = low + (_NUMBER_PX + 12 + _LINE_PX * (place % 2)) / px
            yield _text(plan.strands[strand].id, (to, below), _NAME_PX / px, "small")


def _text(words: str, at: tuple[float, float], size: float, class_: str) -> str:
    return element(
        "text", escape(words), x=svg_number(at[0] * 100), y=svg_number(at[1] * 100),
        font_size=svg_number(size * 100), text_anchor="middle", class_=class_,
    )  # fmt: skip


def _line(start: tuple[float, float], end: tuple[float, float], wide: float) -> str:
    (x, y), (to_x, to_y) = start, end
    way = " ".join(svg_number(at * 100) for at in (x, y, to_x, to_y))
    return element("path", d=f"M{way}", class_="n", stroke_width=svg_number(wide * 100))
