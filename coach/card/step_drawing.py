"""One step of the work as a picture: the strands as they come, the tie, the strands as they go."""

from typing import Final

from coach.card.cord_paths import Run, Yarn, bent, drawn
from coach.card.draw_knots import draw_knots
from coach.card.draw_moves import PLAIN, draw_braid
from coach.card.draw_row import draw_row
from coach.card.frame import HEAD, Frame
from coach.card.sketch import Draw, Sketch
from coach.card.svg import picture
from coach.plan.plan_model import Plan, PlannedStep

SHOWN: Final = 0.8
"""How large a drawing stands on the page, of the size that it is drawn in."""


def step_picture(
    plan: Plan, step: PlannedStep, frame: Frame, yarns: dict[str, Yarn], label: str
) -> str | None:
    """Draw a step, or give None for one in which no cord is worked."""
    sketch = sketch_of(plan, step, frame, yarns)
    if sketch is None:
        return None
    height = sketch.bottom + HEAD
    inside = [
        *drawn(sketch.runs),
        *sketch.shapes,
        *frame.numbers(HEAD - 3, [sketch.place(s, step.before) for s in step.before]),
        *_numbers_below(sketch, height),
    ]
    return picture(
        inside,
        (0, 0, frame.width, height),
        label,
        width=round(frame.width * SHOWN),
        height=round(height * SHOWN),
    )


def sketch_of(plan: Plan, step: PlannedStep, frame: Frame, yarns: dict[str, Yarn]) -> Sketch | None:
    """Return the stretches of cord that a drawing of a step is made of; None if there are none."""
    draw = _drawer(step)
    if draw is None:
        return None
    sketch = Sketch(plan, step, frame, yarns)
    busy = draw(sketch, plan.counts[step.first : step.end])
    _pass_by(sketch, busy)
    return sketch


def _numbers_below(sketch: Sketch, height: float) -> list[str]:
    """Write the numbers that the strands have afterwards; counted anew if some came or went."""
    step, frame = sketch.step, sketch.frame
    if len(step.after) != len(step.before):
        frame = Frame(frame.first, frame.last, 1, mirrored=False)
    return frame.numbers(height - 3, [sketch.place(s, step.after) for s in step.after])


def _drawer(step: PlannedStep) -> Draw | None:
    if step.role in ("row", "weave"):
        return draw_row
    if step.role == "braid":
        return draw_braid
    if step.role == "plain":
        return PLAIN.get(type(step.source))
    return draw_knots


def _pass_by(sketch: Sketch, busy: set[int]) -> None:
    """Let the strands that are not at hand hang down."""
    for place, strand in enumerate(sketch.step.before):
        shown = sketch.frame.has(place) and strand in sketch.step.after
        if shown and strand not in busy:
            way = bent(sketch.enters(strand), sketch.leaves(strand))
            sketch.runs.append(Run(sketch.yarn(strand), tuple(way), 2))
