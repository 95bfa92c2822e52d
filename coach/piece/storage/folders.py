"""The folders for pieces, settings and cache."""

import os
import re
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from platformdirs import PlatformDirs

from coach.piece.piece_errors import CannotKeep

HOME: Final = "COACH_HOME"
APP: Final = "bench-coach"
OWN_FOLDER: Final = 0o700  # what a maker makes is nobody else's business
OWN_FILE: Final = 0o600


@dataclass(frozen=True, slots=True)
class Folders:
    """The folders for data, settings and cache; none of them need exist yet."""

    data: Path
    settings: Path
    cache: Path

    @property
    def database(self) -> Path:
        """The file in which all pieces are kept."""
        return self.data / "coach.db"


def folders(environment: Mapping[str, str]) -> Folders:
    """Return the folders: under `COACH_HOME` where it is set, else the system's usual ones."""
    home = environment.get(HOME, "").strip()
    if home:
        root = Path(os.path.abspath(_expanded(home)))  # noqa: PTH100  # keeps links as they are
        return Folders(root / "data", root / "settings", root / "cache")
    dirs = PlatformDirs(APP, appauthor=False)
    return Folders(dirs.user_data_path, dirs.user_config_path, dirs.user_cache_path)


def ensure_folder(folder: Path) -> Path:
    """Return `folder`, created with its parents for its owner alone if it was not there.

    Raises:
        CannotKeep: It cannot be created, or is not a folder.
    """
    try:
        missing = [step for step in (folder, *folder.parents) if not step.exists()]
        for step in reversed(missing):
            step.mkdir(mode=OWN_FOLDER, exist_ok=True)
    except (OSError, ValueError) as error:
        raise _cannot_make(folder, error) from error
    if not folder.is_dir():
        raise _cannot_make(folder, "a file has that name")
    return folder


def ensure_private_file(path: Path) -> Path:
    """Return `path`, created empty if it was not there, for its owner alone.

    A file that is there is not opened for it: closing any handle of a file releases all locks
    that this process has on it (POSIX, `fcntl`), and SQLite may hold some.

    Raises:
        CannotKeep: It cannot be created, or its folder cannot.
    """
    ensure_folder(path.parent)
    try:
        if not (path.is_file() and os.access(path, os.R_OK | os.W_OK)):
            os.close(os.open(path, os.O_RDWR | os.O_CREAT, OWN_FILE))
        if os.name == "posix" and path.stat().st_mode & 0o077:
            path.chmod(OWN_FILE)
    except OSError as error:
        raise CannotKeep(
            f"Nothing can be kept in {path}: {_reason(error)}. Make the file and its folder "
            f"writable for you, or set {HOME} to another folder."
        ) from error
    return path


def _expanded(home: str) -> str:
    """Return the folder with a leading ~ replaced if the system knows the home."""
    return os.path.expanduser(home)  # noqa: PTH111  # Path.expanduser raises for unknown users


def _cannot_make(folder: Path, reason: OSError | ValueError | str) -> CannotKeep:
    return CannotKeep(
        f"The folder {folder} cannot be made: {_reason(reason)}. Make room for it there, or "
        f"set {HOME} to a folder that you can write to."
    )


def _reason(error: OSError | ValueError | str) -> str:
    """Return the system's own reason without its number and its repetition of the path."""
    if isinstance(error, OSError) and error.strerror:
        return error.strerror.lower()
    return str(error)


_MOUNTS: Final = Path("/proc/self/mountinfo")
_KINDS: Final = re.compile(
    r"(nfs\d?|cifs|smb\d?|smbfs|9p|afs|coda|ceph|glusterfs|lustre|davfs\d?"
    r"|fuse\.(sshfs|rclone|davfs\d?|gvfsd-fuse|s3fs|glusterfs|ceph))"
)
_OCTAL: Final = re.compile(r"\\([0-7]{3})")


def network_kind(path: Path) -> str:
    """Return the kind of network drive that `path` is on, such as `nfs`, or "".

    Linux reports it itself; on Windows only a path that names another machine is recognized.
    """
    if sys.platform == "win32":
        return "a network share" if str(path).startswith("\\\\") else ""
    try:
        mounts = _MOUNTS.read_text(encoding="utf-8", errors="surrogateescape")
    except OSError:
        return ""
    return kind_in(mounts, os.path.realpath(path))


def kind_in(mounts: str, path: str) -> str:
    """Return the network kind of `path` by the system's table of mounts (proc(5), mountinfo)."""
    found, kind = "", ""
    for line in mounts.splitlines():
        fields, _, rest = line.partition(" - ")
        parts = fields.split(" ")
        if len(parts) < 5 or not rest:  # noqa: PLR2004 - the fifth field is where it is mounted
            continue
        point = _OCTAL.sub(lambda octal: chr(int(octal[1], 8)), parts[4])
        inside = path == point or path.startswith(point.rstrip("/") + "/")
        if inside and len(point) >= len(found):
            found, kind = point, rest.split(" ")[0]
    return kind if _KINDS.fullmatch(kind) else ""
