"""Fitting a piece to a body: which measure goes with which kind, ease, printed sizes."""

from dataclasses import dataclass
from typing import Final

from coach.plan.resize.refit import CannotRefit
from coach.project.model import Project


@dataclass(frozen=True, slots=True)
class Body:
    """A measure of the body: the kinds of piece that go round it and their ease.

    Eases are common practice, no source.
    """

    name: str
    kinds: tuple[str, ...]
    ease_mm: float
    worn: str


BODIES: Final = (
    Body("wrist", ("bracelet",), 15.0, "lies close and still turns"),
    Body("ankle", ("bracelet",), 20.0, "lies close and still turns"),
    Body("neck", ("necklace",), 60.0, "lies on the collar bones"),
    Body("waist", ("belt",), 150.0, "leaves an end to pass through the buckle"),
    Body("head", ("other",), 0.0, "sits without pressing"),
)


@dataclass(frozen=True, slots=True)
class PrintedSize:
    """A printed mean in mm with, where printed, its deviation and its 5th to 95th percentile."""

    measure: str
    people: str
    mean_mm: float
    sd_mm: float | None = None
    span_mm: tuple[int, int] | None = None


PRINTED: Final = (
    PrintedSize("wrist", "women", 154.8, 7.8, (142, 168)),
    PrintedSize("wrist", "men", 175.9, 9.0, (162, 191)),
    PrintedSize("ankle", "women", 215.7),
    PrintedSize("ankle", "men", 229.3),
    PrintedSize("neck", "women", 329.8),
    PrintedSize("neck", "men", 397.7),
    PrintedSize("head", "women", 561.1),
    PrintedSize("head", "men", 574.4),
)
"""Girths worked out from the public data of ANSUR II (NATICK/TR-15/007, 2014)."""

LIMITS: Final = (
    "From ANSUR II (NATICK/TR-15/007, 2014): adults in service, measured on the skin, no ease. "
    "Children, elders and many others differ: measure whoever will wear it."
)


def body(name: str) -> Body:
    """Return a body measure by its name. Raises KeyError."""
    return next(found for found in BODIES if found.name == name)


def finished_mm(project: Project, measure: Body, girth_mm: float, ease_mm: float) -> float:
    """Return the finished length that goes round a girth, the end that closes it included.

    Args:
        project: The project, whose kind says what goes round what.
        measure: The measure of the body.
        girth_mm: The girth.
        ease_mm: What is added for ease.

    Raises:
        CannotRefit: The project's kind has no such measure, or the girth is nothing.
    """
    if girth_mm <= 0:
        raise CannotRefit(f"A {measure.name} has a girth; give it as in --{measure.name} '16 cm'.")
    if project.kind not in measure.kinds and project.kind != "other":
        kinds = " or ".join(measure.kinds)
        raise CannotRefit(
            f"A {project.kind} is not made to a {measure.name}; a {kinds} is. "
            "Ask for a length instead, with --length."
        )
    closing = project.size.closing_mm if project.size else 0.0
    return girth_mm + ease_mm + closing
