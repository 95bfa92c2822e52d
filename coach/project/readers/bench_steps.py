"""Readers of steps beyond netting: attaching, bringing down, folding back."""

import re
from typing import Final

from coach.project.bench_work import Attach, Attaching, BringDown, FoldBack, Layer, Make
from coach.project.open_figures import open_value
from coach.project.readers.common_keys import APART, CORD
from coach.project.readers.positions import POSITION, POSITIONS
from coach.project.readers.step_kinds import simple_kind
from coach.yaml_reader.collector import ReadingProblems, quoted
from coach.yaml_reader.declarations import Value, may, must
from coach.yaml_reader.nodes import Node, Scalar, Sequence
from coach.yaml_reader.scalars import THICKNESS, choice, word
from coach.yaml_reader.value_schemas import list_schema, pattern_schema

_WAYS: Final[tuple[Attaching, ...]] = ("sewn", "lark's head", "knotted", "looped")
_LAYERS: Final[tuple[Layer, ...]] = ("front", "behind")
_END = re.compile(r"([^.]{1,60})(?:\.([0-9]{1,9})[aA]?)?")

MAKE: Final = simple_kind(
    "make", Make, {"apart": must("make", APART, "A part made apart is made now, all of it.")}
)


def _length_only(node: Node, found: ReadingProblems) -> bool | None:
    return True if choice(("length",)).read(node, found) else None


_ADDS: Final[Value[bool]] = Value(
    _length_only,
    False,  # noqa: FBT003 - it is what stands in
    choice(("length",)).schema,
)
ATTACH: Final = simple_kind(
    "attach",
    Attach,
    {
        "apart": must("attach", APART, "One piece that was made apart is attached."),
        "at": must("at", POSITIONS, "The strands that it is attached at.", "[1, 4]"),
        "by": may("by", choice(_WAYS), "sewn, lark's head, knotted or looped."),
        "layer": may("layer", choice(_LAYERS), "front or behind: a layer of its own."),
        "adds_length": may("adds", _ADDS, "length: its own counts as well."),
    },
)  # fmt: skip


def _ends(node: Node, found: ReadingProblems) -> tuple[str, ...] | None:
    items = node.items if isinstance(node, Sequence) else (node,)
    read = [_end(item, found) for item in items]
    if not items:
        hint = f"Write ‘[{found.a_cord}.1]’."
        found.error("EMPTY", node.span, "No end is named here.", hint)
    return tuple(name for name in read if name) if items and all(read) else None


def _end(item: Node, found: ReadingProblems) -> str | None:
    """Read the end of one piece, `core.1`, or `core` where there is one."""
    scalar = word(item, found, "the name of an end")
    match = _END.fullmatch(scalar.text.strip()) if scalar else None
    if scalar and match is None:
        hint = f"Name cord and piece, as in ‘{found.a_cord}.1’."
        found.error("NAME", scalar.span, f"{quoted(scalar.text)} does not name an end.", hint)
    if scalar is None or match is None:
        return None
    name = CORD.read(Scalar(scalar.span, match[1]), found)
    return None if name is None else f"{name}.{int(match[2] or 1)}a"


BRING_DOWN: Final = simple_kind(
    "bring down",
    BringDown,
    {
        "ends": must(
            "bring down",
            Value(
                _ends, (), list_schema(pattern_schema(r"\s*[^.]{1,60}(?:\.[0-9]{1,9}[aA]?)?\s*"))
            ),
            "Free ends of the start that come down beside the work: [core.1, core.2].",
        ),
        "at": must("at", POSITION, "Where the first new strand stands.", "1"),
    },
)
FOLD_BACK: Final = simple_kind(
    "fold back",
    FoldBack,
    {
        "strands": must("fold back", POSITIONS, "Strands that are folded back along the work."),
        "loop_mm": must(
            "loop", open_value(THICKNESS), "How long a loop they leave below it.", "15 cm"
        ),
    },
)
