"""Programs that speak into a file instead of into the room.

Needs POSIX: rights of files.
"""

import os
import sys
import threading
from pathlib import Path

PATIENCE_S = 20.0

# Writes what it is handed, by whichever way, as one line a text.
SPEAKER = """#!{python} -u
import os, sys
out = os.open({words}, os.O_WRONLY | os.O_APPEND | os.O_CREAT)
rest = sys.argv[1:]
if "--" in rest:
    os.write(out, ("argument: " + " ".join(rest[rest.index("--") + 1:]) + "\\n").encode())
else:
    for line in sys.stdin:
        os.write(out, ("input %d: " % os.getpid() + line).encode())
"""


class Room:
    """A folder with speaking programs in it, and what they said."""

    def __init__(self, folder: Path) -> None:
        folder.mkdir(exist_ok=True)
        self.folder = folder
        self.words = folder / "words.txt"
        self.words.touch()

    def program(self, name: str, text: str = "") -> str:
        """Put a program there and give its path."""
        path = self.folder / name
        script = text or SPEAKER
        path.write_text(
            script.replace("{python}", sys.executable).replace("{words}", repr(str(self.words)))
        )
        path.chmod(0o755)
        return str(path)

    def find(self, name: str) -> str | None:
        """Return the path of a program here, as the system's search does."""
        path = Path(name) if "/" in name else self.folder / name
        return str(path) if os.access(path, os.X_OK) and path.is_file() else None

    def said(self) -> list[str]:
        """Return the texts spoken so far, without the way in which they came."""
        return [line.split(": ", 1)[1] for line in self.words.read_text().splitlines()]

    def until(self, text: str) -> list[str]:
        """Wait until a text was spoken and give all that was."""
        waiting = threading.Event()
        for _ in range(int(PATIENCE_S * 50)):
            if text in self.said():
                return self.said()
            waiting.wait(0.02)
        raise AssertionError(f"never spoken: {text!r} among {self.said()}")
