"""The grown-ups' corner: its gate, the class list, settings, numerals, and files made by the real teacher's side."""

from __future__ import annotations

import json
import os
import time
from collections.abc import Iterator
from pathlib import Path
from random import Random

import pytest

from game.commands import office
from game.core import attempt_log, log, roster
from game.core import settings as settings_file
from game.core.levels import Levels
from game.core.records import BADGES, Child
from game.core.settings import VOLUME_CAP, Settings
from game.core.writing.forms import load_forms
from game.core.writing.own_forms import FILE_NAME as OWN_FORMS
from game.core.writing.own_forms import MARK
from game.paths import data
from game.ui import look
from game.ui.input import Event
from game.ui.scene import Next
from tests.conftest import play
from tests.test_ui_pages import pixels, state
from tests.ui_player import Player, task_of

ADA = Child("Ada~k3f9", "Ada", "fox", "left", "likes kites")
BO = Child("Bo~x7qm", "Bo", "bee")
ODD = ("<b>x</b>", "=1+1", "W" * 200, "\u05e9\u05e8\u05d4", "\u0633\u0627\u0631\u0629", "Tom \U0001f600",
       "\u200b", "\u200f\u200f", "e\u0301\u0301\u0301")  # fmt: skip


@pytest.fixture
def shown(monkeypatch: pytest.MonkeyPatch) -> list[Path]:
    """What would be opened in the browser or the file manager; nothing is."""
    asked: list[Path] = []

    def show(path: Path) -> bool:
        asked.append(path)
        return True

    monkeypatch.setattr(office, "show", show)
    return asked


@pytest.fixture
def player(tmp_path: Path, shown: list[Path]) -> Iterator[Player]:
    roster.save(tmp_path, roster.Roster((ADA, BO)))
    made = Player(tmp_path)
    yield made
    made.close()


def again(player: Player, home: Path) -> Player:
    """The app started anew on the same data folder."""
    player.close()
    return Player(home)


def children(home: Path) -> list[Child]:
    return list(roster.load(home).children)


def type_in(player: Player, words: str) -> None:
    """As a keyboard does it: each letter comes as a key and as text."""
    for letter in words:
        key = {" ": "space"}.get(letter, letter.lower() if letter.isascii() and letter.isalnum() else "other")
        player.do(Event("key", key=key), Event("text", text=letter))


def finish(player: Player) -> str:
    """Wait for work that goes on behind the page; what the page tells then."""
    until = time.monotonic() + 60
    while player.scene.work is not None and time.monotonic() < until:
        time.sleep(0.02)
        player.wait(0.05)
    assert player.scene.work is None
    return str(player.scene.notice)


def pass_gate(player: Player) -> None:
    player.touch("grown_up")
    player.key(*str(sum(player.scene.sum)), "enter")


# ---------------------------------------------------------------------- the gate
def test_the_right_answer_opens_the_gate_by_keys_and_by_touch(player: Player) -> None:
    pass_gate(player)
    assert player.scene.name == "children"
    player.touch("back")
    player.touch("grown_up")
    for digit in str(sum(player.scene.sum)):
        player.touch(f"digit_{digit}")
    player.touch("done")
    assert player.scene.name == "children"


def test_the_sum_is_over_ten_and_stands_in_words(player: Player) -> None:
    seen = set()
    for _ in range(60):
        player.go("gate")
        seen.add(player.scene.sum)
    assert all(10 < a + b < 19 for a, b in seen) and len(seen) > 15


def test_a_wrong_answer_gives_a_new_sum_after_a_rest_and_the_third_leads_back(player: Player) -> None:
    player.go("gate")
    for rest_s in (3.0, 6.0):
        before = player.scene.sum
        player.key("4", "2", "enter")
        assert player.scene.resting and player.names() == ["back"]
        player.key(*str(sum(before)), "enter")
        player.wait(rest_s - 0.5)
        assert player.scene.name == "gate" and player.scene.resting
        player.wait(1)
        assert not player.scene.resting and player.scene.sum != before and player.scene.typed == ""
    player.key("4", "2", "enter")
    assert player.scene.name == "opening"


