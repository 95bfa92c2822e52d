"""How colours look and are called, and which are chosen for cords that have none."""

from itertools import combinations, islice

import numpy as np
import pytest
from project_texts import problems_of, sound, with_work

from coach.colour import difference, oklab
from coach.yaml_reader.colours import (
    NAMED,
    PLAIN_NAMES,
    TOLD_APART,
    nearest_colour_name,
    spare_colours,
)

# B. Ottosson, A perceptual color space for image processing (2020): the two matrices from XYZ, and
# the table of pairs for testing an implementation (from memory)
TO_CONES = np.array(
    [
        [0.8189330101, 0.3618667424, -0.1288597137],
        [0.0329845436, 0.9293118715, 0.0361456387],
        [0.0482003018, 0.2643662691, 0.6338517070],
    ]
)
TO_LAB = np.array(
    [
        [0.2104542553, 0.7936177850, -0.0040720468],
        [1.9779984951, -2.4285922050, 0.4505937099],
        [0.0259040371, 0.7827717662, -0.8086757660],
    ]
)
PAIRS = [
    ((0.950, 1.000, 1.089), (1.000, 0.000, 0.000)),
    ((1.000, 0.000, 0.000), (0.450, 1.236, -0.019)),
    ((0.000, 1.000, 0.000), (0.922, -0.671, 0.263)),
    ((0.000, 0.000, 1.000), (0.153, -1.415, -0.449)),
]
# IEC 61966-2-1 (from memory): linear sRGB to XYZ
TO_XYZ = np.array([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]])


def lab_of_xyz(xyz: np.ndarray) -> np.ndarray:
    return TO_LAB @ np.cbrt(TO_CONES @ xyz)


def lab_of_hex(colour: str) -> np.ndarray:
    """Go the long way, by CIE XYZ, as the space is defined."""
    signal = np.array([int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)])
    light = np.where(signal <= 0.04045, signal / 12.92, ((signal + 0.055) / 1.055) ** 2.4)
    return lab_of_xyz(TO_XYZ @ light)


@pytest.mark.parametrize(("xyz", "lab"), PAIRS)
def test_the_long_way_meets_the_published_pairs(
    xyz: tuple[float, float, float], lab: tuple[float, float, float]
) -> None:
    assert np.allclose(lab_of_xyz(np.array(xyz)), lab, atol=0.0006)


@pytest.mark.parametrize("colour", sorted(set(NAMED.values())))
def test_each_colour_comes_to_where_the_long_way_leads(colour: str) -> None:
    assert np.allclose(oklab(colour), lab_of_hex(colour), atol=0.001)


@pytest.mark.parametrize(
    ("colour", "lab"),
    [  # CSS Color Level 4 (W3C), sample conversions of the primaries (from memory)
        ("#ff0000", (0.62796, 0.22486, 0.12585)),
        ("#00ff00", (0.86644, -0.23389, 0.17950)),
        ("#0000ff", (0.45201, -0.03246, -0.31153)),
    ],
)
def test_the_primaries_stand_where_others_put_them(
    colour: str, lab: tuple[float, float, float]
) -> None:
    assert oklab(colour) == pytest.approx(lab, abs=0.0001)


def test_black_and_white_are_one_apart() -> None:
    assert difference(oklab("#000000"), oklab("#ffffff")) == pytest.approx(1, abs=1e-6)


@pytest.mark.parametrize(
    ("colour", "names"),
    [
        ("#d9c7a0", {"sand", "beige"}),
        ("#c9b48a", {"sand", "tan"}),
        ("#b08d57", {"tan", "brown"}),
        ("#f5f5dc", {"beige"}),  # this one and the next four: the names of CSS Color Level 4
        ("#d2b48c", {"tan"}),
        ("#808080", {"grey"}),
        ("#000080", {"navy"}),
        ("#40e0d0", {"turquoise"}),
        ("#fffdd0", {"cream"}),
        ("#e69f00", {"orange"}),  # these eight: what Okabe and Ito call their colours (read)
        ("#56b4e9", {"light blue"}),  # sky blue
        ("#009e73", {"green"}),  # bluish green
        ("#f0e442", {"yellow"}),
        ("#0072b2", {"blue"}),
        ("#d55e00", {"orange", "rust"}),  # vermilion
        ("#cc79a7", {"pink"}),  # reddish purple
        ("#000000", {"black"}),
    ],
)
def test_a_colour_in_figures_has_the_name_that_a_maker_would_say(
    colour: str, names: set[str]
) -> None:
    assert nearest_colour_name(colour) in names


