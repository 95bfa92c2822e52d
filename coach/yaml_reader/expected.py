"""Reports of something other than expected at a place in a file."""

from coach.yaml_reader.collector import ReadingProblems
from coach.yaml_reader.nodes import Mapping, Node, Scalar

Pairs = tuple[tuple[Scalar, Node], ...]


def report_other(
    node: Node, found: ReadingProblems, message: str, hint: str = "", code: str = "SHAPE"
) -> None:
    """Report a node of the wrong kind, unless it was reported as broken already.

    Args:
        node: What stands there.
        found: Collects problems.
        message: What is wrong.
        hint: What to write instead.
        code: The problem's code.
    """
    if not (isinstance(node, Scalar) and node.broken):
        found.error(code, node.span, message, hint)


def by_own_names(
    node: Node, found: ReadingProblems, other: tuple[str, str], most: int, too_many: tuple[str, str]
) -> Pairs | None:
    """Return the pairs of a mapping from the maker's own names; None if it is no mapping.

    Args:
        node: What stands there.
        found: Collects problems.
        other: Message and hint for something other than a mapping.
        most: The greatest number of entries; more are reported, and read all the same.
        too_many: Message and hint where there are more.
    """
    if not isinstance(node, Mapping):
        report_other(node, found, *other)
        return None
    if len(node.pairs) > most:
        found.error("TOO-LARGE", node.span, *too_many)
    return node.pairs
