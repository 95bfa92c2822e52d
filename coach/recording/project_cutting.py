"""Cutting a project file off at a count, so that work can go on without the pattern.

Whole steps stay as written. A repeat that is begun becomes a part of its own, and of
a step that is begun as much stays as is tied.
"""

from collections.abc import Callable, Iterator, Sequence
from typing import Final

import yaml
from yaml.nodes import MappingNode, Node, SequenceNode

from coach.plan.board_at_count import order_at
from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan, PlannedStep
from coach.plan.steps import StepList
from coach.recording.project_joining import CannotJoin, open_ended
from coach.recording.step_nodes import (
    chosen_keys,
    each_groups,
    each_knot,
    frames_of,
    open_end,
    part_of,
    parts_called,
    positions_in,
)
from coach.recording.yaml_nodes import (
    FINISH,
    SEQ,
    CannotCut,
    delete_key,
    figure_node,
    flow_mapping,
    listed_steps,
    mapping_of,
    position_lists,
    quoted_node,
    scalar_node,
    separate,
    set_value,
    text_of,
    value_of,
    with_values,
    without_key,
)

_WHOLE: Final = ("size", "takes")  # what is said of the whole pattern


def cut_off(text: str, plan: Plan, done: int) -> str:
    """Return an open project file of the work made so far.

    Args:
        text: The project file that the piece was begun from.
        plan: The plan that it follows.
        done: How many counts are made.

    Raises:
        CannotCut: The work so far cannot be written as a file of its own.
    """
    step = plan.step_at(done)
    begun = [one for one in plan.steps if one.first < done and one.asked]
    try:
        if step is None and not begun:
            base = open_ended(text)
        else:
            base = _Cut(text, step or plan.steps[-1], done, begun).text()
    except CannotJoin as error:
        raise CannotCut(str(error)) from error
    reading = read_plan(base)
    if reading.plan is None:
        problem = next(p for p in reading.problems if p.severity == "error")
        raise CannotCut(f"{problem.message} {FINISH}")
    if not _same_so_far(plan, reading.plan, done):
        raise CannotCut(FINISH)
    return base


def _same_so_far(plan: Plan, cut: Plan, done: int) -> bool:
    """Return whether a plan that was cut off ties and hangs as the original so far."""

    def told(one: Plan) -> list[object]:
        ids = [strand.id for strand in one.strands]
        return [
            (c.knot, [ids[s] for s in c.knotters], [ids[s] for s in c.fillers])
            for c in one.counts[:done]
        ] + [ids[s] for s in order_at(one, done)]

    return cut.total == done + 1 and told(cut) == told(plan)


