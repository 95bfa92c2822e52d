"""The pages of an order as a real browser prints them, on A4 and on Letter, page by page.

Run by hand where chromium and poppler's pdftoppm are installed:

    python -m pytest -n0 tests/card/orders_printed_by_hand.py

`ORDER_PAGES=/tmp/pages` keeps the pages there as pictures, to be looked at.
"""

import os
import re
from pathlib import Path

import pytest
from browser import Browser, sheets_of
from processes import run

from coach.cli.main import main

POINTS = {"a4": (595, 842), "letter": (612, 792)}
DPI = 100
MIX = ("--copies", "12", "--colourway", "dusk=4", "--colourway", "foam=4", "--colourway", "silt=4")
NAMES = ("reed-keyring", "tide-band", "sluice-belt")
PRICES = """currency: €
hour: 14
cords: {cotton 2 mm: 0.30 per m, cotton 3 mm: 0.40 per m}
findings: {25 mm split ring: 0.20, 8 mm wooden bead: 0.10}
hours: {sat: 3 h}
"""


def sheets(browser: Browser, html: Path) -> list[tuple[int, int]]:
    """Print a page by its own sizes, and return the sheets that it takes, in whole points."""
    pdf = browser.printed(html)
    html.with_suffix(".pdf").write_bytes(pdf)
    return [(round(wide), round(high)) for wide, high in sheets_of(pdf)]


def on_paper(html: Path, paper: str) -> Path:
    """Let a page be printed on a paper that it leaves to the printer."""
    text = html.read_text(encoding="utf-8")
    if not re.search(r"@page[^}]*size:", text):
        size = "A4" if paper == "a4" else "Letter"
        html.write_text(text.replace("</style>", f"@page {{ size: {size}; }}</style>", 1))
    return html


def pixels(html: Path) -> list[list[bytes]]:
    """Return the rows of grey pixels of each sheet."""
    stem = html.with_suffix("")
    run(["pdftoppm", "-r", str(DPI), "-gray", html.with_suffix(".pdf"), stem], check=True)
    keep = os.environ.get("ORDER_PAGES")
    if keep:
        name = f"{html.parent.name}-{html.stem}"
        to = Path(keep) / name
        run(["pdftoppm", "-r", "100", "-png", html.with_suffix(".pdf"), to], check=True)
    return [_rows(one.read_bytes()) for one in sorted(html.parent.glob(f"{html.stem}-*.pgm"))]


def _rows(pgm: bytes) -> list[bytes]:
    head = re.match(rb"P5\s+(\d+)\s+(\d+)\s+255\s", pgm)
    assert head
    wide, body = int(head[1]), pgm[head.end() :]
    return [body[start : start + wide] for start in range(0, len(body), wide)]


@pytest.fixture(autouse=True)
def prices(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COACH_HOME", str(tmp_path / "home"))
    (tmp_path / "home" / "settings").mkdir(parents=True)
    (tmp_path / "home" / "settings" / "prices.yaml").write_text(PRICES, encoding="utf-8")


@pytest.mark.parametrize("paper", POINTS)
@pytest.mark.parametrize("name", NAMES)
def test_the_customers_sheet_is_at_most_two_sheets_with_the_picture_on_top(
    tmp_path: Path, browser: Browser, name: str, paper: str
) -> None:
    html = tmp_path / f"sheet-{name}-{paper}.html"
    mix = MIX if name == "reed-keyring" else ("--copies", "3")
    assert main(["quote", name, *mix, "--sheet", str(html)]) == 0
    found = sheets(browser, on_paper(html, paper))
    assert 1 <= len(found) <= 2
    assert set(found) == {POINTS[paper]}
    first = pixels(html)[0]
    upper = first[len(first) // 12 : len(first) // 2]
    inked = sum(min(row) < 200 for row in upper)
    assert inked > len(upper) * 3 // 4  # a picture without gaps, not lines of words
    edge = DPI // 5
    assert all(min(row[:edge]) > 200 for row in first)  # nothing is cut off at the sides
    assert all(min(row[-edge:]) > 200 for row in first)


@pytest.mark.parametrize("paper", POINTS)
@pytest.mark.parametrize("name", NAMES)
def test_the_kit_is_on_its_paper_and_its_labels_have_marks_to_cut_at(
    tmp_path: Path, browser: Browser, name: str, paper: str
) -> None:
    """Ten copies: cut list, labels, the card; every sheet has something on it."""
    html = tmp_path / f"kit-{name}-{paper}.html"
    assert main(["kit", name, "--copies", "10", "--paper", paper, "-o", str(html)]) == 0
    assert set(sheets(browser, html)) == {POINTS[paper]}
    pages = pixels(html)
    assert all(any(min(row) < 128 for row in page) for page in pages)
    marked = [number for number, page in enumerate(pages) if _marks(page)]
    assert marked[:1] == [1]  # the labels come after the cut list, and before the card
    assert marked == list(range(1, 1 + len(marked)))
    assert len(pages) > 1 + len(marked)


def _marks(page: list[bytes]) -> bool:
    """Return whether a sheet has marks in its margins, where no printed words stand (15 mm)."""
    side = round(DPI / 25.4 * 14.7)
    return any(min(row[:side]) < 200 for row in page)
