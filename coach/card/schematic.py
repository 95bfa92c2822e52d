"""The finished piece at scale, with a ruler beside it."""

from collections.abc import Iterator
from typing import Final

from coach.card.courses import Stretch, courses, last_trim_mm
from coach.card.style import ALONE
from coach.card.svg import element, number, picture, text
from coach.plan.plan_model import Plan

_PAPER_MM: Final = (165.0, 200.0)  # what fits both A4 and Letter, margins and caption left out
_SCALES: Final = (1.0, 2.0, 2.5, 4.0, 5.0, 10.0, 20.0, 50.0)
_RULER_MM: Final = 16.0
_CM: Final = 10.0
_OUTLINE: Final = 0.35


def scale_of(plan: Plan) -> float:
    """Return by how much the drawing is smaller than the work, so that it fits on one page."""
    wide, high = plan.width_mm + 2 * _RULER_MM, _height_mm(plan) + _CM
    return next(
        (s for s in _SCALES if wide / s <= _PAPER_MM[0] and high / s <= _PAPER_MM[1]), 100.0
    )


def _height_mm(plan: Plan) -> float:
    return plan.length_mm + max(last_trim_mm(plan).values(), default=0.0)


def schematic(plan: Plan, *, alone: bool = False) -> str:
    """Draw the work in mm; `alone` for a file of its own, with what it needs to be seen."""
    scale = scale_of(plan)
    stretches = list(courses(plan))
    half = max([plan.width_mm / 2, *(abs(s.end[0]) + s.wide_mm / 2 for s in stretches)])
    # Signs keep their printed size whatever the scale.
    ruler, high = _RULER_MM * scale, _height_mm(plan) + 6 * scale
    box = (-half - ruler, -4 * scale, 2 * half + ruler + 3 * scale, high + 4 * scale)
    inside = [
        *_ruler(-half - 4 * scale, _height_mm(plan), scale),
        *_loop(plan, stretches),
        *(part for stretch in stretches for part in _stretch(plan, stretch)),
        *_knots(plan, stretches),
        *_ends(plan, stretches),
    ]
    label = (
        f"{plan.project.title}, the finished work at a scale of 1 : {number(scale)}: about "
        f"{plan.length_mm / 10:.0f} cm long and {plan.width_mm / 10:.1f} cm wide"
    )
    size = {"width": f"{number(box[2] / scale)}mm", "height": f"{number(box[3] / scale)}mm"}
    if alone:
        size["xmlns"] = "http://www.w3.org/2000/svg"
        inside = [element("style", ALONE), paper(box), *inside]
    return picture(inside, box, label, class_="schematic", **size)


def paper(box: tuple[float, float, float, float]) -> str:
    """Draw white paper under a drawing that stands alone; `box` is left, top, width and height."""
    return element("rect", x=box[0], y=box[1], width=box[2], height=box[3], fill="#ffffff")


def _loop(plan: Plan, stretches: list[Stretch]) -> Iterator[str]:
    """Draw the loop that was worked before the fold, if there is one."""
    top = min((stretch.start[1] for stretch in stretches), default=0.0)
    if top <= 0 or not any(step.unfolded for step in plan.steps):
        return
    cords = [plan.project.cords[plan.strands[strand].cord] for strand in plan.start]
    wide = sum(cord.diameter_mm for cord in cords) / len(cords) * 2
    side = max(wide, top / 3)
    path = (
        f"M{number(-wide / 2)} {number(top)}C{number(-side)} {number(-top / 3)} {number(side)} "
        f"{number(-top / 3)} {number(wide / 2)} {number(top)}"
    )
    yield from _line(path, cords[len(cords) // 4].colour, wide)


def _stretch(plan: Plan, stretch: Stretch) -> Iterator[str]:
    cord = plan.project.cords[plan.strands[stretch.strand].cord]
    pitch = plan.width_mm / len(plan.start)
    wide = (
        max(min(stretch.wide_mm, pitch) * 0.92, cord.diameter_mm)
        if stretch.knotted
        else cord.diameter_mm
    )
    (x0, y0), (x1, y1) = stretch.start, stretch.end
    path = f"M{number(x0)} {number(y0)}L{number(x1)} {number(y1)}"
    yield from _line(path, cord.colour, wide)


def _knots(plan: Plan, stretches: list[Stretch]) -> Iterator[str]:
    """Draw each group's run of knots as a band across it, in the colour of who knots."""
    found = {(stretch.step, stretch.strand): stretch for stretch in stretches}
    for step in plan.steps:
        if step.unfolded or step.role not in ("knot", "net", "gathering"):
            continue
        knotters = {s: c for c in plan.counts[step.first : step.end] for s in c.knotters}
        for group in step.groups:
            own = [found[step.index, s] for s in group if (step.index, s) in found]
            who = next((s for s in (*group, *step.new_strands) if s in knotters), None)
            if len(own) > 1 and who is not None:
                yield _band(own, plan.project.cords[plan.strands[who].cord].colour)


def _band(own: list[Stretch], colour: str) -> str:
    high = min(stretch.end[1] - stretch.start[1] for stretch in own)
    xs = [stretch.end[0] for stretch in own]
    wide = own[0].wide_mm
    return element(
        "rect", x=min(xs) - wide / 2, y=own[0].end[1] - high, width=max(xs) - min(xs) + wide,
        height=high, rx=min(high, wide) / 3, fill=colour, class_="edge", stroke_width=_OUTLINE * 2,
    )  # fmt: skip


def _line(path: str, colour: str, wide: float) -> Iterator[str]:
    shape = {"d": path, "fill": "none", "stroke_linecap": "round"}
    yield element("path", **shape, class_="edge", stroke_width=wide + _OUTLINE)
    yield element("path", **shape, stroke=colour, stroke_width=wide - _OUTLINE)


def _ends(plan: Plan, stretches: list[Stretch]) -> Iterator[str]:
    """Draw what the last cut leaves of each strand."""
    lowest = {stretch.strand: stretch.end for stretch in stretches}
    for strand, left in last_trim_mm(plan).items():
        if strand in lowest:
            x, y = lowest[strand]
            cord = plan.project.cords[plan.strands[strand].cord]
            path = f"M{number(x)} {number(y)}V{number(y + left)}"
            yield from _line(path, cord.colour, cord.diameter_mm)


def _ruler(x: float, high_mm: float, scale: float) -> Iterator[str]:
    """Draw a rule in centimetres; ticks that would run together are left out."""
    every = 1 if scale <= 2.5 else (5 if scale <= 10 else 10)  # noqa: PLR2004 - ticks 4 mm apart at least
    figures = every * (5 if every == 1 else 2)
    rule = {"class_": "rule", "stroke_width": 0.25 * scale}
    whole = int(high_mm / _CM) + 1
    yield element("line", x1=x, y1=0.0, x2=x, y2=whole * _CM, **rule)
    for mark in range(0, whole + 1, every):
        long = (3.0 if mark % figures == 0 else 1.6) * scale
        y = mark * _CM
        yield element("line", x1=x - long, y1=y, x2=x, y2=y, **rule)
        if mark % figures == 0:
            yield text(
                f"{mark} cm" if mark == 0 else str(mark), x - 4 * scale, y + 1.1 * scale,
                class_="ruled", font_size=3.2 * scale, text_anchor="end",
            )  # fmt: skip
