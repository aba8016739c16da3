"""Writes what was made to where the grown-up wants it: whole, or not at all."""

from __future__ import annotations

from pathlib import Path

from game.core.errors import Trouble
from game.core.files import swap_in


def write(to: Path, data: bytes) -> None:
    """Put `data` into the file `to` in one step. Raises Trouble; then `to` is as it was."""
    if to.is_dir():
        raise Trouble(f"{to} is a folder; give the name of a file in it.")
    if to.parent.exists() and not to.parent.is_dir():
        raise Trouble(f"{to.parent} is a file, so nothing can be put into it; choose another place.")
    try:
        swap_in(to, data)
    except OSError as error:
        raise Trouble(f"{to} cannot be written ({error.strerror}); choose another place or make room.") from error


def unreadable(home: Path, error: OSError) -> Trouble:
    """The sentence for a file of the data folder that cannot be read."""
    return Trouble(f"{error.filename or home} cannot be read ({error.strerror}); check the folder and try again.")


def data_folder(home: Path) -> None:
    """Raises Trouble when there is no data folder at `home`."""
    if not home.is_dir():
        raise Trouble(f"There is no data folder at {home}; play a lane first, or name the folder with --home.")
