"""The house stands as it is meant to: data flows one way, and nothing is loaded before its time."""

import ast
import os
import subprocess
import sys
from pathlib import Path

import pytest

import coach

HOME = Path(coach.__file__).parent
MAY_IMPORT = {
    "text": set(),
    "quantities": set(),
    "knots": {"knots"},
    "pace": {"pace"},
    "project": {"project", "quantities", "text", "knots"},
    "board": {"board", "knots"},
    "plan": {"plan", "pace", "project", "board", "knots", "text"},
    "reading": {"plan", "project"},
    "piece": {"piece", "plan", "pace", "project", "knots", "quantities", "text", ""},
    "words": {"words", "plan", "project", "knots", "quantities", "text"},
    "card": {"card", "words", "plan", "project", "knots", "quantities", "text"},
    "settings": {"settings", "project", "knots"},
    "bench": {
        "bench",
        "settings",
        "piece",
        "plan",
        "pace",
        "project",
        "knots",
        "quantities",
        "text",
    },
}
PURE = ("text", "quantities", "knots", "pace", "board", "plan", "reading")
IMPURE_MODULES = {
    "time", "datetime", "random", "os", "pathlib", "sys", "sqlite3", "subprocess", "socket",
    "tempfile", "shutil", "curses", "textual", "platformdirs", "threading", "asyncio",
}  # fmt: skip


def modules(room: str) -> list[Path]:
    """Return the modules of a room: a package's files, or one file."""
    package = HOME / room
    return sorted(package.rglob("*.py")) if package.is_dir() else [HOME / f"{room}.py"]


def imported(path: Path) -> set[str]:
    """Return every module that a file imports, wherever in it."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found |= {node.module} | {f"{node.module}.{alias.name}" for alias in node.names}
    return found


def rooms_of(names: set[str]) -> set[str]:
    """Return the rooms of ours among imported names; "" is the package itself."""
    rooms = {path.stem for path in HOME.iterdir()}
    heads = {name.split(".")[1] for name in names if name.startswith("coach.")}
    return {head if head in rooms else "" for head in heads}


@pytest.mark.parametrize("room", MAY_IMPORT)
def test_a_room_imports_only_from_rooms_before_it(room: str) -> None:
    for path in modules(room):
        beyond = rooms_of(imported(path)) - MAY_IMPORT[room]
        assert not beyond, f"{path.relative_to(HOME)} reaches into {sorted(beyond)}"


def test_every_room_is_held_to_a_direction() -> None:
    rooms = {path.stem for path in HOME.iterdir() if path.suffix == ".py" or path.is_dir()}
    edges = {"__init__", "__main__", "__pycache__", "_projects", "cli", "verbs", "pages"}
    assert rooms - edges == set(MAY_IMPORT)


@pytest.mark.parametrize("room", PURE)
def test_pure_rooms_know_no_clock_files_environment_or_terminal(room: str) -> None:
    for path in modules(room):
        heads = {name.split(".")[0] for name in imported(path)}
        assert not heads & IMPURE_MODULES, path.relative_to(HOME)


def test_project_reads_files_only_at_its_edge() -> None:
    for path in modules("project"):
        if path.name != "source.py":
            heads = {name.split(".")[0] for name in imported(path)}
            assert not heads & IMPURE_MODULES, path.relative_to(HOME)


def loaded_by(*arguments: str) -> set[str]:
    """Return the modules that are loaded when the coach runs with these arguments."""
    script = (
        "import sys\nfrom coach.cli.main import main\n"
        "try:\n    main(sys.argv[1:])\nexcept SystemExit:\n    pass\n"
        "sys.stderr.write('\\n'.join(sys.modules))"
    )
    done = subprocess.run(
        [sys.executable, "-c", script, *arguments],
        capture_output=True, text=True, check=True, env={**os.environ, "PYTHONWARNINGS": ""},
    )  # fmt: skip
    return set(done.stderr.split())


@pytest.mark.parametrize("verb", ["check", "plan"])
def test_check_and_plan_never_load_the_screen(verb: str) -> None:
    loaded = loaded_by(verb, "reed-keyring")
    assert "coach.plan.compile.compiler" in loaded
    assert "textual" not in loaded


def test_version_loads_neither_screen_nor_units() -> None:
    loaded = loaded_by("--version")
    assert "coach.cli.main" in loaded
    assert not {"textual", "pint", "yaml"} & loaded


def test_check_loads_only_what_reads_and_plans() -> None:
    """No screen, store or units, and none of the library that takes longer than the reading."""
    loaded = loaded_by("check", str(HOME.parent / "projects" / "reed-keyring.yaml"))
    assert "coach.plan.measure.measuring_pass" in loaded
    needless = {"textual", "sqlite3", "pint", "dataclasses", "pathlib", "fractions", "difflib"}
    assert not needless & loaded


def test_a_pieces_name_is_shown_before_anything_that_reads_projects_is_loaded() -> None:
    script = (
        "import sys\nimport coach.cli.commands.knot, coach.tui.app, coach.tui.screens.opening_screen\n"
        "print('\\n'.join(sys.modules))"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True
    )
    loaded = set(done.stdout.split())
    assert "coach.piece.storage.store" in loaded
    assert (
        not {"yaml", "coach.plan.from_text", "coach.plan.plan_model", "coach.session.controller"}
        & loaded
    )
