"""The reader of lists of steps: finds each step's kind; steps that hold or call others."""

import re
from dataclasses import replace
from typing import Final

from coach.project.model import About, Each, Step, Unreadable, Use
from coach.project.open_figures import is_open_figure, left_open
from coach.project.readers import bench_steps, flow, knots_tied, rows, shapes
from coach.project.readers.common_keys import (
    ABOUT,
    ACROSS,
    HOLDER,
    IN_GROUPS,
    KNOTTER,
    MIRRORED,
    PART,
    STRANDS,
    TIMES_MADE,
)
from coach.project.readers.positions import A_PLACE, GROUPS
from coach.project.readers.step_kinds import Kind, simple_kind
from coach.text import join_words
from coach.yaml_reader import value_schemas as schemas
from coach.yaml_reader.collector import ReadingProblems, quoted
from coach.yaml_reader.declarations import Value, may, must
from coach.yaml_reader.expected import report_other
from coach.yaml_reader.mapping_reader import Fields
from coach.yaml_reader.nodes import Mapping, Node, Scalar, Sequence
from coach.yaml_reader.scalars import MOST, choice, word
from coach.yaml_reader.value_schemas import in_any_case, pattern_schema

CHANGERS: Final = frozenset({"add", "lay aside", "take up", "each", "use", "bring down"})
_COMMON: Final = frozenset(
    {
        "note", "name", "takes", "across", "holder", "knotter", "strands", "groups", "times",
        "around", "steps", "mirror", "length", "size", "of",
    }
)  # fmt: skip
_ANYWHERE: Final = (TIMES_MADE, ACROSS, HOLDER, KNOTTER, STRANDS, IN_GROUPS)
_KNOTS_OF: Final = {"net": "of", "weave": "knots"}
_AFTER = re.compile(r"(?:after\s+)?([0-9]{1,12})", re.IGNORECASE)


def _steps(node: Node, found: ReadingProblems) -> tuple[Step, ...] | None:
    """Read a list of steps; one that cannot be read becomes Unreadable."""
    if isinstance(node, Sequence) and node.items:
        return tuple(_step(item, found) for item in node.items)
    hint = "Begin each step with a dash on its own line, as in ‘- row: clove hitch’."
    report_other(node, found, "A list of steps is needed here.", hint)
    return None


def _steps_of_group(node: Node, found: ReadingProblems) -> tuple[Step, ...] | None:
    around, found.in_group = found.in_group, True
    steps = _steps(node, found)
    found.in_group = around
    return steps


STEPS: Final[Value[tuple[Step, ...]]] = Value(_steps, (), {"$ref": "#/$defs/steps"})
AN_EXAMPLE: Final = "[{knot: square knot, strands: 1-4}]"


def _any_order(node: Node, found: ReadingProblems) -> bool | None:
    return None if choice(("any",)).read(node, found) is None else True


_EACH: Final = simple_kind(
    "each",
    Each,
    {
        "groups": must("each", GROUPS, "Groups that the steps are worked on in turn."),
        "steps": must(
            "steps",
            Value(_steps_of_group, (), STEPS.schema),
            "The steps for each group.",
            AN_EXAMPLE,
        ),
        "mirror": MIRRORED,
        "any_order": may(
            "order",
            Value(_any_order, blank=True, schema=schemas.words_schema(("any",))),
            "any: the groups do not depend on each other; you pick the next one as you work.",
        ),
    },
)


def _after(node: Node, found: ReadingProblems) -> int | None:
    scalar = word(node, found, "a number of repeats")
    match = scalar and _AFTER.fullmatch(scalar.text.strip())
    if scalar and (not match or int(match[1]) < 1):
        message = f"{quoted(scalar.text)} does not say after how many repeats."
        hint = "Write ‘after’ and a number; leave the key out, and the check tells which."
        found.error("NUMBER", scalar.span, message, hint)
        return None
    return int(match[1]) if match else None


def _repeats(node: Node, found: ReadingProblems) -> int | None:
    """Read how often a part is used, which the + and - keys may change anyway."""
    if isinstance(node, Scalar) and is_open_figure(node.text):
        message = "Repeats of a part always stand open, so a bare number is enough."
        hint = "Write the number alone; on the bench + and - make more or fewer."
        found.error("NUMBER", node.span, message, hint)
        return None
    return TIMES_MADE.value.read(node, found)


