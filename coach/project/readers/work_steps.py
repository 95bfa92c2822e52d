"""A list of steps: what kind each is, and those that hold or call other steps."""

import re
from collections.abc import Callable
from collections.abc import Mapping as Names
from typing import Final

from coach.project.model import About, Each, Mirror, Step, Unreadable, Use
from coach.project.readers import flow, knots_tied, rows, shapes
from coach.project.readers.positions import GROUPS, POSITION, POSITIONS
from coach.project.readers.references import Known
from coach.text import listed
from coach.yaml_reader.collector import Found, quoted
from coach.yaml_reader.mapping_reader import Fields, Value
from coach.yaml_reader.nodes import Mapping, Node, Scalar, Sequence
from coach.yaml_reader.scalars import LINES, TEXT, TIMES, choice, whole, word

Reader = Callable[[Fields, About, Known], Step]

MIRRORS: Final[tuple[Mirror, ...]] = ("none", "all", "every second")
_MIRROR: Final[Value[Mirror]] = choice(MIRRORS)
CHANGERS: Final = frozenset({"add", "lay aside", "take up", "each", "use"})
_COMMON: Final = frozenset(
    {
        "note", "name", "takes", "across", "holder", "knotter", "strands", "groups", "times",
        "around", "steps", "mirror", "length", "size", "of",
    }
)  # fmt: skip
_ANYWHERE: Final[Names[str, Value[object]]] = {
    "times": whole(), "across": POSITIONS, "holder": POSITION, "knotter": POSITION,
    "strands": POSITIONS, "groups": GROUPS,
}  # fmt: skip
_KNOTS_OF: Final = {"net": "of", "weave": "knots"}
_AFTER = re.compile(r"(?:after\s+)?([0-9]{1,12})", re.IGNORECASE)


def _each(fields: Fields, about: About, known: Known) -> Step:
    groups = fields.need("each", GROUPS)
    steps = fields.need("steps", step_list(known.inside_each()))
    return Each(about, groups, steps, fields.get("mirror", _MIRROR, "none"))


def _use(fields: Fields, about: About, known: Known) -> Step:
    return Use(
        about,
        fields.need("use", known.part),
        fields.get("times", whole(), 1),
        fields.get("mirror", _MIRROR, "none"),
        fields.get("returns", _RETURNS, None),
    )


def _after(node: Node, found: Found) -> int | None:
    scalar = word(node, found, "a number of repeats")
    match = scalar and _AFTER.fullmatch(scalar.text.strip())
    if scalar and (not match or int(match[1]) < 1):
        message = f"{quoted(scalar.text)} does not say after how many repeats."
        hint = "Write ‘after’ and a number; leave the key out, and the check tells which."
        found.error("NUMBER", scalar.span, message, hint)
        return None
    return int(match[1]) if match else None


_RETURNS: Final = Value(_after, 1)

READERS: Final[dict[str, Reader]] = {
    "row": rows.row, "weave": rows.weave, "knot": knots_tied.knot, "net": shapes.net,
    "braid": shapes.braid, "turn": shapes.turn, "cross": shapes.cross, "space": shapes.space,
    "picot": shapes.picot, "bead": shapes.bead, "add": flow.add,
    "lay aside": flow.lay_aside, "take up": flow.take_up, "flip": flow.flip,
    "seam": flow.seam, "each": _each, "use": _use, "do": flow.do,
    "measure": flow.measure, "wait": flow.wait, "trim": flow.trim,
}  # fmt: skip


def step_list(known: Known) -> Value[tuple[Step, ...]]:
    """Read a list of steps; one that cannot be read is Unreadable, so the list goes on."""

    def read(node: Node, found: Found) -> tuple[Step, ...] | None:
        if isinstance(node, Sequence) and node.items:
            return tuple(_step(item, found, known) for item in node.items)
        if not (isinstance(node, Scalar) and node.broken):
            hint = "Begin each step with a dash on its own line, as in ‘- row: clove hitch’."
            found.error("SHAPE", node.span, "A list of steps is needed here.", hint)
        return None

    return Value(read, ())


def _step(node: Node, found: Found, known: Known) -> Step:
    if not isinstance(node, Mapping) or not node.pairs:
        if not (isinstance(node, Scalar) and node.broken):
            text = f" {node.text}" if isinstance(node, Scalar) and len(node.text) < 60 else " …"  # noqa: PLR2004 - a short line
            message = "A step is described by its keys."
            found.error("KIND", node.span, message, f"For plain words, write ‘do:{text}’.")
        return Unreadable(About(node.span), changes_count=True)
    fields = Fields(node, found, "a step")
    kind = _kind(fields)
    if kind:
        fields.stand_at(kind)
    about = About(
        fields.span(kind),
        fields.aside("note", LINES, ""),
        fields.aside("name", TEXT, ""),
        fields.aside("takes", TIMES, None),
    )
    if not kind:
        for name, value in _ANYWHERE.items():  # so that one fault does not hide another
            fields.get(name, value, None)
        return Unreadable(about, changes_count=True)
    fields.what = f"{'an' if kind[0] in 'aeiou' else 'a'} {kind} step"
    step = READERS[kind](fields, about, known)
    fields.finish()
    return Unreadable(about, kind in CHANGERS) if fields.bad else step


def _kind(fields: Fields) -> str:
    """Return the one kind of a step; report when it has none or several."""
    here = [name for name in fields.names if name in READERS]
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
        near = fields.found.near(name, READERS) if name not in _COMMON else ""
        if near:
            message = f"Unknown kind of step {quoted(name)}."
            fields.fail("KIND", fields.span(name), message, f"Did you mean ‘{near}’?")
            return ""
    hint = f"Add one of {listed(tuple(READERS), 'or')}."
    fields.fail("KIND", fields.span(), "This step does not say what kind it is.", hint)
    return ""
