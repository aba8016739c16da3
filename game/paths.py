"""Finds art/, sounds/ and levels/ (checkout, installed, bundled) and the data folder."""

from __future__ import annotations

import os
import sys
from pathlib import Path

HOME_VARIABLE = "TENLAMPS_HOME"


def data(name: str) -> Path:
    """The folder `name` ("art", "sounds", "levels") that the app ships.

    Raises FileNotFoundError when it is nowhere: then the installation is broken.
    """
    package = Path(__file__).resolve().parent
    bundled = Path(getattr(sys, "_MEIPASS", package))
    for folder in (package / "data" / name, package.parent / name, bundled / name):
        if folder.is_dir():
            return folder
    raise FileNotFoundError(f"{name}/ was not found beside {package}; install Ten Lamps again.")


def home(given: str | None = None) -> Path:
    """The data folder: as given, else by TENLAMPS_HOME, else where this system keeps a user's data."""
    named = given or os.environ.get(HOME_VARIABLE)
    if named:
        return Path(named).expanduser().absolute()
    import platformdirs  # only where it is needed: the first page should come soon

    return Path(platformdirs.user_data_dir("Ten Lamps", appauthor=False))


def rescue_file(folder: Path) -> Path:
    """Where attempts go while `folder` cannot be written: in the temporary folder, one file a data folder."""
    import hashlib  # these two cost more time than the whole first frame
    import tempfile

    mark = hashlib.sha256(str(folder).encode("utf-8", "surrogateescape")).hexdigest()[:12]
    return Path(tempfile.gettempdir()) / f"tenlamps-rescue-{mark}.csv"


def rescued(folder: Path) -> tuple[Path, Path]:
    """The log and the ink kept aside while `folder` could not be written."""
    path = rescue_file(folder)
    return path, path.with_suffix(".ink.jsonl")
