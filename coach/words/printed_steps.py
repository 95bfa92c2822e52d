"""One step as it is printed: what its writer asked for, counted from the left as in the file.

Unlike the sentence on the bench, which tells one tie as it is really made, this tells the whole
step unmirrored; the repeats around it say when left and right change places.
"""

from coach.knots import names
from coach.knots.geometry import LOOPED, PINNED
from coach.plan.measure.mounting import LAID_IN
from coach.plan.plan_model import Direction
from coach.plan.wording.lengths import centimetres
from coach.plan.wording.strand_names import span_words
from coach.project import model
from coach.quantities import show_time
from coach.text import counted, listed, plural
from coach.words.bench_told import told_at_bench
from coach.words.phrases import figure, group_list, places, spoken, times_over


def told(  # noqa: C901, PLR0911 - one short case for each kind of step
    step: model.Step, direction: Direction = "", cord: str = "", *, closed: bool = False
) -> str:
    """Return a step in a sentence or two.

    `direction` is the way that a row goes and `cord` what its travelling strand is of, where that
    is the same each time ("" where it is not, or not known). A `closed` net goes round the work.
    """
    match step:
        case model.Row():
            return _weave(step, direction, cord) if step.weave else _row(step, direction, cord)
        case model.GroupKnot():
            return _group_knot(step)
        case model.AroundKnot():
            return _around(step)
        case model.Gathering():
            return (
                f"Wrap a piece of {step.wrap} round {places(step.around)} over "
                f"{centimetres(step.length_mm)}: a gathering knot. Sort the strands out again "
                "below it."
            )
        case model.Net():
            return _net(step, closed=closed)
        case model.Braid():
            return _braid(step)
        case model.Turn():
            return _turn(step)
        case model.Cross():
            return _cross(step)
        case model.Space():
            where = "all" if step.groups is None else group_list(step.groups)
            return f"Leave {centimetres(step.length_mm)} unknotted on {where}."
        case model.Picot():
            loop = centimetres(step.loop_mm)
            return f"Leave a loop of {loop} standing out on {places(step.strands)}."
        case model.Bead():
            return f"Thread {places(step.strands)} through a bead of {centimetres(step.size_mm)}."
        case _:
            return _unknotted(step)


def _unknotted(step: model.Step) -> str:  # noqa: PLR0911 - one short case for each kind of step
    match step:
        case model.Add():
            return _add(step)
        case model.LayAside():
            return f"Lay aside {places(step.strands)}; the others close up."
        case model.TakeUp():
            return (
                f"Take up {listed(list(step.strands))} again, to stand from {places(step.at)} on."
            )
        case model.Flip():
            return "Turn the whole work over; what was right is left now."
        case model.Seam():
            return f"From here on count from the strand at {places(step.at)}, which is now 1."
        case model.Do():
            return step.text
        case model.Measure():
            hoped = f"; it should be about {centimetres(step.expect_mm)}" if step.expect_mm else ""
            return f"Measure the {step.what}{hoped}."
        case model.Wait():
            return f"Wait {show_time(step.time_s)}."
        case model.Trim():
            return _trim(step)
        case _:
            return told_at_bench(step) or step.about.name or "Go on."


def _mover(step: model.Row, cord: str) -> str:
    return f"{places(step.mover)} ({cord})" if cord else places(step.mover)


def _row(step: model.Row, direction: Direction, cord: str) -> str:
    (knot,) = step.knots
    over = places(step.across, "all the others")
    several = step.across.everything or len(step.across.items) > 1
    twice = f", {times_over(step.times)} each" if step.times > 1 else ""
    lie = f", lying {'level' if step.lie == 'level' else 'aslant'}" if step.lie else ""
    slope = f" at {step.slope_deg:g}°" if step.slope_deg is not None else ""
    if step.mover_holds:
        ties = f"{over} {'each tie' if several else 'ties'} {spoken(knot)} onto it{twice}"
        return f"Hold {_mover(step, cord)} to the {direction}{lie}{slope}: {ties}."
    begun = f", begun {step.first} it," if step.first else ""
    ties = f"it ties {spoken(knot)}{begun} round {'each of ' if several else ''}{over}{twice}"
    return f"Take {_mover(step, cord)} to the {direction}{lie}{slope}: {ties}."


