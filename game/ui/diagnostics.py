"""The diagnostics file: what a developer needs to know and nobody else has to see."""

from __future__ import annotations

import traceback
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

FILE_NAME = "diagnostics.log"
MOST_BYTES = 1_000_000
"""A larger file is begun anew: the disk of a centre's laptop is not ours to fill."""


class Diagnostics:
    """Appends lines to diagnostics.log in the data folder, each text once a run; never raises."""

    def __init__(self, folder: Path | None, now: Callable[[], datetime]) -> None:
        self._path = None if folder is None else folder / FILE_NAME
        self._now = now
        self.lines: list[str] = []

    def note(self, text: str) -> None:
        if text not in self.lines:
            self.lines.append(text)
            self._write(text)

    def fault(self, error: BaseException) -> None:
        """An error that nobody expected, with the way to it."""
        self._write("".join(traceback.format_exception(error)).rstrip())

    def _write(self, text: str) -> None:
        if self._path is None:
            return
        try:
            self._path.parent.mkdir(parents=True, exist_ok=True)
            full = self._path.exists() and self._path.stat().st_size > MOST_BYTES
            with self._path.open("w" if full else "a", encoding="utf-8") as handle:
                handle.write(f"{self._now():%Y-%m-%d %H:%M:%S} {text}\n")
        except OSError:
            pass
