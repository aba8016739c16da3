"""What the commands share: the data folder option, loading levels, saying things on stderr."""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TYPE_CHECKING

from game import paths

if TYPE_CHECKING:
    from game.core.levels import Levels

LEVELS_FOLDER = "levels"


def home_option(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--home",
        metavar="DIR",
        help=f"the data folder (else {paths.HOME_VARIABLE}, else where this system keeps a user's data)",
    )


def home_of(args: argparse.Namespace) -> Path:
    return paths.home(args.home)


def level_folders(home: Path) -> list[Path]:
    """The shipped levels, then a teacher's own in the data folder."""
    own = home / LEVELS_FOLDER
    return [paths.data("levels"), *([own] if own.is_dir() else [])]


def load_levels(home: Path) -> Levels:
    from game.core import levels  # not needed to open the window, and not quick to load

    return levels.load_levels(level_folders(home))


def warn(sentences: Iterable[object]) -> None:
    for sentence in sentences:
        print(sentence, file=sys.stderr)


class Progress:
    """A line on stderr that is renewed at most five times a second, and only from the first second on."""

    def __init__(self, what: str, clock: Callable[[], float] = time.monotonic) -> None:
        self._what, self._clock = what, clock
        self._began = self._shown_at = clock()
        self._width = 0

    def __call__(self, done: float) -> None:
        """`done`: the share that is done, 0 to 1."""
        now = self._clock()
        if now - self._began < 1.0 or now - self._shown_at < 0.2:
            return
        self._shown_at = now
        text = f"{self._what}: {done:4.0%}"
        self._width = max(self._width, len(text))
        print(f"\r{text:<{self._width}}", end="", file=sys.stderr, flush=True)

    def finish(self) -> None:
        if self._width:
            print(f"\r{'':<{self._width}}\r", end="", file=sys.stderr, flush=True)
