"""The options of a cut list: stock in hand, and how sure it must reach."""

import argparse
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from coach.plan.cord.cut_list import SURE, CordCut
from coach.plan.cord.hank_packing import Packing, ShortHank, pack_hanks
from coach.plan.resize.refit import CannotRefit
from coach.project.model import Cord
from coach.quantities import CordAmount, QuantityError, cord_amount, show_length, show_mass
from coach.text import one_line

_LEAST, _MOST = 50.0, 99.9
_SIGNS: Final = " %"


def add_cutting_options(parser: argparse.ArgumentParser) -> None:
    """Add the options of a cut list."""
    cord = parser.add_argument_group("cord")
    cord.add_argument(
        "--hank", metavar="[CORD=]AMOUNTS", action="append", default=[],
        help="balls or hanks in hand, such as 'clay=25 m, 12 m' or 'reed=500 g'",
    )  # fmt: skip
    cord.add_argument(
        "--sure", metavar="NUMBER", default="",
        help="how many pieces in 100 must have enough cord, such as 99 (95 if left out)",
    )  # fmt: skip


def sure_of(options: argparse.Namespace) -> float:
    """Return `--sure 99` or `99 %` as 0.99, and 0.95 by default.

    Raises:
        CannotRefit: It is no number between 50 and 99.9.
    """
    text: str = options.sure
    if not text:
        return SURE
    try:
        number = float(text.rstrip(_SIGNS))
    except ValueError:
        number = 0.0
    if not _LEAST <= number <= _MOST:
        raise CannotRefit(
            "--sure: Say how many pieces in 100 must have enough cord, from 50 to 99.9."
        )
    return number / 100


@dataclass(frozen=True, slots=True)
class CordStock:
    """How one cord's pieces come out of the hanks in hand."""

    cord: str
    packing: Packing


def read_hanks(texts: Sequence[str], cords: Mapping[str, Cord]) -> dict[str, list[float]]:
    """Return the hanks in hand of each cord, in mm.

    Args:
        texts: As written: `clay=25 m, 12 m`, `clay=1.5 kg`, or `25 m` of every cord.
        cords: The project's cords by name.

    Raises:
        CannotRefit: There is no such cord, it is no length or weight, or it is a weight of a cord
            of unknown fineness.
    """
    hanks: dict[str, list[float]] = {}
    for text in texts:
        name, _, lengths = text.rpartition("=")
        name = name.strip()
        if name and name not in cords:
            raise CannotRefit(
                f"--hank: There is no cord ‘{one_line(name)}’; there is {', '.join(cords)}."
            )
        found = [_hank(length) for length in lengths.split(",")]
        for cord in [name] if name else cords:
            hanks.setdefault(cord, []).extend(_length_mm(hank, cords[cord]) for hank in found)
    return hanks


def _hank(text: str) -> CordAmount:
    try:
        return cord_amount(text.strip())
    except QuantityError as error:
        raise CannotRefit(f"--hank: {error.message} {error.hint}".strip()) from error


def _length_mm(hank: CordAmount, cord: Cord) -> float:
    length_mm = hank.length_mm(cord.fineness_tex)
    if length_mm is None:
        raise CannotRefit(
            f"--hank: What {cord.id} weighs is not known, so {show_mass(hank.size)} of it could be "
            f"any length. Add it to the cord in the project, as in ‘weight: 4 g/m’, or give the "
            f"hank's length."
        )
    return length_mm


def cut_from_hanks(cuts: Sequence[CordCut], hanks: dict[str, list[float]]) -> list[CordStock]:
    """Cut each cord's pieces from its hanks. Raises CannotRefit where no hank holds a piece."""
    found = []
    for cord in cuts:
        if cord.cord in hanks:
            pieces = [cut.cut_mm for cut in cord.cuts for _ in range(cut.pieces)]
            try:
                found.append(CordStock(cord.cord, pack_hanks(pieces, hanks[cord.cord])))
            except ShortHank as error:
                raise CannotRefit(
                    f"--hank: The longest hank of {cord.cord} is {show_length(error.longest_mm)}, "
                    f"and its shortest piece {show_length(error.piece_mm)}. Take a longer hank, "
                    "fewer repeats or a smaller margin."
                ) from error
    return found


def stock_lines(stock: Sequence[CordStock], unit: str) -> Iterator[str]:
    """Yield the cutting in lines: what comes from which hank, the bound, what to buy."""
    for cord in stock:
        packing = cord.packing
        for number, hank in enumerate(packing.hanks, start=1):
            if hank.pieces_mm:
                yield (
                    f"  {cord.cord} hank {number} ({show_length(hank.hank_mm, unit)}): "
                    f"{_listed(hank.pieces_mm, unit)}; {show_length(hank.rest_mm, unit)} left"
                )
        fewest = f"no way of cutting needs fewer than {packing.fewest}"
        yield f"  {cord.cord}: {packing.used} cut into, and {fewest}"
        if packing.to_buy_mm:
            total = show_length(sum(packing.to_buy_mm), unit)
            yield f"  {cord.cord}: still to buy {total}, for {_listed(packing.to_buy_mm, unit)}"


def _listed(pieces_mm: Sequence[float], unit: str) -> str:
    """Return pieces by length, equal ones counted: `3 of 1.5 m, 1 of 40 cm`."""
    lengths = sorted(set(pieces_mm), reverse=True)
    return ", ".join(f"{pieces_mm.count(mm)} of {show_length(mm, unit)}" for mm in lengths)


def stock_json(stock: Sequence[CordStock]) -> list[dict[str, object]]:
    """Return the same for other programs, in mm."""
    return [
        {
            "cord": cord.cord,
            "hanks": [
                {"hank_mm": hank.hank_mm, "pieces_mm": list(hank.pieces_mm)}
                for hank in cord.packing.hanks
            ],
            "used": cord.packing.used,
            "fewest": cord.packing.fewest,
            "to_buy_mm": list(cord.packing.to_buy_mm),
        }
        for cord in stock
    ]
