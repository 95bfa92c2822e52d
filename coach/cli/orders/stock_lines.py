"""The stock that a plan's cords are cut from, in lines, where the maker keeps a stock."""

import os
from collections import Counter
from textwrap import wrap

from coach.cli.orders.price_list import prices_if_sound
from coach.cli.orders.quote_page import source_words
from coach.cli.output import WIDTH
from coach.desk.desk_log import read_desk
from coach.orders.cutting import cord_order
from coach.orders.material_names import label_of, wanted_in
from coach.orders.prices import Prices
from coach.orders.stock import Stock
from coach.piece import PieceError, Store, folders
from coach.plan.plan_model import Plan
from coach.report.plan_report import PlanReport


def read_current_stock() -> Stock:
    """Return the stock; no store is created where there is none yet. Raises PieceError."""
    database = folders(os.environ).database
    if not database.exists():
        return Stock()
    with Store(database) as store:
        return read_desk(store).stock


def stock_use_lines(plan: Plan, report: PlanReport) -> list[str]:
    """Return in lines what of each cord is in stock and what to buy.

    Nothing is returned where the stock is empty, or cannot be read.
    """
    try:
        stock = read_current_stock()
    except PieceError:
        return []
    if not stock.items:
        return []
    prices, lines = prices_if_sound() or Prices(), ["", "From stock"]
    for cut in report.cuts:
        wanted = wanted_in(plan.project, cut.cord)
        counted = Counter[float]()
        for one in cut.cuts:
            counted[one.cut_mm] += one.pieces
        found = cord_order(wanted, label_of(wanted), counted, stock, prices)
        told = f"{cut.cord}: {source_words(found, report.unit)}"
        lines += wrap(told, WIDTH, initial_indent="  ", subsequent_indent="    ")
    return lines
