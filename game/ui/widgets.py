"""What can be touched on a page: one list of targets, for finger, mouse, keys and a single switch."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from game.core.layout import Box, Point
from game.ui import look
from game.ui.input import Event

State = Literal["", "pressed", "focus"]
_ARROWS = {"left": (-1, 0), "right": (1, 0), "up": (0, -1), "down": (0, 1)}


@dataclass(frozen=True, slots=True)
class Target:
    """A place that can be touched. `box` is what is seen; the hit area is at least 96 x 96 units around it.

    `key` names keys that pick it as well ("7", "h"). `ring` is the box that the focus ring goes around.
    """

    name: str
    box: Box
    keys: tuple[str, ...] = ()

    @property
    def hit(self) -> Box:
        x, y = self.box.centre
        w, h = max(self.box.w, look.TARGET_LEAST), max(self.box.h, look.TARGET_LEAST)
        return Box(x - w / 2, y - h / 2, w, h)

    def distance(self, point: Point) -> float:
        x, y = self.box.centre
        return (point[0] - x) ** 2 + (point[1] - y) ** 2


def round_target(name: str, centre: Point, size: float, keys: tuple[str, ...] = ()) -> Target:
    """A target of `size` x `size` units around a point."""
    return Target(name, Box(centre[0] - size / 2, centre[1] - size / 2, size, size), keys)


class Targets:
    """Tells which target was picked: on release, not when the finger slid off, or by key, focus or switch.

    With `switch_seconds` above 0 the focus walks over the targets by itself, and space, enter or a press beside
    the targets picks the one in focus.
    """

    def __init__(self, switch_seconds: float = 0.0) -> None:
        self.all: tuple[Target, ...] = ()
        self.missed: Point | None = None
        self.switch_seconds, self._walked_s = switch_seconds, 0.0
        self._pressed: dict[int, str] = {}
        self._off: set[int] = set()
        self._focus: str | None = None
        self._one_wait_s: float | None = None

    def set(self, targets: Sequence[Target]) -> None:
        """These targets from now on; a press or focus stays where its target stays."""
        self.all = tuple(targets)
        names = {target.name for target in self.all}
        self._pressed = {p: name for p, name in self._pressed.items() if name in names}
        if self._focus not in names:
            self._focus = None

    def let_go(self) -> None:
        """Forget all presses: another page lies over this one."""
        self._pressed.clear()
        self._off.clear()
        self._one_wait_s = None

    def state(self, name: str) -> State:
        if any(held == name and pointer not in self._off for pointer, held in self._pressed.items()):
            return "pressed"
        return "focus" if name == self._focus else ""

    def focus_on(self, name: str | None) -> None:
        """Put the focus on a target, or on none."""
        self._focus = name if self._named(name) is not None else None

    def focused(self) -> Target | None:
        return self._named(self._focus)

    def handle(self, event: Event) -> str | None:
        """The name of the target that the event picks. `missed` is where a press went beside all of them."""
        self.missed = None
        if event.kind == "key":
            return self._key(event.key)
        if event.kind == "press":
            return self._press(event)
        if event.kind == "cancel":
            self._pressed.pop(event.pointer, None)
        if event.kind not in ("move", "release") or event.pointer not in self._pressed:
            return None
        return self._slide(event)

    def update(self, dt_s: float) -> str | None:
        """Let the focus walk; returns what the key 1 picks when no 0 followed it."""
        if self.switch_seconds > 0 and self.all:
            self._walked_s += dt_s
            if self._focus is None or self._walked_s >= self.switch_seconds:
                self._walked_s = 0.0
                self._step_focus(1)
        if self._one_wait_s is None:
            return None
        self._one_wait_s -= dt_s
        if self._one_wait_s > 0:
            return None
        self._one_wait_s = None
        return self._by_key("1")

    def _press(self, event: Event) -> str | None:
        point = (event.x, event.y)
        near = [target for target in self.all if target.hit.inside(point)]
        if near:
            self._pressed[event.pointer] = min(near, key=lambda target: target.distance(point)).name
            self._off.discard(event.pointer)
            if self.switch_seconds <= 0:
                self._focus = None
            return None
        if self.switch_seconds > 0:
            return self._pick_focus()
        self.missed = point
        return None

    def _slide(self, event: Event) -> str | None:
        name = self._pressed[event.pointer]
        target = self._named(name)
        over = target is not None and target.hit.inside((event.x, event.y), -look.TARGET_SLACK)
        (self._off.discard if over else self._off.add)(event.pointer)
        if event.kind == "move":
            return None
        del self._pressed[event.pointer]
        self._off.discard(event.pointer)
        return name if over else None

    def _key(self, key: str) -> str | None:
        waiting, self._one_wait_s = self._one_wait_s is not None, None
        if key == "1" and self._by_key("10") is not None:
            self._one_wait_s = look.TEN_WAIT_S
            return None
        if key == "0" and waiting:
            return self._by_key("10")
        if key in _ARROWS:
            self._move_focus(*_ARROWS[key])
            return None
        if key == "tab":
            self._step_focus(1)
            return None
        if key in ("enter", "space"):
            return self._pick_focus()
        picked = self._by_key(key)
        return self._pick_focus() if picked is None and self.switch_seconds > 0 and key != "escape" else picked

    def _pick_focus(self) -> str | None:
        if self._focus is None:
            self._step_focus(1)
            return None
        self._walked_s = 0.0
        return self._focus

    def _by_key(self, key: str) -> str | None:
        return next((target.name for target in self.all if key in target.keys), None)

    def _named(self, name: str | None) -> Target | None:
        return next((target for target in self.all if target.name == name), None)

    def _step_focus(self, by: int) -> None:
        names = [target.name for target in self.all]
        if names:
            at = names.index(self._focus) + by if self._focus in names else 0
            self._focus = names[at % len(names)]

    def _move_focus(self, dx: int, dy: int) -> None:
        """To the nearest target in that direction; straight ahead counts more than aslant."""
        here = self._named(self._focus)
        if here is None:
            self._step_focus(1)
            return
        x, y = here.box.centre

        def cost(target: Target) -> float:
            tx, ty = target.box.centre
            ahead, aside = (tx - x) * dx + (ty - y) * dy, abs((tx - x) * dy) + abs((ty - y) * dx)
            return ahead + 2.5 * aside if ahead > 8 else float("inf")

        best = min(self.all, key=cost)
        if cost(best) < float("inf"):
            self._focus = best.name
