"""Writing a small file in one step: the old one or the new one stands there, never half of either."""

from __future__ import annotations

import os
from pathlib import Path


def swap_in(path: Path, data: bytes) -> None:
    """Write `data` beside `path`, flush it to disk, then put it in its place in one step.

    Raises OSError; then `path` is as it was.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    beside = path.with_name(path.name + ".part")
    try:
        with beside.open("wb") as handle:
            handle.write(data)
            handle.flush()
            os.fsync(handle.fileno())
        os.replace(beside, path)
    except OSError:
        beside.unlink(missing_ok=True)
        raise
