"""Whatever stands at a path, loading gives its text or one problem, and never waits.

Needs POSIX: pipes and devices with a name and links that anybody may make.
"""

import os
import socket
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.yaml_reader import file_loader
from coach.yaml_reader.file_loader import MOST_BYTES, load


def code_of(path: Path) -> str:
    """Return the code of the one problem of a path."""
    loaded = load(path)
    assert loaded.text is None
    (problem,) = loaded.problems
    return problem.code


def test_text_is_loaded_with_or_without_a_mark(tmp_path: Path) -> None:
    """A byte order mark is no part of the text."""
    path = tmp_path / "reed.yaml"
    for data in ("title: é\n".encode(), b"\xef\xbb\xbf" + "title: é\n".encode()):
        path.write_bytes(data)
        assert load(path) == file_loader.Loaded("title: é\n")


def test_what_is_no_file_is_refused(tmp_path: Path) -> None:
    """Missing files, folders, pipes, sockets and devices are told apart from files."""
    assert code_of(tmp_path / "none.yaml") == "MISSING-FILE"
    assert code_of(tmp_path) == "FOLDER"
    os.mkfifo(tmp_path / "pipe")
    assert code_of(tmp_path / "pipe") == "NOT-A-FILE"
    with socket.socket(socket.AF_UNIX) as server:
        server.bind(str(tmp_path / "s"))
        assert code_of(tmp_path / "s") == "NOT-A-FILE"
    assert code_of(Path("/dev/zero")) == "NOT-A-FILE"
    (tmp_path / "file").write_text("x")
    assert code_of(tmp_path / "file" / "below") == "MISSING-FILE"
    (tmp_path / "loop").symlink_to(tmp_path / "loop")
    assert code_of(tmp_path / "loop") == "FILE"
    assert code_of(tmp_path / ("x" * 5000)) == "FILE"
    assert code_of(tmp_path / "a\0b") == "FILE"


def test_a_file_that_may_not_be_read_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Permission is asked of the system when opening (whoever runs the test)."""
    path = tmp_path / "reed.yaml"
    path.write_text("x")

    def refuse(*_: object) -> int:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(file_loader.os, "open", refuse)
    assert code_of(path) == "NO-PERMISSION"


def test_a_large_file_is_not_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Its size is enough; one that hides its size is read to the limit and no further."""
    path = tmp_path / "large.yaml"
    path.write_bytes(b" " * MOST_BYTES)
    assert load(path).text is not None
    path.write_bytes(b" " * (MOST_BYTES + 1))
    assert code_of(path) == "TOO-LARGE"
    monkeypatch.setattr(file_loader, "_refused", lambda _: None)
    assert code_of(path) == "TOO-LARGE"


@pytest.mark.parametrize(
    ("data", "code", "line", "column"),
    [
        (b"a: b\r\nc: \xc3\xa9\xff", "ENCODING", 2, 5),
        ("é".encode() + b"\xc3", "ENCODING", 1, 2),
        (b"\xff\xfea\0", "ENCODING", 1, 1),
        (b"a\nb\0", "BINARY", 2, 2),
    ],
)
def test_what_is_no_text_is_told_with_its_place(
    tmp_path: Path, data: bytes, code: str, line: int, column: int
) -> None:
    """The place is that of the first byte that cannot be read, in characters."""
    path = tmp_path / "x"
    path.write_bytes(data)
    (problem,) = load(path).problems
    assert (problem.code, problem.span.line, problem.span.column) == (code, line, column)


@given(data=st.binary())
def test_any_bytes_are_loaded_or_refused(data: bytes) -> None:
    """Either a text or a problem comes of it."""
    loaded = file_loader._decoded(data)
    assert (loaded.text is None) == bool(loaded.problems)
