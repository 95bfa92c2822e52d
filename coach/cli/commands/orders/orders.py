"""`coach orders`: the orders, their progress, when each is ready, what it took and earned."""

import argparse
import os
import re
from typing import Final

from coach.cli.bench_setup import chosen_units
from coach.cli.file_output import refuse_call
from coach.cli.open_store import open_store
from coach.cli.orders.orders_page import (
    batch_object,
    batch_page,
    order_object,
    order_summary,
    render_order,
)
from coach.cli.orders.previous_order import order_told
from coach.cli.orders.price_list import prices_if_sound
from coach.cli.output import print_json
from coach.cli.skill_question import skill_set
from coach.desk.batch_lines import CUT, cut_again
from coach.desk.batch_list import batch_list, tick_pieces
from coach.desk.order_changes import (
    end_order,
    let_go,
    one_more,
    split_order,
    spoil_piece,
    work_over_all,
)
from coach.desk.order_log import OrderAt, order_now, orders_now
from coach.desk.order_material import material_of
from coach.piece import NoSuchPiece, PieceError, Store, SystemClock, folders
from coach.piece.service import find_named
from coach.piece.storage.read_piece import read_whole_piece
from coach.text import counted, join_words, one_line

DOINGS: Final = (
    "list", "cut", "recut", "spoilt", "another", "split", "without", "way", "done", "give-up",
)  # fmt: skip
_MONEY: Final = re.compile(r"[0-9]{1,9}(?:\.[0-9]{1,4})?")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what it can be called with."""
    parser.add_argument("order", nargs="?", default="", metavar="ORDER", help="one order, by name")
    parser.add_argument(
        "doing", nargs="?", default="", choices=("", *DOINGS),
        help="list what to make ready, tick cord as cut, say that a length was spoilt and is cut "
        "again, give up a piece, begin one more, split, let pieces out of it, work it the other "
        "way, end it",
    )  # fmt: skip
    parser.add_argument(
        "what", nargs="*", default=[], metavar="PIECE",
        help="the piece that is spoilt or begun again; those that are split off or let out; the "
        "cord to tick; the piece and the label of its length that is cut again, such as "
        "'stall 1' clay.1",
    )  # fmt: skip
    parser.add_argument(
        "--another", action="store_true", help="begin another one in place of a spoilt piece"
    )
    parser.add_argument(
        "--into", metavar="ORDER", default="", help="what the order that is split off is called"
    )
    parser.add_argument("--earned", metavar="MONEY", default="", help="what it has brought")
    parser.add_argument("--why", metavar="WORDS", default="", help="why a piece is spoilt")
    parser.add_argument("--json", action="store_true", help="as one JSON list, or object")


def run(options: argparse.Namespace) -> int:
    """Show the orders, or change one; 2 if the call is wrong, or the store fails."""
    if options.earned and not _MONEY.fullmatch(options.earned):
        return refuse_call("--earned: Write an amount of money, as in 60 or 62.50.")
    try:
        if not folders(os.environ).database.exists():
            return _none(options)
        with open_store() as store:
            said = _do(store, options) if options.doing else ""
            if said and not options.json:
                print(said)
            return _listed(store, options) if options.doing == "list" else _tell(store, options)
    except PieceError as error:
        return refuse_call(str(error))


def _none(options: argparse.Namespace) -> int:
    if options.order:
        return refuse_call(f"No order is called ‘{one_line(options.order)}’: there are none yet.")
    print("[]" if options.json else "No orders yet. `coach knot FILE --copies 12 --order stall`"
          " begins one.")  # fmt: skip
    return 0


def _listed(store: Store, options: argparse.Namespace) -> int:
    """Print what is to be prepared for all of an order's pieces."""
    unit = chosen_units(None)
    order = order_now(store, options.order)
    ready = batch_list(store, order, unit)
    if options.json:
        print_json(batch_object(ready))
    else:
        print("\n".join(batch_page(order, ready, unit)))
    return 0


def _tell(store: Store, options: argparse.Namespace) -> int:
    prices = prices_if_sound()
    if options.order:
        told = order_told(store, order_now(store, options.order), prices)
        if options.json:
            print_json(order_object(told))
        else:
            print("\n".join(render_order(told)))
        return 0
    found = [order_told(store, one, prices) for one in orders_now(store)]
    if not found:
        return _none(options)
    if options.json:
        print_json([order_object(one) for one in found])
    else:
        print("\n".join(map(order_summary, found)))
    return 0


