"""What the grown-ups' corner has done elsewhere: reports, home practice and paper, handed in by the command line."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from game.core.records import Child

Progress = Callable[[float], None]
"""Told now and then which share is done, 0 to 1."""


@dataclass(frozen=True, slots=True)
class Office:
    """Each may raise Trouble, with nothing half written. The first argument is the data folder.

    `report`: writes the report (of one child, by id, or of the class) and returns its file.
    `pack`: writes a child's home practice; its file and the number of attempts in it.
    `brought`: the files of home practice that may be brought in, the newest first; makes the folder they belong in.
    `merge`: brings one in; what it did, in sentences.
    `sheets`: writes sheets to print for a child and returns their file.
    `show`: opens a file or folder with this system's own means; False when that did not work.
    """

    report: Callable[[Path, str | None, Progress], Path]
    pack: Callable[[Path, Child, Progress], tuple[Path, int]]
    brought: Callable[[Path], Sequence[Path]]
    merge: Callable[[Path, Path, Progress], Sequence[str]]
    sheets: Callable[[Path, Child, Progress], Path]
    show: Callable[[Path], bool]
    bring_back: str = "bring-back"
    """The folder, in the data folder, for files to bring in."""


@dataclass(frozen=True, slots=True)
class Errand:
    """What the page of files is to do as soon as it is there: "pack" or "sheets" for a child, "merge" a file."""

    what: str
    child: Child | None = None
    path: Path | None = None
