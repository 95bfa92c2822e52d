"""Cords as they are drawn, so that over and under are seen in grey as well.

Each has an outline and a mark of its own, and leaves a gap in what it passes over.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from coach.card.svg import Point, element, line
from coach.colour import ink_on
from coach.project.model import Project

WIDTH: Final = 5.2
OUTLINE: Final = 2.0
GAP: Final = 1.6  # on each side of a cord that lies over another
_MARKS: Final = (None, "7 5", "1.5 5", "9 3 1.5 3", "3 3")
"""Dashes along the middle of the second cord, the third and so on; the first has none."""


@dataclass(frozen=True, slots=True)
class Yarn:
    """How one cord looks: its colour, its mark along the middle, its width."""

    colour: str
    mark: str | None
    width: float = WIDTH


@dataclass(frozen=True, slots=True)
class Run:
    """A stretch of cord; one of a higher layer lies over those below. A `patch` is cut square."""

    yarn: Yarn
    points: tuple[Point, ...]
    layer: int = 2
    patch: bool = False


def yarns(project: Project) -> dict[str, Yarn]:
    """Return how each cord of a project looks; thicker ones are drawn thicker."""
    most = max(cord.diameter_mm for cord in project.cords.values())
    return {
        cord.id: Yarn(
            cord.colour,
            _MARKS[number % len(_MARKS)],
            WIDTH * (0.6 + 0.4 * cord.diameter_mm / most),
        )
        for number, cord in enumerate(project.cords.values())
    }


def drawn(runs: Iterable[Run], round_by: float = 6.0) -> list[str]:
    """Draw stretches of cord, the lowest layer first."""
    return [part for run in sorted(runs, key=lambda r: r.layer) for part in _run(run, round_by)]


def _run(run: Run, round_by: float) -> list[str]:
    path = line(run.points, round_by)
    width = run.yarn.width
    cap = "butt" if run.patch else "round"
    parts = [
        _stroke(path, "gap", width + OUTLINE + 2 * GAP, "butt"),
        _stroke(path, "edge", width + OUTLINE, "butt"),
        _stroke(path, None, width, cap, stroke=run.yarn.colour),
    ]
    if run.yarn.mark and not run.patch:
        ink = ink_on(run.yarn.colour)
        parts.append(
            _stroke(path, None, width * 0.26, "butt", stroke=ink, stroke_dasharray=run.yarn.mark)
        )
    return parts


def _stroke(path: str, class_: str | None, width: float, cap: str, **more: object) -> str:
    return element(
        "path", d=path, class_=class_, fill="none", stroke_width=width, stroke_linecap=cap,
        stroke_linejoin="round", **more,
    )  # fmt: skip


def swatch(yarn: Yarn) -> str:
    """Draw a short length of a cord, for a legend; its name stands beside it."""
    run = Run(yarn, ((4.0, 8.0), (44.0, 8.0)))
    body = "".join(drawn([run]))
    return element(
        "svg",
        body,
        viewBox="0 0 48 16",
        width="48",
        height="16",
        aria_hidden="true",
        class_="swatch",
    )


def bent(start: Point, end: Point) -> Sequence[Point]:
    """Return the way of a strand that hangs down and changes its place half way."""
    if start[0] == end[0]:
        return start, end
    middle = (start[1] + end[1]) / 2
    return start, (start[0], middle - 4), (end[0], middle + 4), end