@pytest.mark.parametrize(
    "name",
    [
        "white", "black", "grey", "red", "maroon", "orange", "yellow", "gold", "olive", "green",
        "teal", "turquoise", "blue", "navy", "purple", "pink", "brown", "tan", "beige", "coral",
    ],
)  # fmt: skip
def test_names_that_css_has_too_mean_the_same(name: str) -> None:
    """Where the web has a colour of that very name, it is called so (brown there is a red)."""
    if name not in ("brown", "gold"):
        assert nearest_colour_name(NAMED[name]) == name
    assert nearest_colour_name(PLAIN_NAMES[name][0]) == name


def test_natural_cord_is_never_called_orange() -> None:
    """Undyed cotton, jute, linen and hemp: pale to mid, yellowish, of little chroma."""
    for light in range(45, 96, 3):
        for chroma in (0.02, 0.04, 0.06):
            for hue in range(60, 100, 5):
                colour = hex_of(light / 100, chroma, hue)
                assert nearest_colour_name(colour) not in ("orange", "yellow", "red", "gold"), (
                    colour
                )


def hex_of(lightness: float, chroma: float, hue_deg: float) -> str:
    """Return the colour of that lightness, chroma and hue, by the inverse of the long way."""
    hue = np.deg2rad(hue_deg)
    lab = np.array([lightness, chroma * np.cos(hue), chroma * np.sin(hue)])
    light = np.linalg.inv(TO_XYZ) @ np.linalg.inv(TO_CONES) @ (np.linalg.inv(TO_LAB) @ lab) ** 3
    light = np.clip(light, 0, 1)
    signal = np.where(light <= 0.0031308, 12.92 * light, 1.055 * light ** (1 / 2.4) - 0.055)
    return "#" + "".join(f"{round(255 * channel):02x}" for channel in signal)


CORDS = "coach: 1\ntitle: Wicks\nstart: {nest: [wick]}\nwork: [do: Look.]\ncords:\n"


@pytest.mark.parametrize(
    "cord",
    [
        "  wick: {diameter: 2 mm, pieces: 1}\n",
        "  wick:\n    diameter: 2 mm\n    pieces: 1\n",
        "  wick: {pieces: 1, diameter: 2 mm, tail: 3 cm}\n",
    ],
)
def test_colour_and_fibre_may_be_left_out(cord: str) -> None:
    wick = sound(CORDS + cord).cords["wick"]
    assert (wick.colour, wick.colour_name, wick.fibre) == (TOLD_APART[0], "", "")


def test_a_colour_that_is_left_out_is_one_that_no_other_cord_has() -> None:
    """Cords above and below count, by figures, by name and those that only look like it."""
    wick = "  wick: {diameter: 2 mm}\n"
    above = (
        '  reed: {colour: "#E69F00", diameter: 2 mm}\n  sky: {colour: "#58b2e8", diameter: 2 mm}\n'
    )
    below = "  clay: {colour: mediumseagreen, diameter: 2 mm}\n"
    cords = sound(CORDS + above + wick + below).cords
    assert cords["wick"].colour == TOLD_APART[3]


def test_as_many_cords_as_anyone_tells_apart_are_drawn_apart() -> None:
    cords = [f"  w{'i' * number}ck: {{diameter: 2 mm}}\n" for number in range(16)]
    text = CORDS.replace("[wick]", "[wck]") + "".join(cords)
    drawn = [cord.colour for cord in sound(text).cords.values()]
    assert drawn[:8] == list(TOLD_APART)
    assert all(difference(oklab(a), oklab(b)) >= 0.1 for a, b in combinations(drawn, 2))


def test_there_is_a_colour_for_any_number_of_cords() -> None:
    assert len(list(islice(spare_colours(["#e69f00"]), 500))) == 500


def test_an_empty_colour_is_still_told() -> None:
    """Only the key may be left out."""
    (problem,) = problems_of(with_work("do: x").replace("sienna", "''"))
    assert problem.code == "EMPTY"
