"""The card as a page: sound HTML, readable by all, alone, and printed well by a real browser."""

import re
import zlib
from functools import cache
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree as ET

import html5lib
import pytest
from browser import CHROMIUM, Browser, one_after_another, sheets_of, tidied
from card_pages import NAMES, card_of, contrast, plan_of, planned
from command_line import coach

from coach.card.card_page import render_card, shop_page
from coach.card.style import STYLE
from coach.report.plan_report import report_of

HTML = "{http://www.w3.org/1999/xhtml}"
SVG = "{http://www.w3.org/2000/svg}"


def tree(text: str) -> ET.Element:
    """Read a page as browsers do; any fault of writing is an error."""
    found: ET.Element = html5lib.HTMLParser(strict=True).parse(text)
    return found


@cache
def tree_of(name: str) -> ET.Element:
    """Return the card of a project as it is read; none of the tests changes it."""
    return tree(card_of(name))


@pytest.mark.parametrize("name", NAMES)
def test_the_page_is_sound_html_in_good_order(name: str) -> None:
    root = tree_of(name)
    assert root.attrib["lang"] == "en"
    levels = [int(e.tag[-1]) for e in root.iter() if re.fullmatch(rf"{HTML}h[1-6]", str(e.tag))]
    assert levels.count(1) == 1
    assert levels[0] == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))
    assert len(list(root.iter(f"{HTML}main"))) == 1
    assert all(cell.attrib.get("scope") for cell in root.iter(f"{HTML}th"))


def test_a_validator_finds_no_fault_in_any_card(tmp_path: Path) -> None:
    found = {name: faults for name in NAMES if (faults := tidied(card_of(name), tmp_path))}
    assert not found


def test_everybody_can_read_the_card_light_and_dark(tmp_path: Path, browser: Browser) -> None:
    """WCAG 2.2 by the rules of axe-core (run), beside the contrasts that are worked out below."""
    plan = plan_of("reed-keyring")
    whole, shop = tmp_path / "card.html", tmp_path / "shop.html"
    whole.write_text(render_card(plan, report_of(plan), knots=True), encoding="utf-8")
    shop.write_text(shop_page(plan, report_of(plan)), encoding="utf-8")
    assert browser.inaccessible(whole, "dark") == ""
    assert browser.inaccessible(shop) == ""


@pytest.mark.parametrize("name", NAMES)
def test_every_drawing_says_in_words_what_it_shows(name: str) -> None:
    drawings = list(tree_of(name).iter(f"{SVG}svg"))
    assert len(drawings) > 5
    for drawing in drawings:
        hidden = drawing.attrib.get("aria-hidden") == "true"
        assert hidden or (drawing.attrib["role"] == "img" and drawing.attrib["aria-label"])


@pytest.mark.parametrize("name", NAMES)
def test_the_page_needs_no_script_and_no_network(name: str) -> None:
    text = card_of(name)
    assert not re.search(
        r"<script|<link|<img|<iframe|\son\w+=|url\((?!#)|@import|src=|href=(?!\"#)", text
    )
    assert not re.search(r"https?://", text)


@pytest.mark.parametrize("mode", ["light", "dark", "print"])
def test_words_and_lines_stand_out_from_the_paper(mode: str) -> None:
    """WCAG 2.2: 7 : 1 for text, 3 : 1 for the parts of pictures (read)."""
    blocks = re.findall(r":root \{([^}]*)\}", STYLE)
    ink = dict(re.findall(r"--(\w+): (#\w{6})", blocks[("light", "dark", "print").index(mode)]))
    for words in ("ink", "quiet"):
        for ground in ("paper", "wash"):
            assert contrast(ink[words], ink[ground]) >= 7, (words, ground)
    assert contrast(ink["line"], ink["paper"]) >= 3


def test_hostile_titles_stay_words_and_right_to_left_ones_read_from_the_right() -> None:
    plan = planned(
        "coach: 1\ntitle: '<script>alert(1)</script> & \"שלום\"'\n"
        'cords: {"reed \'n mud": {colour: green, diameter: 2 mm}}\n'
        "start: {hang: [2 reed 'n mud]}\n"
        "work: [{do: 'a < b & c'}, {knot: square knot, strands: 1-4}]\n"
    )
    text = render_card(plan, report_of(plan))
    root = tree(text)
    title = next(root.iter(f"{HTML}h1"))
    assert title.text == plan.project.title
    assert title.attrib["dir"] == "auto"
    assert "<script" not in text


def test_a_card_is_written_once_and_only_over_a_file_when_asked(tmp_path: Path) -> None:
    card = tmp_path / "card.html"
    assert coach("card", "reed-keyring", "-o", str(card)).returncode == 0
    assert card.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")
    card.write_text("mine", encoding="utf-8")
    refused = coach("card", "reed-keyring", "-o", str(card))
    assert (refused.returncode, card.read_text(encoding="utf-8")) == (2, "mine")
    assert coach("card", "reed-keyring", "-o", str(card), "--replace").returncode == 0


def test_an_unwritable_target_and_a_faulty_project_are_told(tmp_path: Path) -> None:
    nowhere = coach("card", "reed-keyring", "-o", str(tmp_path / "no" / "card.html"))
    assert (nowhere.returncode, nowhere.stderr.count("\n")) == (2, 1)
    faulty = tmp_path / "faulty.yaml"
    faulty.write_text("coach: 1\ntitle: Tide\n", encoding="utf-8")
    refused = coach("card", str(faulty), "-o", str(tmp_path / "card.html"))
    assert refused.returncode == 1
    assert "MISSING-KEY" in refused.stderr
    assert not (tmp_path / "card.html").exists()


def test_svg_writes_the_schematic_alone() -> None:
    done = coach("card", "tide-band", "--svg")
    assert done.stdout.startswith("<svg ")
    assert 'xmlns="http://www.w3.org/2000/svg"' in done.stdout


@pytest.mark.parametrize(
    ("paper", "size"), [("A4", (595, 842)), ("Letter", (612, 792))], ids=["A4", "Letter"]
)
def test_a_browser_prints_the_fullest_cards_on_two_whole_sheets(
    tmp_path: Path, browser: Browser, paper: str, size: tuple[int, int]
) -> None:
    cards = [card_of("strandline-sampler"), card_of("tide-band")]
    html = one_after_another(cards, paper, tmp_path / "printed.html")
    sheets = sheets_of(browser.printed(html))
    if CHROMIUM:
        assert len(sheets) == 4
        assert all(sheet == pytest.approx(size, abs=1) for sheet in sheets)


def test_a_browser_shows_the_card_dark_and_light(tmp_path: Path, browser: Browser) -> None:
    html = tmp_path / "card.html"
    html.write_text(card_of("reed-keyring"), encoding="utf-8")
    dark, light = browser.seen(html, "dark"), browser.seen(html, "light")
    if CHROMIUM:
        assert first_pixel(dark) < 128 < first_pixel(light)


def first_pixel(png: bytes) -> int:
    """Return the red of the top left pixel, which no PNG filter changes."""
    at, data = 8, b""
    while at < len(png):
        length = int.from_bytes(png[at : at + 4], "big")
        if png[at + 4 : at + 8] == b"IDAT":
            data += png[at + 8 : at + 8 + length]
        at += 12 + length
    return zlib.decompress(data)[1]
