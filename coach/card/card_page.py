"""The whole card as one HTML page without scripts, fonts or pictures from elsewhere."""

from collections.abc import Iterable, Iterator, Sequence
from html import escape
from typing import Final

from coach.card.hanging_board import board_picture
from coach.card.place_range import frame_of
from coach.card.step_drawing import (
    LEGEND,
    STAGE_LOOKS,
    STAGES,
    cord_swatch,
    stage_pictures,
    step_picture,
)
from coach.card.style import STYLE
from coach.knots.catalogue import CATALOGUE
from coach.knots.explanation import KnotExplanation, explain_knot
from coach.picture.compose import scene_of
from coach.picture.render.shades import Look, looks_of
from coach.picture.render.svg_drawing import colour_classes, render_svg, scale_of
from coach.picture.svg_elements import svg_number
from coach.plan.plan_model import Plan
from coach.plan.wording.strand_names import cord_look
from coach.project import model
from coach.project.model import Cord
from coach.quantities import show_cut
from coach.report.cutting_report import PiecesToCut
from coach.report.plan_report import PlanReport
from coach.report.report_phrases import (
    cut_heading,
    cut_sum,
    each_heading,
    purpose,
    size_line,
    time_line,
)
from coach.text import capital, counted
from coach.words.hanging import hanging_instructions, laid_out
from coach.words.instructions import Instruction, instructions
from coach.words.sheet import BEFORE

_DEEPEST: Final = 3
_FEW: Final = 10  # steps, and narrow work: half a sheet would stay empty
_MANY: Final = 18  # steps that fill a sheet
_NARROW: Final = 8  # strands
_WIDE: Final = 13  # strands that leave no room beside the drawing
_BESIDE_MM: Final = (85.0, 215.0)  # room for the finished piece, beside what is told of it
_MOST_ROWS: Final = 4  # of a net or a run of rows: the drawing begins to repeat
_SHORT: Final = 12  # letters of a name that stays beside its swatch


def render_card(plan: Plan, report: PlanReport, *, knots: bool = False) -> str:
    """Return the card of a plan as HTML.

    It prints on two sheets: the piece with what to cut and how to hang it, and the steps.

    Args:
        plan: The plan.
        report: Its report: figures, cut list and cautions.
        knots: Whether to add how each knot is tied, on sheets of their own.
    """
    looks = looks_of(plan.project)
    sheets = [
        *_sheet("first", (*_finished(plan, looks, report.unit), *_facts(plan, report, looks))),
        *_sheet("steps", _work(plan, report, looks)),
        *(_sheet("stages", _knots(report)) if knots else ()),
    ]
    return _html(report.title, sheets, looks)


def shop_page(plan: Plan, report: PlanReport) -> str:
    """Return the sheet for a buyer of the piece as HTML: picture, size, cords, cautions."""
    looks = looks_of(plan.project)
    cords = dict.fromkeys(line.cord for line in report.cords)
    made = "".join(
        f"<li>{cord_swatch(looks, cord.id)} {_words(cord_look(cord) or cord.id)}</li>"
        for cord in cords
    )
    facts = (
        f'<h1 dir="auto">{escape(report.title)}</h1>',
        f"<p>{_words(report.about)}</p>" if report.about else "",
        f"<p>{escape(size_line(report.size, report.unit))}</p>",
        f'<section><h2>Made of</h2><ul class="cords">{made}</ul></section>',
        *_care(report),
    )
    sheet = _sheet(
        "first", (*_finished(plan, looks, report.unit), '<div class="facts">', *facts, "</div>")
    )
    return _html(report.title, [*sheet], looks)


def _html(title: str, body: Sequence[str], looks: dict[str, Look]) -> str:
    lines = "\n".join(body)
    return (
        f'<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{escape(title)}</title>\n<style>{card_style(looks)}</style>\n</head>\n<body>\n"
        f"<main>\n{lines}\n</main>\n</body>\n</html>\n"
    )


def _sheet(kind: str, inside: Iterable[str]) -> Iterator[str]:
    yield f'<div class="sheet {kind}">'
    yield from inside
    yield "</div>"