def test_the_gate_is_left_by_its_picture_and_by_escape(player: Player) -> None:
    for way in (lambda: player.touch("back"), lambda: player.key("escape")):
        player.touch("grown_up")
        way()
        assert player.scene.name == "opening"


def test_a_typed_digit_can_be_taken_back_and_too_many_are_wrong(player: Player) -> None:
    player.go("gate")
    player.key("9", "backspace", *str(sum(player.scene.sum)), "enter")
    assert player.scene.name == "children"
    player.go("gate")
    player.key("1", "1", "1")
    assert player.scene.wrong == 1


@pytest.mark.parametrize("seed", range(6))
def test_500_touches_at_random_do_not_pass_the_gate(player: Player, seed: int) -> None:
    """Anywhere on the page, and, harder, on the keys of the gate alone; whoever is led out comes again at once."""
    rng = Random(seed)
    player.go("gate")
    for touch in range(500):
        if player.scene.name != "gate":
            assert player.scene.name not in ("children", "settings", "numerals", "files", "child")
            player.go("gate")
        if touch % 2 and player.names() != ["back"]:
            player.touch(rng.choice(player.names()))
        else:
            x, y = rng.uniform(0, look.PAGE_WIDTH), rng.uniform(0, look.PAGE_HEIGHT)
            player.do(Event("press", x, y), Event("release", x, y))
    assert player.scene.name in ("gate", "opening")


def test_a_child_alone_cannot_change_a_list_that_is_there(player: Player) -> None:
    assert "add" not in player.names()
    player.go("first_child")
    assert player.scene.name == "gate"


# ---------------------------------------------------------------------- the class list
def test_a_child_is_added_by_the_keyboard_alone(player: Player, tmp_path: Path) -> None:
    pass_gate(player)
    for _ in range(3):
        player.key("tab")
    player.key("enter")
    assert player.scene.name == "child"
    type_in(player, "Mo 7")
    player.key("tab", "tab")
    type_in(player, "likes 3 kites")
    while player.scene.targets.focused().name != "left":
        player.key("tab")
    player.key("enter")
    while player.scene.targets.focused().name != "done":
        player.key("tab")
    player.key("enter")
    assert player.scene.name == "children"
    mo = children(tmp_path)[-1]
    assert (mo.nickname, mo.notes, mo.hand, mo.badge) == ("Mo 7", "likes 3 kites", "left", "owl")


def test_a_child_is_added_changed_put_away_and_brought_back_by_touch_alone(player: Player, tmp_path: Path) -> None:
    player.go("children")
    player.touch("add")
    player.touch("letters")
    for letter in "mo":
        player.touch(f"letter_{letter}")
    player.touch("pad_space")
    player.touch("letter_k")
    player.touch("letter_k")
    player.touch("pad_backspace")
    player.touch("pad_close")
    player.touch("badge_hare")
    player.touch("done")
    assert [(c.nickname, c.badge) for c in children(tmp_path)][-1] == ("Mo K", "hare")
    player.touch("child_0")
    player.touch("right")
    player.touch("notes")
    player.touch("letters")
    player.touch("letter_a")
    player.touch("pad_close")
    player.touch("done")
    assert (children(tmp_path)[0].hand, children(tmp_path)[0].notes) == ("right", "likes kitesa")
    player.touch("child_0")
    player.touch("away")
    assert children(tmp_path)[0].away and [c.nickname for c in player.scene.grid.shown] == ["Bo", "Mo K"]
    player.touch("change")
    player.touch("child_0")
    player.touch("away")
    assert not children(tmp_path)[0].away and children(tmp_path)[0].id == ADA.id


def test_an_input_method_and_any_script_are_taken(player: Player, tmp_path: Path) -> None:
    player.go("child")
    player.do(Event("composing", text="ni"))
    player.key("backspace", "enter")
    assert player.scene.name == "child" and player.scene.active.text == "", "the input method has these keys"
    for text in ("\u4f60", " \u05e9\u05e8\u05d4", " Zo\u00eb"):
        player.do(Event("text", text=text))
    player.key("enter")
    assert children(tmp_path)[-1].nickname == "\u4f60 \u05e9\u05e8\u05d4 Zo\u00eb"


