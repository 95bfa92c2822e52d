"""What DEVELOPERS.md and docstrings say of the code is so: its names, files and folders are there."""

import re
from pkgutil import resolve_name

import pytest
from processes import ROOT

PAGE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
WAYS = PAGE[PAGE.index("### From text to the tie") : PAGE.index("## How it works")]
CODE = re.findall(r"`([^`\n]+)`", PAGE)
NAMES = sorted(set(re.findall(r"`([a-z_]+\.[\w.]+)`", WAYS)))
FILES = sorted({name for name in CODE if re.fullmatch(r"[\w./-]+(\.(py|md|json)|/)", name)})
PLACES = (ROOT, *ROOT.glob("coach/**/"), *ROOT.glob("tests/**/"))
NO_ROOMS = {"__pycache__/", "__init__.py", "__main__.py", "pages/", "_projects/"}


@pytest.mark.parametrize("name", NAMES)
def test_what_lies_on_the_two_ways_is_there(name: str) -> None:
    assert resolve_name(f"coach.{name}")


@pytest.mark.parametrize("name", FILES)
def test_every_file_and_folder_that_is_named_is_there(name: str) -> None:
    """By its path from the top, or from some folder of the code or the tests on."""
    assert "NAME" in name or any((place / name).exists() for place in PLACES)


def test_every_room_is_in_the_map() -> None:
    rooms = {f"{path.name}/" for path in (ROOT / "coach").iterdir() if path.is_dir()}
    rooms |= {path.name for path in (ROOT / "coach").glob("*.py")}
    assert rooms - {"__pycache__/", "__init__.py", "__main__.py", "pages/", "_projects/"} <= set(
        CODE
    )


def is_there(name: str) -> bool:
    """Return whether a dotted name is a module, or is defined or named at the top of one."""
    *outer, last = name.split(".")
    home = ROOT.joinpath(*outer)
    if (home / last).is_dir() or (home / f"{last}.py").exists():
        return True
    module = home / "__init__.py" if home.is_dir() else home.with_suffix(".py")
    if module.exists():
        named = rf"^(class |def |from .*|){last}\b"
        return re.search(named, module.read_text(encoding="utf-8"), re.MULTILINE) is not None
    return len(outer) > 1 and is_there(".".join(outer))  # a member of a class


def test_every_name_of_ours_in_a_docstring_or_comment_is_there() -> None:
    lost = {
        name: str(path.relative_to(ROOT))
        for path in ROOT.glob("coach/**/*.py")
        for name in re.findall(r"`(coach(?:\.\w+)+)`", path.read_text(encoding="utf-8"))
        if not is_there(name)
    }
    assert not lost
