"""Helpers to take YAML nodes of a project file apart and put them together."""

from collections.abc import Sequence
from typing import Final

from yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

MAP, SEQ, STR = "tag:yaml.org,2002:map", "tag:yaml.org,2002:seq", "tag:yaml.org,2002:str"
FINISH: Final = "Finish this step, or take it back to its start; then the pattern can be left."


class CannotCut(ValueError):
    """A count at which the pattern cannot be left; the text says where it can."""


def separate(node: Node) -> Node:
    """Return a copy without shared nodes, so that none is written as an anchor."""
    if isinstance(node, MappingNode):
        pairs = [(separate(key), separate(value)) for key, value in node.value]
        return MappingNode(node.tag, pairs, flow_style=node.flow_style)
    if isinstance(node, SequenceNode):
        return SequenceNode(node.tag, list(map(separate, node.value)), flow_style=node.flow_style)
    style = node.style if isinstance(node, ScalarNode) else None
    return ScalarNode(node.tag, node.value, style=style)


def mapping_of(node: Node | None) -> MappingNode:
    """Return a node that must be a mapping. Raises CannotCut."""
    if not isinstance(node, MappingNode):
        raise CannotCut(FINISH)
    return node


def value_of(node: MappingNode, key: str) -> Node | None:
    """Return the value of a key, None where there is none."""
    wanted = key.casefold()
    return next((value for name, value in node.value if text_of(name).casefold() == wanted), None)


def text_of(node: Node | None) -> str:
    """Return the text of a scalar, "" of any other node."""
    return str(node.value) if isinstance(node, ScalarNode) else ""


def scalar_node(text: str) -> Node:
    """Return a plain scalar."""
    return ScalarNode(STR, text, style=None)


def figure_node(text: str) -> Node:
    """Return a scalar, or the positions of a list in brackets."""
    if not text.startswith("["):
        return scalar_node(text)
    items = [scalar_node(item.strip()) for item in text.strip("[]").split(",")]
    return SequenceNode(SEQ, items, flow_style=True)


def quoted_node(text: str) -> Node:
    """Return a scalar in double quotes."""
    return ScalarNode(STR, text, style='"')


def flow_mapping(keys: dict[str, Node]) -> MappingNode:
    """Return a mapping on one line."""
    return MappingNode(
        MAP, [(scalar_node(key), value) for key, value in keys.items()], flow_style=True
    )


def listed_steps(items: Sequence[Node]) -> SequenceNode:
    """Return steps as a list, a line each."""
    return SequenceNode(SEQ, list(items), flow_style=False)


def position_lists(groups: Sequence[Sequence[int]]) -> SequenceNode:
    """Return groups of positions as a list of lists."""
    return SequenceNode(
        SEQ,
        [
            SequenceNode(SEQ, [scalar_node(str(at)) for at in group], flow_style=True)
            for group in groups
        ],
        flow_style=True,
    )


def set_value(node: MappingNode, key: str, value: Node) -> None:
    """Replace the value of a key; a mapping without the key stays as it is.

    Args:
        node: The mapping, which is changed.
        key: The key.
        value: The new value.
    """
    node.value = [(k, value if text_of(k) == key else v) for k, v in node.value]


def delete_key(node: MappingNode, key: str) -> None:
    """Remove a key from a mapping, in place."""
    node.value = [(k, v) for k, v in node.value if text_of(k) != key]


def without_key(node: MappingNode, key: str) -> MappingNode:
    """Return a copy of a mapping without a key."""
    kept = [(k, v) for k, v in node.value if text_of(k) != key]
    return MappingNode(MAP, kept, flow_style=node.flow_style)


def with_values(node: MappingNode, more: dict[str, Node]) -> MappingNode:
    """Return a copy of a step with other values for some of its keys."""
    kept = [(k, v) for k, v in node.value if text_of(k) not in more]
    at = next((i for i, (k, _) in enumerate(node.value) if text_of(k) in more), len(kept))
    added = [(scalar_node(key), value) for key, value in more.items()]
    return MappingNode(MAP, [*kept[:at], *added, *kept[at:]], flow_style=node.flow_style)
