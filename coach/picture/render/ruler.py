"""The ruler beside a picture at scale, in centimetres or inches."""

from collections.abc import Iterable
from typing import Final

from coach.picture.scene import Scene

_UNIT: Final = 100  # of the picture, in a millimetre
_CM: Final = 10.0
_INCH: Final = 25.4


def draw_ruler(x: float, scene: Scene, scale: float, unit: str = "cm") -> Iterable[str]:
    """Return a ruler beside the work, without ticks that would run together.

    Args:
        x: The position of its edge, in mm of the work.
        scene: The work, which begins at 0.
        scale: How many mm of the work are drawn as one.
        unit: "cm" or "in".

    Returns:
        Elements of SVG.
    """
    mm, every, figures = _ticks(scale, unit)
    whole = int(max(scene.box[3], 0) / mm)
    thin = round(0.25 * scale * _UNIT)
    left = round(x * _UNIT)
    yield f'<path d="M{left} 0V{round(whole * mm * _UNIT)}" class="n" stroke-width="{thin}"/>'
    for mark in range(0, whole + 1, every):
        long = round((2.6 if mark % figures == 0 else 1.4) * scale * _UNIT)
        y = round(mark * mm * _UNIT)
        yield f'<path d="M{left} {y}h{-long}" class="n" stroke-width="{thin}"/>'
        if mark % figures == 0:
            said = f"{mark} {unit}" if mark == 0 else str(mark)
            size = round(2.8 * scale * _UNIT)
            yield (
                f'<text x="{left - long - round(80 * scale)}" y="{y + round(0.35 * size)}" '
                f'class="t" font-size="{size}" text-anchor="end">{said}</text>'
            )


def _ticks(scale: float, unit: str) -> tuple[float, int, int]:
    """Return a tick's unit in mm, how many units lie between ticks, and between figures."""
    if unit == "in":
        every = 1 if scale <= 6 else (5 if scale <= 30 else 10)  # noqa: PLR2004 - ticks 4 mm apart at least
        return _INCH, every, every * (1 if _INCH * every >= 8 * scale else 2)
    every = 1 if scale <= 2.5 else (5 if scale <= 10 else 10)  # noqa: PLR2004 - the same
    return _CM, every, every * (5 if every == 1 and scale > 1 else 1 if scale <= 1 else 2)
