"""The sentence for the next count, as one maker would say it to another across the table.

Positions are those at the start of the step, from the maker's left; mirrored work is told
mirrored, for it is read off what is really tied.
"""

from coach.knots import names
from coach.knots.catalogue import CATALOGUE
from coach.plan.board_at_count import strands_passed
from coach.plan.plan_model import Count, Plan, PlannedStep
from coach.plan.wording.bench_phrases import own_knot_words, rigid_words
from coach.plan.wording.place_words import gap_words
from coach.plan.wording.step_phrases import plain_sentence
from coach.plan.wording.strand_names import strand_words, strands_met
from coach.project import model
from coach.quantities.formatting import centimetres, length_phrase
from coach.text import an, capital, counted_words

ADMIRE = "Look at it from across the room."
FINISHED = f"Finished. {ADMIRE}"


def step_sentence(plan: Plan, done: int) -> str:
    """Return the sentence that says what to do next.

    Args:
        plan: The plan.
        done: How many counts are made; the sentence is about the one that follows.

    Returns:
        One or two sentences in the trade's words, lengths metric; `FINISHED` when all is made.
    """
    step = plan.step_at(done)
    if step is None:
        return FINISHED
    count = plan.counts[done]
    before = "Before folding: " if step.unfolded else ""
    gap = gap_words(plan, step)
    before += f"Leave {an(gap)}. " if gap else ""
    if step.role in ("row", "weave"):
        return before + _row(plan, step, done)
    if step.role in ("plain", "braid"):
        return before + plain_sentence(plan, step, done)
    if isinstance(step.source, model.RigidRow):
        return before + rigid_words(plan, step, done)
    if isinstance(step.source, model.OwnTied):
        return before + own_knot_words(step, count.knot, count.knotters)
    if step.role == "knot" and step.new_strands:
        return before + _clasp(plan, step, done)
    return before + _knot(plan, step, count)


def explained_knot(knot: str) -> str:
    """Return a knot's name with the word that explains it on a screen."""
    said = CATALOGUE[knot].said_as if knot in CATALOGUE else ""
    return f"{knot} ({said})" if said else knot


def _row(plan: Plan, step: PlannedStep, done: int) -> str:
    """Return who holds, who knots over which, which way, and who is next.

    Once the row is under way the mover has no position of its own, so it is named by its cord; the
    strands still to be crossed are where they were.
    """
    count, gone = plan.counts[done], strands_passed(step, done - step.first)
    mover, *every = step.groups[0]
    crossed = every[gone:]
    holds = count.fillers[0] == mover
    moving = strand_words(plan, mover, () if gone else step.before)
    now = strand_words(plan, count.knotters[0] if holds else count.fillers[0], step.before)
    way = f"to the {step.direction}"
    last = len(crossed) == 1
    what = _knots(count.knot, step.source.times if isinstance(step.source, model.Row) else 1)
    if step.role == "weave" and not last:
        over = f"Lay {moving} {way} over {strands_met(plan, step, crossed)}."
        if holds:
            return f"{over} Now {now} ties {an(count.knot)} onto it."
        return f"{over} Now it ties {an(explained_knot(count.knot))} round {now}."
    if holds:
        ties = f"{strands_met(plan, step, crossed)} {'ties' if last else 'each tie'} {what} onto it"
        return f"Hold {moving} {way}. {capital(ties)}{'' if last else f'; now {now}'}."
    begun = begun_words(step.source, "it" if last else "each")
    if last:
        return f"Take {moving} {way}, tying {what} round {now}{begun}."
    every_one = f"each of {strands_met(plan, step, crossed)}"
    return f"Take {moving} {way}, tying {what} round {every_one}{begun}; now round {now}."


def begun_words(step: model.Step, met: str) -> str:
    """Return which way the knotter of a row goes first round what is `met`, if the file says so."""
    first = step.first if isinstance(step, model.Row) else ""
    return f", going {first} {met} first" if first else ""


def _knots(knot: str, times: int) -> str:
    """Return how many of a knot each strand ties: `a clove hitch`, `two clove hitches`."""
    return an(explained_knot(knot)) if times == 1 else counted_words(times, knot)


