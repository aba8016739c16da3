"""The command line: one clear sentence for wrong input, exit 2, nothing half written."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from game.__main__ import main

ROOT = Path(__file__).resolve().parent.parent


@pytest.mark.parametrize(
    "words",
    [
        ["rehearse", "--children", "0", "--home", "x"],
        ["rehearse", "--lanes", "999999", "--home", "x"],
        ["--pace", "0"],
        ["--size", "wide"],
        ["--size", "20x20"],
    ],
)
def test_a_wrong_value_gets_one_sentence_and_exit_2(words, tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    assert main(words) == 2
    said = capsys.readouterr()
    assert said.out == "" and said.err.count("\n") == 1 and "use" in said.err
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["reprot"], 'There is no command "reprot" (did you mean "report"?)'),
        (["pack"], "It needs CHILD and --to"),
        (["report", "--home"], "--home wants a word behind it"),
        (["report", "--hoem", "x"], 'It has no use for "--hoem x"'),
        (["sheets", "--to", "x", "--seed", "q"], '--seed is "q", but must be a whole number'),
        (["--pace", "fast"], '--pace is "fast", but must be a number'),
    ],
)
def test_a_slip_in_the_words_gets_one_sentence_and_exit_2(words, told, capsys):
    with pytest.raises(SystemExit) as left:
        main(words)
    said = capsys.readouterr()
    assert left.value.code == 2 and said.out == ""
    assert told in said.err and said.err.count("\n") == 1 and "--help" in said.err


@pytest.mark.parametrize("command", ["explain", "show", "forget", "report", "sheets", "pack", "check", "rehearse"])
@pytest.mark.parametrize("home", ["", "taken.csv"])
def test_a_data_folder_that_cannot_be_one_is_told_and_nothing_is_written(command, home, tmp_path, monkeypatch, capsys):
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "elsewhere"))
    monkeypatch.chdir(tmp_path)
    Path("taken.csv").write_text("kept", encoding="utf-8")
    child = ["Ada"] if command in ("explain", "show", "forget", "pack") else []
    to = ["--to", "made"] if command in ("report", "sheets", "pack") else []
    assert main([command, *child, *to, "--home", home]) == 2
    said = capsys.readouterr()
    assert said.out == "" and said.err.count("\n") == 1 and (home or "--home is empty") in said.err
    assert [path.name for path in tmp_path.iterdir()] == ["taken.csv"]
    assert Path("taken.csv").read_text(encoding="utf-8") == "kept"


@pytest.mark.parametrize("command", ["show", "forget", "explain"])
def test_a_nickname_that_is_nearly_one_of_the_list_is_offered(command, tmp_path, capsys):
    (tmp_path / "children.csv").write_text("nickname\nAda\n", encoding="utf-8")
    assert main([command, "Adda", "--home", str(tmp_path)]) == 2
    assert '(did you mean "Ada"?)' in capsys.readouterr().err


READERS = (["report", "--to", "made"], ["explain", "Ada"], ["pack", "Ada", "--to", "made"], ["show", "Ada"],
           ["forget", "Ada", "--yes"], ["sheets", "--to", "made"])  # fmt: skip


@pytest.mark.parametrize("words", READERS, ids=lambda words: words[0])
@pytest.mark.parametrize("broken", ["a folder", "another header", "a damaged list of changes"])
def test_a_log_that_cannot_be_read_gets_one_sentence(words, broken, tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    home = tmp_path / "home"
    home.mkdir()
    (home / "children.csv").write_text("nickname\nAda\n", encoding="utf-8")
    if broken == "a folder":
        (home / "attempts.csv").mkdir()
    elif broken == "another header":
        (home / "attempts.csv").write_text("a,b,c\n1,2,3\n", encoding="utf-8")
    else:
        (home / "pending.json").write_text("no list", encoding="utf-8")
    before = sorted(path.name for path in home.iterdir())
    assert main([*words, "--home", str(home)]) == 2
    said = capsys.readouterr()
    assert said.out == "" and said.err.count("\n") == 1 and str(home) in said.err and said.err.endswith(".\n")
    assert sorted(path.name for path in home.iterdir()) == before and not (tmp_path / "made").exists()


@pytest.mark.parametrize("words", READERS[1:], ids=lambda words: words[0])
@pytest.mark.parametrize("text", [b"nickname\nJos\xe9\n", b"name,badge\nAda,owl\n"], ids=["latin-1", "other columns"])
def test_a_class_list_that_cannot_be_read_is_told_and_kept(words, text, tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "children.csv").write_bytes(text)
    assert main([*words, "--home", str(tmp_path)]) == 2
    said = capsys.readouterr()
    assert said.out == "" and said.err.count("\n") == 1 and "children.csv" in said.err
    assert "no child" not in said.err.lower()
    assert (tmp_path / "children.csv").read_bytes() == text and not (tmp_path / "made").exists()


def test_a_child_whose_row_cannot_be_used_is_told_why(tmp_path, capsys):
    (tmp_path / "children.csv").write_text("nickname;badge\nBo;dragon\n", encoding="utf-8")
    assert main(["explain", "Bo", "--home", str(tmp_path)]) == 2
    said = capsys.readouterr().err
    assert 'row 2: the badge is "dragon"' in said and said.count("\n") == 1


@pytest.mark.parametrize("words", [["judge", "ink"], ["sheets", "--to", "made"]], ids=lambda words: words[0])
def test_own_forms_that_cannot_be_read_are_told(words, tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "children.csv").write_text("nickname\nAda\n", encoding="utf-8")
    (tmp_path / "forms.toml").write_text("x = [", encoding="utf-8")
    (tmp_path / "ink").write_text("", encoding="utf-8")
    assert main([*words, "--home", str(tmp_path)]) == 2
    said = capsys.readouterr()
    assert "forms.toml" in said.err and "mend it" in said.err and said.err.count("\n") == 1
    assert not (tmp_path / "made").exists()


def test_nothing_can_be_put_into_a_file(tmp_path, capsys):
    (tmp_path / "children.csv").write_text("nickname\nAda\n", encoding="utf-8")
    to = tmp_path / "children.csv" / "report.html"
    assert main(["report", "--to", str(to), "--home", str(tmp_path)]) == 2
    assert "children.csv is a file, so nothing can be put into it" in capsys.readouterr().err


def test_checking_what_is_no_file_is_told(tmp_path, capsys):
    for path, told in ((tmp_path, "is a folder"), (tmp_path / "none.toml", "is not there")):
        assert main(["check", str(path)]) == 2
        said = capsys.readouterr()
        assert f"{path} {told}" in said.err and said.out == ""


def test_check_tells_that_all_is_good(capsys):
    assert main(["check"]) == 0
    assert capsys.readouterr().out.startswith("All good: ")


def test_check_tells_every_fault_of_a_file(tmp_path, capsys):
    own = tmp_path / "own.toml"
    own.write_text('skill = "x"\ntitle = "X"\n[[step]]\nid = "a"\ntask = "count"\n', encoding="utf-8")
    assert main(["check", str(own)]) == 1
    told = capsys.readouterr().out
    assert 'step "a": "task" is "count"' in told and '"title" is missing' in told and "left out" in told


def test_a_teachers_own_level_in_the_data_folder_joins_in(tmp_path, capsys):
    (tmp_path / "levels").mkdir()
    shipped = (ROOT / "levels" / "count_set.toml").read_text(encoding="utf-8")
    own = shipped.replace('skill = "count_set"', 'skill = "our_own"').replace("count_set.", "our_own.")
    (tmp_path / "levels" / "own.toml").write_text(own, encoding="utf-8")
    assert main(["check", "--home", str(tmp_path)]) == 0
    with_own = capsys.readouterr().out
    main(["check"])
    assert with_own != capsys.readouterr().out


def test_without_a_screen_there_is_one_sentence_and_exit_2(tmp_path):
    env = {k: v for k, v in os.environ.items() if k not in ("DISPLAY", "WAYLAND_DISPLAY", "SDL_VIDEODRIVER")}
    done = subprocess.run(
        [sys.executable, "-m", "game", "--home", str(tmp_path)],
        cwd=ROOT, env=env, capture_output=True, text=True, timeout=60,
    )  # fmt: skip
    assert done.returncode == 2
    assert done.stderr.count("\n") == 1 and "screen" in done.stderr and "Traceback" not in done.stderr
