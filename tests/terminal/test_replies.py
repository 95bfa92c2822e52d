"""Replies of the terminal are no keys, in whatever pieces they come; and keys are not held back.

Needs POSIX: pseudo-terminals.
"""

import itertools
import re
import select
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from real_terminal import RealTerminal, shows
from textual import _ansi_sequences, _xterm_parser, events
from textual._xterm_parser import XTermParser
from textual.drivers.linux_driver import LinuxDriver

from coach.tui.input.replies import Replies
from coach.tui.input.terminal_driver import _GIVEN_UP, _Ending, _Keys

ST = "\x1b\\"
REPLIES = {
    "colour": f"\x1b]11;rgb:1e1e/1e1e/2e2e{ST}", "colour, bell": "\x1b]10;rgb:c0c0/caca/f5f5\a",
    "palette": f"\x1b]4;1;rgb:cccc/0000/0000{ST}", "title": f"\x1b]lcoach knot{ST}",
    "icon": f"\x1b]Lcoach{ST}", "clipboard": f"\x1b]52;c;IGNhcXE={ST}",
    "version": f"\x1bP>|XTerm(390){ST}", "setting": f"\x1bP1$r0 q{ST}",
    "terminfo": f"\x1bP1+r436f=323536{ST}", "unit": f"\x1bP!|00000000{ST}",
    "picture": f"\x1b_Gi=31;OK{ST}", "private": f"\x1b^1 c q {ST}", "start": f"\x1bX9 c{ST}",
    "attributes": "\x1b[?64;1;2;6;9;15;18;21;22c", "attributes, second": "\x1b[>1;4000;29c",
    "status": "\x1b[0n", "light or dark": "\x1b[?997;1n", "mode": "\x1b[?2027;0$y",
    "ansi mode": "\x1b[4;2$y", "keyboard": "\x1b[?1u", "size": "\x1b[8;24;80t",
    "pixels": "\x1b[4;480;640t", "state": "\x1b[1t", "graphics": "\x1b[?1;0;256S",
    "checksum": f"\x1bP1!~0000{ST}", "cursor": "\x1b[12;40R", "one byte": "\x9d11;rgb:0/0/0\x9c",
    "unknown": "\x1b[?12;25;9z", "unknown, spaced": "\x1b[2 q",
}  # fmt: skip
"""Answers to questions that programs ask terminals, as ECMA-48 and xterm's list have them."""
KEYS = {
    "c": ["c"], " ": ["space"], "\r": ["enter"], "\x7f": ["backspace"], "\x1b[A": ["up"],
    "\x1bOC": ["right"], "\x1b[6~": ["pagedown"], "\x1b[25~": ["f13"], "\x1b[1;5C": ["ctrl+right"],
    "\x1b[Z": ["shift+tab"], "\x1b[27u": ["escape"], "ł": ["ł"], "\x1b[[A": ["f1"],
    "\x1b[3$": ["shift+delete"], "\x1bb": ["ctrl+left"], "\x1bc": ["alt+c"],
}  # fmt: skip


class Reader:
    """Takes bytes as the driver does, and lists the keys."""

    def __init__(self) -> None:
        self.events: list[events.Event] = []
        self._keys = _Keys(debug=False, hand_on=self.events.append)

    def take(self, sent: str) -> None:
        self._keys.take(sent.encode())

    def rest(self, times: int = 1) -> None:
        for _ in range(times):
            self._keys.rest()

    @property
    def keys(self) -> list[str]:
        return [event.key for event in self.events if isinstance(event, events.Key)]


@pytest.mark.parametrize("reply", REPLIES.values(), ids=REPLIES)
def test_a_reply_is_no_key_in_whatever_two_pieces_it_comes(reply: str) -> None:
    """Also where the second piece comes late, and a key is pressed right before and after it."""
    for cut in range(len(reply)):
        reader = Reader()
        reader.take("a" + reply[:cut])
        if cut > 2:
            reader.rest(_GIVEN_UP - 1)
        reader.take(reply[cut:] + "b")
        assert reader.keys == ["a", "b"], cut


