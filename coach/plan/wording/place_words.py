"""The place in the work, and every step in one short line."""

from collections.abc import Sequence

from coach.plan.compile.walker import GROUP
from coach.plan.group_order import arms_at
from coach.plan.plan_model import Plan, PlannedStep
from coach.plan.wording.step_phrases import bundle_words, bundles_of, plain_sentence
from coach.plan.wording.strand_names import (
    positions_of,
    span_words,
    strand_words,
    strands_at,
    strands_met,
)
from coach.project import model
from coach.quantities.formatting import centimetres
from coach.text import an, join_words, plural, times_over


def step_line(plan: Plan, index: int) -> str:
    """Return a step in one short line, for looking ahead and back.

    Args:
        plan: The plan.
        index: Which of its steps, from 0.
    """
    step = plan.steps[index]
    count = plan.counts[step.first]
    if step.role in ("row", "weave"):
        mover, *crossed = step.groups[0]
        over = strands_met(plan, step, crossed)
        what = "weave" if step.role == "weave" else plural(count.knot, len(crossed))
        moving = strand_words(plan, mover, step.before)
        return f"{what}, {moving} to the {step.direction} over {over}"
    if step.role in ("plain", "braid"):
        if step.counts > 1:
            return f"plait {bundle_words(bundles_of(step))}, {step.counts} crossings"
        return plain_sentence(plan, step, step.first).rstrip(".")
    groups = [positions_of(step, group) for group in step.groups]
    on = strands_at(groups[0]) if len(groups) == 1 else groups_words(groups[:4])
    more = " and so on" if len(step.groups) > 4 else ""  # noqa: PLR2004 - four fit in a line
    each = step.counts // max(1, len(step.groups))
    times = f", {times_over(each)}" if each > 1 else ""
    gap = gap_words(plan, step)
    after = f"after {an(gap)}, " if gap else ""
    return f"{after}{count.knot} on {on}{more}{times}"


def groups_words(groups: Sequence[Sequence[int]]) -> str:
    """Return groups of strands: `strands 1 to 4 and 5 to 8`, `each pair: 1 and 2, 3 and 4`."""
    spans = [span_words(group) for group in groups]
    if any(" and " in span for span in spans):  # a second ‘and’ would not say what belongs together
        between = "; " if any(", " in span for span in spans) else ", "
        return f"{each_group(groups)}: {between.join(spans)}"
    return f"strands {join_words(spans)}"


def each_group(groups: Sequence[Sequence[int]]) -> str:
    """Return what each of some groups is called: pair, group of four and so on."""
    return "each pair" if all(len(group) == 2 for group in groups) else "each group"  # noqa: PLR2004


def gap_words(plan: Plan, step: PlannedStep) -> str:
    """Return the gap left above a row of a net, `2 cm gap below the row above`; "" for none."""
    source = step.source
    if not isinstance(source, model.Net) or step.net_row == 1 or not source.gap_mm:
        return ""
    row = "round" if goes_round(plan, step) else "row"
    return f"{centimetres(source.gap_mm)} gap below the {row} above"


def goes_round(plan: Plan, step: PlannedStep) -> bool:
    """Return whether a net closes over the seam, so that every row takes every strand.

    Elsewhere an even net has a group less in each second row, and strands wait at its sides.
    """
    source = step.source
    if not isinstance(source, model.Net) or source.sides != "even" or source.rows == 1:
        return False
    first = step.index - step.net_row + 1
    rows = plan.steps[first : first + 2]
    return len({len(row.groups) for row in rows}) == 1 and len(rows) == 2  # noqa: PLR2004 - a row and one that is set off


def place_in_piece(plan: Plan, done: int) -> tuple[str, ...]:
    """Return the place in the piece, from the outermost part to the step within the innermost.

    Args:
        plan: The plan.
        done: How many counts are made.

    Returns:
        Words for each level: `wave, repeat 2 of 6, mirrored`, `step 3 of 4`.
    """
    step = plan.step_at(min(done, plan.total - 1))
    if step is None:
        return ()
    places = []
    for visit in step.trail:
        mirrored = ", mirrored" if visit.mirrored else ""
        if visit.name == GROUP:
            made = _made_of_group(plan, done) if visit.free else ""
            places.append(f"group {visit.turn} of {visit.turns}{mirrored}{made}")
        elif visit.name:
            turn = f", repeat {visit.turn} of {visit.turns}" if visit.turns > 1 else ""
            places.append(f"{visit.name}{turn}{mirrored}")
    last = step.trail[-1]
    places.append(f"step {last.step} of {last.steps}")
    if step.net_row:
        places.append(f"net {'round' if goes_round(plan, step) else 'row'} {step.net_row}")
    return tuple(places)


def _made_of_group(plan: Plan, done: int) -> str:
    """Return how much is made of a group that may be left for another: `, 3 of 14 made`."""
    step = plan.step_at(done)
    arm = step.arm if step else None
    own = next((one for one in arms_at(plan, done) if one.arm == arm), None)
    return f", {own.made} of {own.of} made" if own else ""
