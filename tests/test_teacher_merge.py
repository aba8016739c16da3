"""Home practice and merging: any order, any number of times, the same lines; when something is wrong, nothing."""

from __future__ import annotations

import csv
import io
import json
import zipfile
from collections.abc import Sequence
from pathlib import Path
from tempfile import TemporaryDirectory

import defusedcsv.csv
import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from game.core import log, replay, roster
from game.core import settings as device_settings
from game.core.errors import Trouble
from game.core.mastery import rebuild
from game.teacher import lines, sources
from game.teacher.merge import merge_into
from game.teacher.pack import file_name, pack
from tests import teacher_sample as sample
from tests.teacher_sample import a_class, list_of, read_log, row, write_log

pytestmark = pytest.mark.slow


def state(folder: Path) -> dict[str, bytes]:
    return {p.name: p.read_bytes() for p in sorted(folder.iterdir()) if p.is_file()}


def lines_in(folder: Path) -> set[tuple[str, ...]]:
    return {tuple(r) for r in read_log(folder / "attempts.csv")}


@pytest.fixture(scope="module")
def home(tmp_path_factory, shipped) -> Path:
    return a_class(tmp_path_factory.mktemp("class"), shipped, children=4, lanes=3)


NUMBERS = st.sets(st.integers(0, 30), max_size=12)


def folder_with(root: Path, name: str, numbers: set[int]) -> Path:
    rows = [row(n, child=f"child{n % 3}") for n in sorted(numbers, reverse=True)]
    return write_log(root / name / "attempts.csv", rows).parent


# Laws.


@given(st.lists(NUMBERS, min_size=1, max_size=4), st.randoms(use_true_random=False))
@settings(deadline=None, max_examples=40)
def test_any_order_any_grouping_any_number_of_times(parts, rng):
    with TemporaryDirectory() as temporary:
        root = Path(temporary)
        folders = [folder_with(root, f"d{n}", part) for n, part in enumerate(parts)]
        at_once, one_by_one, grouped = root / "a", root / "b", root / "c"
        merge_into(at_once, folders)
        order = folders * 2
        rng.shuffle(order)
        for folder in order:
            merge_into(one_by_one, [folder])
        cut = rng.randrange(len(folders) + 1)
        merge_into(root / "left", folders[:cut])
        merge_into(root / "right", folders[cut:])
        (root / "left").mkdir(exist_ok=True)
        (root / "right").mkdir(exist_ok=True)
        merge_into(grouped, [f for f in (root / "right", root / "left") if (f / "attempts.csv").exists()])
        expected = {tuple(row(n, child=f"child{n % 3}")) for part in parts for n in part}
        for folder in (at_once, one_by_one, grouped):
            found = lines_in(folder) if (folder / "attempts.csv").exists() else set()
            assert found == expected
        again = state(at_once) if at_once.exists() else {}
        result = merge_into(at_once, folders)
        assert result.new == 0 and result.known == sum(map(len, parts))
        assert (state(at_once) if at_once.exists() else {}) == again


@given(NUMBERS, NUMBERS)
@settings(deadline=None, max_examples=40)
def test_what_is_there_stays_byte_for_byte(mine, theirs):
    with TemporaryDirectory() as temporary:
        root = Path(temporary)
        here, there = folder_with(root, "here", mine), folder_with(root, "there", theirs)
        before = (here / "attempts.csv").read_bytes()
        result = merge_into(here, [there])
        after = (here / "attempts.csv").read_bytes()
        assert after.startswith(before)
        assert (result.new, result.known) == (len(theirs - mine), len(theirs & mine))
        new = read_log(here / "attempts.csv")[len(mine) :]
        assert new == sorted(new, key=lambda r: (r[0], r[1], r[18]))


def test_the_joined_log_gives_the_mastery_of_one_log(home, shipped, tmp_path):
    rows = read_log(home / "attempts.csv")
    write_log(tmp_path / "a.csv", rows[::2])
    write_log(tmp_path / "b.csv", rows[1::2])
    merge_into(tmp_path / "home", [tmp_path / "b.csv", tmp_path / "a.csv"])
    joined = rebuild(replay.evidence(tmp_path / "home" / "attempts.csv"), shipped.skills)
    alone = rebuild(replay.evidence(home / "attempts.csv"), shipped.skills)
    for child, mastery in alone.items():
        assert {k: s.known for k, s in joined[child].steps.items()} == {k: s.known for k, s in mastery.steps.items()}


