"""The weight of a length of cord, and the thickness of a cord from its fineness."""

from dataclasses import dataclass
from math import sqrt
from typing import Final

_G_PER_MM_AND_TEX: Final = 1e-6  # 1 tex = 1 g/km (ISO 1144:2016, quoted)

# d (mm) = 0.0374 sqrt(tex) for cotton at 1.1 cm3/g: F. T. Peirce, quoted. Other fibres pack alike,
# so the cord's volume goes with the fibre's own: worked out from his figure. Densities in g/cm3:
# Morton & Hearle, table 5.1; npj Mater. Degrad. 2022, table 3 (read).
_PEIRCE: Final = 0.0374
_COTTON: Final = 1.52
DENSITY_G_PER_CM3: Final = {
    "cotton": _COTTON, "nylon": 1.14, "polyester": 1.39, "polypropylene": 0.91, "hemp": 1.48,
    "jute": 1.3,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class CordAmount:
    """An amount of cord: `size` is its length in mm or, if `by_weight`, its weight in grams."""

    size: float
    by_weight: bool

    def length_mm(self, fineness_tex: float | None) -> float | None:
        """Return its length in mm; None for a weight of cord of unknown fineness."""
        if not self.by_weight:
            return self.size
        return length_of_mm(self.size, fineness_tex) if fineness_tex else None


def mass_of_g(length_mm: float, fineness_tex: float) -> float:
    """Return the weight of a length of cord, in grams."""
    return length_mm * fineness_tex * _G_PER_MM_AND_TEX


def length_of_mm(mass_g: float, fineness_tex: float) -> float:
    """Return the length of a weight of cord, in mm."""
    return mass_g / (fineness_tex * _G_PER_MM_AND_TEX)


def diameter_of_mm(fineness_tex: float, fibre: str = "") -> float:
    """Return the thickness of a cord by Peirce's formula; an unknown fibre counts as cotton."""
    known = (d for name, d in DENSITY_G_PER_CM3.items() if name in fibre.casefold().split())
    return _PEIRCE * sqrt(fineness_tex * _COTTON / next(known, _COTTON))
