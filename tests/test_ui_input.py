"""Mouse, finger and keys become one event in page units; targets tell what was picked."""

from __future__ import annotations

import pygame
import pytest

from game.core.layout import Box
from game.ui.input import Event, Input
from game.ui.widgets import Target, Targets, round_target
from game.ui.window import View
from tests.ui_player import PAGE

SIZE = (1024, 600)
VIEW = View.of(SIZE)


@pytest.fixture(autouse=True)
def display() -> None:
    pygame.display.init()
    pygame.display.set_mode(PAGE)
    pygame.event.clear()


def read(*raw: pygame.event.Event, stale: bool = False, reader: Input | None = None) -> list[Event]:
    pygame.event.clear()
    for event in raw:
        pygame.event.post(event)
    return (reader or Input()).read(VIEW.to_page, SIZE, stale)


def mouse(kind: int, pos: tuple[int, int], button: int = 1, touch: bool = False) -> pygame.event.Event:
    if kind == pygame.MOUSEMOTION:
        return pygame.event.Event(kind, pos=pos, rel=(0, 0), buttons=(1, 0, 0), touch=touch)
    return pygame.event.Event(kind, pos=pos, button=button, touch=touch)


def finger(kind: int, x: float, y: float, which: int = 7) -> pygame.event.Event:
    return pygame.event.Event(kind, touch_id=1, finger_id=which, x=x, y=y, dx=0, dy=0, pressure=1.0)


def test_a_mouse_press_comes_in_page_units() -> None:
    down, up = read(mouse(pygame.MOUSEBUTTONDOWN, (512, 300)), mouse(pygame.MOUSEBUTTONUP, (512, 300)))
    assert (down.kind, up.kind) == ("press", "release")
    assert (round(down.x), round(down.y), down.pointer) == (640, 400, 0)


def test_every_way_of_the_mouse_is_kept_while_it_is_down_and_none_else() -> None:
    moves = [mouse(pygame.MOUSEMOTION, (10 + i, 10)) for i in range(50)]
    found = read(moves[0], mouse(pygame.MOUSEBUTTONDOWN, (10, 10)), *moves)
    assert [event.kind for event in found] == ["press"] + ["move"] * 50


def test_mouse_events_made_by_a_touch_are_left_out() -> None:
    assert (
        read(mouse(pygame.MOUSEBUTTONDOWN, (9, 9), touch=True), mouse(pygame.MOUSEBUTTONUP, (9, 9), touch=True)) == []
    )


def test_two_fingers_are_told_apart() -> None:
    found = read(
        finger(pygame.FINGERDOWN, 0.5, 0.5, 7), finger(pygame.FINGERDOWN, 0.25, 0.5, 9),
        finger(pygame.FINGERUP, 0.5, 0.5, 7), finger(pygame.FINGERUP, 0.25, 0.5, 9),
    )  # fmt: skip
    assert [(event.kind, event.pointer) for event in found] == [
        ("press", 1), ("press", 2), ("release", 1), ("release", 2),
    ]  # fmt: skip
    assert (round(found[0].x), round(found[0].y)) == (640, 400)


def test_the_other_buttons_do_nothing() -> None:
    assert read(mouse(pygame.MOUSEBUTTONDOWN, (9, 9), button=3), mouse(pygame.MOUSEBUTTONUP, (9, 9), button=3)) == []


@pytest.mark.parametrize("lost", [pygame.WINDOWFOCUSLOST, pygame.WINDOWMINIMIZED])
def test_losing_the_focus_cancels_what_is_held(lost: int) -> None:
    found = read(mouse(pygame.MOUSEBUTTONDOWN, (9, 9)), finger(pygame.FINGERDOWN, 0.5, 0.5), pygame.event.Event(lost))
    assert [event.kind for event in found] == ["press", "press", "cancel", "cancel"]


def test_a_release_after_the_focus_was_lost_says_nothing() -> None:
    found = read(
        mouse(pygame.MOUSEBUTTONDOWN, (9, 9)), pygame.event.Event(pygame.WINDOWFOCUSLOST),
        mouse(pygame.MOUSEBUTTONUP, (9, 9)),
    )  # fmt: skip
    assert [event.kind for event in found] == ["press", "cancel"]


