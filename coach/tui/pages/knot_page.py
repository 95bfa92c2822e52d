"""The page on how a knot is tied: what each hand does, with drawings stage by stage."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import chain, groupby
from operator import attrgetter
from typing import Final

from rich.style import Style
from rich.text import Text

from coach.knots.diagram import CordRole, Diagram
from coach.knots.explanation import ExplanationStage, KnotExplanation, Side, own_side
from coach.plan.plan_model import Count, Plan, PlannedStep
from coach.plan.wording.knot_how import how_at
from coach.tui.drawing.cells import Glyphs
from coach.tui.drawing.knot_stages import Drawn, draw_stage, upright_strokes
from coach.tui.drawing.solid.solid_stages import ROLES, sample, solid
from coach.tui.layout.painted_cells import painted
from coach.tui.layout.styled_text import Inks, in_columns, paragraph

_MANY: Final = 99
_LEAST_WORDS: Final = 28  # columns that words beside a drawing need
_GAP: Final = 3
_INKS: Final[dict[CordRole, str]] = {
    "knotter": "figure", "second knotter": "warning", "filler": "quiet"
}  # fmt: skip
_ROLES: Final[dict[CordRole, str]] = {
    "knotter": "the strand that knots",
    "second knotter": "the other one that knots",
    "filler": "what is knotted onto",
}


def tie_near(plan: Plan, done: int) -> tuple[Count, Side] | None:
    """Return the current tie, else the next one, else the last, and its side.

    None where the piece has no knot at all.
    """
    near = chain(range(done, plan.total), reversed(range(done)))
    at = next((number for number in near if plan.counts[number].knot), None)
    return None if at is None else (plan.counts[at], _side(plan.step_of(at), plan.counts[at]))


def how_near(plan: Plan, done: int, side: Side) -> KnotExplanation | None:
    """Return how the tie that `tie_near` finds is tied, begun on a side; None for no knot.

    Args:
        plan: The plan.
        done: How many counts are made.
        side: The side on which it is begun.
    """
    near = chain(range(done, plan.total), reversed(range(done)))
    at = next((number for number in near if plan.counts[number].knot), None)
    return None if at is None else how_at(plan, at, side)


def _side(step: PlannedStep, count: Count) -> Side:
    """Return the side on which a tie is begun: where its row or its knotter comes from."""
    if step.role in ("row", "weave"):
        return "right" if step.direction == "left" else "left"
    order = {strand: place for place, strand in enumerate(step.before)}
    inner = [order[strand] for strand in count.fillers if strand in order]
    knotter = order.get(count.knotters[0])
    if len(count.knotters) == 1 and inner and knotter is not None:
        return "right" if knotter > max(inner) else "left"
    return own_side(count.knot)


def cord_colours(inks: Inks, told: KnotExplanation, count: Count) -> dict[CordRole, str]:
    """Return the colours of the current strands by their roles in the drawings.

    Args:
        inks: The colours of the piece's strands.
        told: The knot as it is tied, begun on the left or the right.
        count: The current tie.
    """
    outer = count.knotters[:2] if told.side == "left" else count.knotters[1::-1]
    found: dict[CordRole, str] = {"knotter": inks.strand((outer or count.knotters)[0])}
    if len(count.knotters) > 1:
        found["second knotter"] = inks.strand(outer[-1])
    if count.fillers:
        found["filler"] = inks.strand(count.fillers[0])
    return found


@dataclass(frozen=True, slots=True)
class Pens:
    """The styles of drawings; `colours` are those of the current strands, if any."""

    inks: Inks
    glyphs: Glyphs
    colours: Mapping[CordRole, str] = field(default_factory=dict)

    def of(self, role: CordRole | None, *, bold: bool) -> Style:
        """Return the style of one kind of cord."""
        if role is None:
            return self.inks.style("text")
        if role in self.colours:
            return self.inks.of_cord(self.colours[role], bold=bold)
        return self.inks.style(_INKS[role], bold=bold)

    def of_roles(self) -> Inks:
        """Return the inks of solid drawings, in which each role is a strand."""
        palette = self.inks.palette
        usual = [getattr(palette, _INKS[role]) for role in ROLES]
        found = [self.colours.get(role, own) for role, own in zip(ROLES, usual, strict=True)]
        return replace(self.inks, strands=tuple(found))


def how_lines(told: KnotExplanation, pens: Pens, width: int) -> list[Text]:
    """Return the page: the knot, who does what, each stage with its words, a caution."""
    inks = pens.inks
    name = f"{told.knot} ({told.said_as})" if told.said_as else told.knot
    begun = f"begun on the {told.side}"
    title = name if begun in name else f"{name}, {begun}"
    lines = paragraph(title, width, _MANY, inks.style("figure", bold=True))
    lines += paragraph(told.roles, width, _MANY, inks.style("text"))
    lines += _strokes(told, pens, width)
    before: Diagram | None = None
    for stage in told.stages:
        lines += [Text(), *_stage(stage, before, pens, width)]
        before = stage.diagram
    if told.caution:
        lines += [Text(), *paragraph(told.caution, width, _MANY, inks.style("warning"))]
    return lines


def printed_how(told: KnotExplanation, inks: Inks, glyphs: Glyphs, width: int) -> list[str]:
    """Return the page in lines without colour, as they are printed."""
    return [inks.shown(line).plain.rstrip() for line in how_lines(told, Pens(inks, glyphs), width)]


def _strokes(told: KnotExplanation, pens: Pens, width: int) -> list[Text]:
    """Return which cord is which in the drawings."""
    roles = {cord.role for stage in told.stages for cord in stage.diagram.cords}
    quiet = pens.inks.style("quiet")
    if pens.glyphs.wide:
        own = pens.of_roles()
        return [
            painted([sample(role)], own)[0] + Text(f" {_ROLES[role]}", quiet)
            for role in _ROLES if role in roles
        ]  # fmt: skip
    known = upright_strokes(pens.glyphs)
    said = ", ".join(f"{known[role]} {_ROLES[role]}" for role in _ROLES if role in roles)
    return paragraph(said, width, _MANY, quiet)


def _drawn(diagram: Diagram, before: Diagram | None, pens: Pens) -> list[Text]:
    """Draw a stage: solid if there are enough colours, else as lines."""
    if pens.glyphs.wide:
        return painted(solid(diagram, before), pens.of_roles())
    return [_inked(row, pens) for row in draw_stage(diagram, pens.glyphs, before)]


def _stage(stage: ExplanationStage, before: Diagram | None, pens: Pens, width: int) -> list[Text]:
    """Return the drawing with its words beside it, or below them if there is no room."""
    picture = _drawn(stage.diagram, before, pens)
    across = max(line.cell_len for line in picture) + _GAP
    side_by_side = width - across >= _LEAST_WORDS
    room = width - across if side_by_side else width
    words = [
        line
        for number, move in enumerate(stage.words, start=stage.first)
        for line in paragraph(f"{number}. {move}", room, _MANY, pens.inks.style("text", bold=True))
    ]
    return in_columns(picture, words, across) if side_by_side else [*words, *picture]


def _inked(row: Sequence[Drawn], pens: Pens) -> Text:
    """Return one line of a drawing, what is new in it bold."""
    line = Text(no_wrap=True)
    for (role, fresh), cells in groupby(row, key=attrgetter("role", "fresh")):
        line.append("".join(cell.char for cell in cells), pens.of(role, bold=fresh))
    return line
