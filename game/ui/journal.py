"""What was shown, said and played, as JSON lines: for tests and for a grown-up who wants to know."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any


class Journal:
    """Appends one JSON object a line to `path`, flushed at once; without a path it keeps nothing."""

    def __init__(self, path: Path | None = None) -> None:
        self._handle = None if path is None else path.open("a", encoding="utf-8")

    @property
    def kept(self) -> bool:
        return self._handle is not None

    def line(self, **what: Any) -> None:
        if self._handle is not None:
            self._handle.write(json.dumps(what, ensure_ascii=False) + "\n")
            self._handle.flush()

    def close(self) -> None:
        if self._handle is not None:
            self._handle.close()
            self._handle = None
