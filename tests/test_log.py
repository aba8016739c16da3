"""The attempt log: what goes in comes out, whatever a spreadsheet, a full disk or a power cut does."""

from __future__ import annotations

import csv
import errno
import os
from datetime import datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.core import attempt_log, log, replay
from game.core.mastery import evidence_of
from game.core.records import Attempt
from tests.conftest import play, play_days, wrong_once

TEXT = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\x00"), max_size=40)


def attempt(n: int = 1, **changed) -> Attempt:
    held: dict = dict(  # noqa: C408
        at=datetime(2026, 3, 2, 16, 30, n % 60), child="Mira~k3f9", place="centre", hand="left", skill="count_set",
        step="three_in_a_line", task="count_set", form="choice3", reason="new", shown="3 kite, line",
        asked="how many", answered="3", right=True, first_try=True, help="none", error="", seconds=2.5,
        chance_known=0.4226, device="lamp1", attempt_id=f"lamp1-00000000aa-{n:02}-1", version="0.1.0",
    )  # fmt: skip
    return Attempt(**{**held, **changed})


def log_in(folder: Path, **options) -> attempt_log.AttemptLog:
    return attempt_log.AttemptLog(folder, folder / "rescue" / "rescue.csv", **options)


def test_the_columns_stand_in_the_teachers_order(tmp_path):
    written = log_in(tmp_path)
    written.append(attempt())
    with (tmp_path / "attempts.csv").open(encoding="utf-8-sig", newline="") as handle:
        rows = list(csv.reader(handle))
    assert ", ".join(rows[0]) == (
        "date, time, child, place, hand, skill, step, task, shown, asked, answered, right, "
        "first_try, help, error, seconds, chance_known, device, attempt_id, version"
    )
    assert rows[1][:5] == ["2026-03-02", "16:30:01", "Mira~k3f9", "centre", "left"]
    assert (tmp_path / "attempts.csv").read_bytes().startswith(b"\xef\xbb\xbf"), "spreadsheets know UTF-8 by its mark"


@given(TEXT, TEXT, TEXT)
def test_every_text_comes_back_unchanged(child, shown, error):
    told = attempt(child=child, shown=shown, error=error)
    row = (
        next(csv.reader([log.line_of(log.to_row(told))]))
        if "\n" not in child + shown + error and "\r" not in child + shown + error
        else None
    )
    if row is not None:
        assert log.from_row(row) == told


