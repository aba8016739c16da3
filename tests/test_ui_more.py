"""The pages of the further kinds, played right and wrong by touch and by keys, and what they show."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from random import Random
from typing import Any

import numpy as np
import pygame
import pytest

from game.core import log, settings
from game.core.layout import ARRANGEMENTS, Box
from game.core.records import Child, Step, Task
from game.core.settings import Settings
from game.core.tasks import which_more
from game.core.tasks.number_words import WORDS
from game.ui import look
from game.ui.gap_row import ROW_Y
from game.ui.ten_frame import CELL, CENTRE
from game.ui.tray import MAT
from game.ui.words import word_shape
from tests.test_ui_lane import FOUR, answer
from tests.test_ui_pages import blobs, near, on_card, pixels, state
from tests.ui_player import Player, shipped, task_of

pytestmark = pytest.mark.slow

Do = Callable[[Player, str], None]

CASES = [
    ("one_more", "add", 0, "choice3", ""), ("one_more", "add", 9, "constructed", ""),
    ("one_more", "covered", 4, "choice3", ""), ("one_more", "numeral", 0, "choice3", ""),
    ("one_more", "numeral", 9, "constructed", ""),
    ("see_at_once", "dots", 0, "choice3", "dice"), ("see_at_once", "dots", 5, "choice3", "dice"),
    ("see_at_once", "dots", 8, "choice4", "array"), ("see_at_once", "fingers", 7, "choice4", ""),
    ("see_at_once", "frame", 0, "constructed", ""), ("see_at_once", "frame", 10, "constructed", ""),
    ("count_out", "", 0, "constructed", ""), ("count_out", "", 3, "constructed", ""),
    ("count_out", "", 10, "constructed", ""),
    ("number_track", "gap", 0, "choice3", ""), ("number_track", "gap", 10, "choice4", ""),
    ("number_track", "next", 1, "choice3", ""), ("number_track", "next", 10, "constructed", ""),
    ("number_track", "count_on", 0, "constructed", ""), ("number_track", "count_on", 9, "choice3", ""),
    ("number_words", "heard", 0, "choice3", ""), ("number_words", "read", 10, "constructed", ""),
    ("number_words", "word", 8, "choice4", ""),
    ("take_apart", "pair", 0, "choice4", ""), ("take_apart", "pair", 7, "constructed", ""),
    ("take_apart", "pair", 10, "choice3", ""), ("take_apart", "part", 5, "choice3", ""),
    ("take_apart", "part", 9, "constructed", ""), ("take_apart", "another", 5, "constructed", ""),
    ("take_apart", "another", 9, "constructed", ""),
    ("which_more", "more", 7, "choice3", "array"), ("which_more", "fewer", 0, "choice3", "circle"),
    ("which_more", "sets", 10, "choice3", "scattered"), ("which_more", "numerals", 9, "choice3", ""),
]  # fmt: skip


@pytest.fixture(scope="module")
def player(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Player]:
    made = Player(tmp_path_factory.mktemp("home"))
    yield made
    made.close()


def comparing(numbers: tuple[int, int], way: str = "sets", arrangement: str = "scattered", seed: int = 1) -> Task:
    """A task that compares these two: as its module makes it, with the seed that gives them."""
    step = Step("skill", "step", "", "which_more", "choice3", tuple(set(numbers)), way, "", (arrangement,))
    found = (which_more.make(step, "choice3", "new", Random(n), None) for n in range(seed, seed + 500))
    return next(task for task in found if task.numbers == numbers)


def case(kind: str, way: str, number: int, form: str, arrangement: str, worked: bool = False) -> Task:
    if kind == "which_more" and way != "numerals":
        task = comparing((number, 3), way, arrangement)
        object.__setattr__(task, "worked", worked)
        return task
    return task_of(kind, number, way, form, arrangement, worked=worked)


def touch(player: Player, name: str) -> None:
    player.touch(name)


def by_keys(player: Player, name: str) -> None:
    """Go there by the tabulator and pick it: no pointer."""
    for _ in range(60):
        if player.scene.targets.state(name) == "focus":
            player.key("space")
            return
        player.key("tab")
    raise AssertionError(f"no key reaches {name} among {player.names()}")


def ready(player: Player, do: Do) -> None:
    """Do what comes before the answer, and wait until one is taken."""
    player.until(lambda: not player.scene.showing)
    if player.scene.task.kind == "one_more" and "waiting" in player.names():
        do(player, "waiting")
    player.until(lambda: {"done", "answer_0", "answer_1", "answer_2"} & set(player.names()) or answers(player))
    player.wait(1.2)


def answers(player: Player) -> list[int]:
    return [int(name.removeprefix("answer_")) for name in player.names() if name.startswith("answer_")]


def give(player: Player, right: bool, do: Do = touch) -> None:
    """Answer right or wrong on the page as it stands."""
    ready(player, do)
    scene, task = player.scene, player.scene.task
    if task.kind == "count_out":
        fill(player, task.number if right else (task.number + 2) % 13, do)
    elif task.kind == "take_apart" and task.to_show:
        move_gap(player, task.answer if right else task.part, do)
    else:
        do(player, f"answer_{task.answer if right else next(n for n in answers(player) if n != task.answer)}")
        return
    player.wait(0.8)
    do(player, "done")
    assert scene.done == right


def fill(player: Player, count: int, do: Do) -> None:
    tray = player.scene.tray
    while len(tray) != count:
        do(player, f"thing_{(tray.waiting if len(tray) < count else tray.in_order)[0]}")
        player.wait(0.1)


def move_gap(player: Player, gap: int, do: Do) -> None:
    row = player.scene.row
    if row.gap != gap:
        do(player, f"counter_{gap - 1 if gap > row.gap else gap}")
    assert row.gap == gap


@pytest.mark.parametrize("do", [touch, by_keys], ids=["touch", "keys"])
@pytest.mark.parametrize("about", CASES, ids=str)
def test_a_right_answer_lights_the_lamp(player: Player, about: tuple[Any, ...], do: Do) -> None:
    player.logged.clear()
    scene = player.open(case(*about))
    give(player, True, do)
    assert scene.done and [(a.right, a.help) for a in player.logged] == [(True, "none")]
    player.until(lambda: player.scene is not scene)
    assert not [line for line in player.app.diagnostics.lines if "picture" in line]


@pytest.mark.parametrize("about", CASES, ids=str)
def test_hint_and_together_lead_to_the_lamp(player: Player, about: tuple[Any, ...]) -> None:
    player.logged.clear()
    player.journal.write_text("", encoding="utf-8")
    scene = player.open(case(*about))
    give(player, False)
    assert not scene.done
    player.until(lambda: not scene.running)
    give(player, False)
    player.until(lambda: not scene.running)
    assert scene.answers.right == scene.task.answer
    give(player, True)
    assert [(a.right, a.help) for a in player.logged] == [(False, "none"), (False, "hint"), (True, "together")]
    said = [clip for line in player.lines() if "say" in line for clip in line["say"]]
    assert {"together_look", "together_turn"} <= set(said)
    player.until(lambda: player.scene is not scene)


@pytest.mark.parametrize("about", CASES, ids=str)
def test_a_rested_step_begins_with_the_way_shown(player: Player, about: tuple[Any, ...]) -> None:
    player.logged.clear()
    scene = player.open(case(*about, worked=True))
    player.until(lambda: scene.answers.right == scene.task.answer and not scene.showing)
    give(player, True)
    assert [(a.right, a.help) for a in player.logged] == [(True, "together")]


@pytest.mark.parametrize("about", CASES, ids=str)
def test_drawing_changes_nothing(player: Player, about: tuple[Any, ...]) -> None:
    scene = player.open(case(*about))
    for _ in range(3):
        player.wait(2.1)
        before = state(scene)
        first, second = pixels(player), pixels(player)
        assert (first == second).all() and state(scene) == before


@pytest.mark.parametrize("about", CASES, ids=str)
def test_every_target_is_large_and_on_the_page(player: Player, about: tuple[Any, ...]) -> None:
    player.open(case(*about))
    ready(player, touch)
    for target in player.scene.targets.all:
        hit = target.hit
        assert hit.w >= look.TARGET_LEAST and hit.h >= look.TARGET_LEAST, target.name
        assert Box(0, 0, look.PAGE_WIDTH, look.PAGE_HEIGHT).inside(target.box.centre, 40), target.name


# ---------------------------------------------------------------------- one more
FRAME = (slice(int(CENTRE[0] - 2.5 * CELL), int(CENTRE[0] + 2.5 * CELL)), slice(int(CENTRE[1] - CELL), 480))


@pytest.mark.parametrize("name", ["waiting", "free"])
@pytest.mark.parametrize("number", range(10))
def test_one_more_lies_in_the_frame(player: Player, number: int, name: str) -> None:
    player.open(task_of("one_more", number, "add"))
    assert blobs(near(player, look.LAMP)[FRAME], 400) == number
    player.touch(name)
    player.wait(2)
    assert blobs(near(player, look.LAMP)[FRAME], 400) == number + 1


def test_under_the_cloth_nothing_can_be_counted(player: Player) -> None:
    seen = []
    for number in (2, 8):
        scene = player.open(task_of("one_more", number, "covered", "constructed"))
        player.until(lambda scene=scene: scene.answers_shown)
        player.wait(1)
        seen.append(pixels(player)[132:1148, 52:624])
    assert (seen[0] == seen[1]).all()


# ---------------------------------------------------------------------- see at once
def seen_for_a_moment(player: Player, task: Task) -> Any:
    scene = player.open(task)
    player.until(lambda: not scene.glimpse.covered and scene.glimpse.still())
    return scene


@pytest.mark.parametrize("arrangement", ARRANGEMENTS)
@pytest.mark.parametrize("number", range(1, 11))
def test_n_dots_are_n_blobs(player: Player, number: int, arrangement: str) -> None:
    seen_for_a_moment(player, task_of("see_at_once", number, "dots", "choice3", arrangement))
    assert blobs(on_card(player)) == number


def test_a_die_of_five_and_the_rest_stand_apart(player: Player) -> None:
    for number in (6, 7, 8, 9, 10):
        scene = seen_for_a_moment(player, task_of("see_at_once", number, "dots", "choice3", "dice"))
        xs = sorted(x for x, _ in scene.glimpse.places)
        assert xs[5] - xs[4] > 1.4 * (xs[4] - xs[0]), number


@pytest.mark.parametrize("number", range(11))
def test_the_frame_shows_n_the_row_of_five_first(player: Player, number: int) -> None:
    seen_for_a_moment(player, task_of("see_at_once", number, "frame", "constructed"))
    lamps = near(player, look.LAMP)[FRAME]
    assert blobs(lamps, 400) == number
    assert blobs(lamps[:, : int(CELL)], 400) == min(5, number)


def test_the_moment_is_as_long_as_the_task_says_and_the_curtain_hides_all(player: Player) -> None:
    task = task_of("see_at_once", 7, "frame", "constructed")
    scene = seen_for_a_moment(player, task)
    began = scene.age_s
    player.until(lambda: scene.glimpse.covered)
    assert scene.age_s - began == pytest.approx(task.glance_s, abs=0.11)
    player.until(lambda: scene.answers_shown)
    player.wait(4)
    covered = pixels(player)
    other = player.open(task_of("see_at_once", 3, "frame", "constructed"))
    player.until(lambda: other.answers_shown)
    player.wait(4)
    assert (pixels(player) == covered).all()


def test_answering_has_no_limit_and_one_more_look_goes_to_the_log(player: Player) -> None:
    player.logged.clear()
    scene = player.open(task_of("see_at_once", 4, "dots", "choice3", "dice"))
    player.until(lambda: scene.answers_shown)
    player.wait(90)
    assert not scene.done and "look" in player.names()
    player.touch("look")
    player.until(lambda: not scene.glimpse.covered)
    player.until(lambda: scene.glimpse.hidden)
    player.wait(3)
    assert "look" not in player.names()
    player.touch("answer_4")
    assert [a.answered for a in player.logged] == ["4, looked again"]


def test_the_curtain_never_flashes(player: Player) -> None:
    """WCAG 2.2 (seen): a flash is a pair of opposing changes of 10 % or more; here one pair in a whole look."""
    scene = player.open(task_of("see_at_once", 6, "frame", "constructed"))
    light = []
    while not scene.answers_shown:
        player.wait(0.05)
        light.append(pygame.surfarray.array3d(player.pixels())[200:1080:8, 100:560:8].mean() / 255)
    turns, last, way = 0, light[0], 0.0
    for value in light:
        if abs(value - last) >= 0.1:
            turns += (value - last) * way < 0
            way, last = value - last, value
    assert turns <= 1


# ---------------------------------------------------------------------- count out
@pytest.mark.parametrize("count", range(13))
def test_n_things_lie_on_the_tray_and_the_others_in_the_pile(player: Player, count: int) -> None:
    task = task_of("count_out", 5, "", "constructed", seed=3)
    player.open(task)
    empty = pixels(player)
    fill(player, count, touch)
    player.wait(1)
    player.scene.targets._focus = None
    changed = np.abs(pixels(player) - empty).sum(axis=2) > 24
    assert blobs(changed[300:980, 76:390]) == count
    box = slice(int(MAT.x) + 14, int(MAT.x + MAT.w) - 14), slice(int(MAT.y) + 10, int(MAT.y + MAT.h) - 10)
    pile = np.abs(pixels(player)[box] - np.array(look.PAPER_SHADE)).sum(axis=2) > 24
    assert blobs(pile) == 12 - count


def test_each_thing_that_lands_is_counted_aloud_and_may_go_back(player: Player) -> None:
    player.open(task_of("count_out", 5, "", "constructed"))
    player.wait(3)
    player.journal.write_text("", encoding="utf-8")
    for name in ("thing_4", "thing_9", "thing_9", "thing_0"):
        player.touch(name)
        player.wait(1)
    said = [clip for line in player.lines() for clip in line.get("say", ())]
    assert said == ["number_1", "number_2", "number_1", "number_2"]
    assert player.scene.tray.in_order == [4, 0]


# ---------------------------------------------------------------------- which more
@pytest.mark.parametrize("numbers", [(7, 5), (3, 10), (6, 6), (1, 9), (10, 9)])
def test_each_side_holds_its_number(player: Player, numbers: tuple[int, int]) -> None:
    for arrangement in ("scattered", "array", "circle"):
        player.open(comparing(numbers, arrangement=arrangement))
        differs = np.abs(pixels(player) - np.array(look.CREAM)).sum(axis=2) > 24
        assert blobs(differs[122:588, 80:600]) == numbers[0]
        assert blobs(differs[692:1158, 80:600]) == numbers[1]


def test_help_joins_pairs_and_what_is_left_over_shines(player: Player) -> None:
    scene = player.open(comparing((4, 7)))
    give(player, False)
    player.until(lambda: not scene.running)
    pairs = scene.answers.pairs
    assert pairs.links == 4 and pairs.left_over
    links = near(player, look.LAMP)[602:678, 60:620]
    assert blobs(links, 100) == 4


# ---------------------------------------------------------------------- words
def test_every_word_is_drawn_in_its_own_strokes(player: Player) -> None:
    pictures = player.app.kit.pictures
    drawn = {word_shape(pictures, n, 64, 222, False, 0) for n in range(11)}
    assert len(drawn) == len(WORDS)
    for n in range(11):
        made = pictures.shape(word_shape(pictures, n, 64, 222, False, 0), 222, 140.8)
        ink = made.get_bounding_rect()
        assert ink.x > 0 and ink.y > 0 and ink.right < 222 and ink.bottom < 140, f"{WORDS[n]} is cut off"


def test_the_first_letter_is_set_off_by_a_bar_too(player: Player) -> None:
    scene = player.open(task_of("number_words", 7, "read", "choice3"))
    give(player, False)
    player.until(lambda: not scene.running)
    assert blobs(near(player, look.BRICK)[300:980, 60:620]) == 2, "the letter and the bar below it"


# ---------------------------------------------------------------------- take apart
@pytest.mark.parametrize("part", range(11))
def test_lanterns_and_moons_make_ten(player: Player, part: int) -> None:
    scene = player.open(task_of("take_apart", part, "pair"))
    assert blobs(near(player, look.LAMP)[FRAME], 400) == part
    for _ in range(10 - part):
        player.touch("counter_9")
        player.wait(0.2)
    player.wait(1.5)
    assert len(scene.frame.moons) == 10 - part and not scene.frame.free
    assert blobs(near(player, look.LAMP)[FRAME], 400) == part


@pytest.mark.parametrize("whole", range(1, 11))
def test_the_part_that_is_not_hidden_stays_in_sight(player: Player, whole: int) -> None:
    scene = player.open(task_of("take_apart", whole, "part", seed=whole))
    assert blobs(near(player, look.LAMP)[:, 100:560], 150) == whole
    player.until(lambda: scene.answers_shown)
    player.wait(0.5)
    assert blobs(near(player, look.LAMP)[:, 100:560], 150) == scene.task.part


@pytest.mark.parametrize("whole", range(1, 11))
def test_every_way_to_take_a_number_apart_can_be_shown(player: Player, whole: int) -> None:
    """Taken in order and with 0, n comes apart in n + 1 ways (computed)."""
    scene = player.open(task_of("take_apart", whole, "another", "constructed"))
    ways = set()
    for gap in [*range(whole + 1), *reversed(range(whole + 1))]:
        move_gap(player, gap, touch)
        player.wait(1)
        row = near(player, look.LAMP)[:, int(ROW_Y) - 60 : int(ROW_Y) + 60]
        assert blobs(row, 150) == gap
        ways.add((gap, whole - gap))
    assert len(ways) == whole + 1
    assert scene.row.first == scene.task.part


# ---------------------------------------------------------------------- another app, which ends the one above
def test_a_calm_page_and_a_left_hand_come_to_the_lamp(tmp_path: Path) -> None:
    settings.save(tmp_path, Settings(calm=True))
    other = Player(tmp_path, size=(1024, 600))
    other.app.kit.left = True
    other.app.kit.pictures.hand = "left"
    for about in CASES:
        scene = other.open(case(*about))
        give(other, False)
        other.until(lambda scene=scene: not scene.running)
        give(other, True)
        assert scene.done
    other.close()


def test_whole_lanes_of_many_kinds_light_every_lamp(tmp_path: Path) -> None:
    """Answered right, but for every fourth task, which is answered wrong at first."""
    settings.save(tmp_path, Settings(lanes=6))
    everything = {skill.id for skill in shipped().skills if not skill.id.startswith("write")}
    other = Player(tmp_path, kinds=everything)
    other.go("play", other.app.sitting.keep(Child("", "Mira", "owl")))
    kinds = set()
    for lamp in range(1, 51):
        other.until(lambda: other.scene.name == "task" or "another" in other.names())
        if other.scene.name == "close":
            other.touch("another")
            other.until(lambda: other.scene.name == "task")
        scene = other.scene
        kinds.add(scene.task.kind)
        if scene.task.kind in FOUR:
            answer(other, int(lamp % 4 == 0))
        else:
            if lamp % 4 == 0:
                give(other, False)
                other.until(lambda scene=scene: not scene.running)
            give(other, True)
        assert scene.done
        other.until(lambda: other.scene.name == "lane")
    assert len(kinds - set(FOUR)) >= 2, "the planner comes to further kinds within five lanes"
    assert not other.app.diagnostics.lines
    attempts = log.read(tmp_path / log.FILE_NAME).attempts
    assert [a.right for a in attempts].count(True) == 50
    other.close()
