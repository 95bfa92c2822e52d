"""What is expected at a place of a file, and the report where something else stands."""

from coach.yaml_reader.collector import ReadingProblems
from coach.yaml_reader.nodes import Mapping, Node, Scalar

Pairs = tuple[tuple[Scalar, Node], ...]


def report_other(
    node: Node, found: ReadingProblems, message: str, hint: str = "", code: str = "SHAPE"
) -> None:
    """Report what stands in the place of something else; what is broken was reported before.

    Args:
        node: What stands there.
        found: Where problems go.
        message: What is wrong.
        hint: What to write instead.
        code: The problem's code.
    """
    if not (isinstance(node, Scalar) and node.broken):
        found.error(code, node.span, message, hint)


def by_own_names(
    node: Node, found: ReadingProblems, other: tuple[str, str], most: int, too_many: tuple[str, str]
) -> Pairs | None:
    """Return what stands by names of the maker's own, in order; None for no such mapping.

    Args:
        node: What stands there.
        found: Where problems go.
        other: Message and hint where something else stands.
        most: How many there may be; more are reported and read all the same.
        too_many: Message and hint where there are more.
    """
    if not isinstance(node, Mapping):
        report_other(node, found, *other)
        return None
    if len(node.pairs) > most:
        found.error("TOO-LARGE", node.span, *too_many)
    return node.pairs
