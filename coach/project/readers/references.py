"""Readers of names of cords, parts and steps where a file refers to them."""

from operator import attrgetter
from typing import Final

from coach.yaml_reader.scalars import named

CORD: Final = named(attrgetter("cords"), "CORD", "cord")
PART: Final = named(attrgetter("parts"), "PART", "part")
VARIED: Final = named(attrgetter("varied"), "PART", "part or step")
APART: Final = named(attrgetter("apart"), "APART", "part made apart")