@pytest.mark.parametrize(
    "cell",
    # Golden from OWASP, CSV Injection (seen): `=1+2";=1+2`, and each first character it names
    ['=1+2";=1+2', "=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "＝1", "'=1"],
)
def test_no_cell_can_run_as_a_formula(tmp_path, cell):
    written = log_in(tmp_path)
    written.append(attempt(child=cell))
    raw = (tmp_path / "attempts.csv").read_text(encoding="utf-8-sig")
    with (tmp_path / "attempts.csv").open(encoding="utf-8-sig", newline="") as handle:
        cells = list(csv.reader(handle))[1]
    assert not cells[2].startswith(("=", "+", "-", "@", "\t", "\r", "＝"))
    assert all(line.startswith('"') for line in raw.splitlines() if line.strip() and "=1" not in line[:3])
    assert log.read(tmp_path / "attempts.csv").attempts[0].child == cell


def test_defusedcsv_finds_nothing_left_to_defuse(tmp_path):
    from defusedcsv import csv as defused  # reference library, PyPI

    log_in(tmp_path).append(attempt(child='=1+2";=1+2', error="@x"))
    with (tmp_path / "attempts.csv").open(encoding="utf-8-sig", newline="") as handle:
        ours = list(csv.reader(handle))[1]
    assert [defused._escape(cell) for cell in ours] == ours


def test_a_log_read_back_is_what_was_played(tmp_path, shipped):
    _, lines = play(shipped, wrong_once)
    written = log_in(tmp_path)
    for line in lines:
        written.append(line)
    back = log.read(tmp_path / "attempts.csv")
    assert back.troubles == ()
    assert [a.attempt_id for a in back.attempts] == [a.attempt_id for a in lines]
    rounded = [round(a.chance_known, 4) for a in lines]
    assert [a.chance_known for a in back.attempts] == rounded


def test_the_fast_reading_sees_the_same_first_tries(tmp_path, shipped):
    _, lines = play_days(shipped, [0, 1, 5], wrong_once)
    log_in(tmp_path).append_all(reversed(lines))
    fast = list(replay.evidence(tmp_path / "attempts.csv"))
    whole = [e for e in map(evidence_of, log.read(tmp_path / "attempts.csv").attempts) if e is not None]
    assert fast == whole and len(fast) == 30


@pytest.mark.parametrize(
    ("column", "cell"),
    [("date", "2 March"), ("time", "noon"), ("time", "10:00:00+01:00"), ("right", "maybe"), ("task", "count_set")],
)
def test_both_ways_of_reading_leave_out_the_same_damaged_lines(tmp_path, column, cell):
    row = log.to_row(attempt(2))
    row[log.COLUMNS.index(column)] = cell
    lines = [log.COLUMNS, log.to_row(attempt(1)), row, log.to_row(attempt(3))]
    (tmp_path / "attempts.csv").write_text("".join(map(log.line_of, lines)), encoding="utf-8", newline="")
    back = log.read(tmp_path / "attempts.csv")
    whole = [e for e in map(evidence_of, back.attempts) if e is not None]
    assert len(whole) == 2 and replay.evidence(tmp_path / "attempts.csv") == whole and back.troubles


def test_a_line_that_stands_twice_counts_once(tmp_path):
    written = log_in(tmp_path)
    written.append_all([attempt(1), attempt(2), attempt(1)])
    assert len(log.read(written.path).attempts) == 2
    assert len(list(replay.evidence(written.path))) == 2


@pytest.mark.parametrize("cut", [1, 20, 60, 150])
def test_a_torn_last_line_is_told_kept_aside_and_never_fatal(tmp_path, cut):
    first = log_in(tmp_path)
    first.append(attempt(1))
    first.append(attempt(2))
    first.close()
    whole = first.path.read_bytes()
    first.path.write_bytes(whole[:-cut])
    again = log_in(tmp_path)
    again.append(attempt(3))
    again.close()
    back = log.read(again.path)
    ids = [a.attempt_id[-4:] for a in back.attempts]
    assert "03-1" in ids and "01-1" in ids
    assert again.trouble is None
    if cut > 2:
        assert any("cut short" in line for line in again.told)
        assert (tmp_path / "attempts-torn.txt").read_bytes().strip() in whole
        assert len(back.troubles) == 1 and "1 line is not whole" in back.troubles[0]
    assert again.path.read_bytes().startswith(whole[: -max(cut, 1)]), "nothing that stood there was rewritten"


def test_a_spreadsheet_may_save_with_semicolons_and_other_column_order(tmp_path):
    names = list(log.COLUMNS)
    row = dict(zip(names, log.to_row(attempt(7)), strict=True))
    turned = list(reversed(names))
    text = ";".join(turned) + "\n" + ";".join(row[n] for n in turned) + "\n"
    (tmp_path / "attempts.csv").write_text(text, encoding="utf-8")
    assert log.read(tmp_path / "attempts.csv").attempts == (attempt(7),)
    assert len(list(replay.evidence(tmp_path / "attempts.csv"))) == 1


def test_a_missing_column_is_named(tmp_path):
    (tmp_path / "attempts.csv").write_text("date,time,child\n2026-01-01,10:00:00,Bo\n", encoding="utf-8")
    with pytest.raises(ValueError, match="the column place is missing"):
        log.read(tmp_path / "attempts.csv")


def test_a_missing_log_is_an_empty_one(tmp_path):
    assert log.read(tmp_path / "attempts.csv").attempts == ()


def test_a_log_that_cannot_be_written_keeps_the_attempts_and_takes_them_later(tmp_path):
    blocked = tmp_path / "home"
    blocked.write_text("a file where the folder should be")
    held = attempt_log.AttemptLog(blocked, tmp_path / "rescue.csv")
    held.append(attempt(1))
    held.append(attempt(2))
    assert held.trouble is not None and "cannot be written" in held.trouble and held.trouble.count(". ") == 0
    assert [a.attempt_id for a in log.read(tmp_path / "rescue.csv").attempts] == [
        attempt(1).attempt_id, attempt(2).attempt_id,
    ]  # fmt: skip
    blocked.unlink()
    held.append(attempt(3))
    assert held.trouble is None
    assert len(log.read(blocked / "attempts.csv").attempts) == 3
    assert not (tmp_path / "rescue.csv").exists()


def test_what_was_rescued_comes_back_at_the_next_start(tmp_path):
    blocked = tmp_path / "home"
    blocked.write_text("in the way")
    first = attempt_log.AttemptLog(blocked, tmp_path / "rescue.csv")
    first.append(attempt(1))
    blocked.unlink()
    second = attempt_log.AttemptLog(blocked, tmp_path / "rescue.csv")
    second.flush()
    assert [a.attempt_id for a in log.read(blocked / "attempts.csv").attempts] == [attempt(1).attempt_id]
    assert any("brought back" in line for line in second.told)


def test_a_full_disk_half_way_leaves_no_line_twice_or_lost(tmp_path, monkeypatch):
    held = log_in(tmp_path)
    held.append(attempt(1))
    real, calls = os.fsync, []

    def full(fd):
        calls.append(fd)
        if len(calls) == 1:
            raise OSError(errno.ENOSPC, "No space left on device")
        return real(fd)

    monkeypatch.setattr(os, "fsync", full)
    held.append(attempt(2))
    assert held.trouble is not None and "No space left" in held.trouble
    held.append(attempt(3))
    held.close()
    assert [a.attempt_id[-4:] for a in log.read(held.path).attempts] == ["01-1", "02-1", "03-1"]


def test_a_read_only_folder_is_told(tmp_path, monkeypatch):
    def locked(path: Path, mode: str = "r", *rest, **more):
        if path.parent == tmp_path and "b" in mode and path.name == "attempts.csv":
            raise PermissionError(errno.EACCES, "Permission denied", str(path))
        return real(path, mode, *rest, **more)

    real = Path.open
    monkeypatch.setattr(Path, "open", locked)
    held = log_in(tmp_path)
    held.append(attempt(1))
    assert held.trouble is not None and "Permission denied" in held.trouble
    assert len(log.read(tmp_path / "rescue" / "rescue.csv").attempts) == 1


def test_a_damaged_list_of_changes_is_told_and_the_attempts_are_rescued(tmp_path):
    (tmp_path / "pending.json").write_bytes(b'["../elsewhere"')
    held = log_in(tmp_path)
    held.append(attempt(1))
    assert held.trouble is not None and "pending.json beside it is damaged" in held.trouble
    (tmp_path / "pending.json").unlink()
    held.flush()
    assert held.trouble is None and len(log.read(tmp_path / "attempts.csv").attempts) == 1
