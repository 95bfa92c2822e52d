"""Every knot that is tightened, the way it stands, and the catalogue's formula for it."""

from collections.abc import Callable, Mapping
from functools import partial
from math import ceil, floor, pi
from typing import Final

import berries
import chains
import links
import rows
import sennits
import singles
from standing import Case, Formula, drops, excess, per_tie, total
from tightener import COARSE, FULL, THICK

from coach.knots import geometry, names


def _tie(tie: geometry.TieSize) -> Formula:
    return tie.knotter_use_mm[0], (tie.down_mm,)


def _over(tie: geometry.TieSize) -> Formula:
    return tie.knotter_use_mm[0] - tie.down_mm, ()


def _row(knot: str) -> Callable[[], Formula]:
    tie = geometry.row_tie(knot, 1, 1, mover_holds=True)
    return lambda: (tie.knotter_use_mm[0], (tie.across_mm, tie.down_mm))


def _printed(length: float) -> Callable[[], Formula]:
    return lambda: (length, ())


def _chains() -> list[Case]:
    found = []
    for n in (1, 2):
        around = [1.0] * n
        hitch = partial(geometry.around_tie, names.HALF_HITCH, 1, around)
        lark = partial(geometry.around_tie, names.LARKS_HEAD, 1, around)
        found += [
            Case(
                names.HALF_HITCH, f"chain round {n}", partial(chains.half_hitch_chain, n),
                per_tie(1), lambda hitch=hitch: _tie(hitch()),
            ),
            Case(
                names.LARKS_HEAD, f"chain round {n}", partial(chains.larks_head_chain, n),
                per_tie(1), lambda lark=lark: _tie(lark()),
            ),
        ]  # fmt: skip
    return found


def _in_turn() -> Formula:
    tie = geometry.chain_tie(1, 1)
    return (tie.knotter_use_mm[0] + tie.filler_use_mm) / 2, (tie.down_mm,)


def _rows() -> list[Case]:
    def clove() -> Formula:
        return _over(geometry.around_tie(names.CLOVE, 1, [1]))

    found = [
        Case(names.CLOVE, "row", rows.clove_row, per_tie(1), _row(names.CLOVE)),
        Case(names.CLOVE, "alone, excess", rows.clove_alone, excess(), clove),
        Case(names.HALF_HITCH, "row", rows.half_hitch_row, per_tie(1), _row(names.HALF_HITCH)),
        Case(names.LARKS_HEAD, "row", rows.larks_head_row, per_tie(1), _row(names.LARKS_HEAD)),
    ]
    return found + [
        Case(
            "mounting", f"lark's head on a bar of {bar}", partial(rows.mounted_alone, bar),
            drops(bar),
            lambda bar=bar: (geometry.mount(names.LARKS_HEAD, bar, [1]).piece_use_mm[0], ()),
        )
        for bar in (1, 2, 4, 8)
    ]  # fmt: skip


def _flat(knot: str, count: int, **how: bool) -> Callable[[], Formula]:
    return lambda: _tie(geometry.flat_tie(knot, (1, 1), [1.0] * count, **how))


def _sennits() -> list[Case]:
    half = names.HALF_KNOT
    found = [
        Case(
            half, f"sennit round {n} flat", partial(sennits.square_knots, sennits.flat(n)),
            per_tie(2, 2), _flat(half, n), 2,
        )
        for n in (1, 2, 3, 4)
    ]  # fmt: skip
    bundle = partial(sennits.square_knots, chains.BUNDLES[3])
    two = sennits.flat(2)
    soft = partial(sennits.square_knots, two, rigid=False)
    found += [
        Case(
            half, "sennit round 3 bundled", bundle, per_tie(2, 2), _flat(half, 3, bundled=True), 2
        ),
        Case(
            names.SQUARE, "sennit round 2", partial(sennits.square_knots, two), per_tie(1, 2),
            _flat(names.SQUARE, 2),
        ),
        Case(
            names.SQUARE, "sennit round 2 flexible", soft, per_tie(1, 2), _flat(names.SQUARE, 2)
        ),
        Case(
            half, "run round 2, kept from turning", partial(sennits.half_knots, two, 0),
            per_tie(2, 2), _flat(half, 2), 2,
        ),
    ]  # fmt: skip
    for turn in (30, 40, 55):
        found.append(
            Case(
                half, f"spiral round 2, {turn} degrees a knot",
                partial(sennits.half_knots, two, -turn), per_tie(2, 2),
                _flat(half, 2, spiral=True), 2,
            )
        )  # fmt: skip
    return found


_STAGES: Final = {1: FULL, 8: THICK}


