"""The rule beside a picture at scale, in centimetres."""

from collections.abc import Iterable
from typing import Final

from coach.picture.scene import Scene

_UNIT: Final = 100  # of the picture, in a millimetre
_CM: Final = 10.0


def ruled(x: float, scene: Scene, scale: float) -> Iterable[str]:
    """Draw a rule in centimetres beside the work; ticks that would run together are left out.

    Args:
        x: Where its edge stands, in mm of the work.
        scene: The work, which begins at 0.
        scale: How many mm of the work are drawn as one.

    Returns:
        Elements of SVG.
    """
    every = 1 if scale <= 2.5 else (5 if scale <= 10 else 10)  # noqa: PLR2004 - ticks 4 mm apart at least
    figures = every * (5 if every == 1 and scale > 1 else 1 if scale <= 1 else 2)
    whole = int(max(scene.box[3], 0) / _CM)
    thin = round(0.25 * scale * _UNIT)
    left = round(x * _UNIT)
    yield f'<path d="M{left} 0V{round(whole * _CM * _UNIT)}" class="n" stroke-width="{thin}"/>'
    for mark in range(0, whole + 1, every):
        long = round((2.6 if mark % figures == 0 else 1.4) * scale * _UNIT)
        y = round(mark * _CM * _UNIT)
        yield f'<path d="M{left} {y}h{-long}" class="n" stroke-width="{thin}"/>'
        if mark % figures == 0:
            said = f"{mark} cm" if mark == 0 else str(mark)
            size = round(2.8 * scale * _UNIT)
            yield (
                f'<text x="{left - long - round(80 * scale)}" y="{y + round(0.35 * size)}" '
                f'class="t" font-size="{size}" text-anchor="end">{said}</text>'
            )
