"""A step and the tie at hand in words, as one maker would tell another across the table.

Positions are those at the start of the step, from the maker's left; mirrored work is told
mirrored, for it is read off what is really tied.
"""

from coach.knots import names
from coach.knots.catalogue import CATALOGUE
from coach.plan.plan_model import Count, Plan, PlannedStep
from coach.plan.standing import passed
from coach.plan.wording.bench_phrases import own_knot_words, rigid_words
from coach.plan.wording.lengths import centimetres
from coach.plan.wording.step_phrases import gap_words, plain_sentence
from coach.plan.wording.strand_names import positions_of, span_words, strand_words
from coach.project import model
from coach.text import capital

FINISHED = "All is tied. Trim the ends, and look at it from across the room."


def sentence(plan: Plan, done: int) -> str:
    """Return one sentence for the count about to be made."""
    step = plan.step_at(done)
    if step is None:
        return FINISHED
    count = plan.counts[done]
    before = "Before folding: " if step.unfolded else ""
    gap = gap_words(plan, step)
    before += f"Leave a {gap}. " if gap else ""
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


def spoken(knot: str) -> str:
    """Return a knot's name with the word that explains it on a screen."""
    said = CATALOGUE[knot].said_as if knot in CATALOGUE else ""
    return f"{knot} ({said})" if said else knot


def _a(name: str) -> str:
    return f"an {name}" if name[0] in "aeiou" else f"a {name}"


def _row(plan: Plan, step: PlannedStep, done: int) -> str:
    """Say who holds, who knots over which, which way, and who is next.

    Once the row is under way the mover stands at no place of its own, so it is told by its cord;
    the strands still to be crossed stand where they did.
    """
    count, gone = plan.counts[done], passed(step, done - step.first)
    mover, *every = step.groups[0]
    crossed = every[gone:]
    moving = strand_words(plan, mover, () if gone else step.before)
    over = span_words(positions_of(step, crossed))
    at_hand = count.knotters[0] if count.fillers[0] == mover else count.fillers[0]
    now = strand_words(plan, at_hand, step.before)
    way = f"to the {step.direction}"
    twice = _times(step.source.times) if isinstance(step.source, model.Row) else ""
    if step.role == "weave":
        if count.fillers[0] == mover:
            return f"Lay {moving} {way} over {over}. Now {now} ties {_a(count.knot)} onto it."
        return f"Lay {moving} {way} over {over}. Now it ties {_a(spoken(count.knot))} round {now}."
    if count.fillers[0] == mover:
        each = "each tie" if len(crossed) > 1 else "ties"
        return f"Hold {moving} {way}. {over} {each} {_a(count.knot)}{twice} onto it; now {now}."
    what = f"{_a(spoken(count.knot))}{twice}{_begun(step)}"
    return f"Take {moving} {way}. It ties {what} round {over}; now {now}."


def _begun(step: PlannedStep) -> str:
    """Say which way the knotter of a row goes first, where the file says so."""
    first = step.source.first if isinstance(step.source, model.Row) else ""
    return f", begun {first} it," if first else ""


def _times(times: int) -> str:
    return "" if times == 1 else f" {times} times"


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
        return f"Hitch in turn: now {knotter} ties a half hitch round {other}."
    if count.knot == names.JOSEPHINE:
        return _josephine(step, count)
    bundle = span_words(positions_of(step, count.knotters))
    as_one = f"with {bundle} as one" if len(count.knotters) > 1 else f"in {bundle}"
    return f"Tie {_a(count.knot)} {as_one}."


def _clasp(plan: Plan, step: PlannedStep, done: int) -> str:
    """Say what the separate piece ties; it is new only at its first knot."""
    count = plan.counts[done]
    begun = done > step.first and plan.counts[done - 1].knotters == count.knotters
    piece = "the same" if begun else "a new"
    cord = plan.strands[count.knotters[0]].cord
    inside = span_words(positions_of(step, count.fillers))
    return f"With {piece} piece of {cord}, tie {_a(count.knot)} round {inside}."


def _josephine(step: PlannedStep, count: Count) -> str:
    places = positions_of(step, count.knotters)
    half = len(places) // 2
    left, right = span_words(places[:half]), span_words(places[half:])
    verb = "interlaces" if half == 1 else "interlace"
    size = step.source.size_mm if isinstance(step.source, model.GroupKnot) else 0.0
    laid = f", open, {centimetres(size)} high" if size else ""
    return f"Tie a josephine knot{laid}: {left} {verb} with {right}."


def _flat(plan: Plan, step: PlannedStep, count: Count) -> str:
    """Say which strands knot round which, and who begins."""
    group = next(group for group in step.groups if count.knotters[0] in group)
    places = list(step.before)
    # Half knots exchange their knotters: what stands at each side now need not have begun there.
    for strand, end in zip(count.knotters, (group[0], group[-1]), strict=True):
        places[step.before.index(end)] = strand
    left, right = count.knotters
    inner = span_words(positions_of(step, count.fillers))
    around = f" round {inner}" if count.fillers else ""
    first, second = (right, left) if count.knot.startswith("reverse") else (left, right)
    first_words, second_words = (strand_words(plan, s, places) for s in (first, second))
    if count.knot in (names.HALF_KNOT, names.REVERSE_HALF_KNOT):
        return f"{count.knot.capitalize()}{around}: {first_words} goes over, {second_words} under."
    if count.knot == names.BERRY and isinstance(step.source, model.GroupKnot):
        squares = step.source.squares
        return (
            f"Berry knot{around}: {squares} square knots with {first_words} and {second_words}, "
            "brought up and locked with one more."
        )
    return f"{count.knot.capitalize()}{around}: {first_words} first over, then {second_words}."


def _around(plan: Plan, step: PlannedStep, count: Count) -> str:
    knotter = strand_words(plan, count.knotters[0], step.before)
    if not count.fillers:
        return capital(f"{knotter} ties {_a(count.knot)} of {count.passes} turns on itself.")
    inside = span_words(positions_of(step, count.fillers))
    turns = f" of {count.passes} turns" if count.knot == names.BARREL else ""
    return capital(f"{knotter} ties {_a(spoken(count.knot))}{turns} round {inside}.")


def _gathering(plan: Plan, step: PlannedStep, count: Count) -> str:
    cord = plan.strands[count.knotters[0]].cord
    source = step.source
    long = f" over {centimetres(source.length_mm)}" if isinstance(source, model.Gathering) else ""
    inside = span_words(positions_of(step, count.fillers))
    return (
        f"Wrap a new piece of {cord} round {inside}{long}: a gathering knot. "
        "Sort the strands out again below it."
    )