def _do(store: Store, options: argparse.Namespace) -> str:
    """Change an order and return the sentence about it. Raises PieceError, with nothing changed."""
    order, clock = order_now(store, options.order), SystemClock()
    name, doing = order.order.name, options.doing
    if not order.order.is_open and doing != "list":
        raise NoSuchPiece(f"‘{one_line(name)}’ is over; what is made stays made.")
    if doing == "list":
        return ""
    if doing == "cut":
        return _cut(store, order, options.what)
    if doing == "recut":
        return _recut(store, order, options.what)
    if doing == "way":
        work_over_all(store, clock, name, over_all=not order.order.over_all)
    elif doing == "split":
        return _split(store, order, options)
    elif doing == "without":
        return _without(store, order, options.what)
    elif doing in ("spoilt", "another"):
        return _again(store, name, options)
    else:
        given_up, used = doing == "give-up", material_of(store, order, prices_if_sound())
        end_order(store, clock, name, given_up=given_up, earned=options.earned, material=used)
    return ""


def _again(store: Store, name: str, options: argparse.Namespace) -> str:
    if len(options.what) != 1:
        call = f"coach orders {one_line(name)} {options.doing}"
        raise NoSuchPiece(f"Name one piece, as in `{call} '{one_line(name)} 1'`.")
    piece, clock = find_named(store, options.what[0]), SystemClock()
    if options.doing == "another":
        made = one_more(store, clock, name, piece, skill_set())
    else:
        made = spoil_piece(store, clock, name, piece, why=options.why,
                           skill=skill_set(), another=options.another)  # fmt: skip
    return f"‘{one_line(made)}’ is begun." if made else ""


def _split(store: Store, order: OrderAt, options: argparse.Namespace) -> str:
    """Move the named pieces into another order; by default those finished."""
    into = one_line(options.into)
    if not into:
        raise NoSuchPiece("Say what the other order is called, as in --into saturday.")
    if options.what:
        moved = [find_named(store, name) for name in options.what]
    else:
        moved = [piece for piece in order.sound if piece.finished]
    split_order(store, SystemClock(), order.order.name, into, [piece.uid for piece in moved])
    return f"{counted(len(moved), 'piece')} went into ‘{into}’."


def _without(store: Store, order: OrderAt, names: list[str]) -> str:
    """Take the named pieces out of the order."""
    if not names:
        name = one_line(order.order.name)
        raise NoSuchPiece(f"Name the pieces, as in `coach orders {name} without '{name} 3'`.")
    gone = [find_named(store, name) for name in names]
    let_go(store, SystemClock(), order.order.name, [piece.uid for piece in gone])
    told = join_words([f"‘{one_line(piece.name)}’" for piece in gone])
    return f"{told} left the order; each goes on by its own name."


def _recut(store: Store, order: OrderAt, what: list[str]) -> str:
    """Tick a length as cut again because the first is spoilt; the stock follows."""
    if len(what) != 2:  # noqa: PLR2004 - the piece and the label
        call = f"coach orders {one_line(order.order.name)} recut"
        raise NoSuchPiece(f"Name the piece and the length, as in `{call} 'stall 1' clay.1`.")
    piece, unit = find_named(store, what[0]), chosen_units(None)
    lines = batch_list(store, order, unit).lines
    labels = [label for line in lines for number, label in line.pieces if number == piece.id]
    if what[1] not in labels:
        raise NoSuchPiece(
            f"‘{one_line(piece.name)}’ has no length ‘{one_line(what[1])}’ in this order. "
            f"It has {join_words(labels) or 'none'}."
        )
    tick = cut_again(what[1], read_whole_piece(store, piece.id).state.ticks)
    said = tick_pieces(store, SystemClock(), [(piece.id, what[1])], tick[1], unit)
    return f"{one_line(what[1])} of ‘{one_line(piece.name)}’ was cut again. {said}".rstrip()


def _cut(store: Store, order: OrderAt, cords: list[str]) -> str:
    """Tick the cord of an order as cut, all of it or some cords; the stock follows."""
    unit = chosen_units(None)
    lines = batch_list(store, order, unit).lines
    known = dict.fromkeys(line.cord for line in lines)
    strange = [cord for cord in cords if cord not in known]
    if strange:
        raise NoSuchPiece(
            f"It has no cord ‘{one_line(strange[0])}’. It has {join_words([*known])}."
        )
    open_ones = [one for line in lines if not cords or line.cord in cords for one in line.open(CUT)]
    said = tick_pieces(store, SystemClock(), open_ones, CUT, unit)
    return f"{counted(len(open_ones), 'length')} ticked as cut. {said}".rstrip()
