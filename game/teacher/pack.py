"""Home practice: one file with all that belongs to one child, to carry to another device."""

from __future__ import annotations

import hashlib
import io
import json
import unicodedata
import zipfile
from pathlib import Path

from game import __version__
from game.core import log, roster, settings
from game.core.errors import Trouble
from game.core.files import finish_swaps
from game.core.records import Child
from game.teacher import ink, lines, output
from game.teacher.gather import Progress, nothing
from game.teacher.sources import EXTENSION, KIND, MANIFEST, VERSION

FIXED_TIME = (1980, 1, 1, 0, 0, 0)
"""The same practice makes the same file, byte for byte."""
NAME_MOST = 40


def pack(home: Path, child_id: str, to: Path, progress: Progress = nothing) -> int:
    """Write the home practice of a child into the file `to`; the number of its log lines.

    Raises Trouble when there is no such child or `to` cannot be written.
    """
    output.data_folder(home)
    try:
        finish_swaps(home)
        child = roster.load(home).named(child_id)
        attempts, ids = _attempts(home, child.id, progress)
        drawn = b"".join(line for _, line in ink.lines_of(home / ink.FILE_NAME, ids))
    except OSError as error:
        raise output.unreadable(home, error) from error
    except ValueError as error:
        raise Trouble(f"{error}.") from error
    members = {
        log.FILE_NAME: attempts,
        ink.FILE_NAME: drawn,
        roster.FILE_NAME: roster.text(roster.Roster((child,))).encode("utf-8"),
        settings.FILE_NAME: settings.text(settings.load(home)[0]).encode("utf-8"),
    }
    output.write(to, _zipped(child, members))
    progress(1.0)
    return len(ids)


def file_name(child: Child) -> str:
    """A name for a child's file that every system takes, whatever the nickname is."""
    kept = "".join(c if c.isalnum() or c in "-_" else "-" for c in unicodedata.normalize("NFC", child.nickname))
    return (kept.strip("-")[:NAME_MOST] or "child") + EXTENSION


def _attempts(home: Path, child_id: str, progress: Progress) -> tuple[bytes, set[str]]:
    """The child's whole lines as a log of their own, and their ids."""
    made, ids = [lines.header()], set[str]()
    path = home / log.FILE_NAME
    total = lines.count_guess(path)
    for number, row in enumerate(log.rows_of(path)):
        if number % 20_000 == 0:
            progress(min(0.9, number / total))
        if len(row) > lines.CHILD_PLACE and log.as_meant(row[lines.CHILD_PLACE]) == child_id and lines.whole(row):
            attempt_id = log.as_meant(row[lines.ID_PLACE])
            if attempt_id not in ids:
                ids.add(attempt_id)
                made.append(lines.line(row).encode("utf-8", errors="replace"))
    return b"".join(made), ids


def _zipped(child: Child, members: dict[str, bytes]) -> bytes:
    manifest = {
        "kind": KIND,
        "version": VERSION,
        "made_by": f"Ten Lamps {__version__}",
        "child": child.id,
        "files": {
            name: {"bytes": len(data), "sha256": hashlib.sha256(data).hexdigest()} for name, data in members.items()
        },
    }
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as packed:
        told = json.dumps(manifest, indent=2, ensure_ascii=False).encode("utf-8")
        for name, data in {MANIFEST: told, **members}.items():
            packed.writestr(zipfile.ZipInfo(name, FIXED_TIME), data, zipfile.ZIP_DEFLATED)
    return held.getvalue()
