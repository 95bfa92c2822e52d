"""Speech through a program: the right words, never through a shell, never in the way of a key.

Needs POSIX: rights of files, a POSIX shell and what Linux tells of processes and drives.
"""

import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from processes import Started
from spoken_words import Room

from coach.audio.speech import Program, Voice, find_program

CLOSING_S = 5.0


@pytest.fixture
def room(tmp_path: Path) -> Room:
    return Room(tmp_path / "room")


@pytest.fixture
def voice() -> Iterator[Callable[[Program | None], Voice]]:
    """Return voices that are closed in the end."""
    voices: list[Voice] = []

    def make(program: Program | None) -> Voice:
        voices.append(Voice(program, lambda: 0.0))
        return voices[-1]

    yield make
    for one in voices:
        one.close()


Make = Callable[[Program | None], Voice]


@pytest.mark.parametrize("name", ["espeak-ng", "spd-say", "say", "other"])
def test_the_words_arrive_as_they_are(room: Room, voice: Make, name: str) -> None:
    """On the input or as one argument; what a shell would act on is only text."""
    room.program(name)
    speaker = voice(find_program(name, room.find))
    text = "Hold 2 clay; $(touch gone) `x` \"to\" the 'right' & -h --help."
    speaker.say(text)
    assert room.until(text) == [text]
    assert not speaker.trouble()


def test_the_first_program_that_is_there_is_taken(room: Room) -> None:
    assert find_program("", room.find) is None
    room.program("say")
    assert find_program("", room.find) == Program(str(room.folder / "say"), ("-f", "-"))
    room.program("espeak-ng")
    found = find_program("", room.find)
    assert found
    assert found.path.endswith("/espeak-ng")
    assert found.kept
    chosen = find_program(str(room.folder / "say"), room.find)
    assert chosen
    assert chosen.path.endswith("/say")
    assert find_program("not-there", room.find) is None


def test_a_program_that_can_is_started_once(room: Room) -> None:
    """Lines that come after it has had time to speak go to the same process."""
    room.program("espeak-ng")
    seconds = iter(range(0, 100_000, 60))
    speaker = Voice(find_program("", room.find), lambda: float(next(seconds)))
    for text in ("one", "two", "three"):
        speaker.say(text)
        room.until(text)
    speaker.close()
    processes = {line.split(":")[0] for line in room.words.read_text().splitlines()}
    assert len(processes) == 1


def test_the_newest_text_wins(room: Room, voice: Make) -> None:
    """What is being said is cut off, and what nobody has begun to say is dropped."""
    slow = "#!{python} -u\nimport sys, os\nfor line in sys.stdin:\n"
    slow += "    os.write(os.open({words}, 1 | os.O_APPEND), ('input 1: ' + line).encode())\n"
    slow += "    sys.stdin = open(os.devnull) if 'last' in line else sys.stdin\n"
    slow += "    import threading\n    'last' in line or threading.Event().wait(60)\n"
    room.program("espeak-ng", slow)
    speaker = voice(find_program("", room.find))
    speaker.say("the first")
    room.until("the first")
    for n in range(200):
        speaker.say(f"number {n}")
    speaker.say("the last")
    said = room.until("the last")
    assert said[0] == "the first"
    assert said[-1] == "the last"
    assert len(said) < 100


def test_a_key_never_waits_for_a_voice(room: Room, voice: Make) -> None:
    """A program that takes nothing and never ends holds up nobody."""
    room.program("espeak-ng", "#!{python}\nimport threading\nthreading.Event().wait(60)\n")
    speaker = voice(find_program("", room.find))
    begun = time.perf_counter()
    for n in range(500):
        speaker.say(f"number {n} " + "of many words " * 200)
    assert time.perf_counter() - begun < 1.0


@pytest.mark.parametrize(
    "script",
    ["#!/nowhere/at-all\n", "#!{python}\nimport sys\nsys.stdin.readline()\nsys.exit(3)\n",
     "#!{python}\nimport sys\nsys.stdin.readline()\nsys.stderr.write('error: no sound card\\n')\n"],
)  # fmt: skip
def test_a_voice_that_fails_says_so_once(room: Room, voice: Make, script: str) -> None:
    room.program("espeak-ng", script)
    speaker = voice(find_program("", room.find))
    speaker.say("hello")
    told = _until(speaker.trouble)
    assert "espeak-ng does not speak here" in told
    speaker.say("hello again")
    assert not speaker.trouble()


def test_no_program_at_all_is_told_once(voice: Make) -> None:
    speaker = voice(None)
    assert not speaker.trouble()
    speaker.say("hello")
    assert "espeak-ng" in speaker.trouble()
    speaker.say("hello")
    assert not speaker.trouble()


def test_nothing_is_started_before_there_is_something_to_say(room: Room, voice: Make) -> None:
    room.program("espeak-ng")
    speaker = voice(find_program("", room.find))
    speaker.say("   ")
    speaker.close()
    speaker.say("too late")
    assert room.said() == []


def _until(ask: Callable[[], str]) -> str:
    """Ask until there is an answer."""
    end = time.perf_counter() + 20
    while time.perf_counter() < end:
        answer = ask()
        if answer:
            return answer
    raise AssertionError("never told")


SPEAKS = """
import sys, time
sys.path.insert(0, {tests!r})
from coach.audio.speech import Program, Voice
Voice(Program({program!r}, kept={kept!r}, text={text!r})).say("Hold 2 clay.")
time.sleep(600)
"""


@pytest.mark.parametrize(
    ("does", "kept", "text"),
    [("cat > $0.said; rm $0.pid", True, False), ("exec sleep 600", False, True)],
    ids=["reads on", "speaks long"],
)
def test_a_voice_ends_with_the_bench_that_is_killed(
    tmp_path: Path, does: str, kept: bool, text: bool
) -> None:
    program = tmp_path / "speaks"
    program.write_text(f"#!/bin/sh\necho $$ > $0.part; mv $0.part $0.pid\n{does}\n")
    program.chmod(0o700)
    pid_file = tmp_path / "speaks.pid"
    code = SPEAKS.format(
        tests=str(Path(__file__).parent), program=str(program), kept=kept, text=text
    )
    with Started([sys.executable, "-c", code]) as bench:
        wait_until(pid_file.exists)
        pid = int(pid_file.read_text())
        bench.kill()
    wait_until(lambda: not alive(pid))


def alive(pid: int) -> bool:
    """Return whether a process goes on; one that has ended and is not waited for does not."""
    stat = Path(f"/proc/{pid}/stat")
    try:
        return stat.read_text().rpartition(") ")[2][0] != "Z"
    except OSError:
        return False


def wait_until(seen: Callable[[], bool]) -> None:
    ends_s = time.monotonic() + 60
    while not seen():
        assert time.monotonic() < ends_s
        time.sleep(0.01)
