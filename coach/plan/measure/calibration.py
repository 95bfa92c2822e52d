"""Calibration by the maker's own measurements, which replace the model for what they cover."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import groupby, islice
from types import MappingProxyType
from typing import Final, TypeAlias

from coach.plan.measure.ledger import Cordwork
from coach.plan.steps import Ledger, PlannedStep, StepList
from coach.plan.tension import NOMINAL, Hands, usual_hands
from coach.project.model import MeasuredPart, Project, Swatch

MOST_HELD: Final = 1000
"""Repeats of a part that are held against its measures: more of them would tell nothing new."""
_NOTHING: Mapping[str, float] = {}
Repeats: TypeAlias = list[list[PlannedStep]]


@dataclass(frozen=True, slots=True)
class PartFactors:
    """The factors for a part's modelled length and for its cord, by cord."""

    length: float = 1.0
    cords: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))


@dataclass(frozen=True, slots=True)
class Calibration:
    """Factors from swatches, by knot and cord, and from measured parts, by name.

    `usual` are the hands in which the model's figures for a swatch are computed.
    """

    swatches: Mapping[tuple[str, str], Swatch] = field(default_factory=lambda: MappingProxyType({}))
    parts: Mapping[str, PartFactors] = field(default_factory=lambda: MappingProxyType({}))
    usual: Hands = NOMINAL

    def swatch(self, knot: str, cord: str, use_mm: float, along_mm: float) -> tuple[float, float]:
        """Return the factors for the cord and the extents of one tie.

        Args:
            knot: The knot's first name.
            cord: The cord's name.
            use_mm: The cord that one tie takes by the model.
            along_mm: Its length by the model.

        Returns:
            Measured over modelled, of cord and of extents; 1 where nothing was measured.
        """
        found = self.swatches.get((knot, cord))
        if not found:
            return 1.0, 1.0
        use = found.uses_mm / found.times / use_mm if found.uses_mm and use_mm else 1.0
        extent = found.length_mm / found.times / along_mm if found.length_mm and along_mm else 1.0
        return use, extent

    def inside(self, frame: StepList) -> tuple[Mapping[str, float], float]:
        """Return the factors for cord, by cord, and for length that hold in a list of steps."""
        while frame.outer is not None:
            if frame.name in self.parts:
                found = self.parts[frame.name]
                return found.cords, found.length
            frame = frame.outer
        return _NOTHING, 1.0


def from_swatches(project: Project) -> Calibration:
    """Return the calibration by the project's swatches alone, without measured parts."""
    swatches = {(m.knot, m.cord): m for m in project.measured if isinstance(m, Swatch)}
    return Calibration(swatches, usual=usual_hands(project))


def repeats_held(project: Project, steps: Sequence[PlannedStep]) -> Mapping[str, Repeats]:
    """Return the steps of each repeat of every measured part; of many repeats, the first ones."""
    parts = [m.part for m in project.measured if isinstance(m, MeasuredPart)]
    return {part: list(islice(_repeats(part, steps), MOST_HELD)) for part in parts}


def steps_held(held: Mapping[str, Repeats], steps: Sequence[PlannedStep]) -> Sequence[PlannedStep]:
    """Return the steps to measure before these repeats can be compared with the maker's figures."""
    if all(len(repeats) < MOST_HELD for repeats in held.values()):
        return steps
    return steps[: 1 + max(repeats[-1][-1].index for repeats in held.values() if repeats)]


def with_parts(
    calibration: Calibration, project: Project, held: Mapping[str, Repeats], work: Cordwork
) -> Calibration:
    """Return the calibration with measured parts compared with the model and added.

    Args:
        calibration: The calibration by swatches.
        project: The project, with what its maker measured.
        held: The repeats of each measured part.
        work: The model's figures for every strand.
    """
    ledgers = work.ledgers()
    parts = {}
    for measured in project.measured:
        if isinstance(measured, MeasuredPart):
            repeats = held[measured.part]
            uses = [_uses(repeat, work, ledgers) for repeat in repeats]
            grown = [_grown(repeat, work) for repeat in repeats]
            parts[measured.part] = _factors(measured, uses, [g for g in grown if g > 0])
    return replace(calibration, parts=parts)


def _repeats(part: str, steps: Sequence[PlannedStep]) -> Iterator[list[PlannedStep]]:
    """Return the steps of each repeat of a part."""

    def outermost(step: PlannedStep) -> int:
        found, frame = 0, step.frame
        while frame.outer is not None:
            found, frame = id(frame) if frame.name == part else found, frame.outer
        return found

    return (list(run) for repeat, run in groupby(steps, key=outermost) if repeat)


def _grown(repeat: list[PlannedStep], work: Cordwork) -> float:
    """Return the modelled length of one repeat; that of a loop is laid out straight."""
    grown = work.heights[repeat[-1].end] - work.heights[repeat[0].first]
    return 2 * grown if repeat[0].unfolded else grown


def _uses(repeat: list[PlannedStep], work: Cordwork, ledgers: Sequence[Ledger]) -> dict[str, float]:
    """Return the cord that one repeat uses by cord, as a mean per strand."""
    strands = {s for step in repeat for group in step.groups for s in group}
    by_cord: dict[str, list[float]] = {}
    for strand in sorted(strands):
        ledger = ledgers[strand]
        length = ledger.used_after(repeat[-1].end) - ledger.used_after(repeat[0].first)
        by_cord.setdefault(work.strands[strand].cord, []).append(length)
    return {cord: sum(lengths) / len(lengths) for cord, lengths in by_cord.items()}


def _factors(
    measured: MeasuredPart, uses: list[dict[str, float]], grown: list[float]
) -> PartFactors:
    cords = {}
    for cord, length in measured.uses_mm.items():
        modelled = [use[cord] for use in uses if use.get(cord)]
        if modelled:
            cords[cord] = length * len(modelled) / sum(modelled)
    made = sum(grown) / len(grown) if grown else 0.0
    return PartFactors(measured.length_mm / made if measured.length_mm and made else 1.0, cords)