# What a line is.

CELL = st.text(st.characters(exclude_categories=["Cs", "Cc"]), max_size=6) | st.sampled_from(
    ["yes", "no", "", "none", "1 of 3", "=1+1", "'x", '"', "2026-01-01", "09:05", "nan", "x, 1 of 3, new"]
)


@given(st.dictionaries(st.sampled_from(log.COLUMNS), CELL, max_size=4), st.integers(0, 21))
@example({"time": "09:05"}, 20)
@example({"right": "'yes"}, 20)
@example({"time": "09:05:00+01:00"}, 20)
@example({"time": "09:05:00.25"}, 20)
@example({"attempt_id": " "}, 20)
@example({"seconds": "inf"}, 20)
def test_a_line_is_whole_when_the_log_reads_it(changed, length):
    cells = [*row(1, **changed), "more"][:length]
    try:
        log.from_row(cells)
        readable = True
    except ValueError:
        readable = False
    assert lines.whole(cells) == readable


@given(st.lists(st.dictionaries(st.sampled_from(log.COLUMNS), CELL, max_size=3), max_size=6))
@settings(deadline=None)
def test_the_fast_way_reads_what_the_logs_reader_reads(changes):
    with TemporaryDirectory() as temporary:
        path = Path(temporary) / "attempts.csv"
        text = lines.header().decode("utf-8") + "".join(lines.line(row(n, **c)) for n, c in enumerate(changes))
        path.write_text(text, encoding="utf-8", newline="")
        assert list(lines.rows(path)) == list(log.rows_of(path))
        assert [i for i, _ in lines.marks(path)] == [log.as_meant(r[18]) for r in log.rows_of(path)]
        walked = lines.LogLines(path)
        assert [r for r, _ in walked] == list(log.rows_of(path))
        assert walked.header + "".join(t for _, t in walked) == text


@given(st.lists(CELL, min_size=20, max_size=20))
def test_a_written_line_is_harmless_and_reads_back_as_meant(cells):
    written = lines.line(cells)
    assert written == log.line_of(log.harmless(log.as_meant(cell)) for cell in cells)


def test_a_merged_cell_cannot_run_in_a_spreadsheet(tmp_path):
    write_log(tmp_path / "a.csv", [row(1, child="=cmd|' /C calc'!A0", shown="+1", asked="@SUM(A1)", error="-2+3")])
    merge_into(tmp_path / "home", [tmp_path / "a.csv"])
    cells = read_log(tmp_path / "home" / "attempts.csv")[0]
    assert all(cell == "" or cell[0] not in "=+-@\t\r" for cell in cells)
    guarded = io.StringIO()
    defusedcsv.csv.writer(guarded, quoting=csv.QUOTE_ALL).writerow(
        cells
    )  # OWASP, CSV Injection (seen), by PyPI defusedcsv
    assert next(csv.reader([guarded.getvalue()])) == cells, "a hardened writer has nothing left to escape"
    assert log.read(tmp_path / "home" / "attempts.csv").attempts[0].child == "=cmd|' /C calc'!A0"


# Kinds of sources.


def test_a_pack_carries_a_child_whole(home, tmp_path):
    child = roster.load(home).children[1]
    (home / "ink.jsonl").write_text(
        "".join(
            json.dumps({"attempt_id": r[18], "asked": "3", "hand": "right", "strokes": [[[1, 2, 3]]]}) + "\n"
            for r in read_log(home / "attempts.csv")[::5]
        ),
        encoding="utf-8",
    )
    device_settings.save(home, device_settings.Settings(device="lamp1", calm=True, lanes=3))
    written = pack(home, child.nickname, tmp_path / "out.lane")
    away = tmp_path / "away"
    result = merge_into(away, [tmp_path / "out.lane"])
    own = {tuple(r) for r in read_log(home / "attempts.csv") if r[2] == child.id}
    assert lines_in(away) == own
    assert (result.new, written, result.children) == (len(own), len(own), [child])
    mine = {json.loads(text)["attempt_id"] for text in (away / "ink.jsonl").read_text(encoding="utf-8").splitlines()}
    assert mine == {r[18] for n, r in enumerate(read_log(home / "attempts.csv")) if n % 5 == 0 and r[2] == child.id}
    brought, _ = device_settings.load(away)
    assert (brought.calm, brought.lanes, brought.device, brought.place) == (True, 3, "", "centre")
    assert merge_into(home, [tmp_path / "out.lane"]).new == 0


