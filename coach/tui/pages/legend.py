"""The legend of the board's drawing: each sign explained beside a sample."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import chain
from typing import Final

from rich.text import Text

from coach.knots import names
from coach.plan.plan_model import Count, Plan
from coach.project import model
from coach.tui.drawing.board_frame import ColumnGrid
from coach.tui.drawing.cells import BLANK, Cell, Glyphs, Line, board_glyphs
from coach.tui.drawing.plain_step_patches import draw_bead, draw_picot, draw_pin, draw_turn
from coach.tui.drawing.solid.solid_cords import holding_cord, knotting_cord
from coach.tui.drawing.step_patches import draw_crossing
from coach.tui.drawing.tie_glyphs import (
    draw_across,
    draw_on_row,
    draw_pending,
    draw_tie,
)
from coach.tui.layout.painted_cells import painted
from coach.tui.layout.styled_text import Inks, in_columns, paragraph

_AT: Final = {0: 1, 1: 5, 2: 9, 3: 13}  # the column of each strand of a sample
_OFF_BOARD: Final = 4
_WIDTH: Final = 17
_MANY: Final = 12  # lines of a text
_RUN: Final = 4
_PAIR: Final = 2
_PERIOD: Final = 6
_PHRASES: Final = {
    names.CLOVE: "two turns in one direction",
    names.REVERSE_CLOVE: "two turns in one direction",
    names.HALF_HITCH: "one turn",
    names.LARKS_HEAD: "two turns that face each other, a bar across both",
    names.REVERSE_LARKS_HEAD: "two turns that face each other, the bar behind",
    names.SQUARE: "two bars over the fillers, the loop of the other strand on the left",
    names.REVERSE_SQUARE: "two bars over the fillers, the loop of the other strand on the right",
    names.HALF_KNOT: "one bar, down to the right; in a run the bars wind round",
    names.REVERSE_HALF_KNOT: "one bar, down to the left; in a run the bars wind round",
    names.CHAIN: "turns from either side",
    names.JOSEPHINE: "woven over and under",
    names.OVERHAND: "the bundle comes together, one turn, and spreads again",
    names.DOUBLE_OVERHAND: "the same with two turns",
    names.BARREL: "turns of the knotter round the bundle",
    names.GATHERING: "the wrap, level turns round the bundle",
    names.BERRY: "a ball",
}


@dataclass(frozen=True, slots=True)
class LegendEntry:
    """One sample and its explanation."""

    lines: tuple[Line, ...]
    words: str


def legend_lines(plan: Plan, inks: Inks, glyphs: Glyphs, width: int) -> list[Text]:
    """Return the page: the signs of every drawing, then the knots of this piece."""
    colours = [inks.strands[strand] for strand in plan.start] or list(inks.strands)
    many = colours * (_OFF_BOARD + 1)
    pens = replace(inks, strands=(many[0], many[len(colours) // 2], many[len(colours) // 2],
                                  many[len(colours) - 1], many[1]))  # fmt: skip
    lines = [Text("How to read the drawing", inks.style("text", bold=True))]
    drawn = board_glyphs(glyphs, shaded=inks.shaded)
    for entry in chain(signs(drawn), knots_of(plan, drawn)):
        lines += [Text(), *_shown(entry, pens, width)]
    told = (
        "Numbers count the strands from the left; the letters below are the first ones of the "
        "cords' names, an exclamation mark a strand that will not reach. Older work is paler. A "
        "slanting row drops a line with each tie where there is room, and is drawn level where "
        "there is not. Where a run is longer than the picture, it says how many more ties are "
        "above."
    )
    return [*lines, Text(), *paragraph(told, width, _MANY, inks.style("quiet"))]


def _shown(entry: LegendEntry, inks: Inks, width: int) -> list[Text]:
    rows = [tuple(line.get(x, BLANK) for x in range(_WIDTH)) for line in entry.lines]
    words = paragraph(entry.words, width - _WIDTH - 1, _MANY, inks.style("text"))
    return in_columns(painted(rows, inks), words, _WIDTH + 1)


def signs(glyphs: Glyphs) -> Iterator[LegendEntry]:
    """Yield the signs for cords and for the next tie."""
    yield LegendEntry((_hanging(glyphs),), "cords that hang")
    at_hand: Line = (
        holding_cord(glyphs, _AT[1], 0) | knotting_cord(glyphs, _AT[2], 1)
        if glyphs.wide
        else {
            _AT[1]: Cell(glyphs.holding, "holding", 0),
            _AT[2]: Cell(glyphs.knotting, "knotting", 1),
        }
    )
    yield LegendEntry((at_hand,), "at hand: the strand that holds or is knotted onto, and the one "
                "that knots")  # fmt: skip
    room = _hanging(glyphs)
    draw_pending(room, glyphs, (_AT[1], _AT[2]), 1)
    yield LegendEntry((room,), "the space for the next tie")
    slack = {x: Cell(glyphs.slack, "cord", strand) for strand, x in _AT.items()}
    yield LegendEntry((slack,), "a length that is longer than drawn here")
    more = {0: Cell(glyphs.more[0], "edge"), _WIDTH - 1: Cell(glyphs.more[1], "edge")}
    yield LegendEntry((more,), "there is more of the work on that side")


def _hanging(glyphs: Glyphs) -> Line:
    return ColumnGrid(min(_AT.values()), _AT[1] - _AT[0], glyphs).cords(_AT)


def knots_of(plan: Plan, glyphs: Glyphs) -> Iterator[LegendEntry]:
    """Yield a sample of each knot of a piece as it is tied there, and of other steps."""
    seen: set[tuple[str, bool, bool]] = set()
    for step in plan.steps:
        for count in plan.counts[step.first : step.end]:
            row = step.role in ("row", "weave")
            kind = count.knot or step.role if step.role == "braid" else count.knot
            key = (kind or type(step.source).__name__, row, count.fillers[:1] == (step.mover,))
            if key in seen:
                continue
            seen.add(key)
            if row:
                yield on_row(glyphs, count.knot, holds=key[2])
            elif step.role == "braid":
                yield _plait(glyphs)
            elif count.knot:
                yield in_group(glyphs, count.knot)
            else:
                yield from _plain(glyphs, step.source)


def on_row(glyphs: Glyphs, knot: str, *, holds: bool) -> LegendEntry:
    """Return a row of three ties, as a sample.

    Args:
        glyphs: The characters.
        knot: The knot's first name.
        holds: Whether the strand that travels is tied onto; otherwise it ties.
    """
    line: Line = {}
    draw_across(line, glyphs, 0, [_AT[0], _AT[3]])
    for strand in (1, 2, 3):
        tie = Count(knot, (strand,), (0,)) if holds else Count(knot, (0,), (strand,))
        draw_on_row(line, glyphs, tie, (_AT[strand - 1], _AT[strand]), 0)
    if holds:
        return LegendEntry((line,), f"{knot} onto the holder: {_PHRASES[knot]}")
    also = " (vertical)" if knot == names.REVERSE_CLOVE else ""
    return LegendEntry((line,), f"{knot}{also}: the travelling strand goes round each that hangs")


def in_group(glyphs: Glyphs, knot: str) -> LegendEntry:
    """Return one tie of a group, or a short run of half knots or a chain."""
    run = _RUN if knot in (names.HALF_KNOT, names.REVERSE_HALF_KNOT, names.CHAIN) else 1
    lines: list[Line] = []
    at = {strand: x for strand, x in _AT.items() if knot != names.CHAIN or strand < _PAIR}
    for place in range(run):
        tie = _tie(knot, place)
        drawn = draw_tie(glyphs, tie, at, roomy=True, place=place)
        lines += drawn
        if knot in (names.HALF_KNOT, names.REVERSE_HALF_KNOT):
            at[0], at[3] = at[3], at[0]
    return LegendEntry(tuple(lines), f"{knot}: {_PHRASES[knot]}")


def _tie(knot: str, place: int) -> Count:
    """Return the knotters and fillers of a sample."""
    if knot in (*names.BUNDLE_KNOTS, names.JOSEPHINE):
        return Count(knot, (0, 1, 2, 3))
    if knot == names.GATHERING:
        return Count(knot, (_OFF_BOARD,), (0, 1, 2, 3))
    if knot == names.CHAIN:
        return Count(knot, (place % 2,), (1 - place % 2,))
    if knot in names.FLAT_KNOTS:
        return Count(knot, (3, 0) if place % 2 else (0, 3), (1, 2))
    if knot == names.BERRY:
        return Count(knot, (0, 3), (1, 2))
    return Count(knot, (0,), (1, 2), passes=3)


def _plait(glyphs: Glyphs) -> LegendEntry:
    lines: list[Line] = []
    strands = [0, 1, 2]
    for crossing in range(_PERIOD):
        now = {strand: _AT[place] for place, strand in enumerate(strands)}
        aside, over = (2, 0) if crossing % 2 else (0, 2)
        frame = ColumnGrid(0, 1, glyphs)
        resting = frame.cord(now[strands[aside]], strands[aside])
        (line,) = draw_crossing(glyphs, (strands[over],), (strands[1],), now)
        lines.append(resting | line)
        strands[over], strands[1] = strands[1], strands[over]
    return LegendEntry(
        tuple(lines), "plait: the outer strand goes over into the middle, each in turn"
    )


def _plain(glyphs: Glyphs, source: model.Step) -> Iterator[LegendEntry]:
    """Yield samples of the steps without a knot that leave something visible."""
    if isinstance(source, model.Bead):
        yield LegendEntry(tuple(draw_bead(glyphs, [_AT[1], _AT[2]])), "a bead with strands in it")
    elif isinstance(source, model.Picot):
        yield LegendEntry(tuple(draw_picot(glyphs, 0, _AT[1], _AT[1] - 2)), "picot: a loop of cord")
    elif isinstance(source, model.Turn) and source.around is None:
        yield LegendEntry(tuple(draw_pin(glyphs, 0, _AT[1], _AT[1] - 2)), "turned round a pin")
    elif isinstance(source, model.Turn):
        lines = draw_turn(glyphs, (0, _AT[1]), (1, _AT[2]))
        yield LegendEntry(tuple(lines), "turned: over the neighbour and back under it")
