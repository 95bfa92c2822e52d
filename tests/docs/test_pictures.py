"""Every picture carries the style that it uses: those of the README, made anew, and the card's."""

import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator

import make_pictures
import pytest

from coach.card.card_page import render_card
from coach.report.plan_report import report_of

SVG = "{http://www.w3.org/2000/svg}"
DRAWN = ("path", "line", "rect", "circle", "ellipse", "polyline", "polygon", "text")
KEPT = {file.stem: file for file in make_pictures.PICTURES.glob("*.svg")}


def rules_of(style: str) -> dict[str, str]:
    """Return what a style sheet says of each class, in one text."""
    rules: dict[str, str] = {}
    for names, said in re.findall(r"([^{}]+)\{([^{}]*)\}", style):
        for name in re.findall(r"\.([A-Za-z][\w-]*)", names):
            rules[name] = rules.get(name, "") + said
    return rules


def unpainted(picture: str) -> Iterator[str]:
    """Yield what of a picture would only be seen as it is meant where somebody else has rules."""
    root = ET.fromstring(picture)  # noqa: S314 - our own text
    style = "".join(part.text or "" for part in root.iter(f"{SVG}style"))
    rules = rules_of(style)
    for colour in set(re.findall(r"var\((--\w+)\)", style)) - set(re.findall(r"(--\w+):", style)):
        yield f"no colour {colour}"
    for shape in (part for kind in DRAWN for part in root.iter(f"{SVG}{kind}")):
        classes = shape.get("class", "").split()
        yield from (f"no rule for {name}" for name in classes if name not in rules)
        has_ink = "stroke" in shape.attrib or any("stroke:" in rules.get(c, "") for c in classes)
        if shape.get("fill") == "none" and not has_ink:
            yield f"a line without ink: {shape.attrib}"


def test_the_readme_has_each_picture_that_is_made() -> None:
    assert set(KEPT) == {*make_pictures.pictures(), "minute"}


@pytest.mark.parametrize("name", KEPT)
def test_every_picture_kept_carries_the_style_that_it_uses(name: str) -> None:
    assert not set(unpainted(KEPT[name].read_text(encoding="utf-8")))


def test_every_picture_made_carries_the_style_that_it_uses() -> None:
    for name, picture in make_pictures.pictures().items():
        assert not set(unpainted(picture)), name


def test_a_row_that_stands_alone_shows_over_and_under() -> None:
    """A cord has a dark edge, and a higher one throws a shadow on a lower: each in its own ink."""
    rules = rules_of(make_pictures.one_row())
    assert "stroke:#000" in rules["h"]
    assert re.search("stroke:#[0-9a-f]{6}", rules["e0"])


@pytest.mark.parametrize("name", ["tide-band", "strandline-sampler", "marsh-pot-hanger"])
def test_every_drawing_of_a_card_has_its_rules_on_the_page(name: str) -> None:
    plan = make_pictures.plan_of(name)
    html = render_card(plan, report_of(plan))
    style = html.partition("<style>")[2].partition("</style>")[0]
    drawings = re.findall(r"<svg .*?</svg>", html, re.DOTALL)
    assert len(drawings) > 5
    for drawing in drawings:
        alone = drawing.replace("<svg ", f'<svg xmlns="{SVG[1:-1]}" ', 1)
        assert not set(unpainted(alone.replace(">", f"><style>{style}</style>", 1)))
