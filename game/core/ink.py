"""The ink of writing tasks: one JSON line an attempt in ink.jsonl beside the log, only ever appended, never lost.

A line holds the id of its attempt, what was asked, the hand, the ruling (y of its top and base line) and the strokes,
each a list of [x, y, ms] (page units, y down; ms since the first touch), so that it can be shown and judged again.
"""

from __future__ import annotations

import contextlib
import io
import json
import os
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from game.core.records import Hand

FILE_NAME = "ink.jsonl"
Stroke = tuple[tuple[float, float, float], ...]


@dataclass(frozen=True, slots=True)
class Ink:
    """What one attempt left on the paper. `lines`: y of the top line and of the base line, if there were any."""

    attempt_id: str
    asked: str
    hand: Hand
    strokes: tuple[Stroke, ...]
    lines: tuple[float, float] | None = None


def to_line(ink: Ink) -> str:
    began = next((at for stroke in ink.strokes for _, _, at in stroke), 0)
    held: dict[str, object] = {"attempt_id": ink.attempt_id, "asked": ink.asked, "hand": ink.hand}
    if ink.lines is not None:
        held["ruling"] = {"top": round(ink.lines[0], 1), "base": round(ink.lines[1], 1)}
    held["strokes"] = [[[round(x, 1), round(y, 1), round(at - began)] for x, y, at in stroke] for stroke in ink.strokes]
    return json.dumps(held, separators=(", ", ": "), ensure_ascii=False) + "\n"


def from_line(line: str) -> Ink:
    """The ink of one line. Raises ValueError when it is no whole line of ink."""
    try:
        held = json.loads(line)
        ruling = held.get("ruling")
        return Ink(
            attempt_id=str(held["attempt_id"]),
            asked=str(held["asked"]),
            hand="left" if held["hand"] == "left" else "right",
            strokes=tuple(tuple((float(x), float(y), float(at)) for x, y, at in stroke) for stroke in held["strokes"]),
            lines=None if ruling is None else (float(ruling["top"]), float(ruling["base"])),
        )
    except (KeyError, TypeError, AttributeError, IndexError) as error:
        raise ValueError(f"this is no line of ink ({error})") from error


def read(path: Path) -> Iterator[Ink]:
    """All ink of a file, torn lines left out; nothing when there is no file."""
    try:
        handle = path.open(encoding="utf-8", errors="replace")
    except FileNotFoundError:
        return
    with handle:
        for line in handle:
            with contextlib.suppress(ValueError):
                yield from_line(line)


class InkLog:
    """Appends ink to `folder`/ink.jsonl; what cannot be written is kept, rescued and tried again, as the log does.

    `rescue` is the file, in a temporary folder, for what could not be written. `trouble` is one sentence for a
    grown-up while something is wrong, else None. `durable` False leaves out fsync (rehearsal only).
    """

    def __init__(self, folder: Path, rescue: Path, durable: bool = True) -> None:
        self.path = folder / FILE_NAME
        self.trouble: str | None = None
        self._rescue, self._durable = rescue, durable
        self._waiting: list[str] = []

    def append(self, ink: Ink) -> None:
        """Write the ink of one attempt; it is on disk when this returns, or `trouble` says why not."""
        self.append_all([ink])

    def append_all(self, inks: Iterable[Ink]) -> None:
        self._waiting.extend(to_line(ink) for ink in inks)
        self.flush()

    def flush(self) -> None:
        """Try again to write what waits; never raises."""
        if not self._waiting and not self._rescue.exists():
            return
        try:
            self._write()
        except OSError as error:
            self._keep(error)
        else:
            self._waiting.clear()
            self.trouble = None
            self._rescue.unlink(missing_ok=True)

    def _write(self) -> None:
        """The file is opened each time: ink is rare, and a grown-up may have put another file in its place."""
        self.path.parent.mkdir(parents=True, exist_ok=True)
        text = self._before() + "".join(self._waiting)
        with self.path.open("ab") as handle:
            handle.write(text.encode("utf-8", errors="replace"))
            handle.flush()
            if self._durable:
                os.fsync(handle.fileno())

    def _before(self) -> str:
        """What must come before the next line: the end of a line that was cut short, and what was rescued."""
        torn = self.path.exists() and not _ends_whole(self.path)
        rescued = ""
        if self._rescue.exists():
            held = {ink.attempt_id for ink in read(self.path)} | _ids(self._waiting)
            rescued = "".join(to_line(ink) for ink in read(self._rescue) if ink.attempt_id not in held)
        return ("\n" if torn else "") + rescued

    def _keep(self, error: OSError) -> None:
        where = f"the writing is kept in {self._rescue}"
        try:
            self._rescue.parent.mkdir(parents=True, exist_ok=True)
            waiting = _ids(self._waiting)
            earlier = "".join(to_line(ink) for ink in read(self._rescue) if ink.attempt_id not in waiting)
            beside = self._rescue.with_suffix(".part")
            beside.write_text(earlier + "".join(self._waiting), encoding="utf-8")
            beside.replace(self._rescue)
        except OSError:
            where = "the writing is kept until the app is closed"
        reason = error.strerror or "it cannot be written"
        self.trouble = f"{self.path} cannot be written ({reason}); {where}: make room, the app tries again by itself."


def _ids(lines: list[str]) -> set[str]:
    return {from_line(line).attempt_id for line in lines}


def _ends_whole(path: Path) -> bool:
    with path.open("rb") as handle:
        handle.seek(0, io.SEEK_END)
        if handle.tell() == 0:
            return True
        handle.seek(-1, io.SEEK_END)
        return handle.read(1) == b"\n"
