"""Printed sentences for steps, counted from the left as in the file.

Unlike the sentence on the bench, which tells one tie as it is really made, this describes the
whole step unmirrored; the repeats around it say when left and right change places.
"""

from collections import Counter
from typing import Final

from coach.knots import names
from coach.plan.compile.knot_lines import first_inset
from coach.plan.plan_model import Direction
from coach.plan.wording.sentences import begun_words
from coach.plan.wording.step_phrases import (
    ALL_ENDS,
    TURN_OVER,
    adding_words,
    crossing_words,
    plait_words,
    trim_words,
)
from coach.plan.wording.strand_names import strands_at
from coach.project import model
from coach.project.step_basics import Openness
from coach.quantities import show_time
from coach.quantities.formatting import centimetres, length_phrase
from coach.text import capital, counted_words, join_words, number_in_words, plural
from coach.words.phrases import (
    each_of,
    group_list,
    knot_phrase,
    on_each,
    strand_list,
    told_at_bench,
)

_LEFT_OPEN: Final[dict[Openness, str]] = {
    ("times", "about"): "About as many; stop where it looks right.",
    ("times", "more"): "More if you like.",
    ("turns", "about"): "About as many turns.",
    ("turns", "more"): "More turns if you like.",
    ("length", "about"): "About that long.",
    ("length", "more"): "Longer if you like.",
}


def step_instruction(
    step: model.Step,
    direction: Direction = "",
    cord: str = "",
    *,
    closed: bool = False,
    new: int = 0,
    strands: int = 0,
) -> str:
    """Return a step in a sentence or two, and what it leaves to the maker.

    Args:
        step: The step as its file has it.
        direction: The way that a row goes.
        cord: The cord of a row's travelling strand if it is always the same, else "".
        closed: Whether a net goes round the work.
        new: How many strands join the work; 0 for two of each piece.
        strands: How many hang where it is worked; 0 for as few as it names.
    """
    said = _told(step, direction, cord, closed=closed, new=new, strands=strands)
    return " ".join((said, *(_LEFT_OPEN[one] for one in step.about.open_to if one in _LEFT_OPEN)))


def _told(  # noqa: C901, PLR0911, PLR0912 - one short case for each kind of step
    step: model.Step,
    direction: Direction = "",
    cord: str = "",
    *,
    closed: bool = False,
    new: int = 0,
    strands: int = 0,
) -> str:
    match step:
        case model.Row():
            return _weave(step, direction, cord) if step.weave else _row(step, direction, cord)
        case model.GroupKnot():
            return _group_knot(step)
        case model.AroundKnot():
            return _around(step)
        case model.Gathering():
            return (
                f"Tie {length_phrase(step.length_mm)} gathering knot round "
                f"{strand_list(step.around)} with a length of {step.wrap}. "
                "Put the strands back in order below it."
            )
        case model.Net():
            return _net(step, strands, closed=closed)
        case model.Braid():
            bundles = [sorted(member.items) for member in step.bundles.members]
            return plait_words(bundles, step.length_mm, step.crossings)
        case model.Turn():
            return _turn(step)
        case model.Cross():
            return _cross(step)
        case model.Space():
            where = "all strands" if step.groups is None else group_list(step.groups)
            return f"Leave {length_phrase(step.length_mm)} gap on {where}."
        case model.Picot():
            on = each_of(step.strands, "the strands")
            return f"Leave a loop of {centimetres(step.loop_mm)} of cord on {on}."
        case model.Bead():
            return f"Thread {strand_list(step.strands)} through {length_phrase(step.size_mm)} bead."
        case model.Add():
            return _add(step, new)
        case _:
            return _unknotted(step)


def _unknotted(step: model.Step) -> str:  # noqa: PLR0911 - one short case for each kind of step
    match step:
        case model.LayAside():
            return f"Lay {strand_list(step.strands)} aside; the others close up."
        case model.TakeUp():
            named = join_words(list(step.strands))
            return f"Pick up {named} again, beginning at {strand_list(step.at)}."
        case model.Flip():
            return TURN_OVER
        case model.Seam():
            return f"From here, count from {strand_list(step.at)} as strand 1."
        case model.Do():
            return step.text
        case model.Measure():
            hoped = f"; it should be about {centimetres(step.expect_mm)}" if step.expect_mm else ""
            return f"Measure the {step.what}{hoped}."
        case model.Wait():
            return f"Wait {show_time(step.time_s)}."
        case model.Trim():
            return trim_words(step, strand_list(step.strands, ALL_ENDS))
        case _:
            return told_at_bench(step) or capital(f"{step.about.name or 'carry on'}.")


def _mover(step: model.Row, cord: str) -> str:
    return f"{strand_list(step.mover)} ({cord})" if cord else strand_list(step.mover)


