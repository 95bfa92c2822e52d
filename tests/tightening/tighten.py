"""Tighten knots and set the cord they take beside the catalogue's formulas.

`python tests/tightening/tighten.py [KNOT ...] [--quick] [--store]`: every knot whose name or
standing has one of the words in it, or all; `--quick` at coarse resolution; `--store` writes what
comes out into figures.json, which the tests read. Lengths are in contact diameters, *worked out
by tightening*: local minima of tubes without friction, never published figures. A full run takes
about half an hour on one core.
"""

import argparse
import json
import sys
from collections.abc import Sequence
from pathlib import Path

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE), str(HERE.parents[1])]

from cases import CASES  # noqa: E402 - found once the paths are set
from standing import Case, Figure, run  # noqa: E402 - the same
from tightener import MARGIN, REACH, STIFFNESS  # noqa: E402 - the same

STORE = HERE / "figures.json"
SETTINGS = {
    "method": "worked out by tightening: augmented Lagrangian, L-BFGS, chord rule, unit tension",
    "settled": "length and pitches change by less than 0.03 % in ten rounds, overlap under 0.5 %",
    "stiffness": STIFFNESS,
    "reach_d": REACH,
    "margin_d": MARGIN,
}


def difference(case: Case, figure: Figure) -> float:
    """Return by how many per cent the formula lies above the tightened cord."""
    return 100 * (case.formula()[0] / figure.cord - 1)


def _listed(pitches: Sequence[float]) -> str:
    return ", ".join(f"{pitch:.2f}" for pitch in pitches) or "-"


def line(case: Case, figure: Figure) -> str:
    """Return one line of the table."""
    cord, pitches = case.formula()
    state = "" if figure.settled else " (still moving)"
    return (
        f"{figure.knot} | {figure.standing} | {figure.cord:.2f} | {_listed(figure.pitches)} | "
        f"{cord:.2f} | {_listed(pitches)} | {difference(case, figure):+.1f} %{state}\n"
    )


def store(key: str, case: Case, figure: Figure) -> None:
    """Put a figure into the stored table; a reason that stands there stays."""
    whole = json.loads(STORE.read_text(encoding="utf-8")) if STORE.exists() else {"figures": {}}
    before = whole["figures"].get(key, {})
    whole["settings"] = SETTINGS
    whole["figures"][key] = {
        "cord_d": round(figure.cord, 3),
        "pitches_d": [round(pitch, 3) for pitch in figure.pitches],
        "spacings_d": [stage.spacing for stage in case.full],
        "overlap_d": round(figure.overlap, 4),
        "settled": figure.settled,
        "reason": before.get("reason", ""),
    }
    order = {name: whole["figures"][name] for name in CASES if name in whole["figures"]}
    text = json.dumps({"settings": whole["settings"], "figures": order}, indent=1)
    STORE.write_text(text + "\n", encoding="utf-8")


def main(arguments: Sequence[str]) -> int:
    """Tighten what is asked for and print the table."""
    parser = argparse.ArgumentParser(description="Tighten knots, compare the formulas.")
    parser.add_argument("knots", nargs="*", metavar="KNOT", help="words of a name; all without")
    parser.add_argument("--quick", action="store_true", help="coarse resolution")
    parser.add_argument("--store", action="store_true", help="write the results to figures.json")
    asked = parser.parse_args(arguments)
    chosen = [
        k for k in CASES if not asked.knots or any(w.lower() in k.lower() for w in asked.knots)
    ]
    if not chosen:
        parser.error(f"no such knot; there are: {'; '.join(CASES)}")
    sys.stdout.write("knot | standing | tightened | pitch | formula | its pitch | difference\n")
    for key in chosen:
        figure = run(CASES[key], quick=asked.quick)
        sys.stdout.write(line(CASES[key], figure))
        sys.stdout.flush()
        if asked.store and not asked.quick:
            store(key, CASES[key], figure)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
