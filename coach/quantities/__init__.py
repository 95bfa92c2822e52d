"""Numbers with units as makers write them: lengths, times, shares, slopes, weights of cord."""

from coach.quantities.cord_weight import CordAmount, diameter_of_mm, length_of_mm, mass_of_g
from coach.quantities.formatting import (
    in_units,
    show_cut,
    show_fineness,
    show_length,
    show_mass,
    show_time,
    trimmed,
)
from coach.quantities.grammar import QuantityError
from coach.quantities.parse import (
    angle_deg,
    cord_amount,
    fineness_tex,
    length_mm,
    mass_g,
    share,
    time_range_s,
    time_s,
)

__all__ = [
    "CordAmount",
    "QuantityError",
    "angle_deg",
    "cord_amount",
    "diameter_of_mm",
    "fineness_tex",
    "in_units",
    "length_mm",
    "length_of_mm",
    "mass_g",
    "mass_of_g",
    "share",
    "show_cut",
    "show_fineness",
    "show_length",
    "show_mass",
    "show_time",
    "time_range_s",
    "time_s",
    "trimmed",
]