def _overhands() -> list[Case]:
    found = []
    for strands, turns in ((1, 1), (2, 1), (3, 1), (4, 1), (8, 1), (1, 2), (1, 3), (2, 2)):
        name = (names.OVERHAND, names.DOUBLE_OVERHAND, names.BARREL)[turns - 1]
        said = f"{strands} strand{'s' if strands > 1 else ''}, excess"
        found.append(
            Case(
                name, said if turns < 3 else "3 turns on itself, excess",
                partial(singles.overhand, strands, turns), excess(),
                lambda n=strands, t=turns: _over(geometry.overhand([1.0] * n, t)),
                full=_STAGES.get(strands, COARSE),
            )
        )  # fmt: skip
    return found


def _barrel(turns: float) -> Formula:
    """The formula is a straight line in the turns; half turns lie on it."""
    few, more = (_over(geometry.barrel(1, [1, 1], n(turns)))[0] for n in (floor, ceil))
    return (few + more) / 2, ()


def _wraps() -> list[Case]:
    ways = {
        "3 turns round 2, end beside its lead, excess": 3.0,
        "2 1/2 turns round 2, end opposite its lead, excess": 2.5,
        "3 1/2 turns round 2, end opposite its lead, excess": 3.5,
    }
    found = [
        Case(
            names.BARREL, said, partial(singles.barrel, turns, 2), excess(),
            lambda turns=turns: _barrel(turns),
        )
        for said, turns in ways.items()
    ]  # fmt: skip
    for turns, n in ((2, 2), (3, 2), (4, 2), (3, 1), (3, 4), (4, 4), (3, 7)):
        found.append(
            Case(
                names.GATHERING, f"{turns} turns round {n}",
                partial(singles.gathering, turns, n), excess(more=turns),
                lambda t=turns, n=n: (geometry.gathering(1, [1.0] * n, t).knotter_use_mm[0], ()),
                full=COARSE,
            )
        )  # fmt: skip
    return found


def _plaits() -> list[Case]:
    def crossing(pitch: float) -> Formula:
        tight = geometry.plait_size([[1], [1], [1]], pitch)
        return tight.strand_use_mm, (tight.pitch_mm,)

    found = [
        Case(
            "three-strand plait", "tightest, a crossing", partial(singles.plait, 1.8, held=False),
            per_tie(6), lambda: crossing(1.0), 2,
        )
    ]  # fmt: skip
    return found + [
        Case(
            "three-strand plait", f"pitch {pitch}, a crossing",
            partial(singles.plait, pitch, held=True), per_tie(6),
            lambda pitch=pitch: crossing(pitch), 2,
        )
        for pitch in (1.1, 1.2, 1.5, 2.0)
    ]  # fmt: skip


def _interlaced() -> list[Case]:
    found = [
        Case(
            names.JOSEPHINE, f"{n} a half, flat, excess", partial(singles.josephine, n, 0.5),
            excess(), lambda n=n: _over(geometry.josephine([1.0] * n, [1.0] * n)),
            full=FULL if n == 1 else COARSE,
        )
        for n in (1, 2, 3)
    ]  # fmt: skip

    return found + _berries()


def _berries() -> list[Case]:
    lock = geometry.flat_tie(names.SQUARE, (1, 1), [1, 1])

    def knotter(squares: int) -> Formula:
        tie = geometry.berry((1, 1), [1, 1], squares)
        return _over(tie)[0] - _over(lock)[0], ()

    def filler(squares: int) -> Formula:
        tie = geometry.berry((1, 1), [1, 1], squares)
        return tie.filler_use_mm - tie.down_mm - lock.filler_use_mm + lock.down_mm, ()

    return [
        Case(
            names.BERRY, f"{n} squares rolled up, without the lock, excess of a {who}",
            partial(berries.berry, n), excess(chosen), partial(formula, n), full=COARSE,
        )
        for n in (2, 3)
        for who, chosen, formula in (
            ("knotter", slice(2), knotter), ("filler", slice(2, None), filler),
        )
    ]  # fmt: skip


def _all() -> list[Case]:
    printed = [
        Case("Hopf link", "closed", links.hopf, total, _printed(4 * pi)),
        Case("trefoil", "closed", links.trefoil, total, _printed(16.3729)),
    ]
    chain = Case(
        names.CHAIN, "two strands, a strand and hitch", chains.hitches_in_turn, per_tie(2, 2),
        _in_turn, 2,
    )  # fmt: skip
    return [
        *printed, *_rows(), *_sennits(), *_chains(), chain, *_overhands(), *_wraps(),
        *_interlaced(), *_plaits(),
    ]  # fmt: skip


CASES: Final[Mapping[str, Case]] = {f"{c.knot}: {c.standing}": c for c in _all()}
"""Every case by knot and standing, the printed links first."""
