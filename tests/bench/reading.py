"""Prints how long the reader takes for a kilobyte of project, against composing the same YAML.

Run: python tests/bench/reading.py [RUNS]
Both sides are measured in turn, in processor time; medians.
"""

import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

import yaml
from long_projects import LINES, lines_of

from coach.project.read import read_project

PROJECTS = sorted((Path(__file__).parents[2] / "projects").glob("*.yaml"))


def spent_s(what: Callable[[], object]) -> float:
    """Return the processor time that something takes."""
    begun = time.process_time()
    what()
    return time.process_time() - begun


def compare(name: str, text: str, runs: int) -> None:
    """Print the medians of both sides and their ratio."""

    def read() -> object:
        return read_project(text)

    def compose() -> object:
        return yaml.compose(text, Loader=yaml.CSafeLoader)

    read(), compose()
    pairs = [(spent_s(read), spent_s(compose)) for _ in range(runs)]
    ours, bare = (statistics.median(side) for side in zip(*pairs, strict=True))
    kilobytes = len(text.encode()) / 1024
    print(
        f"{name:<28}{kilobytes:6.1f} kB  reader {ours / kilobytes * 1e3:6.2f} ms/kB  compose "
        f"{bare / kilobytes * 1e3:6.2f} ms/kB  ratio {ours / bare:.2f}"
    )


def main() -> None:
    """Print the table."""
    runs = int(sys.argv[1]) if len(sys.argv) > 1 else 41
    for path in PROJECTS:
        compare(path.stem, path.read_text(encoding="utf-8"), runs)
    compare(f"{LINES} lines", lines_of(LINES), runs)
    compare(f"{10 * LINES} lines", lines_of(10 * LINES), runs)


if __name__ == "__main__":
    main()