def test_the_same_practice_makes_the_same_file(home, tmp_path):
    child = roster.load(home).children[0]
    pack(home, child.id, tmp_path / "a.lane")
    pack(home, child.id, tmp_path / "b.lane")
    assert (tmp_path / "a.lane").read_bytes() == (tmp_path / "b.lane").read_bytes()


@pytest.mark.parametrize("name", sample.ODD_NICKNAMES)
def test_any_nickname_travels(tmp_path, name):
    here = tmp_path / "here"
    (child,) = list_of(here, [name])
    write_log(here / "attempts.csv", [[log.harmless(c) for c in row(n, child=child.id)] for n in range(4)])
    to = tmp_path / file_name(child)
    assert to.parent == tmp_path and len(to.name.encode()) < 255 and not set(to.name) & set('/\\:*?"<>|')
    pack(here, child.nickname, to)
    merge_into(tmp_path / "there", [to])
    (came,) = roster.load(tmp_path / "there").children
    assert (came.id, came.nickname) == (child.id, child.nickname)
    assert {a.child for a in log.read(tmp_path / "there" / "attempts.csv").attempts} == {child.id}


def test_folders_logs_and_packs_come_in_together(home, tmp_path):
    child = roster.load(home).children[0]
    pack(home, child.id, tmp_path / "a.lane")
    other = write_log(tmp_path / "usb" / "attempts.csv", [row(1), row(2)])
    plain = write_log(tmp_path / "more.csv", [row(2), row(3), row(4)[:9]])
    result = merge_into(tmp_path / "here", [tmp_path / "a.lane", other.parent, plain])
    own = sum(r[2] == child.id for r in read_log(home / "attempts.csv"))
    assert (result.new, result.known, result.unreadable) == (own + 3, 1, 1)


def test_a_log_that_a_spreadsheet_saved_comes_in(tmp_path):
    text = ";".join(log.COLUMNS) + "\n" + "\n".join(";".join(row(n)) for n in (1, 2)) + "\n"
    (tmp_path / "saved.csv").write_text(text, encoding="utf-8")
    merge_into(tmp_path / "here", [tmp_path / "saved.csv"])
    assert read_log(tmp_path / "here" / "attempts.csv") == [row(1), row(2)]


def test_lines_can_be_joined_to_a_log_that_a_spreadsheet_saved(tmp_path):
    here = tmp_path / "here"
    here.mkdir()
    saved = ";".join(log.COLUMNS) + "\n" + ";".join(row(1)) + "\n"
    (here / "attempts.csv").write_text(saved, encoding="utf-8")
    write_log(tmp_path / "b.csv", [row(1), row(2)])
    result = merge_into(here, [tmp_path / "b.csv"])
    assert (result.new, result.known, result.conflicts) == (1, 1, [])
    assert (here / "attempts.csv").read_text(encoding="utf-8").startswith(saved)
    assert [a.attempt_id for a in log.read(here / "attempts.csv").attempts] == [row(1)[18], row(2)[18]]


def test_a_torn_last_line_here_is_closed_before_others_follow(tmp_path):
    here = tmp_path / "here"
    write_log(here / "attempts.csv", [row(1)])
    with (here / "attempts.csv").open("ab") as handle:
        handle.write(b'"2026-10-05","09:00:0')
    write_log(tmp_path / "b.csv", [row(2), row(3)])
    merge_into(here, [tmp_path / "b.csv"])
    found = log.read(here / "attempts.csv")
    assert [a.attempt_id for a in found.attempts] == [row(n)[18] for n in (1, 2, 3)]


def test_a_line_that_is_torn_here_and_whole_there_comes_in(tmp_path):
    here = tmp_path / "here"
    write_log(here / "attempts.csv", [row(1, right="perhaps")])
    write_log(tmp_path / "b.csv", [row(1)])
    assert merge_into(here, [tmp_path / "b.csv"]).new == 1