@pytest.mark.parametrize("reply", REPLIES.values(), ids=REPLIES)
@pytest.mark.parametrize("rests", [1, _GIVEN_UP - 1])
def test_a_reply_that_stopped_where_it_may_be_a_key_sends_no_other_one(
    reply: str, rests: int
) -> None:
    """Its first sign or two are taken for escape or alt; all that comes late is none the less."""
    for cut in (1, 2):
        reader = Reader()
        reader.take("a" + reply[:cut])
        reader.rest(rests)
        early = reader.keys[1:]
        reader.take(reply[cut : cut + 4])
        reader.rest(rests)
        reader.take(reply[cut + 4 :] + "b")
        assert reader.keys == ["a", *early, "b"], cut
        assert all(key == "escape" or key.startswith("alt+") for key in early)


@pytest.mark.parametrize("first", ["\x1b", "\x1b[", "\x1b]", "\x1bP"])
@pytest.mark.parametrize("sign", "[]PXO1?>clq _^")
def test_after_escape_and_alt_a_hand_types_each_sign_by_itself(first: str, sign: str) -> None:
    plain, reader = Reader(), Reader()
    for sent in (first, sign, "1"):
        reader.take(sent)
        reader.rest()
    plain.take(sign + "1")
    assert reader.keys[1:] == plain.keys


@pytest.mark.parametrize("sent", KEYS, ids=repr)
def test_keys_come_through_at_once_whole_or_cut(sent: str) -> None:
    for cut in range(len(sent)):
        reader = Reader()
        reader.take(sent[:cut])
        reader.take(sent[cut:])
        assert reader.keys == KEYS[sent]


@given(st.lists(st.sampled_from([*KEYS, *REPLIES.values()]), max_size=12), st.data())
def test_among_replies_all_keys_are_kept_in_their_order(
    sent: list[str], data: st.DataObject
) -> None:
    reader, text = Reader(), "".join(sent)
    cuts = sorted(data.draw(st.sets(st.integers(0, len(text)), max_size=6)))
    for first, last in itertools.pairwise((0, *cuts, len(text))):
        reader.take(text[first:last])
    assert reader.keys == [key for one in sent for key in KEYS.get(one, ())]


def test_escape_and_alt_wait_no_longer_than_once() -> None:
    for sent, keys in (("\x1b", ["escape"]), ("\x1b[", ["alt+left_square_bracket"]),
                       ("\x1b]", ["alt+right_square_bracket"]), ("\x1bO", ["alt+O"])):  # fmt: skip
        reader = Reader()
        reader.take(sent)
        reader.rest()
        assert [key.casefold() for key in reader.keys] == [key.casefold() for key in keys], sent


def test_alt_and_a_sign_that_begins_no_reply_are_keys_with_what_follows() -> None:
    reader = Reader()
    reader.take("\x1bP ")
    reader.take("\x1b]c")
    assert [key for key in reader.keys if "alt" not in key] == ["space", "c"]
    assert len(reader.keys) == 4


def test_a_reply_that_never_ends_is_given_up_and_keys_count_again() -> None:
    for reply in ("\x1b]11;rgb:", "\x1b[?64;1", "\x1bP>|XTerm"):
        reader = Reader()
        reader.take(reply)
        reader.rest(_GIVEN_UP)
        reader.take(" c")
        assert reader.keys == ["space", "c"]


def test_what_cannot_be_parsed_takes_no_other_key_with_it() -> None:
    reader = Reader()
    reader.take("a\x1b[99999999999;2ub")
    assert reader.keys == ["a", "b"]