class _Cut:
    """Cuts a project file off in a step of which some counts are made."""

    def __init__(
        self, text: str, step: PlannedStep, done: int, chosen: Sequence[PlannedStep]
    ) -> None:  # fmt: skip
        """Set up with the file, the current step, the counts made, and open steps chosen."""
        root = yaml.compose(text, Loader=yaml.SafeLoader)
        self._root = mapping_of(root)
        self._step = step
        self._made = done - step.first
        self._settle(chosen)
        self._frames = frames_of(step)
        if step.unfolded:
            raise CannotCut("Finish what comes before the fold; then the pattern can be left.")
        if step.section or self._frames[0].name:
            raise CannotCut("Finish what is made by itself first; then the pattern can be left.")

    def text(self) -> str:
        """Return the file up to the count, open at its end."""
        work = self._list(value_of(self._root, "work"), 0)
        set_value(self._root, "work", listed_steps([*work, open_end()]))
        for key in _WHOLE:
            delete_key(self._root, key)
        self._drop_unused()
        return str(yaml.serialize(separate(self._root), allow_unicode=True, width=10_000))

    def _settle(self, chosen: Sequence[PlannedStep]) -> None:
        """Write the maker's choices, and which strand was the longest, into their steps."""
        settled: dict[int, dict[str, str]] = {}
        for step in chosen:
            node, keys = self._node_of(step), chosen_keys(step.source)
            if settled.setdefault(id(node), keys) != keys:
                raise CannotCut(
                    "Repeats of one part were made differently here, so they are not one pattern; "
                    "go on by it."
                )
            done = with_values(node, {key: figure_node(said) for key, said in keys.items()})
            node.value = (without_key(done, "strands") if "knotter" in keys else done).value

    def _node_of(self, step: PlannedStep) -> MappingNode:
        """Return where a step is written."""
        frames, steps = frames_of(step), value_of(self._root, "work")
        for inside in (*frames[1:], None):
            items = steps.value if isinstance(steps, SequenceNode) else []
            number = inside.number if inside else step.number
            entry = mapping_of(items[number - 1] if number <= len(items) else None)
            if inside is None:
                return entry
            part = text_of(value_of(entry, "use"))
            parts = value_of(self._root, "parts")
            steps = value_of(mapping_of(parts), part) if part else value_of(entry, "steps")
        raise CannotCut(FINISH)

    def _list(self, steps: Node | None, level: int) -> list[Node]:
        """Return the part of a list of steps that is worked."""
        items = list(steps.value) if isinstance(steps, SequenceNode) else []
        inside = self._frames[level + 1] if level + 1 < len(self._frames) else None
        number = inside.number if inside else self._step.number
        entry = mapping_of(items[number - 1]) if number <= len(items) else None
        if entry is None:
            raise CannotCut(FINISH)
        kept = items[: number - 1]
        if inside is None:
            return [*kept, *self._begun(entry)]
        return [*kept, *self._repeated(entry, inside, level + 1)]

    def _repeated(self, entry: MappingNode, frame: StepList, level: int) -> Iterator[Node]:
        """Yield the repeats or groups that are made, and the one that is begun."""
        mirror = text_of(value_of(entry, "mirror"))
        mirrored = mirror == "all" or (mirror == "every second" and frame.turn % 2 == 0)
        also = {"mirror": scalar_node("all")} if mirrored else {}
        if value_of(entry, "use") is not None:
            if frame.turn > 1:
                yield with_values(entry, {"times": scalar_node(str(frame.turn - 1))})
            part = text_of(value_of(entry, "use"))
            begun = self._list(value_of(mapping_of(value_of(self._root, "parts")), part), level)
            if begun:
                yield flow_mapping({"use": quoted_node(self._named(part, begun)), **also})
            return
        groups = list(each_groups(value_of(entry, "each")))
        if frame.turn > 1:
            yield with_values(entry, {"each": position_lists(groups[: frame.turn - 1])})
        begun = self._list(value_of(entry, "steps"), level)
        if begun:
            here = position_lists(groups[frame.turn - 1 : frame.turn])
            yield flow_mapping({"each": here, "steps": listed_steps(begun), **also})

    def _named(self, part: str, steps: Sequence[Node]) -> str:
        """Add a part beside the others, and return its name."""
        name = f"{part} as far as it went"
        parts = mapping_of(value_of(self._root, "parts"))
        parts.value.append((quoted_node(name), listed_steps(steps)))
        return name

    def _begun(self, entry: MappingNode) -> Iterator[Node]:
        """Yield as much of the current step as is made."""
        step, made = self._step, self._made
        if made == step.counts:
            yield entry
            return
        if step.net_row > 1:
            yield with_values(entry, {"rows": scalar_node(str(step.net_row - 1))})
        if not made:
            return
        if step.net_row:
            of = value_of(entry, "of") or scalar_node("square knot")
            yield flow_mapping(
                {"knot": of, "groups": position_lists([self._at(g) for g in step.groups[:made]])}
            )
            return
        cut = next((cut for key, cut in _CUTS.items() if value_of(entry, key) is not None), None)
        if cut is None:
            raise CannotCut(FINISH)
        yield from cut(self, entry)

    def row(self, entry: MappingNode) -> Iterator[Node]:
        """Yield a row, or a weave, over the strands that it has crossed."""
        times = int(text_of(value_of(entry, "times")) or "1")
        crossed, rest = divmod(self._made, times)
        if rest:
            raise CannotCut(FINISH)
        group, across = self._step.groups[0], value_of(entry, "across")
        if across is None or text_of(across).casefold() == "all":
            places = self._at(group[1:] if self._step.mover is not None else group)
        else:  # in the round they may go over the seam
            places = positions_in(across)
        more: dict[str, Node] = {"across": position_lists([places[:crossed]]).value[0]}
        knots = value_of(entry, "knots")
        if isinstance(knots, SequenceNode):
            more["knots"] = SequenceNode(SEQ, each_knot(knots)[:crossed], flow_style=True)
        yield with_values(entry, more)

    def knot(self, entry: MappingNode) -> Iterator[Node]:
        """Yield a knot as often as it is tied, in the groups that have it."""
        step, groups = self._step, self._step.groups
        if value_of(entry, "knotter") is not None:
            yield with_values(entry, {"times": scalar_node(str(self._made))})
            return
        times = step.counts // len(groups)
        whole, rest = divmod(self._made, times)
        entry = without_key(entry, "strands")
        for some, often in ((groups[:whole], times), (groups[whole : whole + bool(rest)], rest)):
            if some:
                here = position_lists([self._at(group) for group in some])
                yield with_values(entry, {"groups": here, "times": scalar_node(str(often))})

    def braid(self, entry: MappingNode) -> Iterator[Node]:
        """Yield a plait of as many crossings as it has."""
        yield with_values(entry, {"crossings": scalar_node(str(self._made))})

    def _at(self, strands: Sequence[int]) -> list[int]:
        """Return the positions of strands as the list of steps counts them."""
        order = self._step.window or self._step.before
        places = [order.index(strand) + 1 for strand in strands]
        knots = self._step.role in ("knot", "net")
        return places[::-1] if self._step.mirrored and knots else places

    def _drop_unused(self) -> None:
        """Leave out parts that nothing calls any more, and what was measured of them."""
        parts = value_of(self._root, "parts")
        if not isinstance(parts, MappingNode):
            return
        called = set(parts_called(value_of(self._root, "work")))
        while True:
            inner = {
                name
                for key, value in parts.value
                if text_of(key) in called
                for name in parts_called(value)
            }
            if inner <= called:
                break
            called |= inner
        parts.value = [(key, value) for key, value in parts.value if text_of(key) in called]
        if not parts.value:
            delete_key(self._root, "parts")
        measured = value_of(self._root, "measured")
        if isinstance(measured, SequenceNode):
            measured.value = [m for m in measured.value if part_of(m) in (*called, "")]
            if not measured.value:
                delete_key(self._root, "measured")


_CUTS: Final[dict[str, Callable[[_Cut, MappingNode], Iterator[Node]]]] = {
    "row": _Cut.row,
    "weave": _Cut.row,
    "knot": _Cut.knot,
    "braid": _Cut.braid,
}
