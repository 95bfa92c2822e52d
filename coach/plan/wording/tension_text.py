"""The measured compression and slack of a maker's cords and knots, in words."""

from coach.pace.cord_learning import Figure
from coach.pace.gaussian import Belief
from coach.plan.doubt.joint_ranges import Z80
from coach.plan.plan_model import Plan
from coach.plan.tension import usual_hands

_MOVED = 0.005  # less than that is nothing to tell


def known_lines(plan: Plan) -> list[str]:
    """Return a line for each cord and knot whose figure in a plan is not the usual one."""
    lines, usual = [], usual_hands(plan.project)
    for cord, value in plan.hands.compression.items():
        if cord in plan.project.cords and abs(value - usual.compression_of(cord)) > _MOVED:
            lines.append(
                f"Your {cord} cord works up like {100 * value:.0f} % of its stated thickness; "
                f"{100 * usual.compression_of(cord):.0f} % "
                "is usual."
            )
    for (cord, knot), value in plan.hands.slack.items():
        if cord in plan.project.cords and abs(value) > _MOVED:
            more = "more" if value > 0 else "less"
            lines.append(f"A {knot} in {cord} takes {abs(value):.0%} {more} cord than usual.")
    return lines


def figure_line(figure: Figure, belief: Belief) -> str:
    """Return one figure in words with its range, four times in five."""
    cord, knot = figure
    low, high = belief.mean - Z80 * belief.sd, belief.mean + Z80 * belief.sd
    if knot:
        return f"{cord}, {knot}: {belief.mean:+.0%} cord ({low:+.0%} to {high:+.0%})"
    return (
        f"{cord}: works up like {belief.mean:.0%} of its stated thickness ({low:.0%} to {high:.0%})"
    )
