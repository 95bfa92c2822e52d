"""`coach orders`: the orders, how far each is, when it is ready, what it took and earned."""

import argparse
import os
import re
from typing import Final

from coach.cli.desk import Desk
from coach.cli.open_store import open_store
from coach.cli.orders.order_told import order_told
from coach.cli.orders.orders_page import order_line, order_lines, order_object
from coach.cli.orders.price_list import prices_if_sound
from coach.cli.output import print_json
from coach.cli.written import refused
from coach.orders.desk_events import OrderEnded, OrderWorked, PieceSpoilt
from coach.piece import NoSuchPiece, PieceError, Store, SystemClock, folders
from coach.piece.desk_log import at_desk
from coach.piece.order_log import OrderAt, order_now, orders_now
from coach.piece.service import find_named
from coach.text import one_line

DOINGS: Final = ("spoilt", "cut", "way", "done", "give-up")
_MONEY: Final = re.compile(r"[0-9]{1,9}(?:\.[0-9]{1,4})?")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what it can be called with."""
    parser.add_argument("order", nargs="?", default="", metavar="ORDER", help="of one order")
    parser.add_argument(
        "doing", nargs="?", default="", choices=("", *DOINGS),
        help="give up one of its pieces, tick all cord as cut, work it the other way, end it",
    )  # fmt: skip
    parser.add_argument(
        "what", nargs="?", default="", metavar="PIECE", help="the piece that is spoilt"
    )
    parser.add_argument("--earned", metavar="MONEY", default="", help="what it has brought")
    parser.add_argument("--why", metavar="WORDS", default="", help="why a piece is spoilt")
    parser.add_argument("--json", action="store_true", help="as one JSON list, or object")


def run(options: argparse.Namespace) -> int:
    """Tell of the orders, or change one; 2 if the call is wrong, or it cannot be read or kept."""
    if options.earned and not _MONEY.fullmatch(options.earned):
        return refused("--earned: Write an amount of money, as in 60 or 62.50.")
    try:
        if not folders(os.environ).database.exists():
            return _none(options)
        with open_store() as store:
            if options.doing:
                _do(store, options)
            return _tell(store, options)
    except PieceError as error:
        return refused(str(error))


def _none(options: argparse.Namespace) -> int:
    if options.order:
        return refused(f"No order is called “{one_line(options.order)}”: there are none yet.")
    print("[]" if options.json else "No orders yet. `coach knot FILE --copies 12 --order stall`"
          " begins one.")  # fmt: skip
    return 0


def _tell(store: Store, options: argparse.Namespace) -> int:
    prices = prices_if_sound()
    if options.order:
        told = order_told(store, order_now(store, options.order), prices)
        if options.json:
            print_json(order_object(told))
        else:
            print("\n".join(order_lines(told)))
        return 0
    found = [order_told(store, one, prices) for one in orders_now(store)]
    if not found:
        return _none(options)
    if options.json:
        print_json([order_object(one) for one in found])
    else:
        print("\n".join(map(order_line, found)))
    return 0


def _do(store: Store, options: argparse.Namespace) -> None:
    """Change an order. Raises PieceError, and then nothing is changed."""
    order, at_ms = order_now(store, options.order), SystemClock().now_ms()
    if not order.order.is_open:
        raise NoSuchPiece(f"“{one_line(order.order.name)}” is over; what is made stays made.")
    name = order.order.name
    if options.doing == "cut":
        _cut(store, order)
    elif options.doing == "way":
        worked = OrderWorked(at_ms=at_ms, order=name, over_all=not order.order.over_all)
        at_desk(store, lambda _: [worked])
    elif options.doing == "spoilt":
        piece = find_named(store, options.what)
        if piece not in order.sound:
            raise NoSuchPiece(f"“{one_line(piece.name)}” is no sound piece of “{name}”.")
        spoilt = PieceSpoilt(at_ms=at_ms, order=name, piece=piece.uid, why=one_line(options.why))
        at_desk(store, lambda _: [spoilt])
    else:
        given_up = options.doing == "give-up"
        ended = OrderEnded(at_ms=at_ms, order=name, given_up=given_up, earned=options.earned)
        at_desk(store, lambda _: [ended])


def _cut(store: Store, order: OrderAt) -> None:
    """Tick every piece of cord of an order as cut; what is in stock of it goes out."""
    desk = Desk(store, SystemClock())
    for piece in order.sound:
        desk.tick_all_cut(piece.id)
