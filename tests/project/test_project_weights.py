"""What a cord weighs: read as it is sold, its thickness estimated where nobody gives it."""

import pytest
from project_texts import HEAD, problems_of, sound, with_work

from coach.project.model import Cord
from coach.project.read import read_project


def with_reed(keys: str) -> str:
    """Return a project whose first cord has these keys and four pieces."""
    reed = next(line for line in HEAD.split("\n") if "reed" in line)
    return with_work("do: x").replace(reed, f"  reed: {{{keys}, pieces: 4}}")


def reed(keys: str) -> Cord:
    return sound(with_reed(keys)).cords["reed"]


@pytest.mark.parametrize(
    ("weight", "tex"),
    [
        ("4 g/m", 4000),
        ("1200 tex", 1200),
        ("1200 dtex", 120),
        ("210 denier", 210 / 9),  # 1 denier = 1 g per 9 km: ISO 1144:2016, quoted
        ("250 m per kg", 4000),
        ('"120 yd/oz"', 28.349523125 / 0.109728),
    ],
)
def test_a_weight_is_read_as_cord_is_sold(weight: str, tex: float) -> None:
    assert reed(f"weight: {weight}").fineness_tex == pytest.approx(tex)


def test_thickness_is_estimated_from_weight_and_fibre() -> None:
    """d (mm) = 0.0374 sqrt(tex) at 1.1 cm3/g: Peirce, quoted; shown to two figures."""
    cord = reed("weight: 2500 tex, fibre: cotton")
    assert (cord.diameter_mm, cord.estimated) == (1.9, True)  # 1.87
    assert reed("weight: 210 denier").diameter_mm == 0.18
    # in polypropylene, 0.91 against cotton's 1.52 g/cm3 (read), 1.87 sqrt(1.52 / 0.91) = 2.42
    assert reed("weight: 2500 tex, fibre: polypropylene").diameter_mm == 2.4


def test_a_thickness_that_is_given_is_taken() -> None:
    cord = reed("weight: 4 g/m, diameter: 2 mm")
    assert (cord.diameter_mm, cord.estimated) == (2, False)
    assert cord.mass_g(25_000) == pytest.approx(100)


def test_nobody_knows_what_a_cord_without_a_weight_weighs() -> None:
    assert reed("diameter: 2 mm").mass_g(25_000) is None


def test_a_cord_needs_a_thickness_or_a_weight() -> None:
    (problem,) = problems_of(with_reed("fibre: cotton"))
    assert (problem.code, problem.message) == (
        "MISSING-KEY", "A cord needs ‘diameter’ or ‘weight’.",
    )  # fmt: skip
    assert problem.hint == "Add, for example, ‘diameter: 2 mm’ or ‘weight: 4 g/m’."


@pytest.mark.parametrize(
    ("weight", "said", "hint"),
    [
        ("4", "The unit of this weight per length is missing.", "‘4 g/m’"),
        ("4 g", "a weight, but it should be a weight per length", "‘4 g/m’"),
        ("heavy", "not a weight per length", "‘4 g/m’"),
        ("4 g/n", "Unknown unit ‘n’.", "Did you mean ‘in’?"),
        ("12 texx", "Unknown unit ‘texx’.", "Did you mean ‘tex’?"),
        ("0 tex", "No cord weighs so little or so much.", "‘4 g/m’"),
        ('"4,5 g/m"', "point, not a comma", "‘4.5 g/m’"),
        ("[4 g/m]", "needs a weight per length, not a list", ""),
    ],
)
def test_a_weight_that_cannot_be_read_is_one_problem(weight: str, said: str, hint: str) -> None:
    """That the diameter is left out is none, for the weight was meant to give it."""
    text = with_reed(f"weight: {weight}")
    (problem,) = problems_of(text)
    line = text.split("\n")[problem.span.line - 1]
    assert line.index(weight) + 1 == problem.span.column
    assert said in problem.message
    assert hint in problem.hint
    assert read_project(text).project is not None


@pytest.mark.parametrize(
    ("keys", "warned"),
    [
        ("weight: 2500 tex, diameter: 2 mm", False),
        ("weight: 2500 tex, diameter: 3.5 mm", False),
        ("weight: 2500 tex, diameter: 4 mm", True),
        ("weight: 2500 tex, diameter: 0.9 mm", True),
        ("weight: 2500 dtex, diameter: 2 mm", True),
        ("weight: 2500 tex", False),
    ],
)
def test_a_weight_that_does_not_suit_the_thickness_is_doubted(keys: str, warned: bool) -> None:
    """As where dtex was written as tex, or a ball's weight as that of a metre."""
    found = problems_of(with_reed(keys))
    assert [(p.code, p.severity) for p in found] == [("WEIGHT", "warning")] * warned


def test_the_doubt_says_what_would_be_likely() -> None:
    (problem,) = problems_of(with_reed("weight: 40 g/m, diameter: 2 mm"))
    assert problem.message == "A cord of 40 g/m is about 7.5 mm thick, not 2 mm."


def test_lengths_may_be_in_fathoms() -> None:
    """1 fathom = 6 ft of 304.8 mm (memory)."""
    assert reed("diameter: 2 mm, tail: 0.1 fathom").tail_mm == pytest.approx(182.88, rel=3e-6)