def test_pasted_text_is_left_as_it_is() -> None:
    reader = Reader()
    reader.take("\x1b[200~42 cm\x1b]11;rgb:0/0/0\a \x1b[201~c")
    (paste,) = [event for event in reader.events if isinstance(event, events.Paste)]
    assert paste.text.startswith("42 cm]11")
    assert reader.keys == ["c"]


def test_replies_reach_no_screen_of_a_real_bench(tmp_path: Path) -> None:
    with RealTerminal("knot", "reed-keyring", home=str(tmp_path), settings="") as terminal:
        terminal.count(1, 1)
        for reply in REPLIES.values():
            terminal.press(reply)
        for piece in ("\x1b]11;rgb:1e1e", "/1e1e/2e", "2e\x1b", "\\"):
            terminal.press(piece)
            terminal.read_for(0.15)
        terminal.count(2, 2)
        assert shows(2, 27)(terminal.text)
        assert "Too close" not in terminal.text


def test_only_what_may_go_on_is_waited_for() -> None:
    """After plain keys the reader sleeps until the next one; after a cut reply it gives up."""
    keys = _Keys(debug=False, hand_on=lambda _: None)
    for _ in range(_GIVEN_UP):
        keys.rest()
    keys.take("c ł".encode())
    assert not keys.more_may_come
    for reply in (*REPLIES.values(), "\x1b"):
        keys.take(reply[:1].encode())
        keys.take(b" ")
        assert keys.more_may_come
        for _ in range(_GIVEN_UP):
            keys.rest()
        assert not keys.more_may_come


def test_the_reader_is_woken_to_end() -> None:
    ending = _Ending()
    assert not select.select([ending], [], [], 0)[0]
    ending.set()
    assert select.select([ending], [], [], 0)[0] == [ending]
    ending.clear()
    assert not ending.is_set()
    assert not select.select([ending], [], [], 0)[0]


PINNED = (
    "The terminal's driver leans on private parts of Textual that are not there any more, or are "
    "others: {}. Look at coach/tui/input/ before this version of Textual is taken."
)


@pytest.mark.parametrize(
    ("holder", "names"),
    [
        (LinuxDriver, ("run_input_thread", "process_message", "_sigcont_application",
                       "_patch_lflag", "_patch_iflag", "write")),
        (XTermParser, ("feed", "tick", "parse")),
        (_xterm_parser, ("_re_extended_key", "_re_mouse_event", "_re_cursor_position",
                         "_re_in_band_window_resize", "_re_terminal_mode_response")),
        (_ansi_sequences, ("ANSI_SEQUENCES_KEYS",)),
    ],
    ids=lambda value: getattr(value, "__name__", ""),
)  # fmt: skip
def test_the_private_parts_of_the_library_are_there(holder: object, names: tuple[str, ...]) -> None:
    gone = [name for name in names if not hasattr(holder, name)]
    assert not gone, PINNED.format(gone)


def test_the_private_parts_of_the_library_do_what_the_driver_takes_them_for() -> None:
    wanted = "_debug", "fileno", "exit_event", "_app", "_loop", "_must_signal_resume"
    driver = [name for name in wanted
              if name not in (Path(LinuxDriver.__init__.__code__.co_filename).read_text()
                              + Path(LinuxDriver.__mro__[1].__init__.__code__.co_filename)
                              .read_text())]  # fmt: skip
    assert not driver, PINNED.format(driver)
    parser = XTermParser(debug=False)
    assert [event.key for event in parser.feed("c\x1b[A")] == ["c", "up"], PINNED.format("feed")
    assert list(parser.tick()) == [], PINNED.format("tick")
    assert all(isinstance(key, str) for key in _ansi_sequences.ANSI_SEQUENCES_KEYS)
    assert all(
        isinstance(getattr(_xterm_parser, name), re.Pattern)
        for name in vars(_xterm_parser) if name.startswith("_re_")
    ), PINNED.format("its patterns")  # fmt: skip
    assert next(iter(Replies().passed("\x1b[1;1R")))
