"""Bounds on the size of a project, estimated before any of it is compiled."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from coach.project.model import (
    Add,
    AroundKnot,
    Braid,
    BringDown,
    Do,
    Each,
    Gathering,
    GroupKnot,
    Groups,
    Measure,
    Net,
    OwnTied,
    Positions,
    Project,
    RigidRow,
    Row,
    Step,
    Unreadable,
    Use,
    Wait,
)
from coach.yaml_reader.diagnostics import Problem, Span

MOST_COUNTS = 250_000  # a wall hanging of a year's evenings has fewer
MOST_HELD = 2_500_000  # strands in ties, over all counts: each is measured every time
MOST_TOUCHES = 12_000_000  # the same with all that hang, over all steps: bounds time and memory
MOST_STEPS = 200_000  # lines of work, each with more to remember than a tie
MOST_STRANDS = 2_000


@dataclass(frozen=True, slots=True)
class Load:
    """The size of a list of steps: counts, strands touched by them, steps and new strands."""

    counts: int = 0
    touches: int = 0
    steps: int = 0
    strands: int = 0

    def plus(self, other: "Load") -> "Load":
        """Return the sum of both."""
        return Load(
            self.counts + other.counts,
            self.touches + other.touches,
            self.steps + other.steps,
            self.strands + other.strands,
        )

    def times(self, number: int) -> "Load":
        """Return this load multiplied by a number."""
        return Load(
            self.counts * number,
            self.touches * number,
            self.steps * number,
            self.strands * number,
        )


def too_much(project: Project, strands: int) -> Problem | None:
    """Return the problem of a project that would compile to more than the limits, or None.

    Args:
        project: The project.
        strands: How many strands it has at its start.
    """
    steps = _all_steps(project)
    strands += _sum(steps, project.parts, {}, strands).strands
    if strands > MOST_STRANDS:
        message = f"{strands:,} strands would hang; at most {MOST_STRANDS:,} can be followed."
        return Problem("TOO-MUCH", project.start.span, message, "Hang fewer pieces.")
    parts: dict[str, Load] = {}
    load = _sum(steps, project.parts, parts, strands).plus(_chosen(project))
    if load.counts > MOST_COUNTS:
        message = f"The work comes to {load.counts:,} counts; at most {MOST_COUNTS:,} can be kept."
        return Problem(
            "TOO-MUCH", _heaviest(project, parts, strands), message, "Use fewer repeats."
        )
    if load.steps > MOST_STEPS:
        message = f"The work comes to {load.steps:,} steps; at most {MOST_STEPS:,} can be kept."
        return Problem(
            "TOO-MUCH", _heaviest(project, parts, strands), message, "Use fewer repeats."
        )
    if load.touches > MOST_HELD:
        message = f"The counts hold {load.touches:,} strands in all; at most {MOST_HELD:,} fit."
        return Problem(
            "TOO-MUCH", _heaviest(project, parts, strands), message, "Use fewer repeats."
        )
    touched = load.touches + load.steps * strands
    if touched > MOST_TOUCHES:
        message = f"The work handles strands {touched:,} times; at most {MOST_TOUCHES:,} fit."
        return Problem(
            "TOO-MUCH", _heaviest(project, parts, strands), message, "Use fewer repeats."
        )
    return None


def _chosen(project: Project) -> Load:
    """Return the load of the maker's choices, as if all of it came on top."""
    times = sum(int(one.value) for one in project.chosen.values() if one.what == "times")
    return Load(times, times)


def _all_steps(project: Project) -> tuple[Step, ...]:
    """Return all steps of the work, those of a part made apart once for each copy."""
    starts = (project.start.before_fold, project.work)
    apart = tuple((*a.start.before_fold, *a.work) * a.make for a in project.apart.values())
    return tuple(step for steps in (*starts, *apart) for step in steps)


def _heaviest(project: Project, parts: dict[str, Load], strands: int) -> Span:
    """Return the span of the top-level step with the greatest load."""
    steps = _all_steps(project)
    loads = [(_load(s, project.parts, parts, strands).counts, s.about.span) for s in steps]
    return max(loads, key=lambda pair: pair[0])[1]


def _sum(
    steps: Sequence[Step], named: Mapping[str, tuple[Step, ...]], parts: dict[str, Load], n: int
) -> Load:
    total = Load()
    for step in steps:
        total = total.plus(_load(step, named, parts, n))
    return total


def _load(
    step: Step, named: Mapping[str, tuple[Step, ...]], parts: dict[str, Load], n: int
) -> Load:
    """Return the load of one step; each part is worked out once."""
    match step:
        case Use():
            if step.part not in parts:
                parts[step.part] = Load()  # a part that calls itself was refused while reading
                parts[step.part] = _sum(named.get(step.part, ()), named, parts, n)
            return parts[step.part].times(step.times)
        case Each():
            return _sum(step.steps, named, parts, n).times(len(step.groups.members))
        case Unreadable():
            return Load(1)  # so that a part of such steps cannot be walked without end
        case _:
            counts, touched = _own(step, n)
            rows = step.rows if isinstance(step, Net) else 1
            return Load(counts, counts * touched, rows, _new_strands(step))


def _new_strands(step: Step) -> int:
    """Return how many strands a single step brings with it."""
    match step:
        case Add():
            return 2 * len(step.pieces)
        case Gathering():
            return 1
        case BringDown():
            return len(step.ends)
        case GroupKnot():
            return 2 * len(step.groups.members) if step.clasp else 0
        case _:
            return 0


def _own(step: Step, n: int) -> tuple[int, int]:  # noqa: PLR0911 - one short case for each kind
    """Return the counts of a single step and how many strands each may touch."""
    match step:
        case Row():
            crossed = n if step.across.everything else len(step.across.items)
            return crossed * step.times, 2
        case GroupKnot():
            return len(step.groups.members) * step.times, _largest(step.groups, n)
        case Net():
            # A widening net may have more groups in its last row than in its first.
            groups = len(step.groups.members) + (step.rows if step.sides == "widen" else 0)
            return min(groups, n) * step.rows, _largest(step.groups, n)
        case OwnTied():
            return len(step.groups.members) * step.times, _largest(step.groups, n)
        case RigidRow():
            return _length(step.across, n) * step.times, 1
        case AroundKnot():
            return step.times, 1 + (_length(step.around, n) if step.around else 0)
        case Braid():
            return step.crossings or 1, 3 * _largest(step.bundles, n)
        case Do() | Measure() | Wait():
            return 1, 0
        case _:
            return 1, n


def _length(positions: Positions, n: int) -> int:
    return n if positions.everything else len(positions.items)


def _largest(groups: Groups, n: int) -> int:
    return max((_length(member, n) for member in groups.members), default=0)