def test_two_children_share_a_badge_only_when_that_was_asked(player: Player, tmp_path: Path) -> None:
    player.go("child")
    type_in(player, "Mo")
    assert player.scene.child.badge not in (ADA.badge, BO.badge)
    player.touch("badge_fox")
    player.touch("done")
    assert player.names() == ["share", "other"] and len(children(tmp_path)) == 2
    player.touch("other")
    assert len(children(tmp_path)) == 2 and player.scene.name == "child"
    player.touch("done")
    player.touch("share")
    assert [c.badge for c in children(tmp_path)] == ["fox", "bee", "fox"]
    player.touch("child_2")
    player.touch("left")
    player.touch("done")
    assert player.scene.name == "children", "what was agreed is not asked again"
    player.touch("child_2")
    player.touch("away")
    player.go("child", children(tmp_path)[2])
    player.touch("away")
    assert player.names() == ["share", "other"], "who comes back is asked, too"


def test_rows_that_cannot_be_used_stay_in_the_list(player: Player, tmp_path: Path) -> None:
    path = tmp_path / roster.FILE_NAME
    path.write_text(path.read_text(encoding="utf-8") + "id9,Kim,dragon,left,reads well,\r\n", encoding="utf-8")
    player.go("children")
    assert "dragon" in player.scene.told
    player.touch("child_0")
    player.touch("right")
    player.touch("done")
    kept = path.read_text(encoding="utf-8")
    assert '"Kim","dragon","left","reads well"' in kept and '"Ada","fox","right"' in kept


def test_a_list_edited_meanwhile_in_a_spreadsheet_is_not_overwritten(player: Player, tmp_path: Path) -> None:
    player.go("child", BO)
    roster.save(tmp_path, roster.Roster((ADA, BO, Child("Cy", "Cy", "hare"))))
    player.touch("left")
    player.touch("done")
    assert [(c.nickname, c.hand) for c in children(tmp_path)] == [("Ada", "left"), ("Bo", "left"), ("Cy", "right")]


def test_a_list_that_cannot_be_read_is_never_written_over(player: Player, tmp_path: Path) -> None:
    path = tmp_path / roster.FILE_NAME
    path.write_bytes("nickname\nZo\xeb\n".encode("latin-1"))
    before = path.read_bytes()
    player.go("child")
    type_in(player, "Mo")
    player.touch("done")
    assert player.scene.name == "child" and "not UTF-8" in player.scene.notice
    assert player.scene.fields[0].text == "Mo" and path.read_bytes() == before