# Conflicts and badges.


def test_of_two_lines_with_one_id_the_one_here_stays_and_it_is_told(tmp_path):
    here = tmp_path / "here"
    write_log(here / "attempts.csv", [row(1), row(2)])
    before = state(here)
    write_log(tmp_path / "b.csv", [row(1, right="no"), row(2)])
    result = merge_into(here, [tmp_path / "b.csv"])
    assert (result.conflicts, result.known, result.new) == ([row(1)[18]], 1, 0)
    assert state(here) == before
    assert "those here were kept" in " ".join(result.sentences())


def test_a_badge_that_is_worn_here_is_told_and_not_taken(tmp_path):
    list_of(tmp_path / "here", ["Ada", "Bo"])
    list_of(tmp_path / "there", ["Zoe"])
    write_log(tmp_path / "there" / "attempts.csv", [row(1)])
    result = merge_into(tmp_path / "here", [tmp_path / "there"])
    badges = {c.nickname: c.badge for c in roster.load(tmp_path / "here").children}
    assert badges == {"Ada": "owl", "Bo": "fox", "Zoe": "snail"}
    assert result.told[0] == (
        "The owl of Zoe is worn by Ada here; Zoe gets the snail here. It can be changed in the class list."
    )


def test_a_child_comes_into_the_list_once_and_the_entry_here_stays(tmp_path):
    (child,) = list_of(tmp_path / "there", ["Zoe"])
    write_log(tmp_path / "there" / "attempts.csv", [row(1, child=child.id)])
    merge_into(tmp_path / "here", [tmp_path / "there"])
    path = tmp_path / "here" / "children.csv"
    path.write_text(path.read_text(encoding="utf-8").replace('"Zoe"', '"Zoë K"'), encoding="utf-8")
    result = merge_into(tmp_path / "here", [tmp_path / "there"])
    assert [c.nickname for c in roster.load(tmp_path / "here").children] == ["Zoë K"]
    assert result.children == []


def test_children_whom_only_lines_name_are_told(tmp_path):
    list_of(tmp_path / "here", ["Ada"])
    ada = roster.load(tmp_path / "here").children[0].id
    write_log(tmp_path / "b.csv", [row(1, child="kim"), row(2, child=ada), row(3, child="guest")])
    told = merge_into(tmp_path / "here", [tmp_path / "b.csv"]).told
    assert len(told) == 1 and told[0].startswith("Not in the class list: kim. ")


def test_a_class_list_that_cannot_be_read_is_left_alone(tmp_path):
    here = tmp_path / "here"
    here.mkdir()
    (here / "children.csv").write_bytes(b"\xff\xfe\x00broken")
    list_of(tmp_path / "there", ["Zoe"])
    write_log(tmp_path / "there" / "attempts.csv", [row(1)])
    result = merge_into(here, [tmp_path / "there"])
    assert (here / "children.csv").read_bytes() == b"\xff\xfe\x00broken"
    assert "No child was added" in result.told[0]


# What cannot come in.


def made(tmp_path: Path, home: Path) -> tuple[Path, Path]:
    """A pack and a folder to bring it into that holds something already."""
    path, here = tmp_path / "a.lane", tmp_path / "here"
    pack(home, roster.load(home).children[0].id, path)
    write_log(here / "attempts.csv", [row(1)])
    return path, here


def refused(here: Path, paths: Sequence[Path], *words: str) -> None:
    before = state(here)
    with pytest.raises(Trouble) as trouble:
        merge_into(here, paths)
    assert state(here) == before
    assert "\n" not in str(trouble.value)
    for word in words:
        assert word in str(trouble.value)


def changed_manifest(path: Path, **changes: object) -> None:
    with zipfile.ZipFile(path) as packed:
        members = {name: packed.read(name) for name in packed.namelist()}
    held = json.loads(members[sources.MANIFEST]) | changes
    with zipfile.ZipFile(path, "w") as packed:
        for name, data in members.items():
            packed.writestr(name, json.dumps(held) if name == sources.MANIFEST else data)


def test_a_newer_file_is_refused(home, tmp_path):
    path, here = made(tmp_path, home)
    changed_manifest(path, version=sources.VERSION + 1)
    refused(here, [path], "newer", "up to date")


