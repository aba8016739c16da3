"""What the pages show: drawing changes nothing, and a picture of n things is n things."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pygame
import pytest
from scipy import ndimage

from game.core.layout import ARRANGEMENTS
from game.ui import look
from game.ui.hands import ART_WIDTH, TIPS_DOWN, TIPS_UP
from game.ui.scene import Next
from tests.ui_player import PAGE, Player, task_of

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def player(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Player]:
    made = Player(tmp_path_factory.mktemp("home"))
    yield made
    made.close()


def pixels(player: Player) -> np.ndarray:
    return pygame.surfarray.array3d(player.pixels()).astype(int)


def state(value: object) -> str:
    """All that a scene holds as text, apart from what it was given and from its running script."""
    given = ("kit", "_script", "_wait", "_answer")
    if hasattr(value, "__dict__"):
        return str({name: state(held) for name, held in vars(value).items() if name not in given})
    if isinstance(value, dict):
        return str({name: state(held) for name, held in value.items()})
    if isinstance(value, (list, tuple)):
        return str([state(held) for held in value])
    return repr(value)


PAGES = ["opening", "first_child", "play", "leave", "close"]
TASKS = [
    ("count_set", 7, "", "scattered", "constructed"),
    ("pick_numeral", 8, "heard", "", "choice4"),
    ("make_ten", 7, "raise", "", "choice3"),
    ("one_fewer", 8, "covered", "", "choice3"),
    ("one_fewer", 8, "numeral", "", "choice3"),
]


@pytest.mark.parametrize("page", PAGES)
def test_drawing_a_page_changes_nothing(player: Player, page: str) -> None:
    player.go("opening")
    if page == "leave":
        player.app.go(Next("leave", over=True))
    elif page != "opening":
        player.go(page)
    player.wait(0.8)
    before = state(player.scene)
    first, second = pixels(player), pixels(player)
    assert (first == second).all() and state(player.scene) == before
    player.app.under = None


@pytest.mark.parametrize(("kind", "number", "way", "arrangement", "form"), TASKS)
def test_drawing_a_task_changes_nothing(
    player: Player, kind: str, number: int, way: str, arrangement: str, form: str
) -> None:
    scene = player.open(task_of(kind, number, way, form, arrangement))
    for _ in range(3):
        player.wait(1.7)
        before = state(scene)
        first, second = pixels(player), pixels(player)
        assert (first == second).all() and state(scene) == before


def blobs(found: np.ndarray, least: int = 60) -> int:
    """Connected areas of at least `least` pixels."""
    labels, count = ndimage.label(found, np.ones((3, 3)))
    return int((np.bincount(labels.ravel())[1:] >= least).sum()) if count else 0


def on_card(player: Player) -> np.ndarray:
    """Where the inner card differs from its paper."""
    card, edge = look.CARD, 16  # clear of the outline and the round corners
    inner = pixels(player)[
        int(card.x) + edge : int(card.x + card.w) - edge, int(card.y) + edge : int(card.y + card.h) - edge
    ]
    return np.abs(inner - np.array(look.CREAM)).sum(axis=2) > 24


@pytest.mark.parametrize("arrangement", ARRANGEMENTS)
@pytest.mark.parametrize("number", range(1, 11))
def test_n_things_are_n_blobs(player: Player, arrangement: str, number: int) -> None:
    for seed in (1, 2, 3):
        player.open(task_of("count_set", number, "", "choice3", arrangement, seed))
        assert blobs(on_card(player)) == number


@pytest.mark.parametrize("way", ["array", "line"])
@pytest.mark.parametrize("number", range(1, 11))
def test_a_set_to_pick_a_numeral_for_is_n_blobs(player: Player, way: str, number: int) -> None:
    player.open(task_of("pick_numeral", number, "set", "choice4", way))
    assert blobs(on_card(player)) == number


def test_none_is_an_empty_tray(player: Player) -> None:
    player.open(task_of("count_set", 0, "", "choice3", "line"))
    assert blobs(on_card(player)) == 1
    names = [name for name in player.names() if name.startswith("thing_")]
    assert names == []


def test_help_with_an_empty_tray_never_asks_to_count(player: Player) -> None:
    scene = player.open(task_of("count_set", 0, "", "choice3", "line"))
    wrong = [name for name in player.names() if name.startswith("answer_") and name != "answer_0"]
    for name in wrong[:2]:
        player.until(lambda: not scene.running and not scene.showing)
        player.wait(look.DEAF_S)
        player.touch(name)
        player.wait(0.1)
    player.until(lambda: not scene.running and not scene.showing)
    said = player.said()
    assert said.count("hint_nothing_here") == 2 and "number_0" in said
    assert not {"hint_count_again", "together_count"} & set(said)


def near(player: Player, colour: look.Colour) -> np.ndarray:
    return np.abs(pixels(player) - np.array(colour)).sum(axis=2) < 12


@pytest.mark.parametrize("number", range(1, 11))
def test_the_frame_holds_n_counters_the_row_of_five_first(player: Player, number: int) -> None:
    scene = player.open(task_of("one_fewer", number, "take"))
    flames = near(player, look.CREAM)[290:990, 200:480]
    lamps = near(player, look.LAMP)[290:990, 200:480]
    assert blobs(lamps, 400) == number and blobs(flames, 100) >= number
    assert scene.frame.places == list(range(number))
    upper = near(player, look.LAMP)[290:990, 200:335]
    assert blobs(upper, 400) == min(number, 5)


@pytest.mark.parametrize("number", range(1, 11))
def test_one_counter_fewer_is_left_after_taking_any(player: Player, number: int) -> None:
    for taken in {0, number // 2, number - 1}:
        scene = player.open(task_of("one_fewer", number, "take"))
        player.touch(f"counter_{taken}")
        player.wait(2.5)
        assert blobs(near(player, look.LAMP)[290:990, 200:480], 400) == number - 1
        assert sorted(scene.frame.places) == list(range(number - 1))


@pytest.mark.parametrize("way", ["thumb_first", "index_first"])
@pytest.mark.parametrize("number", range(11))
def test_the_hands_hold_up_n_fingers_a_full_hand_first(player: Player, number: int, way: str) -> None:
    object.__setattr__(player.app.kit.settings, "finger_way", way)
    scene = player.open(task_of("make_ten", number, "folded"))
    above = on_card(player)[:, :160]  # above the knuckles only fingers reach; thumbs stay below
    up = {finger for finger in scene.hands.up if finger % 5 != 0}
    fingers = blobs(above, 200)
    assert fingers == len(up)
    assert len(scene.hands.up) == number
    assert len([finger for finger in scene.hands.up if finger < 5]) == min(5, number)
    object.__setattr__(player.app.kit.settings, "finger_way", "thumb_first")


def test_marks_and_touches_meet_the_fingers(player: Player) -> None:
    """The tips written down are on the drawn fingers, up and down."""
    for state_name, tips in (("up", TIPS_UP), ("down", TIPS_DOWN)):
        for finger, (x, y) in enumerate(tips, 1):
            drawn = player.app.kit.pictures.picture(f"hands/left_finger_{finger}_{state_name}", ART_WIDTH)
            assert drawn.get_at((int(x), int(y))).a == 255, (finger, state_name)


def test_fingers_come_up_in_counting_order_whichever_is_touched(player: Player) -> None:
    scene = player.open(task_of("make_ten", 5, "raise"))
    for _ in range(3):
        player.touch("finger_9")
        player.wait(0.6)
    assert scene.hands.raised[:1] == [5] and len(scene.hands.raised) in (1, 3)


def test_every_page_fits_small_and_wide_windows(tmp_path: Path) -> None:
    for size in ((1024, 600), (1366, 768), (1280, 1024)):
        other = Player(tmp_path, size)
        other.touch("guest")
        other.wait(0.5)
        picture = pygame.surfarray.array3d(other.pixels())
        corners = [picture[x, y].sum() for x in (0, size[0] - 1) for y in (0, size[1] - 1)]
        assert all(corner > 60 for corner in corners), "the lane goes on to the window's edge"
        for target in other.scene.targets.all:
            x, y, w, h = other.app.window.view.box(target.box)
            assert x >= 0 and y >= 0 and x + w <= size[0] and y + h <= size[1], target.name
        other.app.sitting.close()
    pygame.display.set_mode(PAGE, pygame.RESIZABLE)


def test_a_resize_in_the_middle_keeps_the_task(player: Player) -> None:
    scene = player.open(task_of("count_set", 6, "", "choice3", "array"))
    player.touch("thing_2")
    sharp = pixels(player)
    for size in ((1024, 600), (1500, 900), (1280, 800)):
        pygame.display.set_mode(size, pygame.RESIZABLE)
        assert player.app.window.follow()
        player.app.kit.pictures.look_through(player.app.window.view)
        player.app.frame([], 0.01)
    player.wait(1)
    assert player.scene is scene and scene.things.tags == {2: 1}
    assert (pixels(player) == sharp).mean() > 0.97


def test_every_hit_area_is_large_enough(player: Player) -> None:
    for kind, number, way, arrangement, form in TASKS:
        player.open(task_of(kind, number, way, form, arrangement))
        for target in player.scene.targets.all:
            assert target.hit.w >= look.TARGET_LEAST and target.hit.h >= look.TARGET_LEAST, target.name
