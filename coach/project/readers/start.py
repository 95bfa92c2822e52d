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
            hint = f"Write ‘start: {{nest: {found.pieces}}}’."
            found.error("SHAPE", node.span, "The start is described by its keys.", hint)
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
    doubtful = _disagreeing(layout, hung, known.cords, fields.found)
    if numbered:
        hung = tuple(replace(piece, number=piece.number or 1) for piece in hung)
    return Start(fields.span(layout), layout, hung, on, diameter_mm, by, closed, before, doubtful)


def _disagreeing(
    layout: Layout, hung: tuple[Hung, ...], cords: Names[str, Cord], found: Found
) -> frozenset[str]:
    """Hold what hangs against the cords, and return the cords of which anything was reported."""
    by_cord: dict[str, list[Hung]] = {}
    for piece in hung:
        by_cord.setdefault(piece.cord, []).append(piece)
    check = {"nest": _check_nested, "hang": _check_pieces, "strands": _check_strands}[layout]
    return frozenset(name for name, named in by_cord.items() if check(cords[name], named, found))


def _check_nested(cord: Cord, hung: list[Hung], found: Found) -> bool:
    """Report a cord that cannot be nested, or of which too many pieces are; tell whether."""
    if cord.fold != "none":
        return _check_pieces(cord, hung, found)
    message = f"{quoted(cord.id)} is not folded (‘fold: none’), so it cannot be nested."
    found.error("PIECES", hung[0].span, message, "Fold it, or use ‘hang’ or ‘strands’.")
    return True


def _check_pieces(cord: Cord, hung: list[Hung], found: Found) -> bool:
    """Report a cord of which more pieces hang than there are; tell whether."""
    if cord.pieces is None or len(hung) <= cord.pieces:
        return False
    total = len(hung)
    message = f"{total} pieces of {quoted(cord.id)} hang here, but ‘pieces’ says {cord.pieces}."
    hint = f"Write ‘pieces: {total}’ for {quoted(cord.id)}, or hang fewer."
    found.error("PIECES", hung[cord.pieces].span, message, hint)
    return True


def _check_strands(cord: Cord, hung: list[Hung], found: Found) -> bool:
    """Report strands of a cord that are not named as often as its fold gives them; tell whether."""
    several = (cord.pieces or 1) > 1 or any((piece.number or 1) > 1 for piece in hung)
    bare = next((piece for piece in hung if piece.number is None), None)
    if several and bare:
        message = f"This does not say which piece of {quoted(cord.id)} it is."
        found.error("PIECES", bare.span, message, f"Write ‘{cord.id}.1’.")
        return True
    counted = Counter(piece.number or 1 for piece in hung)
    most = cord.pieces or max(counted)
    beyond = next((p for p in hung if p.number is not None and not 1 <= p.number <= most), None)
    if beyond:
        message = f"There is no piece {beyond.number} of {quoted(cord.id)}."
        found.error("PIECES", beyond.span, message, f"It has {most}, counted from 1.")
        return True
    return _misnamed(cord, hung, counted, found)


def _misnamed(cord: Cord, hung: list[Hung], counted: Counter[int], found: Found) -> bool:
    """Report the first piece that is not named once for each of its strands; tell whether."""
    needed = 1 if cord.fold == "none" else 2
    # no piece hangs beyond len(hung) numbers without a gap, so a huge number costs nothing
    for number in range(1, min(max(counted), len(hung)) + 1):
        if counted[number] != needed:
            named = [piece.span for piece in hung if (piece.number or 1) == number]
            message = (
                f"{quoted(f'{cord.id}.{number}')} has {needed} strand{'s' * (needed > 1)} "
                f"but is named {_times(counted[number])}."
            )
            hint = "Name each piece once for each of its strands, counting from 1."
            found.error("PIECES", named[-1] if named else hung[-1].span, message, hint)
            return True
    return False


def _times(number: int) -> str:
    return {0: "nowhere", 1: "once", 2: "twice"}.get(number, f"{number} times")
