"""Questions about a surprising measurement: what was expected, likely reasons, the keys."""

from collections.abc import Callable, Sequence
from dataclasses import asdict, dataclass
from typing import Any, Final

from coach.piece.entering.measure_doubts import MeasureDoubt, Reason, doubt_measure
from coach.piece.entering.measure_events import Fields, Unlikely
from coach.piece.events import Measured
from coach.piece.learning.estimates import Known
from coach.plan.plan_model import Plan
from coach.plan.wording.strand_names import strand_words
from coach.quantities import show_length
from coach.text import capital

KEEP: Final = "k"
"""The key that keeps a measure as it was written."""
_MOST: Final = 4  # reasons that are offered
_FIELDS: Final = ("at_done", "total", "strand", "length_mm", "lying", "doubt")


@dataclass(frozen=True, slots=True)
class Answer:
    """One answer to a question: its key, its words, and what stores it.

    `take` returns the sentence that reports the result; it may raise PieceError.
    """

    key: str
    label: str
    take: Callable[[], str]


@dataclass(frozen=True, slots=True)
class MeasureQuestion:
    """A measurement not stored yet: why it is questioned, and the answers."""

    said: str
    answers: tuple[Answer, ...]

    def answer(self, key: str) -> Answer | None:
        """Return the answer of a key, None where it has none."""
        return next((answer for answer in self.answers if answer.key == key), None)


def measure_question(
    known: Known,
    fields: Fields,
    order: Sequence[int],
    put_down: Callable[[Fields], object],
    refusal: Unlikely | None = None,
) -> MeasureQuestion | None:
    """Return what to ask about a measurement, None if it can be believed or is impossible.

    Args:
        known: What is known of the piece.
        fields: The measurement as written.
        order: The strands from the left.
        put_down: Store a measurement with its fields.
        refusal: Why it is beyond all hands and cords, if it is.
    """
    seen = Measured(at_ms=0, tick_ms=0, sitting=0, **fields)
    found = doubt_measure(known, seen)
    if found is None or (refusal and not found.reasons):
        return None
    plan = known.plan

    def answer(key: str, label: str, measure: Measured, told: str) -> Answer:
        def take() -> str:
            put_down(_fields(measure))
            return told

        return Answer(key, label, take)

    answers = [
        answer(str(number), _may_be(reason, seen, plan, order), reason.measure,
               f"{_told(reason.measure, plan, order)}.")
        for number, reason in enumerate(found.reasons[:_MOST], start=1)
    ]  # fmt: skip
    if not (refusal and refusal.impossible):
        kept = _doubted(seen, found)
        told = f"{_told(seen, plan, order)}, kept as measured; it counts for little."
        answers.append(answer(KEEP, "it is as measured: keep it", kept, told))
    return MeasureQuestion(_surprise(seen, found, plan, order), tuple(answers))


def _doubted(seen: Measured, found: MeasureDoubt) -> Measured:
    return Measured(**{**asdict(seen), "doubt": found.doubt})


def _fields(measure: Measured) -> dict[str, Any]:
    return {name: getattr(measure, name) for name in _FIELDS}


def _surprise(seen: Measured, found: MeasureDoubt, plan: Plan, order: Sequence[int]) -> str:
    low, high = (show_length(mm) for mm in (found.expected.low_mm, found.expected.high_mm))
    span = low if low == high else f"{low} to {high}"
    return f"{_told(seen, plan, order)} is a surprise: {span} is expected. What was it?"


def _told(seen: Measured, plan: Plan, order: Sequence[int]) -> str:
    """Return what was measured: `Strand 3 (reed): 42 cm left`, `18 cm long, pinned`."""
    length = show_length(seen.length_mm)
    if not seen.strand:
        return f"{length} long, {seen.lying}" if seen.lying else f"{length} long"
    return f"{capital(_strand(seen, plan, order))}: {length} left"


def _strand(seen: Measured, plan: Plan, order: Sequence[int]) -> str:
    strand = next(n for n, one in enumerate(plan.strands) if one.id == seen.strand)
    return strand_words(plan, strand, order)


def _may_be(reason: Reason, seen: Measured, plan: Plan, order: Sequence[int]) -> str:
    """Return a possible mistake in words, and the right measurement then."""
    length = show_length(reason.measure.length_mm)
    match reason.why:
        case "inches":
            return f"it was read in inches: {length}"
        case "centimetres":
            return f"it was read in centimetres: {length}"
        case "a tenth" | "ten times":
            return f"the decimal point slipped: {length}"
        case "a rest":
            return f"it is what {_strand(reason.measure, plan, order)} has left"
        case "the work in it":
            return f"the work above was measured along: {length} without it"
        case "loaded":
            return f"the work hung under load: {show_length(seen.length_mm)}, loaded"
