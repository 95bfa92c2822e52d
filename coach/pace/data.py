"""Paces as plain data, so that they can be kept from piece to piece."""

from collections.abc import Mapping
from dataclasses import asdict
from math import isfinite
from types import MappingProxyType
from typing import Any

from coach.pace.estimate import Paces, Seen


def to_data(paces: Paces) -> dict[str, Any]:
    """Return the paces as dicts, strings and numbers that JSON keeps exactly."""
    return {
        "seen": {knot: asdict(seen) for knot, seen in paces.seen.items()},
        "scale": paces.scale,
        "scale_sd": paces.scale_sd,
    }


def from_data(data: Mapping[str, Any]) -> Paces:
    """Return back what `to_data` was given.

    Raises:
        ValueError: The data is not what `to_data` writes.
    """
    try:
        seen = {str(knot): Seen(**fields) for knot, fields in data["seen"].items()}
        paces = Paces(MappingProxyType(seen), float(data["scale"]), float(data["scale_sd"]))
        sound = all(isfinite(v) for one in seen.values() for v in asdict(one).values())
        sound = sound and all(
            one.ties > 0 and min(one.squares, one.made, one.new_squares) >= 0
            for one in seen.values()
        )
    except (KeyError, TypeError, AttributeError) as error:
        raise ValueError("these are no paces") from error
    if not (sound and isfinite(paces.scale) and 0 < paces.scale_sd < float("inf")):
        raise ValueError("these are no paces")
    return paces
