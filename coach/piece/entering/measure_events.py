"""Validation of measurements before they are stored."""

from typing import Any, Final

from coach.piece.changes.repeats import CannotFollow
from coach.piece.events import (
    Happening,
    Measured,
)
from coach.piece.learning.estimates import Known
from coach.plan.board_at_count import order_at
from coach.plan.doubt.doubt import READING_SD_MM
from coach.plan.wording.strand_names import strand_label, strand_words
from coach.quantities import show_length
from coach.text import capital

Fields = dict[str, Any]
"""The fields of a happening but for when it happened."""


class Unlikely(CannotFollow):
    """A measurement that no hand or cord explains; another reading of it may fit.

    `fields` are those of the measurement as written; an `impossible` one cannot be stored.
    """

    def __init__(self, said: str, fields: Fields, *, impossible: bool = False) -> None:
        """Keep what is wrong with a measurement.

        Args:
            said: The sentence, with what is expected.
            fields: Those of the measurement as written.
            impossible: Whether it cannot be stored at all.
        """
        super().__init__(said)
        self.fields = fields
        self.impossible = impossible


LIES: Final = ("pinned", "relaxed", "loaded", "washed")


_FAR: Final = 1.8  # times what is expected: no cord or hand explains that


_WORTH_MM: Final = 60.0  # less cord or length than this may differ as it likes


def rest_event(
    known: Known, strand: int, length_mm: float, done: int
) -> tuple[type[Happening], Fields]:
    """Return the happening of a measured rest of a strand.

    Args:
        known: The piece as its measures show it so far.
        strand: The index of the strand.
        length_mm: The measured length from its last knot to its end.
        done: How many counts are made.

    Returns:
        The class of the event, and its fields.

    Raises:
        Unlikely: No hand or cord explains it.
        CannotFollow: It cannot be measured.
    """
    plan, before = known.plan, known.rests.get(strand)
    name = strand_words(plan, strand, order_at(plan, done))
    if before is None:
        raise CannotFollow(f"{capital(name)} has no cord of its own to measure.")
    used = plan.used_mm(strand, done) - plan.used_mm(strand, before.done)
    most = before.length_mm + 2 * READING_SD_MM + max(0.0, -used) * _FAR
    if length_mm <= 0:
        raise CannotFollow(
            f"What is left must be more than zero: measure {name} from the work to its end."
        )
    fields = {
        "at_done": done, "total": plan.total, "strand": strand_label(plan, strand),
        "length_mm": length_mm,
    }  # fmt: skip
    if length_mm > most:
        since = "at the start" if not before.done else f"at tie {before.done}"
        raise Unlikely(
            f"{capital(name)} hung with {show_length(before.length_mm)} {since}; it cannot have "
            f"more left. From the work to its end it can have up to that, and about "
            f"{show_length(max(0.0, before.length_mm - used))} is expected.",
            fields,
            impossible=True,
        )
    seen = before.length_mm - length_mm
    if not _near(seen, used):
        raise Unlikely(
            f"That would mean {show_length(seen)} used by {name}, and about {show_length(used)} "
            "is expected. Check that it is this strand and measure again, or say under ‘otherwise’ "
            "that strands hang in another order or a cord was joined.",
            fields,
        )
    return Measured, fields


def length_event(
    known: Known, length_mm: float, lying: str, done: int
) -> tuple[type[Happening], Fields]:
    """Return the happening of a measured length of the work.

    Args:
        known: The piece as its measures show it so far.
        length_mm: The length of the work.
        lying: How it lay, one of `LIES`.
        done: How many counts are made.

    Returns:
        The class of the event, and its fields.

    Raises:
        Unlikely: No hand or cord explains it.
        CannotFollow: It cannot be measured.
    """
    plan = known.plan
    expected = known.length(done)
    if length_mm <= 0:
        raise CannotFollow(
            "A length must be more than zero: measure from the top to the last knot."
        )
    if expected.likely_mm < 1:
        raise CannotFollow("Nothing has length yet; it can be measured after the first knots.")
    fields = {
        "at_done": done, "total": plan.total, "strand": "", "length_mm": length_mm, "lying": lying,
    }  # fmt: skip
    if not _near(length_mm, expected.likely_mm):
        raise Unlikely(
            f"About {show_length(expected.likely_mm)} is expected by now "
            f"({show_length(expected.low_mm)} to {show_length(expected.high_mm)}); "
            f"{show_length(length_mm)} cannot be this piece. Measure from the top to the last "
            "knot, or check that the count is right.",
            fields,
        )
    return Measured, fields


def _near(seen_mm: float, expected_mm: float) -> bool:
    if abs(seen_mm - expected_mm) < _WORTH_MM:
        return True
    return expected_mm / _FAR < seen_mm < expected_mm * _FAR
