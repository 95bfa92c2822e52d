"""Prints how well the ranges of time hold on simulated makers.

Run: python tests/bench/pace_calibration.py [MAKERS] [CLAIMS]
So many makers make each piece; CLAIMS are what the files say of the time, some of
`missing right "wrong by 5" shipped`.
"""

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import get_args

sys.path.insert(0, str(Path(__file__).parents[1] / "pace"))
sys.path.insert(0, str(Path(__file__).parents[2]))

from simulated_makers import CROWDS, OTHERS, PIECES
from told_ranges import PARTS, Row, Takes, told_to

_USUAL_MAKERS = 20


def main() -> None:
    """Print one row for each crowd, under each kind of claim."""
    makers = int(sys.argv[1]) if len(sys.argv) > 1 else _USUAL_MAKERS
    claims = [takes for takes in get_args(Takes) if takes in (sys.argv[2:] or get_args(Takes))]
    print(f"{makers} makers a piece, {len(PIECES)} pieces a crowd; 80 % ranges")
    for takes in claims:
        print(f"\ntakes: {takes}\n{'':24}held at", *(f"{part:9.0%}" for part in PARTS), end="")
        print("   but 0 %   high/low at 0 %  at 25 %  2nd piece   off at 25 %")
        named = [_told(crowd.name, told_to(crowd, PIECES, makers, seed, takes, second=True))
                 for seed, crowd in enumerate(CROWDS, start=1)]  # fmt: skip
        _told("these nine", pooled(named))
        for seed, crowd in enumerate(OTHERS, start=len(CROWDS) + 1):
            _told(crowd.name, told_to(crowd, PIECES, makers, seed, takes, second=True))


def pooled(rows: Sequence[Row]) -> Row:
    """Return all that was told to several crowds."""
    return Row([t for row in rows for t in row.told], [t for row in rows for t in row.again])


def _told(name: str, row: Row) -> Row:
    held = "".join(f"{row.held(part):>10.0%}" for part in PARTS)
    widths = f"{row.width(0.0):>16.2f}{row.width(0.25):>9.2f}{row.width_again:>11.2f}"
    print(f"{name:24}       {held}{row.held(*PARTS[1:]):>10.0%}{widths}{row.off(0.25):>12.0%}",
          flush=True)  # fmt: skip
    return row


if __name__ == "__main__":
    main()
