"""Whole evenings by touches on the real pages: every lamp is lit, every attempt is written first."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from game.core import log, roster, settings
from game.core.records import Child
from game.core.settings import Settings
from tests.ui_player import Player, task_of

pytestmark = pytest.mark.slow

FOUR = ("count_set", "pick_numeral", "make_ten", "one_fewer")


@pytest.fixture
def player(tmp_path: Path) -> Iterator[Player]:
    made = Player(tmp_path, kinds=FOUR)
    yield made
    made.close()


def prepare(player: Player) -> None:
    """Do what a task wants before its answers come."""
    for _ in range(12):
        names = player.names()
        if any(name.startswith("answer_") for name in names):
            return
        hands = getattr(player.scene, "hands", None)
        if hands is not None and hands.folded and f"finger_{hands.folded[0]}" in names:
            player.touch(f"finger_{hands.folded[0]}")
        elif "counter_0" in names:
            player.touch("counter_0")
        player.wait(1.0)
    player.until(lambda: any(name.startswith("answer_") for name in player.names()))


def answer(player: Player, wrong_first: int) -> None:
    """Give so many wrong answers, then the right one."""
    scene, task = player.scene, player.scene.task
    for _ in range(wrong_first):
        prepare(player)
        player.wait(1.2)
        wrong = next(n for n in scene.answers.spots if n != task.answer)
        player.touch(f"answer_{wrong}")
        player.wait(1.2)
        player.until(lambda: not scene.showing)
    prepare(player)
    player.wait(1.2)
    player.touch(f"answer_{task.answer}")
    assert scene.done


def play_lane(player: Player, wrong_first: int = 0) -> list[str]:
    """Play until all ten lamps are lit; the kinds of task that came."""
    kinds = []
    for lamp in range(10):
        player.until(lambda: player.scene.name == "task")
        kinds.append(player.scene.task.kind)
        answer(player, wrong_first)
        player.until(lambda: player.scene.name in ("lane", "close"))
        assert player.app.sitting.lit == lamp + 1
    player.until(lambda: player.scene.name == "close")
    return kinds


@pytest.mark.parametrize("wrong_first", [0, 1, 2])
def test_a_guest_lights_ten_lamps(player: Player, tmp_path: Path, wrong_first: int) -> None:
    player.touch("guest")
    play_lane(player, wrong_first)
    attempts = log.read(tmp_path / log.FILE_NAME).attempts
    assert [a.right for a in attempts].count(True) == 10
    assert len(attempts) == 10 * (1 + wrong_first)
    assert {a.help for a in attempts} == set(("none", "hint", "together")[: wrong_first + 1])
    assert player.played().count("soft") == 10 * wrong_first
    assert [line for line in player.said() if line.startswith("lamps_")] == [f"lamps_{n}" for n in range(1, 11)]
    assert not player.app.diagnostics.lines, player.app.diagnostics.lines


def test_the_attempt_is_on_disk_before_the_lamp_lights(player: Player, tmp_path: Path) -> None:
    player.touch("guest")
    player.until(lambda: player.scene.name == "task")
    answer(player, 0)
    assert player.app.scene.name == "task"
    assert len(log.read(tmp_path / log.FILE_NAME).attempts) == 1


def test_after_two_lanes_the_mole_goes_home(player: Player) -> None:
    child = player.app.sitting.keep(Child("", "Mira", "owl"))
    player.go("play", child)
    play_lane(player)
    player.until(lambda: "another" in player.names())
    player.touch("another")
    play_lane(player)
    player.until(lambda: "home" in player.names())
    assert "another" not in player.names() and player.said()[-1] == "close_home"
    player.touch("home")
    player.go("play", child)
    assert player.scene.name == "close", "the limit holds when the badge is touched again"


def test_a_child_who_knows_some_kinds_may_take_a_lane_of_everything(player: Player, tmp_path: Path) -> None:
    from datetime import datetime

    from game import rehearsal
    from tests.ui_player import shipped

    rehearsal.rehearse(shipped().without_pen(), tmp_path, 1, 12, 3, datetime(2026, 2, 2, 9, 0))
    player.app.sitting.read_again()
    child = player.app.sitting.roster.children[0]
    player.go("play", child)
    player.app.sitting.next_task()
    player.go("close")
    player.until(lambda: "mixed" in player.names())
    player.touch("mixed")
    player.until(lambda: player.scene.name == "task")
    assert "hello_mixed" in player.said()
    assert player.scene.task.reason == "mixed"


def test_a_new_child_is_not_offered_a_lane_of_everything(player: Player) -> None:
    player.touch("guest")
    player.until(lambda: player.scene.name == "task")
    player.go("close")
    player.until(lambda: "another" in player.names())
    assert "mixed" not in player.names()


def test_the_device_names_itself_once(tmp_path: Path) -> None:
    first = Player(tmp_path, seed=1)
    first.close()
    second = Player(tmp_path, seed=2)
    second.close()
    names = [player.app.kit.settings.device for player in (first, second)]
    assert names[0] == names[1] != "" and settings.load(tmp_path)[0].device == names[0]


def test_leaving_in_the_middle_loses_nothing(player: Player, tmp_path: Path) -> None:
    player.touch("guest")
    player.until(lambda: player.scene.name == "task")
    answer(player, 0)
    player.until(lambda: player.scene.name == "lane")
    player.key("escape")
    assert player.scene.name == "leave" and player.said()[-1] == "ask_leave"
    player.touch("stay")
    assert player.scene.name == "lane"
    player.key("escape")
    player.touch("go")
    assert player.scene.name == "opening"
    assert len(log.read(tmp_path / log.FILE_NAME).attempts) == 1


WAYS = [
    ("count_set", 0, "", "line"), ("count_set", 1, "", "line"), ("count_set", 7, "", "circle"),
    ("count_set", 10, "", "scattered"), ("pick_numeral", 0, "heard", ""), ("pick_numeral", 10, "heard", ""),
    ("pick_numeral", 0, "set", "array"), ("pick_numeral", 6, "set", "line"), ("make_ten", 0, "raise", ""),
    ("make_ten", 7, "raise", ""), ("make_ten", 10, "raise", ""), ("make_ten", 4, "folded", ""),
    ("make_ten", 10, "numeral", ""), ("make_ten", 3, "numeral", ""), ("one_fewer", 1, "take", ""),
    ("one_fewer", 10, "take", ""), ("one_fewer", 6, "covered", ""), ("one_fewer", 1, "covered", ""),
    ("one_fewer", 1, "numeral", ""), ("one_fewer", 10, "numeral", ""),
]  # fmt: skip


@pytest.mark.parametrize("form", ["choice3", "constructed"])
@pytest.mark.parametrize(("kind", "number", "way", "arrangement"), WAYS)
def test_every_way_goes_from_hint_to_together_to_done(
    player: Player, kind: str, number: int, way: str, arrangement: str, form: str
) -> None:
    task = task_of(kind, number, way, form, arrangement)
    scene = player.open(task)
    answer(player, 2)
    assert scene.answers.right == task.answer
    assert [(a.right, a.help) for a in player.logged] == [(False, "none"), (False, "hint"), (True, "together")]
    said = player.said()
    assert "together_look" in said and "together_turn" in said
    player.until(lambda: player.scene is not scene)
    missing = [line for line in player.app.diagnostics.lines if "picture" in line or ".ogg" in line]
    assert not missing


@pytest.mark.parametrize(("kind", "number", "way", "arrangement"), WAYS)
def test_a_rested_step_begins_with_the_way_shown(
    player: Player, kind: str, number: int, way: str, arrangement: str
) -> None:
    task = task_of(kind, number, way, "choice3", arrangement, worked=True)
    scene = player.open(task)
    player.until(lambda: scene.answers.right == task.answer and not scene.showing)
    player.wait(2)
    player.touch(f"answer_{task.answer}")
    assert [(a.right, a.help) for a in player.logged] == [(True, "together")]


def test_touches_of_things_reach_the_log(player: Player) -> None:
    task = task_of("count_set", 4, "", "choice3", "line")
    player.open(task)
    for thing in (0, 1, 1, 2):
        player.touch(f"thing_{thing}")
        player.wait(0.5)
    assert player.said()[-2:] == ["hint_tagged", "number_3"]
    wrong = next(n for n in player.scene.answers.spots if n != 4)
    player.touch(f"answer_{wrong}")
    assert player.logged[-1].error == "counted one twice"


def test_a_bouncing_finger_is_not_a_second_answer(player: Player) -> None:
    task = task_of("pick_numeral", 4, "heard")
    player.open(task)
    wrong = next(n for n in player.scene.answers.spots if n != 4)
    player.touch(f"answer_{wrong}")
    assert not player.logged, "the finger of the page before"
    player.wait(0.6)
    player.touch(f"answer_{wrong}")
    player.touch(f"answer_{wrong}")
    assert len(player.logged) == 1


def test_a_level_nobody_can_read_ends_in_a_sentence_not_in_an_error(player: Player) -> None:
    player.app.sitting.open()
    object.__setattr__(player.app.sitting._levels, "skills", ())
    player.touch("guest")
    player.until(lambda: player.scene.name == "opening")
    assert "No level can be played" in player.app.strip.waiting[0]


def test_a_child_is_added_by_typing_and_touching(player: Player, tmp_path: Path) -> None:
    from game.ui.input import Event

    player.touch("add")
    for text in ("Zoë", " ", "李"):
        player.do(Event("text", text=text))
    player.touch("badge_hare")
    player.touch("left")
    player.touch("done")
    assert [(c.nickname, c.badge, c.hand) for c in roster.load(tmp_path).children] == [("Zoë 李", "hare", "left")]
    assert player.names()[0] == "child_0"
    player.touch("child_0")
    assert player.app.kit.left and player.app.sitting.child.nickname == "Zoë 李"


def test_a_full_class_has_pages_of_twelve(player: Player) -> None:
    children = tuple(Child(f"c{i}", f"Child {i}", "owl") for i in range(30))
    object.__setattr__(player.app.sitting.roster, "children", children)
    player.go("opening")
    seen = []
    for _ in range(3):
        seen += [child.id for child in player.scene.shown]
        if "on" in player.names():
            player.touch("on")
    assert seen == [child.id for child in children]


def test_numbers_keep_their_order_for_a_left_handed_child(player: Player) -> None:
    def spots(left: bool) -> tuple[list[float], float]:
        player.app.kit.left = left
        scene = player.open(task_of("count_set", 5, "", "constructed", "line"))
        mole = next(target for target in scene.targets.all if target.name == "mole")
        return [scene.answers.spots[n][0] for n in range(11)], mole.box.centre[0]

    for left in (False, True):
        xs, mole = spots(left)
        assert xs == sorted(xs)
        assert (mole > 640) == left


def test_a_lane_is_played_by_keys_alone(player: Player) -> None:
    player.key("right", "space")
    for _ in range(10):
        player.until(lambda: player.scene.name == "task")
        prepare(player)
        player.wait(1.2)
        answer_number = player.scene.task.answer
        player.key(*(("1", "0") if answer_number == 10 else (str(answer_number),)))
        player.wait(1.0)
        player.until(lambda: player.scene.name in ("lane", "close"))
    assert player.app.sitting.lit == 10


def test_one_switch_reaches_the_answer(tmp_path: Path) -> None:
    settings.save(tmp_path, Settings(switch_seconds=1.0))
    player = Player(tmp_path)
    scene = player.open(task_of("count_set", 3, "", "choice3", "line"))
    player.wait(2)
    player.until(lambda: scene.targets.state("answer_3") == "focus")
    player.key("other")
    assert scene.done
    player.close()


def test_a_calm_page_fades_and_does_not_move(tmp_path: Path) -> None:
    settings.save(tmp_path, Settings(calm=True))
    player = Player(tmp_path)
    for kind, number, way, arrangement in WAYS:
        scene = player.open(task_of(kind, number, way, "choice3", arrangement))
        answer(player, 2)
        assert scene.done
    player.close()


def test_moving_things_stop_by_themselves(player: Player) -> None:
    """WCAG 2.2, 2.2.2 (seen): what moves by itself for more than five seconds can be paused; here nothing does."""
    player.open(task_of("count_set", 5, "", "choice3", "line"))
    player.wait(8)
    first = player.pixels().get_buffer().raw
    player.wait(1.3)
    assert player.pixels().get_buffer().raw == first


def test_a_demonstration_takes_no_answer_before_it_ends(player: Player) -> None:
    scene = player.open(task_of("count_set", 5, "", "choice3", "line", worked=True))
    player.wait(2)
    assert scene.showing and not [name for name in player.names() if name.startswith("answer_")]
    player.key("5")
    assert not player.logged
