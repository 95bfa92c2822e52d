"""The reader of the start: how the cords hang before the first knot."""

from collections import Counter
from collections.abc import Callable
from collections.abc import Mapping as Names
from dataclasses import replace
from functools import partial
from typing import Final, cast

from coach.project.model import Cord, Layout, ListedPiece, Start
from coach.project.readers.piece_lists import (
    HUNG_BY,
    NUMBERED_PIECES,
    PIECES,
    read_hanging_method,
)
from coach.project.readers.work_steps import STEPS
from coach.text import normalized_name, plural
from coach.yaml_reader.collector import ReadingProblems, quoted
from coach.yaml_reader.declarations import Key, Keys, OneOf, Value, may, must
from coach.yaml_reader.expected import report_other
from coach.yaml_reader.mapping_reader import Fields
from coach.yaml_reader.mapping_schema import mapping
from coach.yaml_reader.nodes import Mapping, Node, Scalar
from coach.yaml_reader.scalars import BOOLEAN, THICKNESS, choice
from coach.yaml_reader.value_schemas import words_schema

_Check = Callable[[Cord, list[ListedPiece], ReadingProblems], bool]
PLACES: Final = ("board", "ring", "dowel", "buckle", "hook", "cord")


def _some_pieces(found: ReadingProblems) -> str:
    return found.some_pieces


def _round(node: Node, found: ReadingProblems) -> str | None:
    """Read `flat`, or whether the work is closed in the round."""
    if isinstance(node, Scalar) and normalized_name(node.text) == FLAT:
        return FLAT
    closed = BOOLEAN.read(node, found)
    return None if closed is None else "yes" if closed else ""


FLAT: Final = "flat"
_ROUND: Final = Value(_round, "", {"anyOf": [BOOLEAN.schema, words_schema((FLAT,))]})
_LAYOUT: Final = OneOf(
    (
        may(
            "nest",
            PIECES,
            "Pieces folded together, the first on the outside: [reed, 2 clay].",
            _some_pieces,
        ),
        may("hang", PIECES, "Pieces hung each on its own, from the left.", _some_pieces),
        may(
            "strands",
            NUMBERED_PIECES,
            "Every strand by its piece, from the left: [reed.1, clay.1, clay.1, reed.1].",
            _some_pieces,
        ),
    )
)
_HANGING: Final[Keys] = {
    "on": may("on", choice(PLACES), "What the work hangs on."),
    "diameter_mm": may("diameter", THICKNESS, "How thick it is."),
    "by": may("by", read_hanging_method(), HUNG_BY),
    "closed": may("round", _ROUND, "yes: closed in the round; flat: outward from the middle."),
    "from_middle": may(
        "from", choice(("middle",)), "middle: begun there; the other ends wait above."
    ),
    "before_fold": may(
        "before fold", STEPS, "Steps worked before the pieces are folded; positions count pieces."
    ),
}
KEYS: Final = (_LAYOUT, *_HANGING.values())


def _start(node: Node, found: ReadingProblems) -> Start | None:
    """Read the start; pieces must be readable, the rest has defaults to go on with."""
    if isinstance(node, Mapping):
        return _hung(Fields(node, found, "the start"))
    hint = f"Write ‘start: {{nest: {found.some_pieces}}}’."
    report_other(node, found, "The start is described by its keys.", hint)
    return None


def _hung(fields: Fields) -> Start | None:
    layout = fields.one_of(_LAYOUT)
    hung: tuple[ListedPiece, ...] = fields.need(layout) if layout else ()
    bad = fields.bad
    given = fields.given(_HANGING)
    around, middle = given.pop("closed", ""), bool(given.pop("from_middle", ""))
    if layout and middle:
        bad = bad or not _begun_in_middle(fields, layout.name)
    fields.finish()
    if bad or layout is None:
        return None
    return Start(
        fields.span(layout.name), cast(Layout, layout.name), hung, closed=bool(around),
        flat=around == FLAT, from_middle=middle, **given,
    )  # fmt: skip


