"""YAML nodes of steps: reading them, and rewriting them as they were made."""

from collections.abc import Iterator

from yaml.nodes import MappingNode, Node, SequenceNode

from coach.plan.plan_model import PlannedStep
from coach.plan.steps import StepList
from coach.project import model
from coach.recording.project_text import OPEN
from coach.recording.yaml_nodes import (
    FINISH,
    CannotCut,
    flow_mapping,
    quoted_node,
    scalar_node,
    text_of,
    value_of,
)


def chosen_keys(step: model.Step) -> dict[str, str]:
    """Return the keys of a step that may be open, with the figures that were made."""
    match step:
        case model.AroundKnot():
            keys = {"times": str(step.times)} | ({"turns": str(step.turns)} if step.turns else {})
            if step.among is None or step.around is None:
                return keys
            around = ", ".join(map(str, step.around.items))
            return keys | {"knotter": str(step.knotter.items[0]), "around": f"[{around}]"}
        case model.GroupKnot() | model.OwnTied():
            return {"times": str(step.times)}
        case model.Gathering() | model.Braid() if step.length_mm:
            return {"length": f"{step.length_mm:g} mm"}
        case model.Space():
            return {"space": f"{step.length_mm:g} mm"}
        case model.Picot():
            return {"picot": f"{step.loop_mm:g} mm"}
        case model.FoldBack():
            return {"loop": f"{step.loop_mm:g} mm"}
        case _:
            return {}


def frames_of(step: PlannedStep) -> list[StepList]:
    """Return the lists of steps that contain a step, that of the work first."""
    frames: list[StepList] = []
    frame = step.frame
    while frame.outer is not None:
        frames.append(frame)
        frame = frame.outer
    return frames[::-1]


def open_end() -> Node:
    """Return the step that leaves the work open at its end."""
    key, _, said = OPEN.partition(": ")
    return flow_mapping({key: quoted_node(said.strip('"'))})


def each_groups(node: Node | None) -> Iterator[list[int]]:
    """Yield the groups of an `each`, as they are written."""
    if isinstance(node, SequenceNode):
        yield from (positions_in(one) for one in node.value)
        return
    run, _, by = text_of(node).partition(" by ")
    places, size = _run(run), int(by)
    for at in range(0, len(places), size):
        yield places[at : at + size]


def positions_in(node: Node) -> list[int]:
    """Return positions, from 1, as a list or a run such as `3-6` says them. Raises CannotCut."""
    if isinstance(node, SequenceNode):
        return [at for one in node.value for at in _run(text_of(one))]
    return _run(text_of(node))


def _run(text: str) -> list[int]:
    first, _, last = text.replace("\N{EN DASH}", "-").partition("-")
    try:
        a, b = int(first), int(last or first)
    except ValueError as error:
        raise CannotCut(FINISH) from error
    return list(range(a, b + 1)) if a <= b else list(range(a, b - 1, -1))


def each_knot(knots: SequenceNode) -> list[Node]:
    """Return a node for each knot of a row, `2 clove hitch` being two."""
    found: list[Node] = []
    for one in knots.value:
        many, _, name = text_of(one).strip().partition(" ")
        found += [scalar_node(name)] * int(many) if many.isdecimal() else [one]
    return found


def parts_called(node: Node | None) -> Iterator[str]:
    """Yield the parts that are called anywhere in some steps."""
    if isinstance(node, SequenceNode):
        for one in node.value:
            yield from parts_called(one)
    elif isinstance(node, MappingNode):
        for key, value in node.value:
            if text_of(key) == "use":
                yield text_of(value)
            yield from parts_called(value)


def part_of(node: Node) -> str:
    """Return the part that a measurement is of, "" for none."""
    return text_of(value_of(node, "part")) if isinstance(node, MappingNode) else ""
