"""SVG texts as pixels: at once, or by one thread behind the frames."""

from __future__ import annotations

import io
import queue
import re
import threading
from typing import Any

import pygame

Key = tuple[Any, ...]
_ROOT = re.compile(r"<svg\b[^>]*>")
_SIZE = re.compile(r'\s(?:width|height)="[^"]*"')


def rasterise(text: str, width: int, height: int) -> pygame.Surface:
    """SVG text as a surface of exactly that size. Raises pygame.error when it is no picture."""
    root = _ROOT.search(text)
    if root is None:
        raise pygame.error("no <svg> in it")
    head = _SIZE.sub("", root.group()).replace("<svg", f'<svg width="{width}" height="{height}"', 1)
    data = io.BytesIO((head + text[root.end() :]).encode("utf-8"))
    made = pygame.image.load(data, "picture.svg")
    if 0 in made.get_size():
        raise pygame.error("the file is cut short")
    return made if made.get_size() == (width, height) else pygame.transform.smoothscale(made, (width, height))


class Rasteriser:
    """One thread behind the frames that turns large drawings into pixels."""

    def __init__(self) -> None:
        self._jobs: queue.SimpleQueue[tuple[Key, str, int, int] | None] = queue.SimpleQueue()
        self._done: queue.SimpleQueue[tuple[Key, pygame.Surface | None]] = queue.SimpleQueue()
        self._waiting: set[Key] = set()
        self._thread: threading.Thread | None = None

    def ask(self, key: Key, text: str, width: int, height: int) -> None:
        if key in self._waiting:
            return
        if self._thread is None:
            self._thread = threading.Thread(target=self._work, name="rasteriser", daemon=True)
            self._thread.start()
        self._waiting.add(key)
        self._jobs.put((key, text, width, height))

    def collect(self, wait: bool = False) -> list[tuple[Key, pygame.Surface]]:
        """What is ready; with `wait` everything that was asked for."""
        found = []
        while self._waiting and (wait or not self._done.empty()):
            key, made = self._done.get()
            self._waiting.discard(key)
            if made is not None:
                found.append((key, made))
        return found

    def _work(self) -> None:
        while (job := self._jobs.get()) is not None:
            key, text, width, height = job
            try:
                self._done.put((key, rasterise(text, width, height)))
            except pygame.error:
                self._done.put((key, None))

    def stop(self) -> None:
        self._jobs.put(None)
