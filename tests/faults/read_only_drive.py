"""Lets a drive turn read-only while the bench counts on it. Needs the right to mount; by hand:

`python tests/faults/read_only_drive.py 20`

The drive is an image with an ext4 of its own on a loop device. The kernel's own switch for it
reports an error of the file system, upon which that turns read-only, files open or not. It comes
back as a drive does that is pulled out, checked and put in again.

Needs POSIX: pseudo-terminals.
"""

import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests"), str(ROOT / "tests" / "terminal")]

from processes import run  # noqa: E402 - found on the line above
from real_terminal import RealTerminal  # noqa: E402 - the same

from coach.piece import Store  # noqa: E402 - the same

BEFORE, MEANWHILE = 2, 3


def said(*command: str | Path) -> str:
    return str(run(command, check=True).stdout).strip()


class Drive:
    """An ext4 in a file, mounted in a folder."""

    def __init__(self, folder: Path) -> None:
        self.home = folder / "drive"
        self._image = folder / "image"
        self._devices: list[str] = []
        self.home.mkdir()
        with self._image.open("wb") as image:
            image.truncate(2**24)
        said("mkfs.ext4", "-q", self._image)
        self.put_in()

    def put_in(self) -> None:
        self._devices.append(said("losetup", "-f", "--show", self._image))
        said("mount", "-o", "errors=remount-ro", self._devices[-1], self.home)

    def turn_read_only(self) -> None:
        name = Path(self._devices[-1]).name
        Path(f"/sys/fs/ext4/{name}/trigger_fs_error").write_text("1")

    def pull_out(self) -> None:
        """Take it out of the folder, whoever has files open on it, and check it."""
        said("umount", "-l", self.home)
        run(["e2fsck", "-fy", self._image])

    def clean_up(self) -> None:
        run(["umount", self.home])
        for device in self._devices:
            run(["losetup", "-d", device])


def kept(home: Path) -> int:
    with Store(home / "data" / "coach.db") as store:
        return store.pieces()[0].done


def count_through(drive: Drive) -> int:
    """Count before and while the drive is read-only, ask to leave, and give what is kept of it."""
    with RealTerminal("knot", "reed-keyring", home=str(drive.home)) as terminal:
        terminal.count(1, BEFORE)
        drive.turn_read_only()
        terminal.count(BEFORE + 1, BEFORE + MEANWHILE)
        terminal.until(f"NOT SAVED: {MEANWHILE} counts in memory only")
        terminal.press("q")
        terminal.until("write to another place")
        terminal.press("\x1b")
        terminal.until("NOT SAVED")
        drive.pull_out()
        drive.put_in()
        terminal.until("Everything is saved again")
        assert kept(drive.home) == BEFORE + MEANWHILE
        terminal.press("q")
        assert terminal.end() == 0
    return kept(drive.home)


def main(rounds: int) -> None:
    """Do it so often, each time on a drive of its own."""
    lost = 0
    for number in range(rounds):
        with tempfile.TemporaryDirectory() as folder:
            drive = Drive(Path(folder))
            try:
                lost += BEFORE + MEANWHILE - count_through(drive)
            finally:
                drive.clean_up()
        sys.stdout.write(f"{number + 1} times read-only, {lost} counts lost\n")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 20)
