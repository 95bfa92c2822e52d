"""Prints how well the ranges of time hold on simulated makers; call it with a number of them."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "pace"))

from simulated_makers import CROWDS, PIECES, calibrate, pooled


def main() -> None:
    """Print one row for each crowd, over all pieces."""
    makers = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    print(f"{makers} makers a piece, {len(PIECES)} pieces a crowd; 80 % ranges, likely figures")
    print(
        f"{'crowd':24}{'in at 1/4':>11}{'at 1/2':>9}{'at 3/4':>9}{'off at 1/2':>12}{'too high':>10}"
    )
    every = [
        (crowd.name, calibrate(crowd, list(PIECES), makers, seed))
        for seed, crowd in enumerate(CROWDS, start=1)
    ]
    for name, found in [*every, ("every crowd", pooled([found for _, found in every]))]:
        shares = "".join(
            f"{share:>{w}.0%}" for share, w in zip(found.inside, (11, 9, 9), strict=True)
        )
        print(f"{name:24}{shares}{found.error_at_half:>12.1%}{found.too_high:>10.0%}")


if __name__ == "__main__":
    main()
