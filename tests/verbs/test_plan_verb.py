"""`coach plan` and its neighbours, called as a maker calls them."""

import json
from pathlib import Path

import pytest

from coach.cli.main import main


@pytest.fixture(autouse=True)
def _home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COACH_HOME", str(tmp_path / "home"))


def told(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str, str]:
    """Run a call; give its status and what it printed on both outputs."""
    status = main(arguments)
    printed = capsys.readouterr()
    return status, printed.out, printed.err


def object_of(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict:
    status, out, _ = told(capsys, "plan", *arguments, "--json")
    assert status == 0
    return json.loads(out)


def test_the_object_has_every_key_that_other_programs_read(
    capsys: pytest.CaptureFixture[str],
) -> None:
    found = object_of(capsys, "tide-band")
    assert set(found) >= {
        "title", "repeats", "start", "finish", "steps", "counts", "ties", "tie_total", "passes",
        "strands", "cords", "length_mm", "width_mm", "time_s",
    }  # fmt: skip
    assert set(found["strands"][0]) >= {"id", "used_mm", "tail_mm", "knotted", "filled"}
    assert set(found["cords"][0]) >= {"id", "pieces", "cut_mm", "total_mm", "per_repeat_mm"}
    assert set(found["time_s"]) == {"low", "likely", "high"}
    assert found["tie_total"] == sum(found["ties"].values())
    assert found["time_s"]["low"] < found["time_s"]["likely"] < found["time_s"]["high"]


@pytest.mark.parametrize("name", ["reed-keyring", "tide-band", "marsh-pot-hanger"])
def test_cut_lengths_hold_both_strands_the_tails_and_the_margin(
    capsys: pytest.CaptureFixture[str], name: str
) -> None:
    found = object_of(capsys, name)
    for cord in found["cords"]:
        own = [s for s in found["strands"] if s["id"].startswith(f"{cord['id']}.")]
        longest = max(s["used_mm"] + s["tail_mm"] for s in own)
        assert cord["cut_mm"] >= 1.1 * longest
        assert cord["cut_mm"] % 5 == 0
        assert cord["total_mm"] == sum(cut["pieces"] * cut["cut_mm"] for cut in cord["cuts"])


def test_copies_multiply_pieces_and_totals(capsys: pytest.CaptureFixture[str]) -> None:
    one, six = object_of(capsys, "reed-keyring"), object_of(capsys, "reed-keyring", "--copies", "6")
    for cord, cords in zip(one["cords"], six["cords"], strict=True):
        assert cords["pieces"] == 6 * cord["pieces"]
        assert cords["total_mm"] == 6 * cord["total_mm"]
        assert cords["cut_mm"] == cord["cut_mm"]


def test_repeats_cords_and_lengths_can_be_wished_for(capsys: pytest.CaptureFixture[str]) -> None:
    plain = object_of(capsys, "tide-band")
    more = object_of(capsys, "tide-band", "--repeats", "wave=8")
    assert more["repeats"] == {"wave": 8}
    assert more["tie_total"] - plain["tie_total"] == 2 * (4 * 7 + 2 * (1 + 3 + 5))
    thick = object_of(capsys, "tide-band", "--cord", "2mm")
    assert thick["width_mm"] == pytest.approx(2 * plain["width_mm"], rel=0.01)
    long = object_of(capsys, "tide-band", "--length", "40 cm")
    assert long["length_mm"] == pytest.approx(400, abs=25)


AIMED = """
coach: 1
title: Reed run
cords: {reed: {colour: green, diameter: 2 mm}}
start: {nest: [2 reed]}
work: [{use: m, times: 4}, {space: 1 cm, name: gap}]
parts: {m: [{knot: square knot, strands: 1-4, times: 2}]}
size: {%s}
"""


def test_a_wish_in_the_file_chooses_the_repeats_and_is_no_measurement(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    file = tmp_path / "run.yaml"
    file.write_text(AIMED % "wish: 20 cm, vary: m", encoding="utf-8")
    assert object_of(capsys, str(file))["length_mm"] == pytest.approx(200, abs=7)
    assert object_of(capsys, str(file), "--cord", "3mm")["length_mm"] == pytest.approx(200, abs=10)
    assert object_of(capsys, str(file), "--repeats", "m=5")["repeats"] == {"m": 5}
    assert object_of(capsys, str(file), "--length", "10 cm")["length_mm"] < 110
    card = tmp_path / "run.html"
    for call in (["plan", str(file)], ["words", str(file)], ["words", str(file), "--markdown"],
                 ["card", str(file), "-o", "-"]):  # fmt: skip
        status, out, _ = told(capsys, *call)
        assert status == 0
        assert "The project aims for 20 cm." in " ".join(out.split())
        assert "measured" not in out.split("</style>")[-1]
        assert str(object_of(capsys, str(file))["repeats"]["m"]) in out
    assert not card.exists()


def test_a_measured_length_is_told_as_one_and_changes_nothing(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    file = tmp_path / "run.yaml"
    file.write_text(AIMED % "length: 66 mm, vary: m", encoding="utf-8")
    assert object_of(capsys, str(file))["repeats"] == {"m": 4}
    for verb in ("plan", "words"):
        out = " ".join(told(capsys, verb, str(file))[1].split())
        assert "Its maker measured 6.6 cm with the repeats in the file." in out
        assert "aims" not in out


def test_a_wish_met_by_a_length_that_varies_is_in_whole_millimetres(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    file = tmp_path / "run.yaml"
    file.write_text(AIMED % "wish: 20 cm, vary: gap", encoding="utf-8")
    out = told(capsys, "words", str(file))[1]
    gap = next(line.split()[3] for line in out.splitlines() if " Leave a" in line)
    assert float(gap) * 10 == round(float(gap) * 10)
    assert object_of(capsys, str(file))["length_mm"] == pytest.approx(200, abs=0.6)


def test_a_wrist_is_met_with_the_ease_said(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = told(capsys, "plan", "tide-band", "--wrist", "16 cm")
    assert status == 0
    assert "for a wrist of 16 cm with 1.5 cm of ease" in " ".join(out.split())


def test_hanks_are_cut_with_the_bound_beside_and_the_rest_to_buy(
    capsys: pytest.CaptureFixture[str],
) -> None:
    found = object_of(capsys, "tide-band", "--hank", "tide=3 m", "--hank", "clay=9 m, 1 m")
    tide, clay = found["stock"][0], found["stock"][1]
    assert (tide["cord"], tide["used"], len(tide["to_buy_mm"])) == ("tide", 1, 1)
    assert (clay["used"], clay["fewest"], clay["to_buy_mm"]) == (1, 1, [])
    status, out, _ = told(capsys, "plan", "tide-band", "--hank", "tide=3 m")
    assert status == 0
    assert "no way of cutting needs fewer than 1" in out
    assert "still to buy" in out


def test_inches_are_remembered(capsys: pytest.CaptureFixture[str]) -> None:
    assert " in " in told(capsys, "plan", "reed-keyring", "--units", "in")[1]
    found = object_of(capsys, "reed-keyring")
    quarters = [cord["cut_mm"] / 6.35 for cord in found["cords"]]
    assert quarters == pytest.approx([round(quarter) for quarter in quarters], abs=0.02)
    told(capsys, "plan", "reed-keyring", "--units", "cm")
    assert object_of(capsys, "reed-keyring")["cords"][0]["cut_mm"] % 5 == 0


@pytest.mark.parametrize(
    ("wish", "says"),
    [
        (["--hank", "tide=30 cm"], "longest hank of tide is 30 cm"),
        (["--hank", "sand=30 m"], "no cord ‘sand’"),
        (["--hank", "tide=much"], "--hank"),
        (["--length", "3 cm"], "least"),
        (["--length", "0 cm"], "more than zero"),
        (["--length", "900 km"], "--length"),
        (["--length", "10,5 cm"], "10.5 cm"),
        (["--wrist", "16 cm", "--length", "20 cm"], "not both"),
        (["--neck", "38 cm"], "not made to a neck"),
        (["--repeats", "wave"], "wave=8"),
        (["--repeats", "wav=3"], "no part"),
        (["--repeats", "wave=999999"], "cannot be made"),
        (["--cord", "0 mm"], "between 0.1 and 100 mm"),
        (["--copies", "0"], "--copies"),
    ],
)
def test_a_wish_that_cannot_be_met_gets_a_sentence_and_status_2(
    capsys: pytest.CaptureFixture[str], wish: list[str], says: str
) -> None:
    status, out, err = told(capsys, "plan", "tide-band", *wish)
    assert (status, out) == (2, "")
    assert says in err
    assert err.count("\n") == 1


def test_an_unknown_project_is_answered_with_near_names(
    capsys: pytest.CaptureFixture[str],
) -> None:
    status, _, err = told(capsys, "plan", "tide-bnd")
    assert status == 2
    assert "tide-band" in err


def test_a_shelf_project_is_found_from_any_folder(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert object_of(capsys, "reed-keyring")["title"] == "Reed keyring"


def test_five_mistakes_are_told_in_one_go_with_their_places(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    wrong = tmp_path / "wrong.yaml"
    wrong.write_text(
        "coach: 1\ntitle: Wrong\nkind: keyrin\ncords:\n"
        "  reed: {colour: green, diameter: 2 furlongs, pieces: 1}\n"
        "  clay: {colour: sienna, diameter: 2 mm, pieces: 2}\n"
        "start: {nest: [reed, 2 clay]}\nwork:\n"
        "  - row: clove hich\n    holder: 1\n    across: 2-4\n"
        "  - row: clove hitch\n    holder: 2\n    across: 4-6\n"
        "  - knot: square knot\n    strand: 1-4\n"
    )
    status, out, _ = told(capsys, "check", str(wrong))
    assert status == 1
    places = [line for line in out.splitlines() if ": error[" in line]
    assert [place.split(":")[1] for place in places] == ["3", "5", "9", "14", "16"]
    assert "would jump over" in out
    assert "Did you mean ‘clove hitch’?" in out
    status, out, _ = told(capsys, "check", str(wrong), "--json")
    found = json.loads(out)["files"][0]
    assert status == 1
    assert [problem["line"] for problem in found["problems"]] == [3, 5, 9, 14, 16]
    keys = {"code", "severity", "line", "column", "message", "hint"}
    assert all(set(problem) >= keys for problem in found["problems"])


def test_sound_files_get_a_line_each(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = told(capsys, "check", "reed-keyring", "tide-band")
    assert status == 0
    assert [line.rsplit(": ")[-1] for line in out.splitlines()] == ["sound", "sound"]


def test_no_pieces_are_an_empty_list(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = told(capsys, "pieces", "--json")
    assert (status, json.loads(out)) == (0, [])
