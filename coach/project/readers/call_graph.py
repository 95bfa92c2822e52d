"""Checks of how parts call each other: no recursion, not too deep, no flip inside a group."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from coach.project.model import Each, EndForEnd, Flip, Step, Unreadable, Use
from coach.yaml_reader.collector import ReadingProblems, quoted
from coach.yaml_reader.diagnostics import Span

MOST_DEEP: Final = 16

Parts = Mapping[str, tuple[Step, ...]]


@dataclass(frozen=True, slots=True)
class _Call:
    """A `use` step, and whether it stands inside `each`."""

    use: Use
    in_each: bool


def all_steps(steps: Sequence[Step], *, in_each: bool = False) -> Iterator[tuple[Step, bool]]:
    """Yield every step as written, those of groups too, with whether it is inside a group."""
    for step in steps:
        yield step, in_each
        if isinstance(step, Each):
            yield from all_steps(step.steps, in_each=True)


def check_calls(
    parts: Parts, work: tuple[Step, ...], found: ReadingProblems
) -> tuple[Parts, tuple[Step, ...]]:
    """Report recursion, calls nested too deeply, and flips in groups.

    Args:
        parts: The steps of each part, by name.
        work: The steps of the work.
        found: Collects problems.

    Returns:
        Parts and work without the calls that were reported, so that both can be unfolded.
    """
    calls = {name: _calls(steps) for name, steps in parts.items()}
    order, refused = _walk(calls, found)
    flipping = _flipping(parts, calls, order, refused)
    for steps in (*parts.values(), work):
        refused |= _flips_in_groups(steps, flipping, found)
    cleared = {name: _without(steps, refused) for name, steps in parts.items()}
    return cleared, _without(work, refused)


def _calls(steps: Sequence[Step]) -> list[_Call]:
    return [_Call(step, inside) for step, inside in all_steps(steps) if isinstance(step, Use)]


def _walk(calls: Mapping[str, list[_Call]], found: ReadingProblems) -> tuple[list[str], set[Span]]:
    """Return the parts, called ones first, and the places of calls to refuse.

    Refused are calls that close a loop or go too deep. The walk is without recursion, so that no
    file can exhaust the stack.
    """
    order: list[str] = []
    deep: dict[str, int] = {}
    refused: set[Span] = set()
    for first in calls:
        path = [] if first in deep else [(first, iter(calls[first]))]
        on_path = {first}
        while path:
            name, rest = path[-1]
            call = next(rest, None)
            if call is None:
                path.pop()
                on_path.discard(name)
                deep[name] = _depth(calls[name], deep, refused, found)
                order.append(name)
            elif call.use.part in on_path:
                refused.add(call.use.about.span)
                _report_loop([part for part, _ in path], call.use, found)
            elif call.use.part not in deep:
                path.append((call.use.part, iter(calls[call.use.part])))
                on_path.add(call.use.part)
    return order, refused


def _depth(
    calls: list[_Call], deep: Mapping[str, int], refused: set[Span], found: ReadingProblems
) -> int:
    """Return how deeply parts are nested here, refusing calls that are one too many."""
    deepest = 0
    for call in calls:
        span = call.use.about.span
        if span in refused:
            continue
        if deep[call.use.part] >= MOST_DEEP:
            refused.add(span)
            message = f"More than {MOST_DEEP} parts lie within each other."
            found.error("NESTING", span, message, "Write some of them out.")
        else:
            deepest = max(deepest, deep[call.use.part])
    return deepest + 1


def _report_loop(path: list[str], use: Use, found: ReadingProblems) -> None:
    loop = [*path[path.index(use.part) :], use.part]
    if len(loop) == 2:  # noqa: PLR2004 - itself and itself again
        message = f"The part {quoted(use.part)} uses itself."
    else:
        shown = [*loop[:4], "…", loop[-1]] if len(loop) > 6 else loop  # noqa: PLR2004 - enough to see
        message = f"Parts use each other in a loop: {', '.join(quoted(name) for name in shown)}."
    found.error("PART", use.about.span, message, "For repeats, give ‘times’ where it is used.")


def _flipping(
    parts: Parts, calls: Mapping[str, list[_Call]], order: list[str], refused: set[Span]
) -> set[str]:
    """Return the parts that turn the work over, themselves or through a part they call."""
    flipping: set[str] = set()
    for name in order:
        called = {c.use.part for c in calls[name] if c.use.about.span not in refused}
        own = any(isinstance(step, (Flip, EndForEnd)) for step, _ in all_steps(parts[name]))
        if own or called & flipping:
            flipping.add(name)
    return flipping


def _flips_in_groups(
    steps: Sequence[Step], flipping: set[str], found: ReadingProblems
) -> set[Span]:
    refused: set[Span] = set()
    for call in _calls(steps):
        if call.in_each and call.use.part in flipping:
            message = f"The part {quoted(call.use.part)} turns the whole work over."
            hint = "Use it before or after ‘each’, not inside."
            found.error("FLIP", call.use.about.span, message, hint)
            refused.add(call.use.about.span)
    return refused


def _without(steps: tuple[Step, ...], refused: set[Span]) -> tuple[Step, ...]:
    """Return the steps with the calls at these places made Unreadable."""
    if not refused:
        return steps
    cleared: list[Step] = []
    for step in steps:
        if isinstance(step, Use) and step.about.span in refused:
            cleared.append(Unreadable(step.about, changes_count=True))
        elif isinstance(step, Each):
            cleared.append(replace(step, steps=_without(step.steps, refused)))
        else:
            cleared.append(step)
    return tuple(cleared)
