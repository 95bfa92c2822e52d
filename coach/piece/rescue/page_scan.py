"""Reading rows from a damaged SQLite file page by page, trusting nothing.

The layout of pages, cells and records is that of https://www.sqlite.org/fileformat2.html; the
checksum in every row tells what is sound.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Final

_HEADER: Final = 100  # the file's own, before the first page's
_WAL_HEADER: Final = 32
_FRAME_HEADER: Final = 24
_INDEX: Final = {0x02: 12, 0x0A: 8}  # where the cell pointers of an interior page and a leaf begin
_TABLE_LEAF: Final = 0x0D
_SIZES: Final = [2**n for n in range(9, 17)]
_INTEGERS: Final = {1: 1, 2: 2, 3: 3, 4: 4, 5: 6, 6: 8}
_CONSTANTS: Final = {0: None, 8: 0, 9: 1}


@dataclass(frozen=True, slots=True)
class SalvagedRow:
    """One row: the values of its columns, and its number where its table has such."""

    values: tuple[Any, ...]
    number: int | None = None


def scan_rows(database: bytes, journal: bytes = b"") -> Iterator[SalvagedRow]:
    """Yield every row that can be recognized in a database and its write-ahead journal.

    Rows come in no order, some of them twice or torn: check each.
    """
    size = int.from_bytes(database[16:18], "big")
    size = 65536 if size == 1 else size if size in _SIZES else 4096
    pages = dict(enumerate((database[at : at + size] for at in range(0, len(database), size)), 1))
    frames = list(_frames(journal, size))
    reader = _Reader(size, {**pages, **dict(frames)})
    for number, page in (*pages.items(), *frames):
        yield from reader.rows(page, _HEADER if number == 1 else 0)


def _frames(journal: bytes, size: int) -> Iterator[tuple[int, bytes]]:
    """Yield the pages in a write-ahead journal with their numbers, in the order of writing."""
    whole = _FRAME_HEADER + size
    for at in range(_WAL_HEADER, len(journal) - whole + 1, whole):
        yield int.from_bytes(journal[at : at + 4], "big"), journal[at + _FRAME_HEADER : at + whole]


class _Reader:
    """Parses rows from pages of one size; `pages` serves overflow."""

    def __init__(self, size: int, pages: dict[int, bytes]) -> None:
        self._size = size
        self._pages = pages

    def rows(self, page: bytes, begin: int) -> Iterator[SalvagedRow]:
        """Yield the rows in a page whose header begins there."""
        kind = page[begin] if begin < len(page) else 0
        if kind != _TABLE_LEAF and kind not in _INDEX:
            return
        first = begin + _INDEX.get(kind, 8)
        count = int.from_bytes(page[begin + 3 : begin + 5], "big")
        for at in range(first, min(first + 2 * count, len(page) - 1), 2):
            cell = int.from_bytes(page[at : at + 2], "big")
            try:
                yield self._row(page, cell, kind)
            except (IndexError, ValueError):  # torn: there is no such row
                continue

    def _row(self, page: bytes, at: int, kind: int) -> SalvagedRow:
        at += 4 if kind == 0x02 else 0  # noqa: PLR2004 - interior cells begin with a page number
        length, at = _varint(page, at)
        number = None
        if kind == _TABLE_LEAF:
            number, at = _varint(page, at)
        most = self._size - 35 if kind == _TABLE_LEAF else (self._size - 12) * 64 // 255 - 23
        return SalvagedRow(tuple(_values(self._payload(page, at, length, most))), number)

    def _payload(self, page: bytes, at: int, length: int, most: int) -> bytes:
        """Return a cell's content, of which at most `most` bytes are in the page itself."""
        if length <= most:
            return page[at : at + length]
        least = (self._size - 12) * 32 // 255 - 23
        inside = least + (length - least) % (self._size - 4)
        inside = inside if inside <= most else least
        parts, found = [page[at : at + inside]], inside
        following = int.from_bytes(page[at + inside : at + inside + 4], "big")
        seen: set[int] = set()
        while found < length and following not in seen:
            seen.add(following)
            over = self._pages.get(following, b"")
            part = over[4 : 4 + length - found]
            if not part:
                break
            parts.append(part)
            found += len(part)
            following = int.from_bytes(over[:4], "big")
        return b"".join(parts)


def _values(record: bytes) -> Iterator[Any]:
    """Yield the values of a record. Raises ValueError or IndexError where it is torn."""
    end, at = _varint(record, 0)
    kinds = []
    while at < end:
        kind, at = _varint(record, at)
        kinds.append(kind)
    at = end
    for kind in kinds:
        width = _INTEGERS.get(kind, (kind - 12) // 2 if kind >= 12 else 0)  # noqa: PLR2004 - the format's
        part = record[at : at + width]
        at += width
        if len(part) != width or (kind not in _CONSTANTS and not width and kind < 12):  # noqa: PLR2004
            raise ValueError("torn")
        if kind in _CONSTANTS:
            yield _CONSTANTS[kind]
        elif kind in _INTEGERS:
            yield int.from_bytes(part, "big", signed=True)
        else:
            yield part.decode() if kind % 2 else part


def _varint(data: bytes, at: int) -> tuple[int, int]:
    """Return a number of one to nine bytes, and where the next begins. Raises IndexError."""
    value = 0
    for i in range(8):
        byte = data[at + i]
        value = value << 7 | byte & 0x7F
        if byte < 0x80:  # noqa: PLR2004 - the top bit says that there is more
            return value, at + i + 1
    return value << 8 | data[at + 8], at + 9