def test_a_list_that_cannot_be_saved_is_told_and_what_was_typed_stays(
    player: Player, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(path: Path, data: bytes) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("game.core.roster.swap_in", full)
    player.go("child")
    type_in(player, "Mo")
    player.touch("done")
    assert player.scene.name == "child" and "No space left" in player.scene.notice
    assert player.scene.fields[0].text == "Mo" and len(children(tmp_path)) == 2


@pytest.mark.parametrize("nickname", ODD)
def test_odd_nicknames_are_shown_kept_and_never_run(
    player: Player, tmp_path: Path, nickname: str, shown: list[Path]
) -> None:
    roster.save(tmp_path, roster.Roster((Child("odd", nickname, "owl", notes=nickname), BO)))
    other = again(player, tmp_path)
    for scene, about in (
        ("opening", None),
        ("children", None),
        ("child", children(tmp_path)[0]),
        ("choose_child", "pack"),
    ):
        other.go(scene, about)
        other.pixels()
    other.go("child", children(tmp_path)[0])
    other.touch("left")
    other.touch("done")
    assert other.scene.name == "children"
    assert children(tmp_path)[0].nickname == roster.clean(nickname) and children(tmp_path)[0].hand == "left"
    other.go("files")
    other.touch("report")
    finish(other)
    assert "<b>x</b>" not in shown[-1].read_text(encoding="utf-8")
    other.close()


def test_a_long_nickname_is_cut_on_the_page_and_kept_whole(player: Player) -> None:
    from game.ui.draw import Page

    page = Page(player.app.window.surface, player.app.window.view, player.app.kit.pictures)
    cut = page.fitted("W" * 200, 300)
    assert cut.endswith("\u2026") and player.app.kit.pictures.width(cut, look.TEXT) <= 300 < 200 * 20
    assert page.fitted("Ada", 300) == "Ada"


# ---------------------------------------------------------------------- first evening and a parent's copy
def test_the_first_child_at_home_is_added_without_the_gate(tmp_path: Path) -> None:
    player = Player(tmp_path)
    player.touch("add")
    type_in(player, "Ada")
    player.touch("place_home")
    player.touch("done")
    assert settings_file.load(tmp_path)[0].place == "home" and player.scene.alone
    assert "guest" not in player.names() and "add" not in player.names()
    badge = next(target for target in player.scene.targets.all if target.name == "child_0")
    assert badge.box.w >= 280
    player.touch("child_0")
    assert player.scene.name == "lane" and player.app.sitting.child.nickname == "Ada"
    player.close()


def test_a_parents_copy_makes_the_sheet_of_its_child(tmp_path: Path, shown: list[Path]) -> None:
    roster.save(tmp_path, roster.Roster((ADA, Child("Cy", "Cy", "hare", away=True))))
    settings_file.save(tmp_path, Settings(place="home"))
    player = Player(tmp_path)
    player.go("files")
    player.touch("report")
    assert finish(player).startswith("The sheet for parents is in")
    text = shown[-1].read_text(encoding="utf-8")
    assert "Ada" in text and "Cy" not in text
    player.close()


def test_two_children_at_home_choose_their_badge(tmp_path: Path) -> None:
    roster.save(tmp_path, roster.Roster((ADA, BO)))
    settings_file.save(tmp_path, Settings(place="home"))
    player = Player(tmp_path)
    assert not player.scene.alone and "guest" in player.names()
    player.close()


# ---------------------------------------------------------------------- settings
def test_each_setting_is_saved_at_once_and_holds_at_once(player: Player, tmp_path: Path) -> None:
    player.go("settings")
    for name in ("volume_1", "lanes_4", "place_1", "calm_1", "switch_seconds_2"):
        player.touch(name)
    held, troubles = settings_file.load(tmp_path)
    assert troubles == () and (held.volume, held.lanes, held.place, held.calm) == (0.4, 5, "home", True)
    assert held.switch_seconds == 2.0 and player.app.kit.settings == held
    assert player.app.kit.sound._volume == pytest.approx(0.4 * VOLUME_CAP)
    assert player.scene.targets.switch_seconds == 2.0 and player.scene.calm
    sitting = player.app.sitting
    assert all(step.task not in ("write_numeral", "write_word") for step in sitting._levels.steps)
    player.touch("switch_seconds_0")
    assert any(step.task == "write_numeral" for step in sitting._levels.steps)
    sitting.begin(ADA)
    for _ in range(5):
        assert sitting.more
        sitting.lane_done()
    assert not sitting.more


def test_the_ear_asks_whether_it_is_heard(player: Player) -> None:
    player.go("settings")
    player.touch("hear")
    assert player.said()[-1] == "sound_check"


def test_settings_are_reached_by_keys_alone(player: Player, tmp_path: Path) -> None:
    pass_gate(player)
    while player.scene.targets.focused() is None or player.scene.targets.focused().name != "settings":
        player.key("tab")
    player.key("enter")
    assert player.scene.name == "settings"
    while player.scene.targets.focused() is None or player.scene.targets.focused().name != "lanes_0":
        player.key("tab")
    player.key("space")
    assert settings_file.load(tmp_path)[0].lanes == 1
    player.key("escape")
    assert player.scene.name == "opening"


def test_settings_that_cannot_be_saved_do_not_hold(
    player: Player, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(path: Path, data: bytes) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("game.core.settings.swap_in", full)
    player.go("settings")
    player.touch("lanes_4")
    assert "No space left" in player.scene.notice and player.app.kit.settings.lanes == 2


def test_fingers_and_mirrored_pages_are_chosen_by_their_pictures(player: Player, tmp_path: Path) -> None:
    player.go("numerals")
    player.touch("way_index_first")
    player.touch("mirrored_1")
    held = settings_file.load(tmp_path)[0]
    assert (held.finger_way, held.mirror_left) == ("index_first", False)
    player.go("play", ADA)
    assert not player.app.kit.left
    scene = player.open(task_of("make_ten", 1, "folded"))
    assert scene.hands.up == {1}


def test_forms_are_chosen_and_drawn_without_a_restart(player: Player, tmp_path: Path) -> None:
    before = player.app.kit.pictures.numeral(4, 80).copy()
    player.go("numerals")
    wanted = {"1": "flag", "4": "closed", "7": "barred", "9": "curved"}
    for target, form in list(player.scene.forms):
        if wanted.get(form.symbol) == form.name:
            player.touch(target.name)
    forms = player.app.kit.pictures.forms
    assert {symbol: forms.taught(symbol, "left").name for symbol in wanted} == wanted
    assert forms.taught("2").name == "plain"
    after = player.app.kit.pictures.numeral(4, 80)
    assert after.get_size() != before.get_size() or after.get_buffer().raw != before.get_buffer().raw
    again_read = load_forms(data("levels") / "forms", tmp_path / OWN_FORMS)
    assert {symbol: again_read.taught(symbol).name for symbol in wanted} == wanted


OWN = """# our own seven
[[form]]
symbol = "7"
name = "barred"
taught = ["right"]
child = "Ada~k3f9"

[[form]]
symbol = "9"
name = "our nine"
taught = ["right", "left"]
[[form.stroke]]
path = "M .4 .2 L 0 .3 L .4 .2 L .4 1"
cue = "cue_9_1"
text = "Round and down."
"""


def test_a_teachers_own_forms_stay_as_they_were_written(player: Player, tmp_path: Path) -> None:
    path = tmp_path / OWN_FORMS
    path.write_text(OWN, encoding="utf-8")
    player.app.kit.pictures.read_forms_again()
    player.go("numerals")
    names = {(form.symbol, form.name): target.name for target, form in player.scene.forms}
    player.touch(names["9", "curved"])
    player.touch(names["7", "plain"])
    assert path.read_text(encoding="utf-8").startswith(OWN + MARK)
    forms = player.app.kit.pictures.forms
    assert forms.taught("9").name == "curved" and forms.taught("7").name == "plain"
    assert forms.taught("7", "right", ADA.id).name == "barred", "what names a child wins"
    player.touch(names["9", "our nine"])
    assert player.app.kit.pictures.forms.taught("9").name == "our nine"
    assert path.read_text(encoding="utf-8").count(MARK) == 1


def test_a_forms_file_that_is_broken_is_told_and_left_alone(player: Player, tmp_path: Path) -> None:
    player.go("numerals")
    (tmp_path / OWN_FORMS).write_text("[[form", encoding="utf-8")
    player.touch(next(target.name for target, form in player.scene.forms if form.name == "barred"))
    assert "mend" in player.scene.notice
    assert (tmp_path / OWN_FORMS).read_text(encoding="utf-8") == "[[form"


# ---------------------------------------------------------------------- files
def played(home: Path, levels: Levels, child: Child, seed: int = 1) -> int:
    """A lane of that child in the log of `home`; its number of lines."""
    _, attempts = play(levels, seed=seed, child=child)
    kept = attempt_log.AttemptLog(home, home / "rescue.csv", durable=False)
    kept.append_all(attempts)
    kept.close()
    return len(attempts)


def test_the_report_of_the_class_is_written_and_opened(
    player: Player, tmp_path: Path, shown: list[Path], shipped: Levels
) -> None:
    played(tmp_path, shipped, ADA)
    player.go("files")
    player.touch("report")
    assert player.names() == [], "while it is written nothing else can be begun"
    player.key("escape")
    assert "It opens in the browser" in finish(player)
    assert shown == [tmp_path / "report.html"]
    text = shown[0].read_text(encoding="utf-8")
    assert "Ada" in text and "Bo" in text


def test_where_a_file_is_stands_there_when_it_cannot_be_opened(
    player: Player, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    object.__setattr__(player.app.director._office, "show", lambda path: False)
    player.go("files")
    player.touch("open")
    assert str(tmp_path) in finish(player) and "could not be opened" in player.scene.notice
    player.touch("report")
    assert str(tmp_path / "report.html") in finish(player) and "open the file yourself" in player.scene.notice


def test_practice_goes_to_another_device_and_back(
    player: Player, tmp_path: Path, shipped: Levels, tmp_path_factory: pytest.TempPathFactory
) -> None:
    lines = played(tmp_path, shipped, ADA)
    player.go("files")
    player.touch("pack")
    assert player.scene.name == "choose_child"
    player.touch("child_0")
    packed = tmp_path / "take-home" / "Ada.lane"
    assert f"{lines} attempts of Ada in {packed}" in finish(player)
    at_home = tmp_path_factory.mktemp("at_home")
    player.close()

    home = Player(at_home)
    home.go("files")
    home.touch("bring")
    assert home.scene.name == "bring_back" and not home.scene.found
    (at_home / "bring-back" / "Ada.lane").write_bytes(packed.read_bytes())
    home.touch("back")
    home.touch("bring")
    home.touch("file_0")
    told = finish(home)
    assert f"{lines} new, 0 known, 0 unreadable" in told and "Ada" in told and "at home" in told
    assert [child.nickname for child in home.app.sitting.roster.children] == ["Ada"]
    assert home.app.sitting._mastery[ADA.id].lanes == 1, "what the child knows came along"
    home.touch("bring")
    home.touch("file_0")
    assert f"0 new, {lines} known" in finish(home)
    home.close()


def test_a_torn_file_is_told_and_changes_nothing(player: Player, tmp_path: Path, shipped: Levels) -> None:
    played(tmp_path, shipped, ADA)
    player.go("files")
    player.touch("pack")
    player.touch("child_0")
    finish(player)
    whole = (tmp_path / "take-home" / "Ada.lane").read_bytes()
    (tmp_path / "Torn.LANE").write_bytes(whole[: len(whole) // 2])
    before = (tmp_path / log.FILE_NAME).read_bytes()
    player.touch("bring")
    player.touch("file_0")
    assert "Torn.LANE is torn or was changed" in finish(player)
    assert (tmp_path / log.FILE_NAME).read_bytes() == before


def test_playing_goes_on_after_bringing_in(player: Player, tmp_path: Path, shipped: Levels) -> None:
    lines = played(tmp_path, shipped, ADA)
    player.go("files")
    player.touch("pack")
    player.touch("child_0")
    finish(player)
    player.touch("bring")
    (tmp_path / "Ada.lane").write_bytes((tmp_path / "take-home" / "Ada.lane").read_bytes())
    player.touch("back")
    player.touch("bring")
    player.touch("file_0")
    finish(player)
    player.go("play", BO)
    player.until(lambda: player.scene.name == "task")
    player.until(lambda: player.app.sitting._session is not None)
    sitting = player.app.sitting
    from game.core.tasks import KINDS

    task = sitting._session.task
    sitting.answer(KINDS[task.kind].respond(task, task.answer), 2.0)
    assert len(log.read(tmp_path / log.FILE_NAME).attempts) == lines + 1


def test_children_of_one_nickname_get_files_of_their_own(tmp_path: Path) -> None:
    twins = (ADA, Child("Ada~zz22", "Ada", "bee"))
    roster.save(tmp_path, roster.Roster(twins))
    files = {office.pack(tmp_path, child, lambda share: None)[0] for child in twins}
    assert len(files) == 2 and all(path.exists() for path in files)


def test_sheets_are_drawn_for_the_child_that_is_chosen(player: Player, tmp_path: Path, shown: list[Path]) -> None:
    player.go("files")
    player.touch("sheets")
    player.touch("child_1")
    assert "The sheets for Bo are in" in finish(player)
    text = shown[-1].read_text(encoding="utf-8")
    assert shown[-1] == tmp_path / "sheets" / "Bo.html" and "Bo" in text and "Ada" not in text


def test_without_a_child_nothing_is_packed(tmp_path: Path, shown: list[Path]) -> None:
    player = Player(tmp_path)
    player.go("files")
    player.touch("pack")
    assert player.scene.name == "files" and "add a child first" in player.scene.notice
    player.close()


@pytest.mark.skipif(os.name == "nt", reason="explorer is always there")
def test_a_system_without_a_file_manager_is_no_error(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))
    assert office.show(tmp_path) is False


def test_a_change_that_was_cut_short_is_finished_at_the_start(tmp_path: Path) -> None:
    roster.save(tmp_path, roster.Roster((ADA,)))
    (tmp_path / "children.csv.next").write_text(roster.text(roster.Roster((ADA, BO))), encoding="utf-8")
    (tmp_path / "pending.json").write_text('["children.csv"]', encoding="utf-8")
    player = Player(tmp_path)
    assert [child.nickname for child in player.scene.children] == ["Ada", "Bo"]
    player.close()


def test_a_change_that_cannot_be_finished_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def locked(folder: Path) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("game.core.files.finish_swaps", locked)
    player = Player(tmp_path)
    assert "was cut short and cannot be finished (Permission denied)" in player.app.strip.waiting[0]
    player.close()


# ---------------------------------------------------------------------- drawing
@pytest.mark.parametrize(
    ("name", "about"),
    [
        ("opening", None), ("gate", None), ("children", None), ("children", True), ("child", ADA), ("settings", None),
        ("numerals", None), ("files", None), ("choose_child", "sheets"), ("bring_back", None),
    ],
)  # fmt: skip
def test_drawing_a_page_of_the_corner_changes_nothing(player: Player, name: str, about: object) -> None:
    player.go(name, about)
    player.wait(0.3)
    before = state(player.scene)
    assert (pixels(player) == pixels(player)).all() and state(player.scene) == before
    for target in player.scene.targets.all:
        assert target.box.x >= 0 and target.box.y >= 0
        assert target.box.x + target.box.w <= look.PAGE_WIDTH and target.box.y + target.box.h <= look.PAGE_HEIGHT


def test_every_badge_can_be_chosen_even_when_all_are_worn(player: Player, tmp_path: Path) -> None:
    all_worn = tuple(Child(f"c{i}", f"Child {i}", badge) for i, badge in enumerate(BADGES))
    roster.save(tmp_path, roster.Roster(all_worn))
    player.go("children")
    player.touch("add")
    type_in(player, "Mo")
    player.touch("badge_feather")
    player.touch("done")
    player.touch("share")
    assert children(tmp_path)[-1].badge == "feather"


def test_the_files_of_the_data_folder_are_what_was_asked_for(player: Player, tmp_path: Path) -> None:
    player.go("settings")
    player.touch("lanes_0")
    kept = json.loads((tmp_path / settings_file.FILE_NAME).read_text(encoding="utf-8"))
    assert kept["lanes"] == 1
    assert not [path for path in tmp_path.iterdir() if path.suffix in (".part", ".next")]
    player.app.go(Next("opening"))


@pytest.mark.parametrize("page", ["gate", "child"])
def test_the_tick_is_seen_faintly_before_anything_is_typed(player: Player, page: str) -> None:
    player.go(page)
    done = player.scene.done.box
    x, y, w, h = (int(n) for n in (done.x, done.y, done.w, done.h))
    faint = pixels(player)[x : x + w, y : y + h]
    assert (abs(faint - look.PAPER_SHADE).sum(axis=2) < 12).mean() > 0.3, "the card is there"
    assert faint.std(axis=(0, 1)).max() > 10, "with a tick"
    if page == "gate":
        player.touch("digit_1")
    else:
        player.scene.fields[0].text = "Mira"
    ready = pixels(player)[x : x + w, y : y + h]
    assert abs(ready - faint).sum(axis=2).max() > 100