def _row(step: model.Row, direction: Direction, cord: str) -> str:
    (knot,) = step.knots
    what, over, mover = knot_phrase(knot, step.times), each_of(step.across), _mover(step, cord)
    slope = f" at {step.slope_deg:g}°" if step.slope_deg is not None else ""
    if step.mover_holds:
        way = {"slant": "slanting down", "level": "laid level"}.get(step.lie or "", "held out")
        held = f"With {mover} {way} to the {direction}{slope} as holder"
        return f"{held}, tie {what} with {over}."
    lie = {"slant": ", slanting down", "level": ", level"}.get(step.lie or "", "") + slope
    lie += "," if step.lie else ""
    one = not step.across.everything and len(step.across.items) == 1
    begun = begun_words(step, "it" if one else "each")
    return f"Take {mover} to the {direction}{lie} and tie {what} with it round {over}{begun}."


def repeats_row(step: model.Row, cord: str) -> str:
    """Return a row that is worked like the one before it on other strands."""
    over, mover = each_of(step.across), _mover(step, cord)
    if step.mover_holds:
        return f"Do the same with {mover} as holder and {over}."
    return f"Do the same with {mover} round {over}."


def _weave(step: model.Row, direction: Direction, cord: str) -> str:
    runs: list[tuple[str, int]] = []
    for knot in step.knots:
        if runs and runs[-1][0] == knot:
            runs[-1] = (knot, runs[-1][1] + 1)
        else:
            runs.append((knot, 1))
    tied = [
        f"{counted_words(number, knot)} {'with' if knot.startswith('reverse') else 'onto'} it"
        for knot, number in runs
    ]
    over = strand_list(step.across, "the other strands")
    return f"Weave {_mover(step, cord)} to the {direction} across {over}: {', then '.join(tied)}."


def _group_knot(step: model.GroupKnot) -> str:
    if step.clasp:
        each = " each" if len(step.groups.members) > 1 else ""
        return (
            f"With a new length of {step.clasp}{each}, tie {knot_phrase(step.knot, step.times)} "
            f"{on_each(step.groups, 'round')}."
        )
    if step.knot == names.CHAIN:
        chain = f"a half hitch chain of {counted_words(step.times, 'hitch')}"
        return f"Tie {chain} {on_each(step.groups, 'with')}, left-hand strand first."
    what = knot_phrase(step.knot, step.times)
    if step.squares:
        what += f" of {counted_words(step.squares, 'square knot')}"
    if step.size_mm:
        what += f" {centimetres(step.size_mm)} high, left open,"
    return (
        f"Tie {what} {on_each(step.groups, 'with' if step.knot in names.BUNDLE_KNOTS else 'on')}."
    )


def _around(step: model.AroundKnot) -> str:
    what = knot_phrase(step.knot, step.times)
    if step.turns:
        what += f" of {counted_words(step.turns, 'turn')}"
    if step.among:
        named = strand_list(step.among, "all strands")
        return f"With the longest of {named}, tie {what} round the others."
    if not step.around:
        return f"Tie {what} in {strand_list(step.knotter)}."
    return f"With {strand_list(step.knotter)}, tie {what} round {strand_list(step.around)}."


def _net(step: model.Net, strands: int, *, closed: bool) -> str:
    """Return a net's rows, and where the offset ones end: at free strands, or over the seam."""
    members = step.groups.members
    size = len(members[0].items)
    half = size // 2
    inset = half * first_inset(step, strands)
    first, last = members[0].items[0] + inset, members[-1].items[-1] - inset
    around = last - first + 1
    what, each = plural(step.of), f"in groups of {number_in_words(size)}"
    if step.rows == 1:
        return f"Tie a row of {what} on strands {first} to {last} {each}."
    row = "round" if closed else "row"
    gap = f", leaving {centimetres(step.gap_mm)} between {row}s" if step.gap_mm else ""
    net = (
        f"Net strands {first} to {last} with {counted_words(step.rows, row)} of {what} {each}{gap}."
    )
    off = counted_words(half, "strand")
    if step.sides != "even":
        way = {"narrow": "in", "widen": "out"}[step.sides]
        return f"{net} Start and end each {row} {off} further {way} than the one above."
    seam = [(at - 1) % around + 1 for at in range(last - half + 1, last + half + 1)]
    ends = (
        f"the last knot of each offset round takes {strands_at(seam)}"
        if closed
        else "strands left over at the sides hang free"
    )
    return f"{net} Offset alternate {row}s by {off}; {ends}."


def _turn(step: model.Turn) -> str:
    if step.around is None:
        return f"Turn {strand_list(step.holder)} back round a pin."
    return f"Turn {strand_list(step.holder)} over {strand_list(step.around)} and back under it."


def _cross(step: model.Cross) -> str:
    order = step.order.items
    if list(order) == sorted(order):
        return "Leave the strands in order."
    return crossing_words(sorted(order), order)


def _add(step: model.Add, new: int) -> str:
    pieces = Counter(piece.cord for piece in step.pieces)
    first = step.at.items[0]
    at = range(first, first + (new or 2 * len(step.pieces)))
    return adding_words(pieces, at, strand_list(step.onto) if step.onto else "", step.by)
