"""The one window: resizable, real full screen, and the page of 1280 x 800 units letterboxed in it."""

from __future__ import annotations

import os
import sys
from dataclasses import dataclass
from typing import Any

import pygame

from game.core.layout import Box
from game.ui import look

SCREEN_VARIABLES = ("DISPLAY", "WAYLAND_DISPLAY", "SDL_VIDEODRIVER")
"""One of these is set where a Linux desktop runs, or where a driver was asked for."""


FRAME_TALL = 76
"""Pixels that a desktop needs for the title of a window and its own bar."""


class NoScreen(Exception):
    """There is no screen to open a window on."""


@dataclass(frozen=True, slots=True)
class View:
    """How the page lies in a window of `size` pixels: `k` pixels a unit, the page's corner at (`left`, `top`)."""

    size: tuple[int, int]
    k: float
    left: int
    top: int

    @classmethod
    def of(cls, size: tuple[int, int]) -> View:
        k = min(size[0] / look.PAGE_WIDTH, size[1] / look.PAGE_HEIGHT)
        left = round((size[0] - look.PAGE_WIDTH * k) / 2)
        top = round((size[1] - look.PAGE_HEIGHT * k) / 2)
        return cls(size, k, left, top)

    def to_page(self, x: float, y: float) -> tuple[float, float]:
        """A point in window pixels, in page units."""
        return (x - self.left) / self.k, (y - self.top) / self.k

    def to_window(self, x: float, y: float) -> tuple[int, int]:
        """A point in page units, in whole window pixels."""
        return round(self.left + x * self.k), round(self.top + y * self.k)

    def box(self, box: Box) -> tuple[int, int, int, int]:
        """A box in page units, in whole window pixels."""
        x, y = self.to_window(box.x, box.y)
        return x, y, round(box.w * self.k), round(box.h * self.k)


class Window:
    """Opens the window. Raises NoScreen where there is none."""

    def __init__(self, size: tuple[int, int], full_screen: bool = False) -> None:
        wanted = os.environ.get("SDL_VIDEODRIVER")
        if sys.platform.startswith("linux") and not any(os.environ.get(name) for name in SCREEN_VARIABLES):
            raise NoScreen("no desktop is running")  # looking for one would print a line of its own
        try:
            pygame.display.init()
        except pygame.error as error:
            raise NoScreen(str(error)) from error
        driver = pygame.display.get_driver()
        if driver == "offscreen" or (driver == "dummy" and wanted != "dummy"):
            raise NoScreen(driver)
        pygame.display.set_caption("Ten Lamps")
        try:
            pygame.display.set_mode(self._fitting(size), pygame.RESIZABLE)
        except pygame.error as error:
            raise NoScreen(str(error)) from error
        self._clock = pygame.time.Clock()
        self._full = False
        self._sdl_window: Any = None
        self.view = View.of(self.surface.get_size())
        if full_screen:
            self.toggle_full_screen()

    @staticmethod
    def _fitting(size: tuple[int, int]) -> tuple[int, int]:
        """The size asked for, or what the desktop has room for."""
        if pygame.display.get_driver() == "dummy":  # its desktop is made up
            return size
        desktop = pygame.display.get_desktop_sizes()[0]
        return min(size[0], desktop[0]), min(size[1], desktop[1] - FRAME_TALL)

    @property
    def surface(self) -> pygame.Surface:
        return pygame.display.get_surface()

    def icon(self, picture: pygame.Surface) -> None:
        """The picture of the app in the desktop's bar."""
        pygame.display.set_icon(picture)

    def flip(self) -> None:
        pygame.display.flip()

    def tick(self) -> float:
        """Wait for the next frame without a busy loop; the seconds since the last one."""
        return self._clock.tick(look.FRAMES_A_SECOND) / 1000

    def typing(self, wanted: bool) -> None:
        """Let the keyboard write text, through its input method, or end that."""
        (pygame.key.start_text_input if wanted else pygame.key.stop_text_input)()

    def close(self) -> None:
        pygame.quit()

    def follow(self) -> bool:
        """Take over the window's present size; whether it changed."""
        size = self.surface.get_size()
        if size == self.view.size or min(size) < 1:
            return False
        self.view = View.of(size)
        return True

    def toggle_full_screen(self) -> None:
        """Full screen over the whole desktop, at its own resolution, and back."""
        if self._sdl_window is None:
            from pygame._sdl2.video import Window as SdlWindow  # only here: it costs start-up time

            # kept for good: pygame hands this object out with every key event, and crashes when it is gone
            self._sdl_window = SdlWindow.from_display_module()
        if self._full:
            self._sdl_window.set_windowed()
        else:
            self._sdl_window.set_fullscreen(True)
        self._full = not self._full
