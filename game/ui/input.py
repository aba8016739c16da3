"""Mouse, pen, finger, key and switch become one small event in page units. This module alone reads the queue."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

import pygame

Kind = Literal["press", "move", "release", "cancel", "key", "text", "composing", "quit"]
MOUSE = 0


@dataclass(frozen=True, slots=True)
class Event:
    """One thing that was done.

    press, move, release, cancel: `x`, `y` in page units, `pointer` tells fingers apart (0 is the mouse or pen),
    `at_ms` since the start of the app. A cancel ends a press that led to nothing (focus lost, window hidden).
    key: `key` is "0" to "9", "left", "right", "up", "down", "enter", "space", "tab", "escape", "backspace",
    "full_screen", a letter, or "other". text, composing: `text` as typed, or as it stands in the input method.
    """

    kind: Kind
    x: float = 0.0
    y: float = 0.0
    pointer: int = MOUSE
    key: str = ""
    text: str = ""
    at_ms: int = 0


KEYS = {
    pygame.K_LEFT: "left", pygame.K_RIGHT: "right", pygame.K_UP: "up", pygame.K_DOWN: "down",
    pygame.K_RETURN: "enter", pygame.K_KP_ENTER: "enter", pygame.K_SPACE: "space", pygame.K_TAB: "tab",
    pygame.K_ESCAPE: "escape", pygame.K_AC_BACK: "escape", pygame.K_BACKSPACE: "backspace",
    pygame.K_F11: "full_screen",
    **{getattr(pygame, f"K_{digit}"): str(digit) for digit in range(10)},
    **{getattr(pygame, f"K_KP{digit}"): str(digit) for digit in range(10)},
    **{getattr(pygame, f"K_{letter}"): letter for letter in "abcdefghijklmnopqrstuvwxyz"},
}  # fmt: skip
UNHEARD = frozenset(
    getattr(pygame, f"K_{name}")
    for name in ("LSHIFT", "RSHIFT", "LCTRL", "RCTRL", "LALT", "RALT", "LMETA", "RMETA", "CAPSLOCK", "NUMLOCK")
)
"""Keys that do nothing by themselves."""
LOST = frozenset((pygame.WINDOWFOCUSLOST, pygame.WINDOWMINIMIZED, pygame.WINDOWHIDDEN))
TO_PAGE = Callable[[float, float], tuple[float, float]]


class Input:
    """Reads pygame's queue once a frame. `to_page` turns window pixels into page units."""

    def __init__(self) -> None:
        self._down: dict[int, tuple[float, float]] = {}
        self._fingers: dict[tuple[int, int], int] = {}

    def read(self, to_page: TO_PAGE, size: tuple[int, int], stale: bool = False) -> list[Event]:
        """The events since the last call. `size` of the window in pixels; with `stale` what was done meanwhile is
        dropped, and what was held down is cancelled."""
        now = pygame.time.get_ticks()
        found: list[Event] = []
        for raw in pygame.event.get():
            event = self._translate(raw, to_page, size, now)
            if raw.type in LOST:
                found.extend(self._cancel_all(now))
            elif event is not None and (not stale or event.kind == "quit"):
                found.append(event)
        return found + self._cancel_all(now) if stale else found

    def _translate(self, raw: pygame.event.Event, to_page: TO_PAGE, size: tuple[int, int], now: int) -> Event | None:
        if raw.type == pygame.QUIT:
            return Event("quit")
        if raw.type in (pygame.MOUSEBUTTONDOWN, pygame.MOUSEBUTTONUP, pygame.MOUSEMOTION):
            return self._mouse(raw, to_page, now)
        if raw.type in (pygame.FINGERDOWN, pygame.FINGERUP, pygame.FINGERMOTION):
            return self._finger(raw, to_page, size, now)
        if raw.type == pygame.KEYDOWN:
            if raw.key in UNHEARD:
                return None
            return Event("key", key=KEYS.get(raw.key, "other"), at_ms=now)
        if raw.type == pygame.TEXTINPUT:
            return Event("text", text=raw.text)
        if raw.type == pygame.TEXTEDITING:
            return Event("composing", text=raw.text)
        return None

    def _mouse(self, raw: pygame.event.Event, to_page: TO_PAGE, now: int) -> Event | None:
        """Mouse or pen; a touch also makes mouse events, which are left out."""
        if getattr(raw, "touch", False):
            return None
        if raw.type == pygame.MOUSEMOTION:
            return self._pointer("move", MOUSE, to_page(*raw.pos), now) if MOUSE in self._down else None
        if raw.button != 1:
            return None
        kind: Kind = "press" if raw.type == pygame.MOUSEBUTTONDOWN else "release"
        return self._pointer(kind, MOUSE, to_page(*raw.pos), now)

    def _finger(self, raw: pygame.event.Event, to_page: TO_PAGE, size: tuple[int, int], now: int) -> Event | None:
        finger = (raw.touch_id, raw.finger_id)
        where = to_page(raw.x * size[0], raw.y * size[1])
        if raw.type == pygame.FINGERDOWN:
            free = next(n for n in range(1, 100) if n not in self._fingers.values())
            return self._pointer("press", self._fingers.setdefault(finger, free), where, now)
        if finger not in self._fingers:
            return None
        if raw.type == pygame.FINGERMOTION:
            return self._pointer("move", self._fingers[finger], where, now)
        return self._pointer("release", self._fingers.pop(finger), where, now)

    def _pointer(self, kind: Kind, pointer: int, where: tuple[float, float], now: int) -> Event | None:
        if kind == "press":
            self._down[pointer] = where
        elif pointer not in self._down:
            return None
        elif kind == "release":
            del self._down[pointer]
        else:
            self._down[pointer] = where
        return Event(kind, *where, pointer, at_ms=now)

    def _cancel_all(self, now: int) -> list[Event]:
        """One cancel for each pointer that is down: its release will never come."""
        cancelled = [Event("cancel", *where, pointer, at_ms=now) for pointer, where in self._down.items()]
        self._down.clear()
        self._fingers.clear()
        return cancelled
