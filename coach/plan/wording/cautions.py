"""Cautions that a kind of piece or cord always calls for."""

from typing import Final

from coach.project.model import Cord, Project

_LOCAL: Final = "Local rules and licensed people's word come first."
_CHILD: Final = (
    "No cord at the hood or neck of a child (EN 14682, up to 7 years); keep cords and loops short "
    f"enough that none can go round a neck. {_LOCAL}"
)
_OVERHEAD: Final = (
    "Anything that hangs over heads needs a hook and a ceiling rated for it: weigh the wet pot, "
    f"and count on knots costing up to half a cord's strength (CI 1401-06). {_LOCAL}"
)
_BY_KIND: Final = {
    "child": (_CHILD,),
    "toy": (
        ("Free cords and nooses on toys have legal lengths (EN 71-1): keep them far below 220 mm, "
        f"and fix small parts so that they cannot be swallowed. {_LOCAL}"),
        _CHILD,
    ),
    "pet": (
        ("No fixed loop round an animal's neck that cannot give way; keep an eye on it while "
        "it is worn. "
        f"{_LOCAL}"),
    ),
    "necklace": (
        ("A necklace should open or break when it is caught; take it off for sleep, sport and "
        "machines, and keep it from small children."),
    ),
    "plant hanger": (_OVERHEAD,),
    "hammock": (
        ("A hammock carries a person: test it low over soft ground with more than the weight, "
        f"and look at ropes and fixings before each use. {_LOCAL}"),
    ),
    "lampshade": (
        f"Cord burns: keep it well away from the bulb and use a cool lamp. {_LOCAL}",
    ),
    "bag": (),
}  # fmt: skip
_MELTING: Final = ("nylon", "polyester", "polypropylene", "polyamide", "acrylic", "synthetic")
_MELTED: Final = (
    "Only synthetic ends are sealed with heat: melted ends drip and burn (Holtzman, Field Guide "
    "to Knots, p. 76), so hold them away from you, over something that cannot catch fire."
)


def cautions(project: Project) -> tuple[str, ...]:
    """Return the cautions for a piece: its maker's own, then those of its kind and cord."""
    standing = _BY_KIND.get(project.kind, ())
    melted = (_MELTED,) if any(_melts(cord) for cord in project.cords.values()) else ()
    return (*project.cautions, *standing, *melted)


def _melts(cord: Cord) -> bool:
    fibre = cord.fibre.lower()
    return any(name in fibre for name in _MELTING)
