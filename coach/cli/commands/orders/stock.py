"""`coach stock`: list the stock; add to it, count it again, take from it."""

import argparse
import sys
from collections.abc import Sequence
from dataclasses import replace
from difflib import get_close_matches
from pathlib import Path
from typing import Any, Final

from coach.cli.bench_setup import add_units, chosen_units
from coach.cli.file_output import refuse_call
from coach.cli.open_store import open_store
from coach.cli.orders.maker_desk import read_for_maker
from coach.cli.orders.stock_lines import read_current_stock
from coach.cli.orders.stock_options import (
    Amounts,
    WrongStock,
    add_amount_options,
    amounts,
    known_things,
    price,
    stock_name,
    weighs_tex,
)
from coach.cli.orders.stock_page import (
    as_list,
    as_yaml,
    item_line,
    makes_lines,
    makes_object,
    render_stock,
)
from coach.cli.output import print_json, print_page
from coach.cli.project_finder import NoSuchProject
from coach.cli.skill_question import skill_set
from coach.desk.desk_log import append_to_desk
from coach.orders.desk_events import DeskEvent, StockAdded, StockCounted, StockTaken
from coach.orders.desk_state import DeskState
from coach.orders.read_stock import StockEntry, read_stock, stock_events
from coach.orders.stock import Item, Stock
from coach.orders.stock_yield import stock_yield
from coach.piece import PieceError, SystemClock
from coach.text import join_words, one_line
from coach.yaml_reader.file_loader import load
from coach.yaml_reader.render import as_lines

