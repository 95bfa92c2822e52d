"""Lengths as they stand in a sentence."""

from coach.text import an


def centimetres(length_mm: float) -> str:
    """Return a length as a maker reads it: `3 cm`, `15 mm`."""
    if length_mm < 20:  # noqa: PLR2004 - below two centimetres, makers say millimetres
        return f"{length_mm:.3g} mm"
    return f"{length_mm / 10:.4g} cm"


def a_length(length_mm: float) -> str:
    """Return a length with its article, as it stands before a thing: `a 3 cm`, `an 8 mm`."""
    return an(centimetres(length_mm))
