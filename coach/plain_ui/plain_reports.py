"""Plain lines about the strands, their cord, and how the current knot is tied."""

from coach.plan.wording.knot_how import how_at
from coach.plan.wording.strand_names import strand_words
from coach.session.controller import BenchController
from coach.session.time_format import length_span
from coach.session.view_model import outlook_words
from coach.text import capital


def standing_lines(work: BenchController) -> list[str]:
    """Return who hangs where, from the left."""
    order = work.order()
    return ["From the left:", *(strand_words(work.plan, strand, order) for strand in order)]


def tying_lines(work: BenchController) -> list[str]:
    """Return how the current knot is tied, one move a line."""
    done, counts = work.done, work.plan.counts
    knot = counts[done].knot if done < len(counts) else ""
    if not knot:
        return ["No knot is at hand."]
    told = how_at(work.plan, done)
    moves = [line for stage in told.stages for line in stage.words]
    return [f"{knot.capitalize()}. {told.roles}", *moves, *filter(None, [told.caution])]


def left_lines(work: BenchController) -> list[str]:
    """Return the cord left on every strand that hangs, now and at the end."""
    units = work.settings.units
    return [
        f"{capital(strand_words(work.plan, left.strand, work.order()))}: "
        f"{length_span(left.now_low_mm, left.now_high_mm, units)} now, "
        f"{length_span(left.end_low_mm, left.end_high_mm, units)} at the end, "
        f"{outlook_words(left, units)}{', too short' if left.short else ''}"
        for left in work.cords()
    ]
