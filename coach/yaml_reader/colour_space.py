"""How far apart two colours look, in a space made for that: OKLab.

Formulas and constants: B. Ottosson, A perceptual color space for image processing (2020),
bottosson.github.io/posts/oklab (from memory); the curve of sRGB: IEC 61966-2-1 (from memory).
"""

from math import cbrt, hypot
from typing import Final

Lab = tuple[float, float, float]

_TO_CONES: Final = (
    (0.4122214708, 0.5363325363, 0.0514459929),
    (0.2119034982, 0.6806995451, 0.1073969566),
    (0.0883024619, 0.2817188376, 0.6299787005),
)
_TO_LAB: Final = (
    (0.2104542553, 0.7936177850, -0.0040720468),
    (1.9779984951, -2.4285922050, 0.4505937099),
    (0.0259040371, 0.7827717662, -0.8086757660),
)


def oklab(colour: str) -> Lab:
    """Convert `#rrggbb` to OKLab: lightness from 0 to 1, green to red, blue to yellow."""
    red, green, blue = (_linear(int(colour[at : at + 2], 16) / 255) for at in (1, 3, 5))
    long, medium, short = (cbrt(r * red + g * green + b * blue) for r, g, b in _TO_CONES)
    lightness, a, b = (s * long + t * medium + u * short for s, t, u in _TO_LAB)
    return lightness, a, b


def difference(one: Lab, other: Lab) -> float:
    """Return how different two colours look; black and white are 1 apart.

    Hue and chroma count twice, as in the measure called deltaEOK2 (from memory): with equal
    weights a pale tan would be nearer to a grey than to a darker tan.
    """
    light, a, b = (first - second for first, second in zip(one, other, strict=True))
    return hypot(light, 2 * a, 2 * b)


def _linear(channel: float) -> float:
    """Undo the curve of an sRGB channel, both from 0 to 1."""
    if channel <= 0.04045:  # noqa: PLR2004 - where the curve is straight
        return channel / 12.92
    return float(((channel + 0.055) / 1.055) ** 2.4)