def _knot(plan: Plan, step: PlannedStep, count: Count) -> str:
    if isinstance(step.source, model.Gathering):
        return _gathering(plan, step, count)
    if isinstance(step.source, model.AroundKnot):
        return _around(plan, step, count)
    if count.knot in names.FLAT_KNOTS or count.knot == names.BERRY:
        return _flat(plan, step, count)
    if count.knot == names.CHAIN:
        pair = (count.knotters[0], count.fillers[0])
        knotter, other = (strand_words(plan, strand, step.before) for strand in pair)
        return f"Half hitch chain: {knotter} hitches round {other}."
    if count.knot == names.JOSEPHINE:
        return _josephine(plan, step, count)
    bundle = strands_met(plan, step, count.knotters)
    how = f"with {bundle} together" if len(count.knotters) > 1 else f"in {bundle}"
    return f"Tie {an(count.knot)} {how}."


def _clasp(plan: Plan, step: PlannedStep, done: int) -> str:
    """Return what the separate length of cord ties; it is new only at its first knot."""
    count = plan.counts[done]
    begun = any(before.knotters == count.knotters for before in plan.counts[:done])
    which = "the same" if begun else "a new"
    cord = plan.strands[count.knotters[0]].cord
    inside = strands_met(plan, step, count.fillers)
    return f"With {which} length of {cord}, tie {an(count.knot)} round {inside}."


def _josephine(plan: Plan, step: PlannedStep, count: Count) -> str:
    half = len(count.knotters) // 2
    left, right = (
        strands_met(plan, step, side) for side in (count.knotters[:half], count.knotters[half:])
    )
    size = step.source.size_mm if isinstance(step.source, model.GroupKnot) else 0.0
    what = f"an open josephine knot {centimetres(size)} high" if size else "a josephine knot"
    return f"Tie {what}: {left} {'interlaces' if half == 1 else 'interlace'} with {right}."


def _flat(plan: Plan, step: PlannedStep, count: Count) -> str:
    """Return which strands knot round which, and who begins."""
    group = next(group for group in step.groups if count.knotters[0] in group)
    places = list(step.before)
    # Half knots exchange their knotters: what stands at each side now need not have begun there.
    for strand, end in zip(count.knotters, (group[0], group[-1]), strict=True):
        places[step.before.index(end)] = strand
    left, right = count.knotters
    around = f" round {strands_met(plan, step, count.fillers)}" if count.fillers else ""
    first, second = (right, left) if count.knot.startswith("reverse") else (left, right)
    first_words, second_words = (strand_words(plan, s, places) for s in (first, second))
    if count.knot in (names.HALF_KNOT, names.REVERSE_HALF_KNOT):
        return f"{count.knot.capitalize()}{around}: {first_words} goes over, {second_words} under."
    if count.knot == names.BERRY and isinstance(step.source, model.GroupKnot):
        squares = step.source.squares
        return (
            f"Berry knot{around}: tie {counted_words(squares, 'square knot')} with "
            f"{first_words} and {second_words}, roll them up and lock them with one more."
        )
    return f"{count.knot.capitalize()}{around}: {first_words} goes over first, then {second_words}."


def _around(plan: Plan, step: PlannedStep, count: Count) -> str:
    knotter = strand_words(plan, count.knotters[0], step.before)
    turns = f" of {counted_words(count.passes, 'turn')}" if count.knot == names.BARREL else ""
    if not count.fillers:
        return f"Tie {an(count.knot)}{turns} in {knotter}."
    inside = strands_met(plan, step, count.fillers)
    return capital(f"{knotter} ties {an(explained_knot(count.knot))}{turns} round {inside}.")


def _gathering(plan: Plan, step: PlannedStep, count: Count) -> str:
    cord = plan.strands[count.knotters[0]].cord
    source = step.source
    what = length_phrase(source.length_mm) if isinstance(source, model.Gathering) else "a"
    fillers = strands_met(plan, step, count.fillers)
    return (
        f"Tie {what} gathering knot round {fillers} with a length of {cord}. "
        "Put the strands back in order below it."
    )
