"""How each knot comes about, stage by stage, drawn from the catalogue's diagrams."""

from collections.abc import Iterator
from typing import Final

from coach.card.cord_paths import OUTLINE, Yarn, drawn
from coach.card.interlaced import interlaced
from coach.card.svg import element, number, picture
from coach.knots.diagram import CordRole, Diagram, Made
from coach.knots.explanation import How, HowStage

_UNIT: Final = 10.0
_MARGIN: Final = 12.0
_WIDTH: Final = 5.4
_SHOWN: Final = 0.75  # of its drawn size
_LOOKS: Final[dict[CordRole, Yarn]] = {
    "knotter": Yarn("#c8742f", None, _WIDTH),
    "second knotter": Yarn("#2f6f8f", "6 4", _WIDTH),
    "filler": Yarn("#d9d4c7", None, _WIDTH),
}
LEGEND: Final = (
    "In these drawings the knotter is plain and dark, a second knotter has a dashed line along its "
    "middle, fillers and holders are pale."
)


def stage_pictures(told: How) -> Iterator[tuple[str, str]]:
    """Yield the words of each stage with its drawing."""
    for stage in told.stages:
        yield " ".join(stage.words), _stage(told, stage)


def _stage(told: How, stage: HowStage) -> str:
    diagram = stage.diagram
    cords = [[(_LOOKS[path.role], 0.0)] for path in diagram.cords]
    runs = interlaced(diagram, _place, cords)
    points = [point for path in diagram.cords for point in path.corners]
    width = _MARGIN * 2 + max(x for x, _ in points) * _UNIT
    height = _MARGIN * 2 + max(y for _, y in points) * _UNIT
    inside = [*drawn(runs, _UNIT * 0.6), *(_lump(diagram, made) for made in diagram.made)]
    label = f"{told.knot}, stage {stage.first}"
    return picture(
        inside,
        (0, 0, width, height),
        label,
        width=round(width * _SHOWN),
        height=round(height * _SHOWN),
    )


def _place(x: float, y: float) -> tuple[float, float]:
    return _MARGIN + x * _UNIT, _MARGIN + y * _UNIT


def _lump(diagram: Diagram, made: Made) -> str:
    """Draw a knot made before as a lump, and again the cords that run over it."""
    left, top = _place(*made.top_left)
    right, bottom = _place(*made.bottom_right)
    lump = element(
        "rect", x=left - 3, y=top, width=right - left + 6, height=bottom - top, rx=9.0,
        class_="lump",
    )  # fmt: skip
    over = [
        element(
            "path", d=f"M{number(_place(x, 0)[0])} {number(top)}V{number(bottom)}", class_=class_,
            fill="none", stroke_width=width, stroke=stroke,
        )
        for x in made.over
        for class_, width, stroke in (
            ("edge", _WIDTH + OUTLINE, None),
            (None, _WIDTH, _LOOKS[_role_at(diagram, x)].colour),
        )
    ]  # fmt: skip
    return "".join((lump, *over))


def _role_at(diagram: Diagram, column: int) -> CordRole:
    return next(path.role for path in diagram.cords if any(x == column for x, _ in path.corners))