_AFTER_HOW_MANY: Final = {
    "anyOf": [
        {**A_PLACE, "maximum": MOST - 1},
        pattern_schema(rf"\s*(?:{in_any_case('after')}\s+)?0*[1-9][0-9]{{0,11}}\s*"),
    ]
}
_USE: Final = simple_kind(
    "use",
    Use,
    {
        "part": must("use", PART, "A part, by its name."),
        "times": replace(TIMES_MADE, value=replace(TIMES_MADE.value, read=_repeats)),
        "mirror": MIRRORED,
        "returns_after": may(
            "returns",
            Value(_after, 1, _AFTER_HOW_MANY),
            "after 4: the colours come back after so many repeats.",
        ),
    },
)

STEP_KINDS: Final[dict[str, Kind]] = {
    "row": rows.ROW, "weave": rows.WEAVE, "knot": knots_tied.KNOT, "net": shapes.NET,
    "braid": shapes.BRAID, "turn": shapes.TURN, "cross": shapes.CROSS, "space": shapes.SPACE,
    "picot": shapes.PICOT, "bead": shapes.BEAD, "add": flow.ADD,
    "lay aside": flow.LAY_ASIDE, "take up": flow.TAKE_UP, "flip": flow.FLIP,
    "seam": flow.SEAM, "each": _EACH, "use": _USE, "do": flow.DO,
    "measure": flow.MEASURE, "wait": flow.WAIT, "trim": flow.TRIM,
    "make": bench_steps.MAKE, "attach": bench_steps.ATTACH,
    "bring down": bench_steps.BRING_DOWN, "fold back": bench_steps.FOLD_BACK,
}  # fmt: skip
"""Every kind of step by the key that tells it."""


def _step(node: Node, found: ReadingProblems) -> Step:
    if not isinstance(node, Mapping) or not node.pairs:
        text = f" {node.text}" if isinstance(node, Scalar) and len(node.text) < 60 else " …"  # noqa: PLR2004 - a short line
        message = "A step is described by its keys."
        report_other(node, found, message, f"For plain words, write ‘do:{text}’.", "KIND")
        return Unreadable(About(node.span), changes_count=True)
    fields = Fields(node, found, "a step")
    kind = _kind(fields)
    if kind:
        fields.stand_at(kind)
    about = About(fields.span(kind), **fields.given(ABOUT), open_to=left_open(fields))
    fields.bad = False  # what a step says of itself matters too little
    if not kind:
        for key in _ANYWHERE:  # so that one fault does not hide another
            fields.take(key, None)
        return Unreadable(about, changes_count=True)
    fields.what = f"{'an' if kind[0] in 'aeiou' else 'a'} {kind} step"
    step = STEP_KINDS[kind].read(fields, about)
    fields.finish()
    return Unreadable(about, kind in CHANGERS) if fields.bad else step


def _kind(fields: Fields) -> str:
    """Return the kind of a step; report when it has none or several."""
    here = [name for name in fields.names if name in STEP_KINDS]
    if len(here) == 1:
        return here[0]
    of = next((kind for kind in _KNOTS_OF if set(here) == {kind, "knot"}), "")
    if of:
        written = quoted(f"{_KNOTS_OF[of]}: {fields.written('knot') or 'square knot'}")
        message = f"A {of} names its knot as ‘{_KNOTS_OF[of]}’."
        fields.fail("KIND", fields.span("knot"), message, f"Write {written} instead.")
        return ""
    if here:
        message = f"A step is of one kind, but this one says ‘{here[0]}’ and ‘{here[1]}’."
        fields.fail("KIND", fields.span(here[1]), message, "Make two steps of it.")
        return ""
    for name in fields.names:
        near = fields.found.near(name, STEP_KINDS) if name not in _COMMON else ""
        if near:
            message = f"Unknown kind of step {quoted(name)}."
            fields.fail("KIND", fields.span(name), message, f"Did you mean ‘{near}’?")
            return ""
    hint = f"Add one of {join_words(tuple(STEP_KINDS), 'or')}."
    fields.fail("KIND", fields.span(), "This step does not say what kind it is.", hint)
    return ""
