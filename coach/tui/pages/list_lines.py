"""The lines of the list: each entry on one line, and details of the marked one."""

from collections.abc import Sequence
from typing import Final

from rich.text import Text

from coach.piece import Summary
from coach.quantities import show_time
from coach.report.plan_report import PlanReport
from coach.report.report_phrases import size_line, time_words
from coach.session.ports import ProjectOffer
from coach.session.time_format import local_time, moment_words
from coach.session.view_model import OrderLine
from coach.text import capital, counted, join_words
from coach.tui.layout.styled_text import Inks, ellipsized, paragraph

_ROOMY: Final = 60
_LEVELS: Final = ("beginner", "intermediate", "advanced")
_A_MINUTE_MS: Final = 60_000
_LEAST_NAME: Final = 10  # columns of an order's name, for which its day is told in fewer words
_FREEHAND: Final = "Start without a pattern"
_MOST: Final = 6  # lines of one thing that is told


def matches(typed: str, *texts: str) -> bool:
    """Return whether every word typed is in one of the texts, without regard to case."""
    told = " ".join(texts).casefold()
    return all(word in told for word in typed.casefold().split())


def easiest_first(offers: Sequence[ProjectOffer]) -> list[ProjectOffer]:
    """Return projects, the easiest first, of these the shortest."""
    levels = {level: rank for rank, level in enumerate(_LEVELS)}
    return sorted(offers, key=lambda offer: (levels.get(offer.skill, len(levels)), offer.total))


def piece_row(piece: Summary, width: int, inks: Inks) -> Text:
    """Return a piece on one line: its name, its progress, when it was last worked on."""
    far = "finished" if piece.finished else _how_far(piece)
    told = f"{far}, {moment_words(local_time(piece.touched_ms))}" if width >= _ROOMY else far
    return _line(piece.name, told, width, inks)


def _how_far(piece: Summary) -> str:
    return f"{piece.done} made" if piece.open_ended else f"{piece.done} of {piece.total}"


def order_row(order: OrderLine, day: str, width: int, inks: Inks) -> Text:
    """Return an order on one line: its name, its progress, the day it is ready.

    Args:
        order: The order.
        day: The day as it is shown, "" where it is not known yet.
        width: The columns of the line.
        inks: The styles.
    """
    far = f"{order.finished} of {order.copies}"
    told = (f"{far}, ready {day}", f"{far}, {day}", far) if day else (far,)
    short = next((one for one in told if len(one) + _LEAST_NAME <= width), far)
    return _line(order.name, short, width, inks, max(8, min(30, width - len(short) - 2)))


def order_detail(order: OrderLine, day: str, inks: Inks, width: int) -> list[Text]:
    """Return the details of an order."""
    told = [f"{order.finished} of {order.copies} finished."]
    if order.spoilt:
        told.append(f"{order.spoilt} spoilt.")
    if day:
        told.append(f"Ready {day} at your hours and pace.")
    if order.worked_s >= _A_MINUTE_MS / 1000:
        told.append(f"{show_time(order.worked_s)} of work so far.")
    lines = paragraph(order.name, width, 3, inks.style("text", bold=True))
    lines += paragraph(order.title, width, 2, inks.style("quiet"))
    return [*lines, Text(), *(line for one in told for line in _told(one, inks, width))]


def project_row(project: ProjectOffer, width: int, inks: Inks, *, first: bool) -> Text:
    """Return a project on one line; `first` is the one for a first evening."""
    level = "start here" if first else project.skill
    told = ": ".join(filter(None, (level, project.about))) if width >= _ROOMY else level
    return _line(project.title, told, width, inks)


def freehand_row(typed: str, width: int, inks: Inks) -> list[Text]:
    """Return the line that begins a piece without a pattern.

    Args:
        typed: The filter of the list.
        width: The columns of the line.
        inks: The styles.

    Returns:
        The line, none if the filter does not match.
    """
    told = "say what you knot; the pattern follows" if width >= _ROOMY else ""
    return [_line(_FREEHAND, told, width, inks)] if matches(typed, _FREEHAND, told) else []


def piece_detail(piece: Summary, inks: Inks, width: int) -> list[Text]:
    """Return the details of a piece."""
    told = [
        "Finished." if piece.finished else f"{_how_far(piece).removesuffix(' made')} made.",
        f"Last worked on {moment_words(local_time(piece.touched_ms))}.",
    ]
    if piece.worked_ms >= _A_MINUTE_MS:
        told.append(f"{show_time(piece.worked_ms / 1000)} of work so far.")
    title = piece.title if piece.title != piece.name else ""
    lines = paragraph(piece.name, width, 3, inks.style("text", bold=True))
    lines += paragraph(title, width, 2, inks.style("quiet")) if title else []
    return [*lines, Text(), *(line for one in told for line in _told(one, inks, width))]


def project_detail(report: PlanReport, inks: Inks, width: int) -> list[Text]:
    """Return the details of a project: level, time, size, what to have ready."""
    lengths = sum(cut.pieces for cord in report.cords for cut in cord.cut.cuts)
    told = {
        "level": report.kinds[-1] if len(report.kinds) > 1 else "",
        "time": time_words(report.time) if report.time else "",
        "size": size_line(report.size, report.unit),
        "have ready": ", ".join(report.ready),
        "cord": f"{counted(lengths, 'length')} of {join_words([c.cord.id for c in report.cords])}",
    }
    lines = paragraph(report.title, width, 3, inks.style("text", bold=True))
    lines += [*paragraph(report.about, width, _MOST, inks.style("quiet")), Text()]
    return [
        *lines,
        *(line for item in told.items() if item[1] for line in _item(*item, inks, width)),
    ]


def _item(heading: str, text: str, inks: Inks, width: int) -> list[Text]:
    """Return a text after a heading on its first line."""
    lines = paragraph(f"{heading}: {capital(text)}", width, _MOST, inks.style("text"))
    lines[0].stylize(inks.style("quiet"), 0, len(heading) + 1)
    return lines


def _told(text: str, inks: Inks, width: int) -> list[Text]:
    return paragraph(capital(text), width, _MOST, inks.style("text"))


def _line(name: str, told: str, width: int, inks: Inks, room: int = 0) -> Text:
    room = room or max(8, min(30, width * 3 // 5 if told else width))
    first = Text(f"{ellipsized(name, room):<{room}}  ", inks.style("text", bold=True), no_wrap=True)
    return first + Text(ellipsized(told, width - room - 2), inks.style("quiet"))