def _weave(step: model.Row, direction: Direction, cord: str) -> str:
    runs: list[tuple[str, int]] = []
    for knot in step.knots:
        if runs and runs[-1][0] == knot:
            runs[-1] = (knot, runs[-1][1] + 1)
        else:
            runs.append((knot, 1))
    what = listed([counted(number, knot) for knot, number in runs])
    return (
        f"Weave with {_mover(step, cord)} to the {direction} over {places(step.across)}: {what}; "
        "clove hitches are tied onto it, reverse ones by it."
    )


def _group_knot(step: model.GroupKnot) -> str:
    on, several = group_list(step.groups), len(step.groups.members) > 1
    each = "each of " if several else ""
    if step.clasp:
        piece = f"With a new piece of {step.clasp}{' each' if several else ''}"
        return f"{piece}, tie {spoken(step.knot, step.times)} round {each}{on}."
    if step.knot == names.CHAIN:
        chain = f"a half hitch chain of {step.times} hitches"
        return f"Tie {chain} with {each}{on}, the left strand first."
    what = spoken(step.knot, step.times)
    if step.squares:
        what += f" of {figure(step.squares)} square knots"
    if step.size_mm:
        what += f" {centimetres(step.size_mm)} high, left open,"
    return f"Tie {what} {'with' if step.knot in names.BUNDLE_KNOTS else 'on'} {each}{on}."


def _around(step: model.AroundKnot) -> str:
    what = spoken(step.knot, step.times)
    if step.turns:
        what += f" of {step.turns} turns"
    round_what = f"round {places(step.around)}" if step.around else "on itself"
    return f"{places(step.knotter)} ties {what} {round_what}."


def _net(step: model.Net, *, closed: bool) -> str:
    """Tell a net's rows, and where the set-off ones end: at free strands, or over the seam."""
    members = step.groups.members
    first, last, size = members[0].items[0], members[-1].items[-1], len(members[0].items)
    half, around = size // 2, last - first + 1
    seam = [(at - 1) % around + 1 for at in range(last - half + 1, last + half + 1)]
    ends = {
        "even": "and the strands left over at the sides hang free in those",
        "narrow": "and each row is half a group narrower at both sides",
        "widen": "and each row is half a group wider at both sides",
    }[step.sides]
    row, ends = ("round", f"its last knot on {span_words(seam)}") if closed else ("row", ends)
    gap = f", {centimetres(step.gap_mm)} between {row}s" if step.gap_mm else ""
    what = plural(step.of)
    if step.rows == 1:
        return f"Tie a row of {what} on {first} to {last} in groups of {size}."
    return (
        f"Net {first} to {last}: {step.rows} {row}s of {what} in groups of {size}{gap}; every "
        f"second {row} is set off by {half}, {ends}."
    )


def _braid(step: model.Braid) -> str:
    bundles = listed([_bundle(member) for member in step.bundles.members])
    if step.length_mm is not None:
        how = f"for {centimetres(step.length_mm)}, in whole turns of six crossings"
    else:
        how = f"with {step.crossings} crossings"
    return f"Plait {bundles} {how}, the outer right one first into the middle."


def _bundle(member: model.Positions) -> str:
    """Return a bundle so that it reads as one in a list: `2-3`."""
    items = sorted(member.items)
    return f"{items[0]}-{items[-1]}" if len(items) > 1 else f"{items[0]}"


def _turn(step: model.Turn) -> str:
    if step.around is None:
        return f"Turn {places(step.holder)} round a pin, to go back the other way."
    return f"Turn {places(step.holder)} over {places(step.around)} and back under it."


def _cross(step: model.Cross) -> str:
    order = ", ".join(str(item) for item in step.order.items) or "as before"
    return f"Let the strands change places with no knot: from the left now {order}."


def _add(step: model.Add) -> str:
    runs: dict[str, int] = {}
    for piece in step.pieces:
        runs[piece.cord] = runs.get(piece.cord, 0) + 1
    what = listed([f"{count} {cord}" if count > 1 else f"a {cord}" for cord, count in runs.items()])
    if step.onto is None or step.by == LAID_IN:
        return f"Lay in {what}, to stand from {places(step.at)} on."
    by = step.by if step.by in (LOOPED, PINNED) else f"by a {step.by or names.LARKS_HEAD}"
    return f"Hang {what} onto {places(step.onto)}, {by}, to stand from {places(step.at)} on."


def _trim(step: model.Trim) -> str:
    if step.middle_mm is None:
        return f"Cut {places(step.strands)} off {centimetres(step.leave_mm)} below the last knot."
    return (
        f"Cut {places(step.strands)} in a straight line from {centimetres(step.leave_mm)} at the "
        f"sides to {centimetres(step.middle_mm)} in the middle."
    )
