"""Crossings of a plait in a picture of the board."""

from coach.tui.drawing.cells import Cell, Columns, Glyphs, Line
from coach.tui.drawing.solid import solid_cords
from coach.tui.drawing.tie_glyphs import draw_across


def crossing_lines(
    glyphs: Glyphs, over: tuple[int, ...], under: tuple[int, ...], at: Columns
) -> list[Line]:
    """Return one crossing of a plait: the bundle that goes over, strand by strand.

    The strand that is nearest to the other side goes first, a line each, so that a bundle lies
    across as a slanting band. What goes under comes out below.
    """
    xs = sorted(at[strand] for strand in (*over, *under))
    rightward = min(at[s] for s in over) == xs[0]
    going = sorted(over, key=lambda s: at[s], reverse=rightward)
    ends = sorted(xs[-len(over) :] if rightward else xs[: len(over)], reverse=rightward)
    now = {at[strand]: strand for strand in (*over, *under)}
    lines = []
    for strand, end in zip(going, ends, strict=True):
        line = {x: Cell(glyphs.cord, "cord", s) for x, s in now.items() if s != strand}
        if glyphs.wide:
            line = {c: cell for x, s in now.items() if s != strand
                    for c, cell in solid_cords.cord(glyphs, x, s).items()}  # fmt: skip
            solid_cords.draw_lobe(line, glyphs, strand, [at[strand], end])
        else:
            draw_across(line, glyphs, strand, [at[strand], end])
        swept = range(min(at[strand], end), max(at[strand], end) + 1)
        now = {x: s for x, s in now.items() if x not in swept} | {end: strand}
        lines.append(line)
    return lines