def _begun_in_middle(fields: Fields, layout: str) -> bool:
    """Report what cannot go with pieces pinned at their middles; return whether nothing does."""
    message, hint = "", ""
    if layout == "nest":
        message = "Nested pieces are folded, so their middles are at the top already."
        hint = "Write ‘hang’ for pieces that lie side by side."
    elif "before fold" in fields.names:
        message = "Work begun in the middle is not folded, so nothing comes before a fold."
        hint = "Put these steps under ‘work’."
    if message:
        fields.fail("EXCLUSIVE", fields.span("from"), message, hint)
    return not message


START: Final[Key[Start | None]] = must(
    "start",
    Value(_start, None, mapping(KEYS)),
    "How the cords hang before the first knot: one of nest, hang or strands.",
    lambda found: f"{{nest: {found.some_pieces}}}",
)


def check_start(cords: Names[str, Cord], start: Start, found: ReadingProblems) -> Start:
    """Check the pieces of a start against the cords and report what disagrees.

    Args:
        cords: The cords, by name.
        start: How the pieces hang.
        found: Collects problems.

    Returns:
        The start with each piece numbered, and cords about which something was reported marked as
        doubtful.
    """
    doubtful = _disagreeing(start, cords, found)
    hung = start.pieces
    if start.layout == "strands":
        hung = tuple(replace(piece, number=piece.number or 1) for piece in hung)
    return replace(start, pieces=hung, doubtful=doubtful)


def _disagreeing(start: Start, cords: Names[str, Cord], found: ReadingProblems) -> frozenset[str]:
    """Check what hangs against the cords, and return the cords that were reported."""
    by_cord: dict[str, list[ListedPiece]] = {}
    for piece in start.pieces:
        by_cord.setdefault(piece.cord, []).append(piece)
    strands: _Check = partial(_check_strands, middle=start.from_middle)
    checks: dict[Layout, _Check] = {
        "nest": _check_nested,
        "hang": _check_pieces,
        "strands": strands,
    }
    check = checks[start.layout]
    return frozenset(name for name, named in by_cord.items() if check(cords[name], named, found))


def _check_nested(cord: Cord, hung: list[ListedPiece], found: ReadingProblems) -> bool:
    """Report a cord that cannot be nested or has too many pieces; return whether it was."""
    if cord.fold != "none":
        return _check_pieces(cord, hung, found)
    message = f"{quoted(cord.id)} is not folded (‘fold: none’), so it cannot be nested."
    found.error("PIECES", hung[0].span, message, "Fold it, or use ‘hang’ or ‘strands’.")
    return True


def _check_pieces(cord: Cord, hung: list[ListedPiece], found: ReadingProblems) -> bool:
    """Report a cord of which more pieces hang than it has; return whether it was."""
    if cord.pieces is None or len(hung) <= cord.pieces:
        return False
    total = len(hung)
    message = f"{total} pieces of {quoted(cord.id)} hang here, but ‘pieces’ says {cord.pieces}."
    hint = f"Write ‘pieces: {total}’ for {quoted(cord.id)}, or hang fewer."
    found.error("PIECES", hung[cord.pieces].span, message, hint)
    return True


def _check_strands(
    cord: Cord, hung: list[ListedPiece], found: ReadingProblems, *, middle: bool = False
) -> bool:
    """Report a cord whose strands are not named as often as its fold gives; return whether."""
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
    return _misnamed(cord, hung, counted, found, middle=middle)


def _misnamed(
    cord: Cord,
    hung: list[ListedPiece],
    counted: Counter[int],
    found: ReadingProblems,
    *,
    middle: bool,
) -> bool:
    """Report the first piece not named once for each of its strands; return whether one was."""
    needed = 1 if cord.fold == "none" or middle else 2
    # no piece hangs beyond len(hung) numbers without a gap, so a huge number costs nothing
    for number in range(1, min(max(counted), len(hung)) + 1):
        if counted[number] != needed:
            named = [piece.span for piece in hung if (piece.number or 1) == number]
            message = (
                f"{quoted(f'{cord.id}.{number}')} has {needed} {plural('strand', needed)} "
                f"but is named {_times(counted[number])}."
            )
            hint = "Name each piece once for each of its strands, counting from 1."
            found.error("PIECES", named[-1] if named else hung[-1].span, message, hint)
            return True
    return False


def _times(number: int) -> str:
    return {0: "nowhere", 1: "once", 2: "twice"}.get(number, f"{number} times")
