"""Every page to print on its sheets, before two validators, and before the rules of axe-core.

Run by hand with what is installed of chromium, tidy, vnu (the Nu checker) and axe-core-python:

    python -m pytest -n0 tests/card/pages_by_hand.py
"""

from pathlib import Path

import pytest
from browser import CHROMIUM, Browser, one_after_another, sheets_of, tidied, validated
from card_pages import NAMES, card_of, plan_of

from coach.card.card_page import render_card, shop_page
from coach.cli.main import main
from coach.report.plan_report import report_of


def pages(name: str) -> dict[str, str]:
    """Return the card with its knots, cut for a dozen in inches, and the sheet for a customer."""
    plan = plan_of(name)
    dozen = report_of(plan, copies=12, unit="in")
    return {"card": render_card(plan, dozen, knots=True), "shop": shop_page(plan, dozen)}


def test_no_page_has_a_fault_by_either_validator(tmp_path: Path) -> None:
    written = []
    for name in NAMES:
        for kind, text in pages(name).items():
            assert tidied(text, tmp_path) == [], (name, kind)
            written.append(tmp_path / f"{name}-{kind}.html")
            written[-1].write_text(text, encoding="utf-8")
    for name in ("kit", "quote"):
        written.append(tmp_path / f"{name}.html")
        option = "-o" if name == "kit" else "--sheet"
        assert main([name, "reed-keyring", "--copies", "3", option, str(written[-1])]) == 0
        assert tidied(written[-1].read_text(encoding="utf-8"), tmp_path) == [], name
    assert validated(written) == ""


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_every_card_is_printed_on_two_sheets(
    tmp_path: Path, browser: Browser, name: str, paper: str
) -> None:
    html = one_after_another([card_of(name)], paper, tmp_path / "printed.html")
    assert len(sheets_of(browser.printed(html))) == (2 if CHROMIUM else 0)


@pytest.mark.parametrize("name", NAMES)
def test_everybody_can_read_every_card(tmp_path: Path, browser: Browser, name: str) -> None:
    html = tmp_path / "card.html"
    html.write_text(pages(name)["card"], encoding="utf-8")
    assert browser.inaccessible(html, "dark") == ""


@pytest.mark.parametrize("name", ["kit", "quote"])
def test_everybody_can_read_the_pages_of_an_order(
    tmp_path: Path, browser: Browser, name: str
) -> None:
    html, option = tmp_path / "page.html", "-o" if name == "kit" else "--sheet"
    assert main([name, "reed-keyring", "--copies", "3", option, str(html)]) == 0
    assert browser.inaccessible(html) == ""
