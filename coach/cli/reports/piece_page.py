"""The page of one piece: time by knot and by sitting, cord expected and measured, cost."""

from collections.abc import Iterator, Sequence
from typing import Final

from coach.cli.output import WIDTH, in_sections
from coach.cli.reports.piece_data import PieceTold
from coach.piece.reports.time_spent import TimeRecord
from coach.plan.doubt.joint_ranges import Z80
from coach.quantities import show_length, show_time
from coach.session.time_format import dated_moment, local_time
from coach.text import one_line

_UNNAMED: Final = "steps without a knot"


def render_piece(told: PieceTold, *, plain: bool = False) -> list[str]:
    """Return a piece as lines of at most 78 columns; `plain` uses only ASCII in the plot."""
    sections = (
        _head(told), _knots(told), _sittings(told), _pace(told, plain=plain), _measures(told),
        _figures(told), _cords(told), _cost(told),
    )  # fmt: skip
    return [line[:WIDTH].rstrip() for line in in_sections(sections)]


def _head(told: PieceTold) -> Iterator[str]:
    summary = told.summary
    far = "finished" if summary.finished else f"{summary.done:,} of {summary.total:,} made"
    yield one_line(summary.name)
    worked = show_time(summary.worked_ms / 1000)
    yield f"  {far}; {worked} of work; last worked on {_moment(summary.touched_ms)}"
    if not told.teaches:
        yield "  It is left out of what the next pieces learn."
    if told.base is None:
        yield "  Its project cannot be followed by this coach, so cord and cost are left out."


def _moment(at_ms: int) -> str:
    return dated_moment(local_time(at_ms))


def _knots(told: PieceTold) -> Iterator[str]:
    knots = told.record.knots
    if knots:
        yield "Time by knot"
    for knot, time in sorted(knots.items(), key=lambda pair: -pair[1].worked_s):
        each = f"{time.ties:6,}  {time.pace_s:6.1f} s each" if time.ties else f"{'':20}"
        yield f"  {knot or _UNNAMED:34}{show_time(time.worked_s):>12}  {each}"


def _sittings(told: PieceTold) -> Iterator[str]:
    if told.record.sittings:
        yield "Time by sitting"
    for sitting in told.record.sittings:
        began, worked = _moment(sitting.began_ms), show_time(sitting.worked_s)
        yield f"  {began:34}{worked:>12}  {sitting.counts:6,}"


def _pace(told: PieceTold, *, plain: bool) -> Iterator[str]:
    lines = pace_plot(told.record, told.summary.total, WIDTH, plain=plain)
    if lines:
        yield "Pace over the piece: time taken over this piece's own mean; low is quick"
        yield from lines


def _measures(told: PieceTold) -> Iterator[str]:
    if told.measures:
        yield "Expected, and measured"
    for seen in told.measures:
        what = f"rest of {seen.strand}" if seen.strand else "length of the work"
        off = f"{seen.measured_mm / seen.told_mm - 1:+.0%}" if seen.told_mm else ""
        yield (
            f"  {what + f' at tie {seen.at_done}':34}{show_length(seen.told_mm):>10}"
            f"{show_length(seen.measured_mm):>10}{off:>7}"
        )


def _figures(told: PieceTold) -> Iterator[str]:
    if told.known is None:
        return
    beliefs = told.known.learnt.beliefs
    figures = [figure for figure in beliefs if told.known.is_told(figure)]
    if figures:
        yield "What that says of cord and hands, carried over to the next piece"
    for cord, knot in figures:
        belief = beliefs[cord, knot]
        off = Z80 * belief.sd
        if knot:
            yield f"  {knot} in {cord}: {belief.mean:+.1%} cord, give or take {off:.1%}"
        else:
            thick = f"{belief.mean:.1%} of its stated thickness"
            yield f"  {cord}: works up like {thick}, give or take {off:.1%}"


def _cords(told: PieceTold) -> Iterator[str]:
    if told.cords:
        yield f"  {'Cord':18}{'cut':>12}{'joined':>12}{'used':>12}{'left over':>12}"
    for cord in told.cords:
        joined = show_length(cord.joined_mm) if cord.joined_mm else "-"
        sure = "" if cord.measured else " (about)"
        yield (
            f"  {cord.cord:18}{show_length(cord.cut_mm):>12}{joined:>12}"
            f"{show_length(cord.used_mm):>12}{show_length(cord.left_mm):>12}{sure}"
        )


def _cost(told: PieceTold) -> Iterator[str]:
    paid = told.cost
    if paid is None:
        return
    yield "Cost"
    parts = (
        ("cord, with what is left over", paid.cord), ("hours", paid.hours),
        ("findings", paid.findings), ("together", paid.total),
    )  # fmt: skip
    for name, part in parts:
        if part is not None:
            yield f"  {name:34}{part:>12,.2f} {paid.currency}".rstrip()
    if paid.missing:
        yield f"  No price is known for {', '.join(map(one_line, paid.missing))}."
    for cord in paid.unweighed:
        yield f"  {one_line(cord)} has a price by weight: add what it weighs to its project,"
        yield "  as in ‘weight: 4 g/m’."


_ROWS: Final = 6
_TOP: Final = 2.0  # times the mean pace at the upper edge
_EIGHTHS: Final = " ▁▂▃▄▅▆▇█"
_LEAST: Final = 8  # spells from which on a picture says more than a number


def pace_plot(record: TimeRecord, total: int, width: int, *, plain: bool = False) -> list[str]:
    """Return the plot as lines; none where too little was made.

    A column is a stretch of the piece; its height is the time worked on it over the time that its
    knots take on average, so that slow hands stand out and slow knots do not.

    Args:
        record: The times of the piece.
        total: How many counts it has.
        width: The most columns.
        plain: Whether to use ASCII only.
    """
    if len(record.spells) < _LEAST or total < 1:
        return []
    label = 7
    columns = max(10, min(width - label, total))
    heights = _heights(record, total, columns)
    lines = [
        f"{_label(row):>{label - 1}} {_row(heights, row, plain=plain)}" for row in range(_ROWS)
    ]
    edge = f"{'':{label}}{'from the first tie':<{max(0, columns - 11)}}to the last"
    return [*lines, edge[:width]]


def _label(row: int) -> str:
    """Return the label of the upper edge and of the mean."""
    if row == 0:
        return f"{_TOP:g} x"
    return "mean" if row == _ROWS // 2 else ""


def _heights(record: TimeRecord, total: int, columns: int) -> list[float]:
    """Return, for each column, the time worked over the time expected of its knots."""
    worked, usual = [0.0] * columns, [0.0] * columns
    for spell in record.spells:
        at = min(columns - 1, spell.first * columns // total)
        worked[at] += spell.worked_s
        usual[at] += record.knots[spell.knot].pace_s * spell.counts
    return [spent / mean if mean else 0.0 for spent, mean in zip(worked, usual, strict=True)]


def _row(heights: Sequence[float], row: int, *, plain: bool) -> str:
    """Return one row of blocks, the uppermost being row 0."""
    under = _ROWS - 1 - row
    cells = []
    for height in heights:
        eighths = round(min(height / _TOP, 1.0) * _ROWS * 8) - under * 8
        filled = max(0, min(8, eighths))
        cells.append("#" * (filled >= 4) or " " if plain else _EIGHTHS[filled])  # noqa: PLR2004 - half a cell
    return "".join(cells).rstrip()
