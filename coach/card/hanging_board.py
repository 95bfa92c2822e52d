"""The starting board: what the pieces hang on, and every strand with its number and cord."""

from itertools import groupby
from typing import Final

from coach.card.cord_paths import Run, Yarn, drawn
from coach.card.frame import PITCH
from coach.card.svg import element, picture, text
from coach.knots import names
from coach.plan.measure.mounting import way_of_hanging
from coach.plan.plan_model import Plan

_BAR: Final = 26.0
_END: Final = 104.0
_LINE: Final = 9.0


def board_picture(plan: Plan, looks: dict[str, Yarn]) -> str:
    """Draw the strands as they hang before the first knot; pieces are joined at their folds."""
    width = (len(plan.start) + 0.5) * PITCH
    runs, shapes = _hung(plan, looks), [_bar(plan, width)]
    for place, strand in enumerate(plan.start):
        x = _x(place)
        shapes.append(text(str(place + 1), x, _END + 14, class_="number"))
        # Names are broader than a strand's room: every second one stands a line lower.
        below = _END + 26 + _LINE * (place % 2)
        shapes.append(text(plan.strands[strand].id, x, below, class_="small"))
    runs_cords = [
        (cord, len(list(run))) for cord, run in groupby(plan.strands[s].cord for s in plan.start)
    ]
    said = ", ".join(f"{number} {cord}" for cord, number in runs_cords)
    label = f"The starting board, strands from the left: {said}"
    inside = [shapes[0], *drawn(runs), *shapes[1:]]
    height = _END + 32 + _LINE
    return picture(inside, (0, 0, width, height), label, width=round(width), height=round(height))


def _x(place: int) -> float:
    return (place + 0.75) * PITCH


def _bar(plan: Plan, width: float) -> str:
    """Draw what they hang on: a bar, a ring's near side, or the edge of the board with pins."""
    on = plan.project.start.on
    if on == "board":
        return element("line", x1=4.0, y1=_BAR, x2=width - 4, y2=_BAR, class_="rail dashed")
    height = {"ring": 7.0, "cord": 5.0, "dowel": 12.0}.get(on, 8.0)
    return element(
        "rect", x=4.0, y=_BAR - height / 2, width=width - 8, height=height, rx=height / 2,
        class_="bar",
    )  # fmt: skip


def _hung(plan: Plan, looks: dict[str, Yarn]) -> list[Run]:
    """Return the strands; a piece's two strands meet in a fold at the bar, outer folds higher."""
    places: dict[tuple[str, int], list[int]] = {}
    for place, strand in enumerate(plan.start):
        named = plan.strands[strand]
        places.setdefault((named.cord, named.piece), []).append(place)
    runs = []
    for (cord, _), at in places.items():
        look = looks[cord]
        xs = [_x(place) for place in at]
        if len(at) == 1:
            runs.append(Run(look, ((xs[0], _BAR - 14), (xs[0], _END)), 2))
            continue
        if plan.project.start.layout == "hang":
            runs += _single_fold(plan, look, xs)
            continue
        rise = _BAR + 12 - 3.0 * min(at[1] - at[0], 10)
        runs.append(
            Run(look, ((xs[0], _END), (xs[0], rise + 26), (xs[0] + 6, rise + 4),
                       (xs[1] - 6, rise + 4), (xs[1], rise + 26), (xs[1], _END)),
                20 - min(at[1] - at[0], 18)),
        )  # fmt: skip
    return runs


def _single_fold(plan: Plan, look: Yarn, xs: list[float]) -> list[Run]:
    """Draw one folded piece: by a lark's head its loop lies over both strands, else it is a bow."""
    left, right = xs
    way = way_of_hanging(plan.project.start)
    if way not in (names.LARKS_HEAD, names.REVERSE_LARKS_HEAD):
        middle = (left + right) / 2
        return [Run(look, ((left, _END), (left, _BAR + 4), (middle, _BAR - 10),
                           (right, _BAR + 4), (right, _END)), 2)]  # fmt: skip
    over, under = (5, 1) if way == names.LARKS_HEAD else (1, 5)
    strands = [Run(look, ((x, _END), (x, _BAR - 10)), 3) for x in (left + 4, right - 4)]
    bow = (left - 2, _BAR + 12), (right + 2, _BAR + 12)
    sides = [Run(look, ((x, _BAR - 10), (x, _BAR + 12)), 3) for x in (left - 2, right + 2)]
    return [*strands, *sides, Run(look, bow, over if over > under else 2)]
