"""What the grown-ups' corner asks the teacher's side for: files in the data folder, shown by the system's own means."""

from __future__ import annotations

import sys
from dataclasses import replace
from datetime import date
from pathlib import Path

from game import paths
from game.commands import common
from game.core.errors import Trouble
from game.core.records import Child
from game.ui.office import Office, Progress

TAKE_HOME, BRING_BACK, SHEETS = "take-home", "bring-back", "sheets"
"""Folders in the data folder."""
ANSWER_S = 3.0
"""A file manager that could not start says so within this time; one that runs does not end."""


def office() -> Office:
    """The teacher's side for the app; it is loaded when it is asked for something."""
    return Office(report, pack, brought, merge, sheets, show, BRING_BACK)


def report(home: Path, child: str | None, progress: Progress) -> Path:
    from game.teacher import output
    from game.teacher import report as reports

    text = reports.build(home, date.today(), common.load_levels(home), paths.data("art"), child, progress)
    to = home / reports.FILE_NAME
    output.write(to, text.encode("utf-8"))
    return to


def pack(home: Path, child: Child, progress: Progress) -> tuple[Path, int]:
    from game.teacher import pack as packs

    to = home / TAKE_HOME / _name_for(home, child)
    return to, packs.pack(home, child.id, to, progress)


def _name_for(home: Path, child: Child) -> str:
    """The name of a child's file, by nickname; by id where two nicknames make the same name."""
    from game.core import roster
    from game.teacher.pack import file_name

    name = file_name(child)
    others = [file_name(other).casefold() for other in roster.load(home).children if other.id != child.id]
    return file_name(replace(child, nickname=child.id)) if name.casefold() in others else name


def brought(home: Path) -> list[Path]:
    from game.teacher.sources import EXTENSION

    folder = home / BRING_BACK
    try:
        folder.mkdir(parents=True, exist_ok=True)
        found = [path for place in (folder, home) for path in _files(place, EXTENSION)]
        return sorted(found, key=lambda path: (-path.stat().st_mtime, path.name))
    except OSError as error:
        raise Trouble(f"{folder} cannot be used ({error.strerror}); check the data folder.") from error


def _files(folder: Path, extension: str) -> list[Path]:
    return [path for path in folder.iterdir() if path.suffix.lower() == extension and path.is_file()]


def merge(home: Path, path: Path, progress: Progress) -> list[str]:
    from game.teacher import merge as merging

    return merging.merge_into(home, [path], progress).sentences()


def sheets(home: Path, child: Child, progress: Progress) -> Path:
    from random import SystemRandom

    from game.core.writing.forms import load_forms
    from game.core.writing.own_forms import FILE_NAME
    from game.teacher import output
    from game.teacher import sheets as paper

    try:
        forms = load_forms(paths.data("levels") / "forms", own=home / FILE_NAME)
    except ValueError as error:
        raise Trouble(f"{str(error).splitlines()[0]}; mend it, or take it away.") from error
    seed = SystemRandom().randint(1, paper.MOST_SEED)
    levels = common.load_levels(home)
    text = paper.build(home, [child.id], date.today(), levels, paths.data("art"), forms, seed, progress)
    to = home / SHEETS / Path(_name_for(home, child)).with_suffix(".html").name
    output.write(to, text.encode("utf-8"))
    return to


def show(path: Path) -> bool:
    """Open a folder in the file manager, a file in the browser; False when this system cannot."""
    return _show_folder(path) if path.is_dir() else _show_page(path)


def _show_page(path: Path) -> bool:
    import webbrowser

    try:
        return webbrowser.open(path.as_uri())
    except (webbrowser.Error, OSError, ValueError):
        return False


def _show_folder(path: Path) -> bool:
    import subprocess  # takes longer to load than the first page may
    import time

    opener = {"win32": "explorer", "darwin": "open"}.get(sys.platform, "xdg-open")
    none = subprocess.DEVNULL
    try:
        started = subprocess.Popen([opener, str(path)], stdin=none, stdout=none, stderr=none)
    except OSError:
        return False
    until = time.monotonic() + ANSWER_S
    while started.poll() is None and time.monotonic() < until:
        time.sleep(0.05)
    return sys.platform == "win32" or started.returncode in (None, 0)  # explorer answers 1 when all is well
