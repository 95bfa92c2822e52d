"""What is printed: the customer's sheet, and kits with their labels."""

import re
import xml.etree.ElementTree as ET
from itertools import pairwise

import html5lib
import pytest
from desk_data import THREE_WAYS, group, practised, prices
from test_quote import SUNDAY

from coach.card.card_page import render_card
from coach.orders.quote import quote_of
from coach.orders.quote_model import Quote
from coach.orders.sheets.cord_labels import (
    LABEL_MM,
    MARGIN_MM,
    MARK_MM,
    PAPERS,
    Paper,
    label_sheets,
    labels_of,
    per_sheet,
)
from coach.orders.sheets.customer_sheet import MOST_PICTURES, sheet
from coach.orders.sheets.kit import kit
from coach.orders.stock import Stock
from coach.report.plan_report import report_of

NUMBER = re.compile(r"[0-9]+\.[0-9]{2}")


def quote(*ways: tuple[str, int]) -> Quote:
    groups = [group(copies, way) for way, copies in ways]
    return quote_of(groups, Stock(), prices(), practised(), SUNDAY)


def parsed(text: str) -> ET.Element:
    """Parse HTML, of which every fault is an error."""
    found: ET.Element = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(text)
    return found


HEADINGS = [f"h{level}" for level in range(1, 7)]


def well_headed(tree: ET.Element) -> bool:
    """Return whether a page has one first heading, no level skipped, and one in each section."""
    levels = [int(one.tag[1]) for one in tree.iter() if one.tag in HEADINGS]
    steps = all(after - before <= 1 for before, after in pairwise(levels))
    inside = all(any(one.find(f".//{h}") is not None for h in HEADINGS)
                 for one in tree.iter("section"))  # fmt: skip
    return levels[0] == 1 and levels.count(1) == 1 and steps and inside


def test_the_sheet_has_picture_size_colours_price_and_day_and_needs_nothing_else() -> None:
    found = quote(*THREE_WAYS)
    text = sheet(found)
    tree = parsed(text)
    assert well_headed(tree)
    assert len(tree.findall(".//img")) == 3
    assert all(img.get("src", "").startswith("data:image/svg+xml;base64,")
               for img in tree.iter("img"))  # fmt: skip
    assert not re.search(r"(src|href)=[\"'](?!data:)|@import|url\(|<script", text)
    body = "".join(tree.find(".//body").itertext())  # type: ignore[union-attr]
    for told in ("Reed keyring", "dusk", "indigo", "about 11.8 cm", "€", "Ready by", "mouths"):
        assert told in body
    # the picture stands before all that is said
    assert text.index("<img") < text.index("<table")


def test_no_inner_figure_is_on_the_customers_sheet() -> None:
    """Only prices are amounts there: no hour, no material, overhead or margin, no hours."""
    found = quote(*THREE_WAYS)
    assert found.total
    assert found.each
    text = re.sub(r"<style>.*?</style>|data:[^\"]*", "", sheet(found), flags=re.DOTALL)
    amounts = set(NUMBER.findall("".join(parsed(text).itertext())))
    assert amounts == {f"{p:,.2f}" for p in (found.total.likely, *(e.likely for e in found.each))}
    for inner in ("hour", "margin", "overhead", "material", "stock", "buy", "rate"):
        assert inner not in "".join(parsed(text).itertext()).lower()


def test_many_groups_still_go_on_two_sheets() -> None:
    """At most four pictures in one row and 25 lines: by their heights well under 2 x 249 mm."""
    many = quote(*((("dusk", "foam", "silt", "")[n % 4], 1) for n in range(40)))
    tree = parsed(sheet(many))
    assert len(tree.findall(".//img")) <= MOST_PICTURES
    assert len(tree.findall(".//tr")) <= 26


def test_a_sheet_without_prices_or_hours_says_neither() -> None:
    none = quote_of([group(2)], Stock(), None, practised(), SUNDAY)
    text = sheet(none)
    assert "Ready by" not in text
    assert "Each" not in text
    parsed(text)


@pytest.mark.parametrize("paper", PAPERS)
def test_labels_and_their_marks_lie_on_the_paper_in_true_size(paper: Paper) -> None:
    """A4 is 210 by 297 mm, Letter 215.9 by 279.4 mm (ISO 216; ANSI/ASME Y14.1; from memory)."""
    assert PAPERS[paper] == {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}[paper]
    labels = labels_of([group(30)])
    sheets = list(label_sheets(labels, paper))
    beside, below = per_sheet(paper)
    assert len(sheets) == -(-60 // (beside * below))
    wide, high = PAPERS[paper]
    for one in sheets:
        tree = ET.fromstring(one)  # noqa: S314 - our own
        for line in tree.iter("line"):
            xs, ys = ([float(line.get(f"{k}{n}", "")) for n in "12"] for k in "xy")
            assert min(xs) >= MARGIN_MM - 0.01
            assert max(xs) <= wide - MARGIN_MM + 0.01
            assert min(ys) >= MARGIN_MM - 0.01
            assert max(ys) <= high - MARGIN_MM + 0.01
    rows = beside * LABEL_MM[0] + 2 * (MARGIN_MM + MARK_MM)
    assert rows <= wide


def test_a_label_says_what_is_needed_and_no_more() -> None:
    labels = labels_of([group(2, "dusk"), group(1)])
    assert len(labels) == 6
    assert [label.copy for label in labels] == [1, 1, 2, 2, 3, 3]
    first, last = labels[0], labels[-1]
    assert (first.cord, first.number, first.strands) == (
        "reed, indigo",
        "reed.1",
        "reed.1a reed.1b",
    )
    assert last.cord == "clay"
    texts = [
        "".join(t.itertext())
        for t in ET.fromstring(next(label_sheets(labels, "a4"))).iter("text")  # noqa: S314 - our own
    ]
    assert len(texts) == 5 * 6
    assert [label.copy for label in labels_of([group(1)])] == [None, None]


def test_a_kit_has_the_cut_list_for_all_the_labels_and_the_card() -> None:
    found = quote(("dusk", 5), ("foam", 5))
    plan = found.groups[0].plan
    text = kit(found, render_card(plan, report_of(plan)), "letter")
    tree = parsed(text)
    said = "".join(tree.find(".//body").itertext())  # type: ignore[union-attr]
    assert well_headed(tree)
    assert "Reed keyring: cut for 10" in said
    assert "kit 10" in said
    assert "215.9mm 279.4mm" in text
    assert sum("labels-sheet" in one.get("class", "") for one in tree.iter("div")) == 1
    assert not re.search(r"(src|href)=[\"'](?!data:|#)|@import|url\((?!#)|<script", text)
