"""Styled lines of text: wrapping, fitting, joining, and the colours of cells.

Everything shown is put together from strings as they are; nothing is read as markup.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import groupby, starmap
from operator import itemgetter
from typing import Final, TypeAlias

from rich.cells import cell_len, set_cell_size
from rich.segment import Segment
from rich.style import Style
from rich.text import Span, Text
from textual.strip import Strip

from coach.colour import contrast
from coach.plan.plan_model import Plan
from coach.text import one_line
from coach.tui.drawing.cells import BLANK, Cell, Part
from coach.tui.drawing.labels import initials
from coach.tui.drawing.solid.solid_cords import BODY, HANDS, LIGHT
from coach.tui.layout.wrapping import wrapped
from coach.tui.theme.cell_styles import cell_style, two_toned
from coach.tui.theme.colour_depth import BRIGHTENED
from coach.tui.theme.palette import TEXT_CONTRAST, Palette, faded, seen_on, toned
from coach.tui.theme.sixteen_colours import distinct_colours

_ASCII_FOR: Final = str.maketrans({"·": "-", "…": "~", "◂": "<", "▸": ">"})
Row: TypeAlias = Text | Strip  # a line that is written, or one that is finished
Look: TypeAlias = tuple[Part, int | None, int, int, tuple[int | None, int] | None]
_EMPTY: Final[Look] = BLANK[1:]
_WRITTEN: Final[Mapping[Part, str]] = {"number": "quiet", "word": "text", "short": "warning"}
_BOLD: Final[tuple[Part, ...]] = ("knotting", "holding", "here", "initial", "word", "pending")


def ellipsized(text: str, width: int) -> str:
    """Return a text on one line of at most `width` columns, cut with an ellipsis if need be."""
    text = one_line(text)
    if cell_len(text) <= width:
        return text
    return f"{set_cell_size(text, width - 1).rstrip()}…" if width > 0 else ""


def paragraph(text: str, width: int, most: int, style: Style) -> list[Text]:
    """Return a text as at most `most` lines, the last one shortened if there are more."""
    lines = wrapped(text, width)
    if len(lines) > most > 0:
        lines = (*lines[: most - 1], ellipsized(" ".join(lines[most - 1 : most + 1]), width))
    return [Text(line, style) for line in lines[: max(0, most)]]


def exact_width(line: Text, width: int) -> Text:
    """Return a line filled or cut to exactly `width` columns."""
    line = line.copy()
    line.truncate(width, pad=True)
    return line


def in_columns(left: Sequence[Text], right: Sequence[Text], left_width: int) -> list[Text]:
    """Return lines side by side, the right ones beginning at column `left_width`."""
    rows = max(len(left), len(right))
    return [
        exact_width(left[i] if i < len(left) else Text(), left_width)
        + (right[i] if i < len(right) else Text())
        for i in range(rows)
    ]


def written(*parts: tuple[str, Style]) -> Text:
    """Return a line of parts, each in a style of its own."""
    spans: list[Span] = []
    end = 0
    for text, style in parts:
        spans.append(Span(end, end + len(text), style))
        end += len(text)
    return Text("".join([text for text, _ in parts]), spans=spans)


def ends(left: Text, right: Text, width: int) -> Text:
    """Return one text at each end of a line; the right one is cut if need be."""
    room = width - left.cell_len - right.cell_len
    if room < 1:
        return exact_width(left, width)
    return left + Text(" " * room) + right


@dataclass(frozen=True, slots=True)
class Inks:
    """The styles of one palette, and the colours of the strands of one plan.

    `plain` is for terminals that show only ASCII.
    """

    palette: Palette
    plain: bool = False
    strands: tuple[str, ...] = ()
    _runs: dict[tuple[str, Look], Segment] = field(
        default_factory=dict, init=False, compare=False, repr=False
    )

    def of(self, plan: Plan) -> "Inks":
        """Return these inks with the colours of a plan's strands."""
        cords = plan.project.cords
        colours = {cord: cords[cord].colour for cord in {s.cord: None for s in plan.strands}}
        if self.palette.depth == "16":
            colours = distinct_colours(colours, initials(cords), self.palette.background)
        return replace(self, strands=tuple(colours[strand.cord] for strand in plan.strands))

    @property
    def shaded(self) -> bool:
        """Whether there are enough colours for light and shade."""
        return self.palette.depth in ("256", "full")

    def shown(self, line: Text) -> Text:
        """Return a line as the terminal can show it, other characters as ASCII."""
        if not self.plain or line.plain.isascii():
            return line
        line = line.copy()
        known = line.plain.translate(_ASCII_FOR)
        line.plain = known.encode("ascii", "replace").decode("ascii")
        return line

    def style(self, name: str, *, bold: bool = False) -> Style:
        """Return the style of one of the palette's colours by its name."""
        return self.inked(getattr(self.palette, name), bold=bold)

    def inked(self, colour: str, *, bold: bool = False, turned: bool = False) -> Style:
        """Return the style for a colour; `turned` is reversed, even without colours."""
        ground, shown = self.palette.background, self.palette.shown
        return cell_style(self.palette.depth, shown(ground), shown(colour), bold, turned)

    def finished(self, line: Row) -> Strip:
        """Return a line as the terminal gets it, unstyled parts on the palette's ground."""
        if isinstance(line, Strip):
            return line
        line = self.shown(line)
        text, style, at = line.plain, line.style or self.style("text"), 0
        runs: list[tuple[str, str | Style]] = []
        for start, end, own in line.spans:
            if start < at:  # most lines are joined of parts, side by side and in order; not this
                return self._overlaid(line)
            runs += [(text[at:start], style), (text[start:end], own)]
            at = end
        runs.append((text[at:], style))
        inked = [(part, ink) for part, ink in runs if part and isinstance(ink, Style)]
        return Strip(starmap(Segment, inked))

    def _overlaid(self, line: Text) -> Strip:
        """Return a line with overlapping styles resolved; the last one wins."""
        styles = [line.style or self.style("text")] * len(line.plain)
        for start, end, own in line.spans:
            styles[start:end] = [own] * (end - start)
        runs = groupby(zip(line.plain, styles, strict=True), key=itemgetter(1))
        inked = [("".join([char for char, _ in run]), ink) for ink, run in runs]
        return Strip([Segment(part, ink) for part, ink in inked if isinstance(ink, Style)])

    def row(self, cells: Sequence[Cell]) -> Strip:
        """Return a row of cells as the terminal gets it, cells that look alike as one run.

        Empty cells join the run before them, which halves the runs of most rows.
        """
        runs: list[Segment] = []
        text, look = "", _EMPTY
        for cell in cells:
            own: Look = cell[1:]
            if own != look and (own != _EMPTY or look[0] == "here" or look[4]):
                if text:
                    runs.append(self._run(text, look))
                text, look = "", own
            text += cell[0]
        return Strip([*runs, self._run(text, look)], len(cells))

    def _run(self, text: str, look: Look) -> Segment:
        """Return a run of cells that look alike; most of them come again and again."""
        found = self._runs.get((text, look))
        if found is None:
            found = self._runs[text, look] = Segment(text, self.of_cell(*look))
        return found

    def strand(self, strand: int, age: int = 0) -> str:
        """Return the visible colour of a strand, paler with age.

        Sixteen colours are each one cord's own, so there none fades into another's.
        """
        if self.palette.depth == "16":
            return self.strands[strand]
        return faded(self.strands[strand], self.palette.background, age, self.palette.depth)

    def of_cell(
        self, part: Part, strand: int | None, age: int, tone: int = BODY,
        under: tuple[int | None, int] | None = None,
    ) -> Style:  # fmt: skip
        """Return the style of a cell by its part, strand and age in steps.

        Solid cells have a tone of their cord, and another for the rest of the cell.
        """
        if under is not None:
            colour, ground = self.toned(strand, age, tone), self.toned(under[0], age, under[1])
            return two_toned(self.palette.depth, colour, ground)
        if tone == HANDS:
            return self.inked(self.palette.figure)
        if tone != BODY:
            return self.inked(self.toned(strand, age, tone))
        if part in _WRITTEN:
            return self.style(_WRITTEN[part], bold=part != "number")
        if part == "here":
            return self.inked(self.palette.figure, bold=True, turned=True)
        if strand is None:
            return self.inked(self.palette.bar)
        if part == "initial":
            return self.named(strand, age, bold=True)
        return self.of_cord(self.strand(strand, age), bold=part in _BOLD)

    def toned(self, strand: int | None, age: int, tone: int) -> str:
        """Return a strand's colour in light or shade, visible on the ground."""
        ground, depth = self.palette.background, self.palette.depth
        own = self.palette.bar if strand is None else self.strand(strand, age)
        if tone == BODY:
            return own
        return toned(own, ground, depth, light=tone == LIGHT)

    def seen(self, plan: Plan) -> dict[str, str]:
        """Return the visible colour of each cord of a plan."""
        ground = self.palette.background
        return {cord.id: seen_on(cord.colour, ground) for cord in plan.project.cords.values()}

    def named(self, strand: int, age: int = 0, *, bold: bool = False) -> Style:
        """Return the style for a strand's name, in its colour."""
        ground, depth, own = self.palette.background, self.palette.depth, self.strand(strand, age)
        colour = seen_on(own, ground, TEXT_CONTRAST, depth)
        if depth == "16" and contrast(own, ground) < TEXT_CONTRAST:
            colour = self.palette.text  # no colour that stands for another cord
        return self.of_cord(colour, bold=bold)

    def of_cord(self, colour: str, *, bold: bool) -> Style:
        """Return the style for a cord's colour, not bold where bold is another cord's."""
        turns = self.palette.depth == "16" and colour in BRIGHTENED
        return self.inked(colour, bold=bold and not turns)
