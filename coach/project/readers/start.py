"""How the cords hang before the first knot."""

from collections import Counter
from collections.abc import Mapping as Names
from dataclasses import replace
from typing import Final

from coach.project.model import Cord, Hung, Layout, Start
from coach.project.readers.piece_lists import WAYS, pieces, way_of_hanging
from coach.project.readers.references import Known
from coach.project.readers.work_steps import step_list
from coach.yaml_reader.collector import Found, quoted
from coach.yaml_reader.mapping_reader import Fields, Value
from coach.yaml_reader.nodes import Mapping, Node, Scalar
from coach.yaml_reader.scalars import BOOLEAN, THICKNESS, choice

PLACES: Final = ("board", "ring", "dowel", "buckle", "hook", "cord")
LAYOUTS: Final[tuple[Layout, ...]] = ("nest", "hang", "strands")


def start(known: Known) -> Value[Start | None]:
    """Read `start:`; what hangs there must be readable, the rest has something to stand in."""

    def read(node: Node, found: Found) -> Start | None:
        if isinstance(node, Mapping):
            return _start(Fields(node, found, "the start"), known)
        if not (isinstance(node, Scalar) and node.broken):
            hint = "Write `start: {nest: [reed, 2 clay]}`."
            found.error("SHAPE", node.span, "The start is told by its keys.", hint)
        return None

    return Value(read, None)


def _start(fields: Fields, known: Known) -> Start | None:
    here = fields.one_of(*LAYOUTS)
    layout = next((name for name in LAYOUTS if name == here), None)
    numbered = layout == "strands"
    hung = fields.need(layout, pieces(known, numbered=numbered)) if layout else ()
    bad = fields.bad
    on = fields.get("on", choice(PLACES), "board")
    diameter_mm = fields.get("diameter", THICKNESS, None)
    by = fields.get("by", way_of_hanging(WAYS), "")
    closed = fields.get("round", BOOLEAN, False)
    before = fields.get("before fold", step_list(known), ())
    fields.finish()
    if bad or layout is None:
        return None
    agreed = _agreed(layout, hung, known.cords, fields.found)
    return Start(fields.span(layout), layout, agreed, on, diameter_mm, by, closed, before)


def _agreed(
    layout: Layout, hung: tuple[Hung, ...], cords: Names[str, Cord], found: Found
) -> tuple[Hung, ...]:
    """Hold what hangs against the cords; give it with every number that goes without saying."""
    if layout != "strands":
        _check_pieces(layout, hung, cords, found)
        return hung
    by_cord: dict[str, list[Hung]] = {}
    for piece in hung:
        by_cord.setdefault(piece.cord, []).append(piece)
    for name, named in by_cord.items():
        _check_strands(cords[name], named, found)
    return tuple(replace(piece, number=piece.number or 1) for piece in hung)


def _check_pieces(
    layout: Layout, hung: tuple[Hung, ...], cords: Names[str, Cord], found: Found
) -> None:
    counted: Counter[str] = Counter()
    for piece in hung:
        cord = cords[piece.cord]
        counted[cord.id] += 1
        if cord.pieces is not None and counted[cord.id] == cord.pieces + 1:
            total = sum(other.cord == cord.id for other in hung)
            message = f"{total} pieces of {cord.id} hang here, but it has {cord.pieces}."
            hint = f"Set `pieces: {total}` for {cord.id}, or hang fewer."
            found.error("PIECES", piece.span, message, hint)
        if layout == "nest" and cord.fold == "none":
            message = f"{cord.id} is not folded (`fold: none`), so it cannot be nested."
            found.error("PIECES", piece.span, message, "Fold it, or use `hang:` or `strands:`.")


def _check_strands(cord: Cord, hung: list[Hung], found: Found) -> None:
    """Check that each strand of each piece of one cord is named as often as its fold gives it."""
    last = hung[-1].span
    several = (cord.pieces or 1) > 1 or any((piece.number or 1) > 1 for piece in hung)
    bare = next((piece for piece in hung if piece.number is None), None)
    if several and bare:
        message = f"It is not said which piece of {cord.id} this is."
        found.error("PIECES", bare.span, message, f"Write `{cord.id}.1`.")
        return
    counted = Counter(1 if piece.number is None else piece.number for piece in hung)
    most = cord.pieces or max(counted)
    beyond = next((p for p in hung if p.number is not None and not 1 <= p.number <= most), None)
    if beyond:
        message = f"There is no piece {beyond.number} of {cord.id}."
        found.error("PIECES", beyond.span, message, f"It has {most}, counted from 1.")
        return
    needed = 1 if cord.fold == "none" else 2
    # no piece hangs beyond len(hung) numbers without a gap, so a huge number costs nothing
    for number in range(1, min(max(counted), len(hung)) + 1):
        if counted[number] != needed:
            message = (
                f"{quoted(f'{cord.id}.{number}')} gives {needed} "
                f"strand{'s' * (needed > 1)} but is named {counted[number]} times."
            )
            named = [p.span for p in hung if (p.number or 1) == number]
            hint = "Name each piece once for each of its strands, counting from 1."
            found.error("PIECES", named[-1] if named else last, message, hint)
            return
