"""What is held about a child can be shown and taken away; a power cut at any write leaves the old state or the new."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Callable
from pathlib import Path
from shutil import copytree

import pytest

from game.__main__ import main
from game.core import attempt_log, files, log, roster
from game.core.errors import Trouble
from game.core.ink import Ink, to_line
from game.teacher import held, show
from game.teacher.forget import forget
from game.teacher.merge import merge_into
from game.teacher.pack import pack
from tests import teacher_sample as sample
from tests.teacher_sample import list_of, read_log, row, write_log

pytestmark = pytest.mark.slow

STROKE = ((1.0, 2.0, 0.0), (3.0, 4.0, 9.0))


def drawn(*ids: str) -> str:
    return "".join(to_line(Ink(i, "3", "right", (STROKE,), (0.0, 9.0))) for i in ids)


@pytest.fixture
def home(tmp_path) -> Path:
    """Ada and Bo, with ink, torn lines, a report, a row of the list that cannot be used."""
    here = tmp_path / "home"
    ada, bo = list_of(here, ["Ada", "Bo"])
    rows = [row(n, child=(ada, bo)[n % 2].id, attempt_id=f"lamp1-{'ab'[n % 2] * 10}-{n:02}-1") for n in range(40)]
    write_log(here / "attempts.csv", rows)
    with (here / "attempts.csv").open("ab") as handle:
        handle.write(
            f'"2026-10-05","09:59:59","{ada.id}","cen"\r\n"2026-10-05","10:00:00","{bo.id}","cen"\r\n'.encode()
        )
    torn = f'"2026-10-04","08:00:00","{ada.id}","ce\n"2026-10-04","08:00:01","{bo.id}","ce\n'
    (here / "attempts-torn.txt").write_text(torn, encoding="utf-8")
    ids = [r[18] for r in rows[::4] + rows[1::4]]
    (here / "ink.jsonl").write_text(drawn(*ids, "lamp1-aaaaaaaaaa-99-1", "lamp9-0000000000-01-1"), encoding="utf-8")
    (here / "report.html").write_text("Ada", encoding="utf-8")
    return here


def state(folder: Path) -> dict[str, bytes]:
    return {p.name: p.read_bytes() for p in sorted(folder.iterdir()) if p.is_file()}


def child_of(home: Path, nickname: str) -> str:
    return roster.load(home).named(nickname).id


# Showing.


def test_everything_about_a_child_is_shown_and_nothing_about_another(home):
    found = held.held(home, "Ada")
    told = json.loads(show.as_json(found))
    rows = read_log(home / "attempts.csv")
    own = [r for r in rows if len(r) == 20 and r[2] == found.child.id]
    assert [list(a.values()) for a in told["attempts"]] == own
    assert told["child"]["nickname"] == "Ada" and told["child"]["in_class_list"]
    assert [i["attempt_id"] for i in told["ink"]] == [r[18] for r in rows[:40:4]] + ["lamp1-aaaaaaaaaa-99-1"]
    assert len(told["torn_lines"]) == 2
    assert "Bo" not in show.as_json(found).replace("Both", "") and "Bo~" not in show.as_text(found)
    assert all(r[18] in show.as_text(found) for r in own)


def test_showing_changes_nothing(home):
    before = state(home)
    held.held(home, "Ada")
    assert state(home) == before


def test_control_characters_cannot_reach_the_terminal(tmp_path):
    write_log(tmp_path / "attempts.csv", [row(1, child="kim", answered="\x1b[2J3")])
    assert "\x1b" not in show.as_text(held.held(tmp_path, "kim"))


def test_stroke_forms_of_a_childs_own_are_told(home):
    (home / "forms.toml").write_text(f'[[form]]\nchild = "{child_of(home, "Ada")}"\n', encoding="utf-8")
    assert held.held(home, "Ada").forms == 1
    assert held.held(home, "Bo").forms == 0


# Taking away.


def test_forgetting_leaves_no_trace_of_the_child_and_every_other_byte(home):
    ada = child_of(home, "Ada")
    others = [line for line in (home / "attempts.csv").read_bytes().split(b"\r\n") if ada.encode() not in line]
    forget(home, "Ada")
    for name, data in state(home).items():
        assert b"Ada" not in data, name
        assert b"aaaaaaaaaa" not in data, name
    assert (home / "attempts.csv").read_bytes().split(b"\r\n") == others
    assert [c.nickname for c in roster.load(home).children] == ["Bo"]
    assert b"lamp9-0000000000-01-1" in (home / "ink.jsonl").read_bytes(), "ink of an unknown child is not guessed at"
    assert set(state(home)) == {"attempts.csv", "attempts-torn.txt", "children.csv", "ink.jsonl"}
    with pytest.raises(Trouble, match="Nothing is held"):
        held.held(home, "Ada")


def test_what_was_rescued_elsewhere_goes_too(home, tmp_path):
    ada, bo = child_of(home, "Ada"), child_of(home, "Bo")
    rescue = write_log(tmp_path / "rescue.csv", [row(300, child=ada), row(310, child=bo)])
    ink = tmp_path / "rescue.ink.jsonl"
    ink.write_text(drawn(row(300)[18], row(310)[18]), encoding="utf-8")
    assert len(held.held(home, "Ada", (rescue, ink)).rows) == 21
    forget(home, "Ada", (rescue, ink))
    assert [r[2] for r in read_log(rescue)] == [bo]
    assert ink.read_text(encoding="utf-8") == drawn(row(310)[18])


def test_a_child_whom_only_the_log_knows_can_be_forgotten(tmp_path):
    write_log(tmp_path / "attempts.csv", [row(1, child="kim"), row(2, child="lou")])
    forget(tmp_path, "kim")
    assert [r[2] for r in read_log(tmp_path / "attempts.csv")] == ["lou"]


def test_a_row_of_the_list_that_could_not_be_used_goes_with_its_child(tmp_path):
    text = "id,nickname,badge,hand\nkim,Kim,dragon,right\nlou,Lou,owl,right\n"
    (tmp_path / "children.csv").write_text(text, encoding="utf-8")
    forget(tmp_path, "kim")
    assert "kim" not in (tmp_path / "children.csv").read_text(encoding="utf-8").lower()
    assert [c.id for c in roster.load(tmp_path).children] == ["lou"]


@pytest.mark.parametrize("name", sample.ODD_NICKNAMES)
def test_any_nickname_can_be_forgotten(tmp_path, name):
    child, _ = list_of(tmp_path, [name, "Bo"])
    write_log(tmp_path / "attempts.csv", [[log.harmless(c) for c in row(n, child=child.id)] for n in range(3)])
    assert len(forget(tmp_path, child.nickname).rows) == 3
    assert read_log(tmp_path / "attempts.csv") == []


def test_two_children_of_one_nickname_are_not_confused(tmp_path):
    list_of(tmp_path, ["Ada", "Ada"])
    before = state(tmp_path)
    with pytest.raises(Trouble, match="more than one child"):
        forget(tmp_path, "Ada")
    assert state(tmp_path) == before


def test_the_app_that_is_open_goes_on_writing_into_the_new_log(home, tmp_path):
    open_log = attempt_log.AttemptLog(home, tmp_path / "rescue.csv")
    before, after = (log.from_row(row(n, child=child_of(home, "Bo"))) for n in (500, 501))
    open_log.append(before)
    forget(home, "Ada")
    open_log.append(after)
    open_log.close()
    ids = [r[18] for r in read_log(home / "attempts.csv") if len(r) == 20]
    assert ids[-2:] == [before.attempt_id, after.attempt_id]
    assert len(ids) == len(set(ids)) == 22


def test_a_log_that_grows_meanwhile_is_not_touched(home):
    def app_writes(done: float) -> None:
        if done and not seen:
            seen.append(1)
            with (home / "attempts.csv").open("ab") as handle:
                handle.write(log.line_of(row(700)).encode())

    seen: list[int] = []
    with pytest.raises(Trouble, match="just now"):
        forget(home, "Ada", progress=app_writes)
    assert row(700) in read_log(home / "attempts.csv")
    assert "Ada" in (home / "children.csv").read_text(encoding="utf-8")


# A power cut at any write.


class PowerCut:
    """Counts every write, flush, rename and removal; ends the process at once in the midst of the given one."""

    def __init__(self, at: int | None) -> None:
        self.at, self.count = at, 0

    def comes(self) -> bool:
        self.count += 1
        return self.at is not None and self.count > self.at

    def guard(self, module: object, name: str) -> None:
        real = getattr(module, name)

        def guarded(*words, **options):
            if self.comes():
                os._exit(9)
            return real(*words, **options)

        setattr(module, name, guarded)

    def lay(self) -> None:
        for name in ("replace", "fsync", "unlink", "remove"):
            self.guard(os, name)
        real_open = Path.open

        def opened(path, mode="r", *words, **options):
            handle = real_open(path, mode, *words, **options)
            return Wire(handle, self) if "w" in mode or "a" in mode else handle

        Path.open = opened


class Wire:
    """A file of which the power cut writes only the first half of a piece."""

    def __init__(self, handle, cut: PowerCut) -> None:
        self.handle, self.cut = handle, cut

    def write(self, data):
        if self.cut.comes():
            self.handle.write(data[: len(data) // 2])
            self.handle.flush()
            os._exit(9)
        return self.handle.write(data)

    def __enter__(self):
        return self

    def __exit__(self, *what):
        self.handle.close()

    def __getattr__(self, name):
        return getattr(self.handle, name)


def run_cut(work: Callable[[], object], at: int | None) -> tuple[bool, int]:
    """Do `work` in a process of its own, cut at write `at`: whether it came to its end, and how many writes it had."""
    reading, writing = os.pipe()
    process = os.fork()
    if process == 0:
        cut = PowerCut(at)
        try:
            os.close(reading)
            cut.lay()
            work()
            cut.at = None
            os.write(writing, str(cut.count).encode())
        finally:
            os._exit(0)
    os.close(writing)
    told = os.read(reading, 20)
    os.close(reading)
    os.waitpid(process, 0)
    return bool(told), int(told or 0)


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs a system that can fork")
@pytest.mark.parametrize("change", ["forget", "merge"])
def test_a_power_cut_at_any_write_leaves_the_old_state_or_the_new(home, tmp_path, change):
    other = tmp_path / "other"
    (zoe,) = list_of(other, ["Zoe"])
    write_log(other / "attempts.csv", [row(n, child=zoe.id) for n in range(200, 206)])
    (other / "ink.jsonl").write_text(drawn(row(200)[18]), encoding="utf-8")
    pack(other, "Zoe", tmp_path / "zoe.lane")

    def do(folder: Path) -> object:
        return forget(folder, "Ada") if change == "forget" else merge_into(folder, [tmp_path / "zoe.lane"])

    def kept(folder: Path) -> dict[str, bytes]:
        return {name: data for name, data in state(folder).items() if name != "report.html"}

    old = kept(home)
    done = copytree(home, tmp_path / "done")
    ended, writes = run_cut(lambda: do(done), None)
    new = kept(done)
    assert ended and writes > 10 and new != old
    seen = set()
    for at in range(writes):
        trial = copytree(home, tmp_path / f"trial{at}")
        ended, _ = run_cut(lambda folder=trial: do(folder), at)
        assert not ended
        files.finish_swaps(trial)
        found = kept(trial)
        assert found in (old, new), f"write {at}: {sorted(found)}"
        seen.add(found == new)
        do(trial) if found == old else None
        assert kept(trial) == new, "what was cut short can be done again"
    assert seen == {True, False}


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs a system that can fork")
def test_a_power_cut_while_the_change_is_being_finished_is_finished_the_next_time(home, tmp_path):
    done = copytree(home, tmp_path / "done")
    forget(done, "Ada")
    new = state(done)
    half = copytree(home, tmp_path / "half")
    _, writes = run_cut(lambda: forget(copytree(home, tmp_path / "count"), "Ada"), None)
    for at in range(writes):
        trial = copytree(half, tmp_path / f"t{at}")
        run_cut(lambda folder=trial: forget(folder, "Ada"), at)
        for again in range(6):
            run_cut(lambda folder=trial: files.finish_swaps(folder), again)
        files.finish_swaps(trial)
        found = {n: d for n, d in state(trial).items() if n != "report.html"}
        assert found in (new, {n: d for n, d in state(home).items() if n != "report.html"})


def test_a_full_disk_changes_nothing(home, monkeypatch):
    before = state(home)

    def full(handle) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(Trouble, match="No space left"):
        forget(home, "Ada")
    monkeypatch.undo()
    files.finish_swaps(home)
    assert state(home) == before


# The commands.


def test_forget_asks_and_no_answer_is_no(home, capsys, monkeypatch):
    before = state(home)
    assert main(["forget", "Ada", "--home", str(home)]) == 2
    assert "--yes" in capsys.readouterr().err
    monkeypatch.setattr(sys.stdin, "isatty", lambda: True)
    for said in ("n", "", "perhaps"):
        monkeypatch.setattr("builtins.input", lambda prompt, said=said: said)
        assert main(["forget", "Ada", "--home", str(home)]) == 1
    assert state(home) == before
    assert "20 lines in the log" in capsys.readouterr().out
    monkeypatch.setattr("builtins.input", lambda prompt: "y")
    assert main(["forget", "Ada", "--home", str(home)]) == 0
    assert b"Ada" not in (home / "children.csv").read_bytes()


def test_show_pack_merge_and_report_from_the_command_line(home, tmp_path, capsys):
    assert main(["show", "Ada", "--home", str(home)]) == 0
    assert "Everything that Ten Lamps holds about Ada" in capsys.readouterr().out
    assert main(["show", "Ada", "--to", str(tmp_path / "ada.json"), "--home", str(home)]) == 0
    assert json.loads((tmp_path / "ada.json").read_text(encoding="utf-8"))["child"]["nickname"] == "Ada"
    assert main(["pack", "Ada", "--to", str(tmp_path / "ada.lane"), "--home", str(home)]) == 0
    assert main(["merge", str(tmp_path / "ada.lane"), "--home", str(tmp_path / "new")]) == 0
    assert "20 new, 0 known, 0 unreadable" in capsys.readouterr().out
    assert main(["report", "--to", str(tmp_path / "r.html"), "--home", str(home)]) == 0
    assert "<title>Ten Lamps" in (tmp_path / "r.html").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    "words",
    [
        ["show", "Nobody"],
        ["forget", "Nobody", "--yes"],
        ["pack", "Nobody", "--to", "x.lane"],
        ["report", "--child", "Nobody", "--to", "x.html"],
        ["merge", "nowhere.lane"],
        ["report", "--to", "."],
    ],
)
def test_wrong_words_give_one_sentence_and_exit_code_2(home, words, capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    before = state(home)
    assert main([*words, "--home", str(home)]) == 2
    said = capsys.readouterr().err
    assert said.startswith("tenlamps: ") and said.count("\n") == 1
    assert state(home) == before
    assert not list(tmp_path.glob("x.*"))
