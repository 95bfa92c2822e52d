"""The size of one planned tie, by the formula in `coach.knots` that applies to it.

Sizes are cached: a piece has many ties of few kinds. Diameters are contact diameters in mm.
"""

from collections.abc import Sequence
from functools import lru_cache

from coach.knots import geometry, names
from coach.knots.catalogue import pass_count
from coach.knots.geometry import TieSize

Diameters = tuple[float, ...]


@lru_cache(maxsize=4096)
def row_size(knot: str, knotter_mm: float, filler_mm: float, *, mover_holds: bool) -> TieSize:
    """Return the size of one tie in a row: see `coach.knots.ties.row_tie`.

    Args:
        knot: The knot's first name.
        knotter_mm: Contact diameter of the strand that ties.
        filler_mm: That of the strand it ties onto.
        mover_holds: Whether the strand that travels is tied onto.
    """
    return geometry.row_tie(knot, knotter_mm, filler_mm, mover_holds=mover_holds)


@lru_cache(maxsize=4096)
def flat_size(
    knot: str,
    knotters_mm: tuple[float, float],
    fillers_mm: Diameters,
    *,
    spiral: bool,
    nested: bool,
    bundled: bool,
) -> TieSize:
    """Return the size of one square or half knot: see `coach.knots.ties.flat_tie`.

    Two strands with none between them go round each other, each as round one strand: rough.

    Args:
        knot: The knot's first name.
        knotters_mm: Contact diameters of the two knotters.
        fillers_mm: Those of the fillers, from the left.
        spiral: Whether half knots twist.
        nested: Whether the knot nests under those of an alternating row.
        bundled: Whether the fillers are drawn into a bundle.
    """
    held = fillers_mm or (sum(knotters_mm) / 2,)
    return geometry.flat_tie(knot, knotters_mm, held, spiral=spiral, nested=nested, bundled=bundled)


@lru_cache(maxsize=4096)
def around_size(knot: str, knotter_mm: float, around_mm: Diameters, turns: int) -> TieSize:
    """Return the size of one knot of a strand round others, or a barrel knot round itself.

    Args:
        knot: The knot's first name.
        knotter_mm: Contact diameter of the strand that ties.
        around_mm: Those of the strands it ties round; none round itself.
        turns: Of a barrel knot.
    """
    if knot == names.BARREL:
        return geometry.barrel(knotter_mm, around_mm, turns)
    return geometry.around_tie(knot, knotter_mm, around_mm)


@lru_cache(maxsize=4096)
def bundle_size(
    knot: str, strands_mm: Diameters, squares: int = 0, open_mm: float = 0.0
) -> TieSize:
    """Return the size of a knot in which all strands knot, or of a berry knot.

    Args:
        knot: The knot's first name.
        strands_mm: Contact diameters from the left.
        squares: How many square knots a berry knot is rolled up of, 0 for no berry knot.
        open_mm: How high a josephine knot is laid open, 0 for one drawn up.
    """
    if squares:
        outer = (strands_mm[0], strands_mm[-1])
        return geometry.berry(outer, strands_mm[1:-1], squares)
    if knot == names.JOSEPHINE:
        half = len(strands_mm) // 2
        return geometry.josephine(strands_mm[:half], strands_mm[half:], open_mm)
    return geometry.overhand(strands_mm, pass_count(knot))


@lru_cache(maxsize=1024)
def wrap_size(wrap_mm: float, bundle_mm: Diameters, length_mm: float) -> TieSize:
    """Return the size of a gathering knot.

    Args:
        wrap_mm: Contact diameter of the cord that is wrapped.
        bundle_mm: Those of the strands inside.
        length_mm: How long the wrapping is.
    """
    return geometry.gathering(wrap_mm, bundle_mm, length_mm)


@lru_cache(maxsize=4096)
def chain_size(knotter_mm: float, other_mm: float) -> TieSize:
    """Return the size of one hitch of a chain of two strands."""
    return geometry.chain_tie(knotter_mm, other_mm)


def scaled(size: TieSize, use: float, extent: float) -> TieSize:
    """Return a size with its cord and its extents multiplied.

    Args:
        size: The size, in mm.
        use: The factor for the cord of the knotters.
        extent: The factor for height and width.
    """
    if use == extent == 1:
        return size
    return TieSize(
        tuple(length * use for length in size.knotter_use_mm),
        size.filler_use_mm * extent,
        size.across_mm * extent,
        size.down_mm * extent,
    )


def widths(strands: Sequence[int], contact_mm: Sequence[float]) -> Diameters:
    """Return the contact diameters of strands, in their order."""
    return tuple(contact_mm[strand] for strand in strands)