def test_what_was_pressed_while_the_laptop_slept_is_dropped() -> None:
    reader = Input()
    read(mouse(pygame.MOUSEBUTTONDOWN, (9, 9)), reader=reader)
    found = read(mouse(pygame.MOUSEBUTTONUP, (9, 9)), mouse(pygame.MOUSEBUTTONDOWN, (9, 9)), stale=True, reader=reader)
    assert [event.kind for event in found] == ["cancel"]


def test_keys_have_plain_names() -> None:
    keys = (
        pygame.K_7,
        pygame.K_KP7,
        pygame.K_LEFT,
        pygame.K_RETURN,
        pygame.K_ESCAPE,
        pygame.K_h,
        pygame.K_F5,
        pygame.K_LSHIFT,
    )
    found = read(*(pygame.event.Event(pygame.KEYDOWN, key=key, mod=0, unicode="") for key in keys))
    assert [event.key for event in found] == ["7", "7", "left", "enter", "escape", "h", "other"]


# ---------------------------------------------------------------------- targets
def press(x: float, y: float, pointer: int = 0) -> Event:
    return Event("press", x, y, pointer)


def release(x: float, y: float, pointer: int = 0) -> Event:
    return Event("release", x, y, pointer)


def two() -> Targets:
    targets = Targets()
    targets.set([Target("a", Box(100, 100, 120, 120), ("1",)), Target("b", Box(300, 100, 120, 120), ("10", "t"))])
    return targets


def test_a_target_acts_on_release() -> None:
    targets = two()
    assert targets.handle(press(150, 150)) is None and targets.state("a") == "pressed"
    assert targets.handle(release(150, 150)) == "a" and targets.state("a") == ""


def test_sliding_off_cancels_and_sliding_back_does_not() -> None:
    targets = two()
    targets.handle(press(150, 150))
    targets.handle(Event("move", 260, 150))
    assert targets.state("a") == ""
    assert targets.handle(release(260, 150)) is None
    targets.handle(press(150, 150))
    targets.handle(Event("move", 260, 150))
    targets.handle(Event("move", 150, 150))
    assert targets.handle(release(150, 150)) == "a"


def test_sliding_onto_another_target_picks_neither() -> None:
    targets = two()
    targets.handle(press(150, 150))
    assert targets.handle(release(350, 150)) is None


def test_a_cancel_lets_go() -> None:
    targets = two()
    targets.handle(press(150, 150))
    targets.handle(Event("cancel", 150, 150))
    assert targets.state("a") == "" and targets.handle(release(150, 150)) is None


def test_a_resting_palm_does_not_hold_up_a_finger() -> None:
    targets = two()
    targets.handle(press(700, 700, 1))
    targets.handle(press(350, 150, 2))
    assert targets.handle(release(350, 150, 2)) == "b"


def test_a_small_target_is_hit_from_beside_and_the_nearer_one_wins() -> None:
    targets = Targets()
    targets.set([round_target("left", (100, 100), 40), round_target("right", (170, 100), 40)])
    targets.handle(press(60, 60))
    assert targets.handle(release(60, 60)) == "left"
    targets.handle(press(136, 100))
    assert targets.handle(release(136, 100)) == "right"


def test_one_then_zero_is_ten_and_one_alone_is_one() -> None:
    targets = two()
    assert targets.handle(Event("key", key="1")) is None
    assert targets.handle(Event("key", key="0")) == "b"
    targets.handle(Event("key", key="1"))
    assert targets.update(0.5) is None
    assert targets.update(0.5) == "a"
    assert targets.handle(Event("key", key="t")) == "b"


def test_arrows_and_space_reach_every_target() -> None:
    targets = two()
    targets.handle(Event("key", key="right"))
    assert targets.state("a") == "focus"
    targets.handle(Event("key", key="right"))
    assert targets.handle(Event("key", key="space")) == "b"


def test_one_switch_walks_and_picks() -> None:
    targets = Targets(switch_seconds=1.0)
    targets.set(two().all)
    targets.update(0.1)
    assert targets.state("a") == "focus"
    targets.update(1.0)
    assert targets.state("b") == "focus"
    assert targets.handle(press(900, 700)) == "b"
    targets.update(1.0)
    assert targets.handle(Event("key", key="other")) == "a"


def test_a_press_beside_is_told() -> None:
    targets = two()
    targets.handle(press(900, 700))
    assert targets.missed == (900, 700)
    targets.handle(press(150, 150))
    assert targets.missed is None
