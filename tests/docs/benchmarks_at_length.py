"""Every benchmark is there for the command that it prints: it loads, wherever it is called from."""

from pathlib import Path

import pytest
from processes import run_python

SCRIPTS = sorted((Path(__file__).parents[1] / "bench").glob("*.py"))
LOAD = "import runpy, sys; runpy.run_path(sys.argv[1], run_name='looked_at')"
BESIDE = "import os, sys; sys.path.insert(0, os.path.dirname(sys.argv[1])); "


@pytest.mark.parametrize("script", SCRIPTS, ids=lambda script: script.stem)
def test_a_benchmark_loads_by_itself(script: Path, tmp_path: Path) -> None:
    run_python("-E", "-c", BESIDE + LOAD, str(script), check=True, cwd=tmp_path)