DOINGS: Final = ("add", "count", "take")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what it can be called with."""
    parser.add_argument(
        "doing", nargs="?", default="", choices=("", *DOINGS),
        help="add what came in, count what is there, take what went; alone, list it",
    )  # fmt: skip
    parser.add_argument("what", nargs="?", default="", help="its label: 'clay cotton 2 mm'")
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="as one JSON list")
    form.add_argument(
        "--yaml", action="store_true", help="as a list to change and to count with --file"
    )
    parser.add_argument(
        "--makes", metavar="FILE", default="",
        help="how many of a project, or how long a one, come out of it",
    )  # fmt: skip
    parser.add_argument("--colourway", metavar="NAME", default="", help="in a colourway of its own")
    add_amount_options(parser)
    add_units(parser)


def run(options: argparse.Namespace) -> int:
    """List or change the stock; 2 if the call is wrong, or the store fails."""
    try:
        if options.makes:
            return _made(options)
        if options.file:
            return _from_list(options)
        if not options.doing:
            return _listed(read_current_stock(), options)
        what, much = stock_name(options.what), amounts(options)
        with open_store() as store:
            desk = append_to_desk(store, lambda desk: [_happened(desk, what, much, options)])
    except (WrongStock, PieceError, NoSuchProject) as error:
        return refuse_call(str(error))
    return _told(desk, what, options)


def _made(options: argparse.Namespace) -> int:
    """Print how much of a project the stock is enough for. Raises WrongStock, NoSuchProject."""
    if options.doing:
        raise WrongStock("--makes stands alone, as in 'coach stock --makes reed-keyring'.")
    made = read_for_maker(options.makes, skill_set)
    if made is None:
        return 1
    ways = made.plan.project.colourways
    if options.colourway and options.colourway not in ways:
        known = f"It has {join_words([f'‘{way}’' for way in ways])}." if ways else "It has none."
        raise WrongStock(
            f"--colourway: This project has no colourway ‘{one_line(options.colourway)}’. {known}"
        )
    found = stock_yield(made.plan, made.desk.stock, options.colourway)
    if options.json:
        print_json(makes_object(made.plan.project.title, found))
    else:
        print("\n".join(makes_lines(made.plan.project.title, found, chosen_units(options.units))))
    return 0


def _listed(stock: Stock, options: argparse.Namespace) -> int:
    items = list(stock.items.values())
    if options.json:
        print_json(as_list(items))
    elif options.yaml:
        print_page(as_yaml(items))
    elif items:
        print("\n".join(render_stock(items, chosen_units(options.units))))
    else:
        print("Nothing is in stock yet. Add what there is, as in\n"
              "`coach stock add 'clay cotton 2 mm' --hank '100 m'`.")  # fmt: skip
    return 0


def _from_list(options: argparse.Namespace) -> int:
    """Add or count what a file lists; 1 if it has errors, and then nothing is changed.

    Raises:
        WrongStock, PieceError: It contradicts the stock, or cannot be stored.
    """
    if options.doing not in ("add", "count") or options.what:
        raise WrongStock("--file goes with add or count, as in 'coach stock add --file my.yaml'.")
    loaded = load(Path(options.file))
    reading = read_stock(loaded.text or "")
    problems = (*loaded.problems, *reading.problems)
    lines = as_lines(one_line(options.file), loaded.text or "", problems)
    if lines:
        sys.stderr.write("\n".join(lines) + "\n")
        return 1
    counted, at_ms = options.doing == "count", SystemClock().now_ms()
    with open_store() as store:
        desk = append_to_desk(store, lambda desk: [
            event
            for thing in reading.things
            for event in stock_events(_as_kept(desk, thing), at_ms, counted=counted)
        ])  # fmt: skip
    found = [desk.stock.find(thing.what) for thing in reading.things]
    return _listed(Stock({item.what: item for item in found if item}), options)


def _as_kept(desk: DeskState, thing: StockEntry) -> StockEntry:
    """Return a thing under its label in stock. Raises WrongStock if that is of another kind."""
    item = desk.stock.find(thing.what)
    if item is None:
        return thing
    by_number = thing.number is not None
    if item.by_number != by_number and _is_there(item):
        raise WrongStock(
            f"{item.what} is kept {'by number' if item.by_number else 'by length or weight'}: "
            f"it belongs under {'findings' if item.by_number else 'cords'}. Nothing is changed."
        )
    return replace(thing, what=item.what)


def _told(desk: DeskState, what: str, options: argparse.Namespace) -> int:
    item = desk.stock.find(what) or Item(what)
    if options.json:
        print_json(as_list([item]))
    else:
        print("\n".join(item_line(item, chosen_units(options.units))))
    return 0


def _happened(desk: DeskState, what: str, much: Amounts, options: argparse.Namespace) -> DeskEvent:
    """Return the event for a change of the stock. Raises WrongStock: nothing is changed then."""
    item, at_ms = desk.stock.find(what), SystemClock().now_ms()
    kept: dict[str, Any] = {"at_ms": at_ms, "what": item.what if item else what}
    by_number = much.number is not None
    if item and much and item.by_number != by_number and _is_there(item):
        raise WrongStock(
            f"{item.what} is kept {'by number' if item.by_number else 'by length or weight'}. "
            f"Use --{'number' if item.by_number else 'hank'}."
        )
    if options.doing == "add":
        return _added(item, kept, much, options)
    if options.weighs or options.price:
        raise WrongStock("--weighs and --price belong to what is added.")
    if item is None:
        raise WrongStock(f"{what} is not in stock.{_meant(what, desk.stock)}")
    if options.doing == "count":
        if not (much or much.none):
            how = "--number 36" if item.by_number else "--hank '62 m, 4.5 m'"
            none = "--number 0" if item.by_number else "--hank '0 m'"
            raise WrongStock(f"Say how much is there, as in {how}; where none is left, {none}.")
        return StockCounted(
            **kept, lengths_mm=list(much.lengths_mm), grams=much.grams, count=much.number or 0
        )
    if not much:
        raise WrongStock("Say how much is taken: --hank '2 m', or --number 3.")
    return StockTaken(
        **kept, length_mm=sum(much.lengths_mm), grams=much.grams, count=much.number or 0
    )


def _added(
    item: Item | None, kept: dict[str, Any], much: Amounts, options: argparse.Namespace
) -> DeskEvent:
    tex = weighs_tex(options.weighs)
    by_number = much.number is not None or bool(item and item.by_number and not much)
    if not much and not (item and (tex or options.price)):
        raise WrongStock("Say how much came in: --hank '100 m', --hank '500 g' or --number 40.")
    if by_number and tex:
        raise WrongStock("--weighs is said of cord.")
    return StockAdded(
        **kept, lengths_mm=list(much.lengths_mm), grams=much.grams, count=much.number or 0,
        by_number=by_number, fineness_tex=tex, price=price(options.price, by_number=by_number),
    )  # fmt: skip


def _is_there(item: Item) -> bool:
    return bool(item.by_number or item.lengths_mm or item.grams or item.owed_mm)


def _meant(what: str, stock: Stock) -> str:
    names: Sequence[str] = [item.what for item in stock.items.values()]
    near = get_close_matches(what, names, n=1, cutoff=0.5)
    return f" Did you mean ‘{near[0]}’?" if near else f" {known_things(names)}"
