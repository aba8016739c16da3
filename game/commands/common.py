"""What the commands share: the data folder option, loading levels, saying things on stderr."""

from __future__ import annotations

import argparse
import re
import sys
import time
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

from game import paths
from game.core.errors import Trouble, near

if TYPE_CHECKING:
    from game.core.levels import Levels

LEVELS_FOLDER = "levels"
_MISSING = "the following arguments are required: "
_UNKNOWN = "unrecognized arguments: "


class Parser(argparse.ArgumentParser):
    """Tells a slip in one sentence on stderr and exits with 2, as all that goes wrong does."""

    def error(self, message: str) -> NoReturn:
        self.exit(2, f"{self.prog}: {self._sentence(message)}; {self.prog} --help shows how.\n")

    def _sentence(self, message: str) -> str:
        if message.startswith(_MISSING):
            return f"It needs {message.removeprefix(_MISSING).replace(', ', ' and ')}"
        if message.startswith(_UNKNOWN):
            return f'It has no use for "{message.removeprefix(_UNKNOWN)}"'
        if wrong := re.match(r"argument COMMAND: invalid choice: '(.*)' \(choose from (.*)\)", message):
            return f'There is no command "{wrong[1]}"{near(wrong[1], re.findall(r"[a-z]+", wrong[2]))}'
        if wrong := re.match(r"argument (\S+): invalid (\w+) value: '(.*)'", message):
            return f'{wrong[1]} is "{wrong[3]}", but must be a {"whole number" if wrong[2] == "int" else "number"}'
        if wrong := re.match(r"argument (\S+): expected ", message):
            return f"{wrong[1]} wants a word behind it"
        return message


def home_option(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--home",
        metavar="DIR",
        help=f"the data folder (else {paths.HOME_VARIABLE}, else where this system keeps a user's data)",
    )


def home_of(args: argparse.Namespace) -> Path:
    """The data folder. Raises Trouble when --home is empty: that could only mean another folder than was wanted."""
    if args.home is not None and not args.home.strip():
        raise Trouble("--home is empty; name a folder behind it, or leave it out.")
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
