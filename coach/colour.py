"""Lightness, contrast and likeness of colours.

Colours are given as `#rrggbb`. The curve of sRGB is that of IEC 61966-2-1 (from memory), contrast
that of WCAG 2.2 (W3C): (L1 + 0.05) / (L2 + 0.05), L the relative luminance. The space made for
comparing looks is OKLab: B. Ottosson, A perceptual color space for image processing (2020),
bottosson.github.io/posts/oklab (formulas and constants from memory).
"""

from math import cbrt, hypot
from typing import Final, TypeAlias

Lab: TypeAlias = tuple[float, float, float]
"""A place in OKLab: lightness from 0 to 1, green to red, blue to yellow."""

BLACK: Final = "#000000"
WHITE: Final = "#ffffff"
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


def channels(colour: str) -> tuple[int, ...]:
    """Return the red, green and blue of a colour, each from 0 to 255."""
    return tuple(int(colour[at : at + 2], 16) for at in (1, 3, 5))


def linear(share: float) -> float:
    """Return the linear light of an sRGB channel, both from 0 to 1."""
    return share / 12.92 if share <= 0.04045 else float(((share + 0.055) / 1.055) ** 2.4)  # noqa: PLR2004 - sRGB


def luminance(colour: str) -> float:
    """Return the relative luminance of a colour, from 0 (black) to 1 (white)."""
    red, green, blue = (linear(channel / 255) for channel in channels(colour))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio of two colours, from 1 to 21."""
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def mixed(one: str, other: str, share: float) -> str:
    """Return the colour `share` of the way from one to the other.

    Args:
        one: A colour as "#rrggbb".
        other: Another one, mixed with it channel by channel in sRGB.
        share: From 0 (all `one`) to 1 (all `other`).
    """
    pairs = zip(channels(one), channels(other), strict=True)
    return "#" + "".join(f"{round(a + (b - a) * share):02x}" for a, b in pairs)


def oklab(colour: str) -> Lab:
    """Return a colour's coordinates in OKLab."""
    red, green, blue = (linear(channel / 255) for channel in channels(colour))
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
