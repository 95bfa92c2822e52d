"""Rounding of lengths to cut."""

from math import ceil
from typing import Final

_NEAR: Final = 1e-6
_INCH_MM: Final = 25.4
_QUARTER_YARD_MM: Final = 9 * _INCH_MM
# Up to which length, in mm, a length is rounded up to which step: common practice, no source.
_STEPS: Final = {
    "mm": ((float("inf"), 1.0),),
    "cm": ((500.0, 10.0), (2000.0, 50.0), (float("inf"), 100.0)),
    "in": (
        (20 * _INCH_MM, _INCH_MM / 2), (72 * _INCH_MM, 2 * _INCH_MM),
        (float("inf"), _QUARTER_YARD_MM),
    ),
}  # fmt: skip


def rounded_up(length_mm: float, unit: str = "cm") -> float:
    """Return a length rounded up as a maker cuts.

    To 1 cm up to 50 cm, to 5 cm up to 2 m, to 10 cm beyond; for `in` to half an inch up to 20
    inches, to 2 inches up to 2 yards, to a quarter of a yard beyond; for `mm` to a millimetre.
    """
    step = step_mm(length_mm, unit)
    return ceil(length_mm / step - _NEAR) * step


def step_mm(length_mm: float, unit: str = "cm") -> float:
    """Return the step, in mm, to which a length of this size is rounded."""
    return next(step for most, step in _STEPS[unit] if length_mm <= most + _NEAR)
