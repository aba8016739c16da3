"""Writing in one step: the old state or the new one stands there, never half of either.

One file: `swap_in`. Several that belong together: `swap_all`. The new files are written beside the old ones, then a
list of them, and from that moment on the new state counts; after a crash `finish_swaps` puts in place what the list
names, or takes away what no list names. It must be called before the folder is read.
"""

from __future__ import annotations

import contextlib
import errno
import json
import os
from collections.abc import Iterable, Mapping
from pathlib import Path

PENDING = "pending.json"
"""The list of a change that is being put in place; it stands in the data folder for a moment only."""
BESIDE, PART = ".next", ".part"


def swap_in(path: Path, data: bytes) -> None:
    """Write `data` beside `path`, flush it to disk, then put it in its place in one step.

    Raises OSError; then `path` is as it was.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    beside = path.with_name(path.name + PART)
    try:
        _write(beside, (data,))
        os.replace(beside, path)
    except OSError:
        beside.unlink(missing_ok=True)
        raise


def swap_all(folder: Path, contents: Mapping[str, Iterable[bytes]]) -> None:
    """Put the new contents of several files of `folder`, by name, in place as one change.

    Raises OSError: then either nothing has changed, or the next `finish_swaps` completes the change.
    """
    folder.mkdir(parents=True, exist_ok=True)
    finish_swaps(folder)
    written: list[Path] = []
    try:
        for name, pieces in contents.items():
            written.append(folder / (name + BESIDE))
            _write(written[-1], pieces)
        _settle(folder)
        swap_in(folder / PENDING, json.dumps(sorted(contents)).encode("utf-8"))
    except OSError:
        for beside in written:
            beside.unlink(missing_ok=True)
        raise
    _settle(folder)
    finish_swaps(folder)


def finish_swaps(folder: Path) -> None:
    """Complete a change that was cut short, or take back one that was not ready. Raises OSError."""
    pending = folder / PENDING
    if pending.exists():
        for name in _names(pending):
            beside = folder / (name + BESIDE)
            if beside.exists():
                os.replace(beside, folder / name)
        _settle(folder)
        pending.unlink()
    else:
        for left in (*folder.glob("*" + BESIDE), folder / (PENDING + PART)):
            left.unlink(missing_ok=True)


def _names(pending: Path) -> list[str]:
    """The files that the list names. Raises OSError when the list is damaged."""
    try:
        names = json.loads(pending.read_bytes())
    except ValueError:
        names = None
    if not isinstance(names, list) or not all(isinstance(n, str) and Path(n).name == n for n in names):
        raise OSError(errno.EINVAL, f"{pending.name} beside it is damaged, take that file away")
    return names


def _write(path: Path, pieces: Iterable[bytes]) -> None:
    with path.open("wb") as handle:
        for piece in pieces:
            handle.write(piece)
        handle.flush()
        os.fsync(handle.fileno())


def _settle(folder: Path) -> None:
    """Flush the folder's entries to disk, where the system can."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
