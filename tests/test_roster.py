"""The class list: a teacher may edit it in a spreadsheet; a bad row is named and kept."""

from __future__ import annotations

from random import Random

import pytest

from game.core import roster
from game.core.errors import Trouble
from game.core.records import Child

ODD_NAMES = ["<b>x</b>", "=1+1", "../x", "x" * 200, "שרה", "🦔🌙", "O'Neil", "'quoted", 'say "hi"', "Ana, María"]


@pytest.mark.parametrize("name", ODD_NAMES)
def test_any_nickname_survives(tmp_path, name):
    child = roster.new_child(roster.Roster(), name, "owl", "left", Random(1))
    roster.save(tmp_path, roster.Roster((child,)))
    back = roster.load(tmp_path)
    assert back.troubles == () and back.children == (child,)
    assert back.children[0].nickname == name


def test_renaming_keeps_the_id(tmp_path):
    child = roster.new_child(roster.Roster(), "Bo", "fox", "right", Random(1))
    listed = roster.with_child(roster.Roster((child,)), Child(child.id, "Bobo", "fox", "right"))
    assert [c.id for c in listed.children] == [child.id] and listed.children[0].nickname == "Bobo"


def test_a_row_written_by_hand_needs_only_a_nickname(tmp_path):
    (tmp_path / "children.csv").write_text("nickname;badge;hand\nBo;;\nCleo;owl;left\n", encoding="utf-8")
    back = roster.load(tmp_path)
    assert [(c.id, c.hand) for c in back.children] == [("Bo", "right"), ("Cleo", "left")]
    assert back.children[0].badge != ""


@pytest.mark.parametrize(
    ("row", "sentence"),
    [
        ("Bo,owll,right", 'the badge is "owll"; use'),
        ("Bo,owll,right", '(did you mean "owl"?)'),
        ("Bo,owl,both", 'the hand is "both"; use right or left'),
        (",owl,right", "the nickname is empty"),
        ("guest,owl,right", 'the id "guest" is taken'),
    ],
)
def test_a_bad_row_is_named_and_left_and_the_rest_is_used(tmp_path, row, sentence):
    path = tmp_path / "children.csv"
    path.write_text(f"nickname,badge,hand\nAda,fox,left\n{row}\nCleo,hare,right\n", encoding="utf-8")
    back = roster.load(tmp_path)
    assert [c.nickname for c in back.children] == ["Ada", "Cleo"]
    assert len(back.troubles) == 1 and "row 3" in back.troubles[0] and sentence in back.troubles[0]
    roster.save(tmp_path, back)
    again = roster.load(tmp_path)
    assert again.left == back.left and len(again.troubles) == 1, "saving loses no row"


def test_two_with_the_same_id_are_told(tmp_path):
    (tmp_path / "children.csv").write_text("nickname\nBo\nBo\n", encoding="utf-8")
    assert "is taken" in roster.load(tmp_path).troubles[0]


def test_a_badge_that_is_worn_is_known():
    listed = roster.Roster((Child("a", "A", "owl"), Child("b", "B", "fox", away=True)))
    assert roster.holder_of(listed, "owl") == listed.children[0]
    assert roster.holder_of(listed, "owl", but="a") is None
    assert roster.holder_of(listed, "fox") is None, "a child who was put away frees the badge"


def test_a_child_is_found_by_name_or_told():
    listed = roster.Roster((Child("Bo~aaaa", "Bo", "owl"), Child("Bo~bbbb", "Bo", "fox"), Child("Cleo", "Cleo", "bee")))
    assert listed.named("Cleo").id == "Cleo"
    assert listed.named("Bo~bbbb").badge == "fox"
    with pytest.raises(Trouble, match="more than one child"):
        listed.named("Bo")
    with pytest.raises(Trouble, match='did you mean "Cleo"'):
        listed.named("Cloe")


def test_a_list_that_is_no_text_is_told_and_never_fatal(tmp_path):
    (tmp_path / "children.csv").write_bytes(b"\xff\xfe\x00\x01")
    assert roster.load(tmp_path).troubles