def test_a_file_of_another_kind_is_refused(home, tmp_path):
    path, here = made(tmp_path, home)
    changed_manifest(path, kind="something else")
    refused(here, [path], "no home practice")
    (tmp_path / "picture.png").write_bytes(b"\x89PNG\r\n\x1a\n" + bytes(50))
    refused(here, [tmp_path / "picture.png"], "no home practice")
    (tmp_path / "empty").write_bytes(b"")
    refused(here, [tmp_path / "empty"], "no home practice")
    (tmp_path / "nothing").mkdir()
    refused(here, [tmp_path / "nothing"], "holds no attempts.csv")
    refused(here, [tmp_path / "missing.lane"], "no file or folder")
    with zipfile.ZipFile(tmp_path / "other.zip", "w") as other:
        other.writestr("letter.txt", "hello")
    refused(here, [tmp_path / "other.zip"], "no home practice")


def test_one_bad_source_among_good_ones_changes_nothing(home, tmp_path):
    path, here = made(tmp_path, home)
    good = write_log(tmp_path / "good.csv", [row(5)])
    path.write_bytes(path.read_bytes()[:-40])
    refused(here, [good, path], "torn or was changed")


def test_a_member_that_was_exchanged_is_noticed(home, tmp_path):
    path, here = made(tmp_path, home)
    with zipfile.ZipFile(path) as packed:
        members = {name: packed.read(name) for name in packed.namelist()}
    members["attempts.csv"] += lines.line(row(9)).encode()
    with zipfile.ZipFile(path, "w") as packed:
        for name, data in members.items():
            packed.writestr(name, data)
    refused(here, [path], "torn or was changed")


@pytest.mark.parametrize("name", ["../outside.csv", "/tmp/outside.csv", "levels/evil.toml", "attempts.csv\\..\\x"])
def test_a_member_that_has_no_place_in_a_pack_is_refused(home, tmp_path, name):
    path, here = made(tmp_path, home)
    with zipfile.ZipFile(path, "a") as packed:
        packed.writestr(name, "x")
    refused(here, [path], "torn or was changed")
    assert not (tmp_path / "outside.csv").exists()


def test_a_pack_that_claims_to_be_huge_is_refused(home, tmp_path):
    path, here = made(tmp_path, home)
    changed_manifest(path, files={"attempts.csv": {"bytes": sources.MOST_BYTES + 1, "sha256": ""}})
    refused(here, [path], "more than practice can be")


@given(st.data())
@settings(deadline=None, max_examples=120, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_a_cut_or_changed_byte_changes_nothing_or_nothing_that_counts(home, tmp_path_factory, data):
    tmp_path = tmp_path_factory.mktemp("torn")
    path, here = made(tmp_path, home)
    whole = path.read_bytes()
    merge_into(tmp_path / "whole", [path])
    at = data.draw(st.integers(0, len(whole) - 1))
    if data.draw(st.booleans()):
        path.write_bytes(whole[:at])
    else:
        path.write_bytes(whole[:at] + bytes([whole[at] ^ (1 << data.draw(st.integers(0, 7)))]) + whole[at + 1 :])
    before = state(here)
    try:
        merge_into(here, [path])
    except Trouble as trouble:
        assert "\n" not in str(trouble)
        assert state(here) == before
    else:
        assert lines_in(here) == lines_in(tmp_path / "whole") | {tuple(row(1))}


def test_a_log_without_its_header_is_refused_in_one_sentence(tmp_path):
    here = tmp_path / "here"
    write_log(here / "attempts.csv", [row(1)])
    (tmp_path / "b.csv").write_text("date,time,skill,attempt_id\n1,2,3,4\n", encoding="utf-8")
    refused(here, [tmp_path / "b.csv"], "column", "missing")


def test_a_folder_that_cannot_be_written_is_told(tmp_path):
    write_log(tmp_path / "b.csv", [row(1)])
    (tmp_path / "file").write_text("x")
    with pytest.raises(Trouble, match="cannot be written"):
        merge_into(tmp_path / "file" / "home", [tmp_path / "b.csv"])


def test_progress_goes_up_to_the_end(home, tmp_path):
    told: list[float] = []
    merge_into(tmp_path / "here", [home], told.append)
    assert told == sorted(told) and told[-1] == 1.0
