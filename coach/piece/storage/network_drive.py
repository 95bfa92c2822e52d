"""Detecting network drives, on which two coaches at once do not see each other."""

import os
import re
import sys
from pathlib import Path
from typing import Final

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
