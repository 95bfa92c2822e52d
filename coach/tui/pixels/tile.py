"""Tiles of a board's image: their room, their pictures, their places."""

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class BoardArea:
    """Where the board is drawn: its lines and columns, and the column of each strand.

    `wide` is how many columns a cord has, `cell` the pixels of one.
    """

    columns: int
    lines: int
    at: Mapping[int, int]
    wide: int
    cell: tuple[int, int]


@dataclass(frozen=True, slots=True)
class Tile:
    """A band of the board: its first line, how many it has, and its picture as SVG."""

    line: int
    lines: int
    svg: str


@dataclass(frozen=True, slots=True)
class PlacedTiles:
    """The tiles of a board, and the column and line of the terminal where they begin, from 0."""

    tiles: tuple[Tile, ...]
    column: int
    line: int
    columns: int