def _facts(plan: Plan, report: PlanReport, looks: dict[str, Look]) -> Iterator[str]:
    """Yield what stands beside the picture of the finished piece: all to know before starting."""
    yield '<div class="facts">'
    yield from _head(report)
    yield from _care(report)
    yield from _cutting(report, looks)
    yield from _before_folding(plan, looks, report.unit)
    yield from _hanging(plan, report, looks)
    yield "</div>"


def card_style(looks: dict[str, Look]) -> str:
    """Return the style sheet of a page: layout, the colours of its cords, and knot drawings."""
    return f"{STYLE}{colour_classes(looks)}{colour_classes(STAGE_LOOKS, STAGES)}"


def _words(text: str) -> str:
    """Return a maker's own text as HTML; it may be in a script that runs from the right."""
    return f'<span dir="auto">{escape(text)}</span>'


def _head(report: PlanReport) -> Iterator[str]:
    yield f'<h1 dir="auto">{escape(report.title)}</h1>'
    if report.about:
        yield f"<p>{_words(report.about)}</p>"
    told = capital("; ".join(filter(None, (", ".join(report.kinds), time_line(report)))))
    size = size_line(report.size, report.unit)
    yield f'<p class="quiet">{escape(f"{told}. {size}" if told else size)}</p>'
    if report.ready:
        yield f"<p>Have ready: {_words(', '.join(report.ready))}.</p>"


def _care(report: PlanReport) -> Iterator[str]:
    if report.cautions:
        items = "".join(f"<li>{_words(caution)}</li>" for caution in report.cautions)
        yield f'<section class="care"><h2>Take care</h2><ul>{items}</ul></section>'


def _cutting(report: PlanReport, looks: dict[str, Look]) -> Iterator[str]:
    yield f"<section><h2>{cut_heading(report)}</h2><table>"
    yield (
        '<thead><tr><th scope="col">Cord</th><th scope="col">Pieces</th>'
        '<th scope="col">Each</th><th scope="col">What</th></tr></thead><tbody>'
    )
    for cord in report.cords:
        for line in cord.pieces:
            yield _row(cord.cord, line, looks, report.unit)
    yield "</tbody></table>"
    yield f"<p>{escape(cut_sum(report))}</p></section>"


def _row(cord: Cord, pieces: PiecesToCut, looks: dict[str, Look], unit: str) -> str:
    cut = pieces.cut
    what = ", ".join(filter(None, (cord_look(cord), purpose(pieces))))
    length = show_cut(cut.cut_mm, unit)
    short = ' class="figure"' if len(cord.id) <= _SHORT else ""
    return (
        f'<tr><th scope="row"{short}>{cord_swatch(looks, cord.id)} {_words(cord.id)}</th>'
        f'<td class="figure">{cut.pieces}</td><td class="figure">{escape(length)}</td>'
        f"<td>{escape(what)}</td></tr>"
    )


def _before_folding(plan: Plan, looks: dict[str, Look], unit: str) -> Iterator[str]:
    lines = [line for line in instructions(plan, unit) if line.unfolded]
    if lines:
        yield f"<section><h2>{BEFORE}</h2><p>{escape(laid_out(plan))}</p>"
        yield from _listed(plan, lines, looks)
        yield "</section>"


def _hanging(plan: Plan, report: PlanReport, looks: dict[str, Look]) -> Iterator[str]:
    yield f"<section><h2>{each_heading('Hang', report)}</h2>"
    yield f"<p>{escape(hanging_instructions(plan, report.unit))}</p>"
    if plan.start:
        own = plan.by_section[0].plan if plan.sections else plan
        yield f"<figure>{board_picture(own, looks, 'board-')}</figure>"
    yield "</section>"


def _work(plan: Plan, report: PlanReport, looks: dict[str, Look]) -> Iterator[str]:
    yield f"<section><h2>{each_heading('Work', report)}</h2>"
    yield (
        '<p class="quiet lead">Strands are counted from 1 at the left, as they lie when the step '
        "begins: the numbers above each drawing. Those below are where they have got to.</p>"
    )
    lines = [line for line in instructions(plan, report.unit) if not line.unfolded]
    yield f'<div class="{_columns(plan, lines)}">'
    yield from _listed(plan, lines, looks)
    yield "</div></section>"


