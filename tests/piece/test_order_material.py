"""What was really used for an order against its quote: ticks, lengths cut again, spoilt pieces."""

from decimal import Decimal

import pytest
from hand_clock import HandClock

from coach.cli.workshop.workshop import Workshop
from coach.desk.batch_lines import CUT
from coach.desk.batch_list import tick_pieces
from coach.desk.desk_log import append_to_desk, read_desk
from coach.desk.order_changes import end_order, spoil_piece
from coach.desk.order_log import order_now
from coach.desk.order_material import material_of
from coach.desk.order_start import ToBegin
from coach.orders.desk_events import StockAdded
from coach.orders.order_outcome import CordUsed, Material, order_outcome, outcome_json
from coach.orders.read_prices import read_prices
from coach.piece import Sitting, Store, find_named
from coach.piece.events import Joined
from coach.plan.resize.size_request import Wish

CLAY, REED = "clay cotton 2 mm", "reed cotton 2 mm"
OF_CLAY, OF_REED = 550.0, 1350.0  # mm of each in a keyring
PRICES = read_prices(
    "cords: {cotton 2 mm: 0.30 per m}\nfindings: {25 mm split ring: 0.20, 8 mm wooden bead: 0.10}\n"
).prices
QUOTE = {"copies": 3, "cost": {"extras": 0.45, "material": 2.70, "overhead": 0.0},
         "price": {"total": 30.0, "currency": "€"}}  # fmt: skip


class Order:
    """Three keyrings; clay is kept in stock at 0.20 a metre, reed is not and costs 0.30."""

    def __init__(self, store: Store, clock: HandClock) -> None:
        self.store, self.clock = store, clock
        self.workshop = Workshop(store, clock, lambda: "practised")
        clay = StockAdded(at_ms=1, what=CLAY, lengths_mm=[9000.0], price="2 per 10 m")
        append_to_desk(store, lambda _: [clay])
        plan = self.workshop.plan("reed-keyring")
        groups = [ToBegin(3, "", Wish(), plan)]
        self.workshop.begin_order("reed-keyring", "stall", groups, QUOTE)

    def cut(self, number: int, *labels: str, mark: str = CUT, back: bool = False) -> None:
        piece = find_named(self.store, f"stall {number}").id
        cords = [(piece, label) for label in labels]
        tick_pieces(self.store, self.clock, cords, mark, back=back)

    def sitting(self, number: int) -> Sitting:
        return self.workshop.open(find_named(self.store, f"stall {number}").id).sitting

    def used(self) -> dict[str, CordUsed]:
        found = material_of(self.store, order_now(self.store, "stall"), PRICES)
        return {cord.what: cord for cord in found.cords}


@pytest.fixture
def order(store: Store, clock: HandClock) -> Order:
    return Order(store, clock)


def test_nothing_is_used_before_anything_is_cut(order: Order) -> None:
    used = order.used()
    assert [(c.cut_mm, c.quoted_mm) for c in used.values()] == [
        (0.0, 3 * OF_REED), (0.0, 3 * OF_CLAY),
    ]  # fmt: skip
    assert {cord.money for cord in used.values()} == {Decimal(0)}


def test_what_is_ticked_is_used_at_what_that_stock_has_cost_and_unticked_it_is_not(
    order: Order,
) -> None:
    order.cut(1, "clay.1", "reed.1")
    order.cut(2, "clay.1")
    order.cut(2, "clay.1", back=True)
    used = order.used()
    assert used[CLAY] == CordUsed(CLAY, OF_CLAY, 3 * OF_CLAY, Decimal("0.2") * Decimal("0.55"))
    assert used[REED].money == Decimal("0.3") * Decimal("1.35")


def test_a_length_that_is_cut_again_goes_out_of_stock_and_counts_twice(order: Order) -> None:
    order.cut(1, "clay.1")
    order.cut(1, "clay.1", mark="cut again")
    order.cut(1, "clay.1", mark="cut again 2")
    assert order.used()[CLAY].cut_mm == 3 * OF_CLAY
    clay = read_desk(order.store).stock.find(CLAY)
    assert clay
    assert clay.mm == 9000 - 3 * OF_CLAY
    order.cut(1, "clay.1", mark="cut again 2", back=True)
    assert order.used()[CLAY].cut_mm == 2 * OF_CLAY


def test_a_piece_that_is_worked_on_was_cut_though_nobody_ticked_it(order: Order) -> None:
    order.sitting(1).count()
    assert order.used()[CLAY].cut_mm == OF_CLAY


def test_a_spoilt_piece_and_a_cord_that_was_joined_in_are_used_beside_what_was_quoted(
    order: Order,
) -> None:
    order.cut(1, "clay.1", "reed.1")
    piece = find_named(order.store, "stall 1")
    spoil_piece(order.store, order.clock, "stall", piece, another=True)
    sitting = order.sitting(2)
    total = sitting.state.total
    sitting.jot(Joined, at_done=0, total=total, strand="reed.1a", length_mm=400.0)
    used = order.used()
    assert (used[CLAY].cut_mm, used[CLAY].quoted_mm) == (OF_CLAY, 3 * OF_CLAY)
    assert used[REED].cut_mm == OF_REED + 400


def test_findings_are_used_by_what_is_finished(order: Order) -> None:
    for number in (1, 2):
        order.sitting(number).count(27)
    found = material_of(order.store, order_now(order.store, "stall"), PRICES)
    assert found.findings == 2 * (Decimal("0.20") + Decimal("0.10"))
    assert found.extras == Decimal("0.30")
    cords = 2 * (Decimal("0.55") * Decimal("0.2") + Decimal("1.35") * Decimal("0.3"))
    assert found.money == found.findings + found.extras + cords


def test_what_has_no_price_leaves_the_material_open(order: Order) -> None:
    order.cut(1, "reed.1")
    found = material_of(order.store, order_now(order.store, "stall"), None)
    assert found.money is None
    assert next(cord for cord in found.cords if cord.what == REED).money is None


def test_an_order_that_is_over_keeps_what_it_used_at_the_prices_of_then(order: Order) -> None:
    order.cut(1, "clay.1")
    found = material_of(order.store, order_now(order.store, "stall"), PRICES)
    end_order(order.store, order.clock, "stall", earned="12", material=found)
    append_to_desk(order.store, lambda _: [StockAdded(at_ms=2, what=CLAY, price="9 per 10 m")])
    kept = order_now(order.store, "stall").order
    assert Material.from_data(kept.material) == found
    told = order_outcome(QUOTE, 1, 0, 3600.0, "12", used=found)
    assert told.material == Decimal("0.2") * Decimal("0.55")
    assert told.quoted == 10
    assert told.rate == 12 - told.material
    assert outcome_json(told)["quoted_material"] == 0.9


@pytest.mark.parametrize("data", [{}, {"cords": 3}, {"cords": [{}]}, {"cords": [], "extras": 1}])
def test_what_cannot_be_read_of_it_is_left_out(data: dict[str, object]) -> None:
    assert Material.from_data(data) is None
