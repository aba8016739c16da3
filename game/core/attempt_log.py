"""Writes the attempt log: each line on disk before the lamp lights, and none lost when that cannot be."""

from __future__ import annotations

import contextlib
import csv
import io
import os
from collections.abc import Iterable
from pathlib import Path

from game.core.files import finish_swaps
from game.core.log import BOM, COLUMNS, FILE_NAME, TORN_NAME, line_of, read, to_row
from game.core.records import Attempt


class AttemptLog:
    """Appends attempts to `folder`/attempts.csv; what cannot be written is kept, rescued and tried again.

    `rescue` is the file, in a temporary folder, that holds what the log could not take. `trouble` is one sentence
    for a grown-up while something is wrong, else None. `durable` False leaves out fsync (rehearsal only).
    """

    def __init__(self, folder: Path, rescue: Path, durable: bool = True) -> None:
        self.path = folder / FILE_NAME
        self.trouble: str | None = None
        self.told: list[str] = []
        self._rescue, self._durable = rescue, durable
        self._waiting: list[str] = []
        self._checked = False
        self._handle: io.BufferedWriter | None = None

    def append_all(self, attempts: Iterable[Attempt]) -> None:
        """Write many attempts at once, as `append` writes one."""
        self._waiting.extend(line_of(to_row(attempt)) for attempt in attempts)
        self.flush()

    def append(self, attempt: Attempt) -> None:
        """Write one attempt, behind all that waited; it is on disk when this returns, or `trouble` says why not."""
        self._waiting.append(line_of(to_row(attempt)))
        self.flush()

    def flush(self) -> None:
        """Try again to write what waits; never raises."""
        if not self._waiting and self._checked:
            return
        try:
            self._write("".join(self._waiting))
        except OSError as error:
            self._close_quietly()
            self._checked = False
            self._save_to_rescue(error)
        else:
            self._waiting.clear()
            self.trouble = None
            self._rescue.unlink(missing_ok=True)

    def close(self) -> None:
        self.flush()
        self._close_quietly()

    def _write(self, text: str) -> None:
        self.path.parent.mkdir(parents=True, exist_ok=True)
        if self._handle is not None and self._was_replaced(self._handle):
            self._close_quietly()
            self._checked = False
        if self._handle is None:
            finish_swaps(self.path.parent)
            self._handle = self.path.open("ab")
        if not self._checked:
            text = self._start() + text
            self._checked = True
        data = text.encode("utf-8", errors="replace")
        if self._handle.tell() == 0:
            data = BOM + data
        self._handle.write(data)
        self._handle.flush()
        if self._durable:
            os.fsync(self._handle.fileno())

    def _was_replaced(self, handle: io.BufferedWriter) -> bool:
        """Whether another file stands at the path since it was opened (a merge, a child forgotten)."""
        try:
            return not os.path.samestat(os.fstat(handle.fileno()), os.stat(self.path))
        except FileNotFoundError:
            return True

    def _start(self) -> str:
        """What must come before the next line: the header of a new file, the end of a torn line, rescued lines."""
        size = self.path.stat().st_size
        header = line_of(COLUMNS) if size == 0 else ""
        return header + (self._end_torn_line() if size else "") + self._rescued()

    def _end_torn_line(self) -> str:
        data = self.path.read_bytes()
        if data.endswith(b"\n"):
            return ""
        torn = data[data.rfind(b"\n") + 1 :]
        with (self.path.parent / TORN_NAME).open("ab") as aside:
            aside.write(torn + b"\n")
        self.told.append(
            f"The last line of {self.path} was cut short and is kept in {TORN_NAME}; all other lines are whole."
        )
        return ('"' if torn.count(b'"') % 2 else "") + "\r\n"

    def _rescued(self) -> str:
        """The lines of an earlier rescue file that the log does not hold yet."""
        if not self._rescue.exists():
            return ""
        held = {a.attempt_id for a in read(self.path).attempts}
        held.update(row[18] for row in csv.reader(io.StringIO("".join(self._waiting))) if len(row) > 18)
        new = [a for a in read(self._rescue).attempts if a.attempt_id not in held]
        if new:
            self.told.append(f"{len(new)} attempts that could not be saved before were brought back into {self.path}.")
        return "".join(line_of(to_row(a)) for a in new)

    def _save_to_rescue(self, error: OSError) -> None:
        saved = f"the attempts are kept in {self._rescue}"
        try:
            self._rescue.parent.mkdir(parents=True, exist_ok=True)
            earlier = self._rescued_before()
            beside = self._rescue.with_suffix(".part")
            beside.write_bytes(BOM + (line_of(COLUMNS) + earlier + "".join(self._waiting)).encode("utf-8"))
            beside.replace(self._rescue)
        except OSError:
            saved = "the attempts are kept until the app is closed"
        reason = error.strerror or "it cannot be written"
        self.trouble = (
            f"{self.path} cannot be written ({reason}); {saved}: close the file elsewhere or make room, "
            "the app tries again by itself."
        )

    def _rescued_before(self) -> str:
        waiting = {row[18] for row in csv.reader(io.StringIO("".join(self._waiting))) if len(row) > 18}
        earlier = [a for a in read(self._rescue).attempts if a.attempt_id not in waiting]
        return "".join(line_of(to_row(a)) for a in earlier)

    def _close_quietly(self) -> None:
        if self._handle is not None:
            handle, self._handle = self._handle, None
            with contextlib.suppress(OSError):
                handle.close()
