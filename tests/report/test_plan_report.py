"""What is told of a plan is gathered once, and every page tells the same."""

import re
from html import unescape
from pathlib import Path

import pytest

from coach.card.card_page import render_card
from coach.cli.project_finder import shipped_projects
from coach.cli.reports.plan_page import render_plan
from coach.pace.estimate import Range
from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan
from coach.quantities import show_cut, show_length
from coach.report.plan_report import PlanReport, report_of
from coach.tui.layout.styled_text import Inks
from coach.tui.pages.plan_pages import plan_lines
from coach.tui.theme.palette import DARK
from coach.words.sheet import as_words

SHELF = {path.stem: path for path in shipped_projects()}
TIME = Range(3600.0, 5400.0, 9000.0)
PAGES = ("terminal", "bench", "words", "markdown", "card")


def plan_of(name: str) -> Plan:
    plan = read_plan(SHELF[name].read_text(encoding="utf-8")).plan
    assert plan
    return plan


def pages_of(plan: Plan, report: PlanReport) -> dict[str, str]:
    """Return what each page says, as one line of words."""
    card = re.sub(
        r"<style>.*?</style>|<title>.*?</title>",
        "",
        render_card(plan, report, knots=True),
        flags=re.DOTALL,
    )
    said = {
        "terminal": " ".join(render_plan(report)),
        "bench": " ".join(line.plain for line in plan_lines(report, Inks(DARK), 78)),
        "words": " ".join(as_words(plan, report, marked=False)),
        "markdown": re.sub(r"\\(.)", r"\1", " ".join(as_words(plan, report, marked=True))),
        "card": unescape(re.sub(r"<[^>]+>", " ", card)),
    }
    return {page: " ".join(text.split()) for page, text in said.items()}


@pytest.mark.parametrize("name", SHELF)
def test_every_page_tells_what_is_to_cut_hang_and_have_ready_its_size_and_cautions(
    name: str,
) -> None:
    plan = plan_of(name)
    report = report_of(plan, time=TIME)
    size = report.size
    everywhere = [
        report.title,
        " ".join(report.about.split()),
        f"{show_length(size.length_mm)} long and {show_length(size.width_mm)} wide",
        *(f"The project aims for {show_length(mm)}." for mm in [size.wish_mm] if mm),
        *(f"Its maker measured {show_length(mm)}" for mm in [size.measured_mm] if mm),
        *report.cautions,
    ]
    for page, text in pages_of(plan, report).items():
        for said in everywhere:
            assert said in text, (page, said)
        for ready in report.ready:
            assert ready.casefold() in text.casefold(), page
        for cord in report.cords:
            for cut in cord.cut.cuts:
                assert show_cut(cut.cut_mm) in text, page
            assert show_cut(cord.cut.total_mm) in text, page
        for knot, ties in report.knots:
            assert re.search(rf"\b{ties:,} {knot}", text), (page, knot)
        assert f"{report.hanging.on}" in text


@pytest.mark.parametrize("page", ["terminal", "bench", "card"])
def test_a_time_is_told_in_one_way(page: str) -> None:
    plan = plan_of("tide-band")
    said = pages_of(plan, report_of(plan, time=TIME))[page]
    assert "bout 1 h 30 min of knotting (1 h to 2 h 30 min)" in said
    assert "knotting (" not in pages_of(plan, report_of(plan))[page]


def test_lengths_are_in_the_units_of_the_report() -> None:
    plan = plan_of("tide-band")
    report = report_of(plan, unit="in")
    quarters = [cut.cut_mm / 6.35 for cord in report.cuts for cut in cord.cuts]
    assert quarters == pytest.approx([round(quarter) for quarter in quarters], abs=1e-6)
    for page in ("terminal", "bench"):
        said = pages_of(plan, report)[page]
        assert all(show_cut(cut.cut_mm, "in") in said for cord in report.cuts for cut in cord.cuts)
        assert not re.search(r"\d (cm|m)\b", said)


def test_what_was_wished_and_how_many_are_told_where_they_can_be_asked_for() -> None:
    plan = plan_of("tide-band")
    report = report_of(plan, copies=6, changes=("for 20 cm; wave: 4 instead of 6",), one_more=True)
    said = pages_of(plan, report)["terminal"]
    assert "Changed: for 20 cm; wave: 4 instead of 6." in said
    assert "Cut for 6" in said
    assert "each extra wave takes" in said
    assert "each extra wave takes" not in pages_of(plan, report_of(plan))["terminal"]


def test_a_cord_folded_off_the_middle_is_told_on_every_page(tmp_path: Path) -> None:
    text = (
        "coach: 1\ntitle: Leaning\ncords:\n  reed: {colour: green, diameter: 2 mm, fold: fit}\n"
        "start: {hang: [2 reed]}\n"
        "work:\n  - {row: clove hitch, holder: 1, across: 2-4, times: 9}\n"
    )
    file = tmp_path / "leaning.yaml"
    file.write_text(text, encoding="utf-8")
    plan = read_plan(text).plan
    assert plan
    for page, said in pages_of(plan, report_of(plan)).items():
        assert "Fold reed off the middle, leaving " in said, page


@pytest.mark.parametrize("page", PAGES)
def test_a_project_that_says_next_to_nothing_has_no_empty_sentence(page: str) -> None:
    text = (
        "coach: 1\ntitle: Bare\ncords: {reed: {diameter: 2 mm}}\nstart: {nest: [2 reed]}\n"
        "work: [{knot: square knot, strands: 1-4}]\n"
    )
    plan = read_plan(text).plan
    assert plan
    said = pages_of(plan, report_of(plan))[page]
    assert not re.search(r"(^|\s)[.;,]|\(\)|: \.|None", said)
    assert "Take care" not in said
    assert "ave ready" not in said
