"""Cutting from hanks: nothing lost, never worse than first-fit-decreasing, bounds that hold."""

from itertools import product

import pytest
from examples import examples
from hypothesis import given
from hypothesis import strategies as st

from coach.plan.cord.hank_packing import ShortHank, fewest_hanks, pack_hanks

LENGTHS_MM = st.lists(st.integers(1, 60).map(float), min_size=1, max_size=14)
FEW_MM = st.lists(st.integers(1, 12).map(float), min_size=1, max_size=5)


def first_fit_decreasing(pieces: list[float], hanks: list[float]) -> tuple[float, int]:
    """Return what is left to buy and how many hanks are cut into, by the plain method."""
    rests, left, used = sorted(hanks, reverse=True), 0.0, set()
    for piece in sorted(pieces, reverse=True):
        place = next((i for i, rest in enumerate(rests) if piece <= rest), None)
        if place is None:
            left += piece
        else:
            rests[place] -= piece
            used.add(place)
    return left, len(used)


@examples(120)
@given(pieces=LENGTHS_MM, hanks=LENGTHS_MM)
def test_every_piece_is_cut_or_bought_and_no_hank_is_overdrawn(
    pieces: list[float], hanks: list[float]
) -> None:
    if min(pieces) > max(hanks):
        with pytest.raises(ShortHank):
            pack_hanks(pieces, hanks)
        return
    found = pack_hanks(pieces, hanks)
    cut = [piece for hank in found.hanks for piece in hank.pieces_mm]
    assert sorted([*cut, *found.to_buy_mm]) == sorted(pieces)
    assert sorted(hank.hank_mm for hank in found.hanks) == sorted(hanks)
    assert all(hank.rest_mm >= 0 for hank in found.hanks)
    assert found.fewest <= found.used or not cut


@examples(120)
@given(pieces=LENGTHS_MM, hanks=LENGTHS_MM)
def test_it_is_never_worse_than_first_fit_decreasing(
    pieces: list[float], hanks: list[float]
) -> None:
    if min(pieces) <= max(hanks):
        found = pack_hanks(pieces, hanks)
        assert (sum(found.to_buy_mm), found.used) <= first_fit_decreasing(pieces, hanks)


@examples(60)
@given(pieces=FEW_MM, hanks=st.lists(st.integers(1, 20).map(float), min_size=1, max_size=3))
def test_small_cuts_are_the_best_there_are_and_the_bound_holds(
    pieces: list[float], hanks: list[float]
) -> None:
    if min(pieces) > max(hanks):
        return
    costs = []
    for places in product(range(-1, len(hanks)), repeat=len(pieces)):
        sums = [
            sum(piece for piece, at in zip(pieces, places, strict=True) if at == hank)
            for hank in range(len(hanks))
        ]
        if all(total <= hank for total, hank in zip(sums, hanks, strict=True)):
            left = sum(p for p, at in zip(pieces, places, strict=True) if at == -1)
            costs.append((left, len({at for at in places if at >= 0})))
    found = pack_hanks(pieces, hanks)
    assert (sum(found.to_buy_mm), found.used) == min(costs)
    if not found.to_buy_mm:
        assert fewest_hanks(pieces, hanks) <= min(costs)[1]


def test_a_case_where_first_fit_decreasing_needs_a_hank_more() -> None:
    pieces, hanks = [10.0, 10, 8, 7, 6, 6, 5, 3], [19.0] * 4
    assert first_fit_decreasing(pieces, hanks) == (0, 4)
    found = pack_hanks(pieces, hanks)
    assert (found.to_buy_mm, found.used, found.fewest) == ((), 3, 3)


def test_a_hank_shorter_than_every_piece_is_told_with_both_lengths() -> None:
    with pytest.raises(ShortHank) as told:
        pack_hanks([1500.0, 900.0], [300.0, 250.0])
    assert (told.value.piece_mm, told.value.longest_mm) == (900, 300)


def test_printed_cut_of_18_pieces_and_one_comes_out_of_what_was_bought() -> None:
    """18 x 2.8 m + 1 x 3.9 m = 54.3 m cut from 56 m bought (Homestyle NZ, 24 July 2017; read)."""
    found = pack_hanks([2800.0] * 18 + [3900.0], [56_000.0])
    assert found.to_buy_mm == ()
    assert sum(found.hanks[0].pieces_mm) == pytest.approx(54_300)


def test_printed_pieces_of_a_yard_and_two_add_up() -> None:
    """12 pieces of 1 yd = 12 yd, 12 of 2 yd = 24 yd (McGaw, Construction Work; read)."""
    for yards in (1, 2):
        found = pack_hanks([914.4 * yards] * 12, [914.4 * yards * 12])
        assert found.to_buy_mm == ()
        assert found.hanks[0].rest_mm == pytest.approx(0, abs=1e-6)
