"""Frozen values: what a dataclass would give, with one set of methods for all kinds."""

from dataclasses import dataclass
from typing import ClassVar

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.piece.frozen import Frozen


class Tide(Frozen):
    kind: ClassVar[str] = "tide"
    height_mm: int
    at: str = "noon"


class Spring(Tide):
    kind: ClassVar[str] = "spring"
    moon: str


class Neap(Tide):
    pass


@dataclass(frozen=True, kw_only=True)
class AsDataclass:
    height_mm: int
    at: str = "noon"


@given(st.integers(), st.integers(), st.text(), st.text())
def test_two_are_equal_just_where_dataclasses_are(one: int, other: int, at: str, then: str) -> None:
    """Equality and hash follow the fields, as in a dataclass."""
    frozen = Tide(height_mm=one, at=at) == Tide(height_mm=other, at=then)
    assert frozen == (AsDataclass(height_mm=one, at=at) == AsDataclass(height_mm=other, at=then))
    assert hash(Tide(height_mm=one, at=at)) == hash(Tide(height_mm=one, at=at))


def test_kinds_with_the_same_fields_are_not_equal() -> None:
    """The kind belongs to the value."""
    assert Tide(height_mm=3) != Neap(height_mm=3)


def test_fields_above_come_first_and_defaults_stand_in() -> None:
    """The order is that of the classes, and a default is a value like any other."""
    assert Spring(moon="full", height_mm=3).values() == {
        "height_mm": 3, "at": "noon", "moon": "full",
    }  # fmt: skip
    assert repr(Tide(height_mm=3)) == "Tide(height_mm=3, at='noon')"


def test_a_field_that_is_missing_or_unknown_is_refused() -> None:
    """Neither can go unnoticed."""
    with pytest.raises(TypeError, match="Spring lacks moon"):
        Spring(height_mm=3)  # type: ignore[call-arg]
    with pytest.raises(TypeError, match="Tide has no wind"):
        Tide(height_mm=3, wind="west")  # type: ignore[call-arg]


def test_nothing_can_be_changed_but_a_changed_one_can_be_had() -> None:
    """The value stays as it was made."""
    tide = Tide(height_mm=3)
    with pytest.raises(AttributeError):
        tide.height_mm = 4  # type: ignore[misc]
    with pytest.raises(AttributeError):
        del tide.at
    assert tide.but(at="dusk") == Tide(height_mm=3, at="dusk")
    assert tide == Tide(height_mm=3)