def _columns(plan: Plan, lines: Sequence[Instruction]) -> str:
    """Return the CSS classes of the columns: fewer for broad work, larger drawings for little."""
    if len(plan.start) > _WIDE:
        return "columns broad"
    if len(lines) <= _FEW and len(plan.start) <= _NARROW:
        return "columns roomy"
    return "columns dense" if len(lines) >= _MANY else "columns"


def _listed(plan: Plan, lines: Sequence[Instruction], looks: dict[str, Look]) -> Iterator[str]:
    yield '<ol class="work">'
    for line in lines:
        yield _instruction(plan, line, looks)
    yield "</ol>"


def _instruction(plan: Plan, line: Instruction, looks: dict[str, Look]) -> str:
    classes = [f"in{min(line.depth, _DEEPEST)}"] if line.depth else []
    if not line.number:
        classes.append("part")
    if (line.window or len(plan.start)) > _WIDE:
        classes.append("wide")
    lead = f'<span class="number">{line.number}.</span> ' if line.number else ""
    notes = "".join(f'<p class="note">{_words(note)}</p>' for note in line.notes)
    pictures = "".join(_pictures(plan, line, looks))
    given = f' class="{" ".join(classes)}"' if classes else ""
    drawings = f'<div class="drawings">{pictures}</div>' if pictures else ""
    return f"<li{given}><div><p>{lead}{_words(line.text)}</p>{notes}</div>{drawings}</li>"


def _pictures(plan: Plan, line: Instruction, looks: dict[str, Look]) -> Iterator[str]:
    """Yield the drawings of a line: each row of a folded run, and once the mirrored one."""
    shown = [step for step in line.planned if not isinstance(step.source, model.Space)][:_MOST_ROWS]
    for row, step in enumerate(shown, start=1):
        which = f"Row {row}" if len(line.planned) > 1 else ""
        label = f"Step {line.number}{', ' + which.lower() if which else ''}: {line.text}"
        found = step_picture(plan, step, frame_of(step, line.window), looks, label)
        if found:
            yield _figure(found[0], _caption(which, found[1]))
    if line.mirrored and shown:
        label = f"Step {line.number}, mirrored: {line.text}"
        frame = frame_of(line.mirrored, line.window)
        found = step_picture(plan, line.mirrored, frame, looks, label)
        if found:
            yield _figure(found[0], _caption("Mirrored, from the right", found[1]))


def _caption(which: str, times: int) -> str:
    """Return the caption that says how often a knot is tied where only some are drawn."""
    return ", ".join(filter(None, (which, f"\N{MULTIPLICATION SIGN} {times}" if times else "")))


def _figure(drawing: str, caption: str) -> str:
    said = f"<figcaption>{escape(caption)}</figcaption>" if caption else ""
    return f"<figure>{drawing}{said}</figure>"


def _finished(plan: Plan, looks: dict[str, Look], unit: str) -> Iterator[str]:
    scene = scene_of(plan)
    scale = svg_number(scale_of(scene.box, _BESIDE_MM))
    said = f"Scale 1 : {scale} when printed at 100 %. Every hand differs a little."
    title = plan.project.title
    drawn = render_svg(scene, looks, title, name="piece-", unit=unit, room_mm=_BESIDE_MM)
    yield f'<figure class="piece">{drawn}<figcaption>{said}</figcaption></figure>'


def _knots(report: PlanReport) -> Iterator[str]:
    counts = dict(report.knots)
    used = [knot for knot in (*CATALOGUE, *report.own_knots) if knot in counts]
    if not used:
        return
    yield f'<section><h2>Knots used</h2><p class="quiet lead">{LEGEND}</p>'
    for knot in used:
        yield from _knot(knot, counts[knot], report.own_knots.get(knot))
    yield "</section>"


def _knot(knot: str, count: int, own: KnotExplanation | None) -> Iterable[str]:
    told = own or explain_knot(knot)
    said = f" ({told.said_as})" if told.said_as else ""
    yield f'<section class="knot"><h3>{escape(counted(count, knot))}{escape(said)}</h3>'
    yield f"<p>{escape(told.roles)}</p>"
    for words, drawing in stage_pictures(told):
        yield f"<figure>{drawing}<figcaption>{escape(words)}</figcaption></figure>"
    if told.caution:
        yield f'<p class="note">{escape(told.caution)}</p>'
    yield "</section>"
