"""Joins home practice, data folders and logs by attempt id: in any order, any number of times, the same result.

The joined log is written whole beside the old one and put in place together with ink and class list as one change
(`files.swap_all`): a log of a centre-year is 75 MB and copied in a moment, and a crash leaves the old or the new state
without anything to mend. Lines that are there are copied as they are, byte for byte.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TypeVar

from game.core import log, replay, roster, settings
from game.core.errors import Trouble
from game.core.files import finish_swaps, swap_all
from game.core.records import BADGES, GUEST_ID, Child
from game.teacher import ink, lines
from game.teacher.gather import Progress, nothing
from game.teacher.sources import Source, opened

TOLD_IDS = 3
LINES_A_PIECE = 5000
CARRIED_SETTINGS = ("finger_way", "mirror_left", "calm", "lanes", "switch_seconds")
"""What a home practice brings to a device that has no settings yet: what the child is used to, not the device's own."""


T = TypeVar("T")
_New = tuple[str, str, str, str]
"""A line to add: date, time, attempt id, and the text as it is written."""


@dataclass(slots=True)
class MergeResult:
    """What merging did. `told`: a sentence for each thing that a grown-up should know."""

    new: int = 0
    known: int = 0
    unreadable: int = 0
    conflicts: list[str] = field(default_factory=list)
    new_ink: int = 0
    children: list[Child] = field(default_factory=list)
    told: list[str] = field(default_factory=list)

    def sentences(self) -> list[str]:
        """All of it in plain words."""
        said = [f"{self.new} new, {self.known} known, {self.unreadable} unreadable lines; {self.new_ink} new with ink."]
        if self.children:
            said.append(f"New in the class list: {', '.join(child.nickname for child in self.children)}.")
        if self.conflicts:
            some = ", ".join(self.conflicts[:TOLD_IDS]) + (" …" if len(self.conflicts) > TOLD_IDS else "")
            said.append(
                f"{len(self.conflicts)} lines differ from those here with the same id ({some}); those here were kept."
            )
        return said + self.told


def merge_into(home: Path, paths: Sequence[Path], progress: Progress = nothing) -> MergeResult:
    """Join everything at `paths` into the data folder `home`.

    Raises Trouble, with nothing changed, when one of them cannot be brought in or `home` cannot be written.
    """
    result = MergeResult()
    try:
        finish_swaps(home)
        with opened(list(paths)) as sources, replay.no_collecting():
            size = _size(home)
            changes = _Changes(home, sources, result, progress)
            if _size(home) != size:
                raise Trouble(
                    f"Ten Lamps is playing on {home} just now; close it and merge again. Nothing was changed."
                )
            if changes.contents:
                swap_all(home, changes.contents)
    except ValueError as error:
        raise Trouble(f"{error}. Nothing was changed.") from error
    except OSError as error:
        raise Trouble(f"{home} cannot be written ({error.strerror}); make room or close what holds it.") from error
    progress(1.0)
    return result


def _size(home: Path) -> int:
    path = home / log.FILE_NAME
    return path.stat().st_size if path.exists() else 0


class _Changes:
    """Reads what is here and what comes, and holds the new contents of the files that change."""

    def __init__(self, home: Path, sources: Sequence[Source], result: MergeResult, progress: Progress) -> None:
        self.home, self.result, self._progress = home, result, progress
        self.contents: dict[str, Iterator[bytes]] = {}
        self._rows_done = 0
        self._seen: set[str] = set()
        attempts = [s.attempts for s in sources if s.attempts is not None]
        self._rows_in_all = sum(lines.count_guess(path) for path in (home / log.FILE_NAME, *attempts))
        self._attempts(attempts)
        self._ink([s.ink for s in sources if s.ink is not None])
        self._children([s.folder for s in sources if s.folder is not None])
        self._settings([s.folder for s in sources if s.folder is not None and s.pack])

    def _attempts(self, paths: Sequence[Path]) -> None:
        """Lines that are the same letter by letter are known at once; the others are compared by what they mean."""
        result, path = self.result, self.home / log.FILE_NAME
        here: dict[str, int] = {}
        for attempt_id, mark in self._told(lines.marks(path)):
            here.setdefault(attempt_id, mark)
        new: dict[str, _New] = {}
        doubtful: list[tuple[str, list[str]]] = []
        for source in paths:
            for row, text in self._told(lines.entries(source)):
                if not lines.whole(row):
                    result.unreadable += bool(row)
                    continue
                attempt_id = log.as_meant(row[lines.ID_PLACE])
                there = here.get(attempt_id)
                if there is not None:
                    if there == lines.mark(row):
                        result.known += 1
                    else:
                        doubtful.append((attempt_id, row))
                else:
                    self._take(attempt_id, row, lines.line(row, text), new)
        if doubtful:
            self._settle(doubtful, new)
        result.new = len(new)
        if new:
            added = sorted(new.values())
            self.contents[log.FILE_NAME] = _joined(path, lines.header(), _pieces(added))

    def _take(self, attempt_id: str, row: Sequence[str], text: str, new: dict[str, _New]) -> None:
        held = new.get(attempt_id)
        if held is None:
            new[attempt_id] = (row[0], row[1], attempt_id, text)
            self._seen.add(row[lines.CHILD_PLACE])
        elif held[3] == text:
            self.result.known += 1
        else:
            self.result.conflicts.append(attempt_id)

    def _settle(self, doubtful: Sequence[tuple[str, list[str]]], new: dict[str, _New]) -> None:
        """Compare with the lines here that have the same id; one that is not whole here does not count."""
        wanted = {attempt_id for attempt_id, _ in doubtful}
        here: dict[str, str] = {}
        for row in lines.rows(self.home / log.FILE_NAME):
            if lines.whole(row) and log.as_meant(row[lines.ID_PLACE]) in wanted:
                here.setdefault(log.as_meant(row[lines.ID_PLACE]), lines.line(row))
        for attempt_id, row in doubtful:
            if attempt_id not in here:
                self._take(attempt_id, row, lines.line(row), new)
            elif here[attempt_id] == lines.line(row):
                self.result.known += 1
            else:
                self.result.conflicts.append(attempt_id)

    def _told(self, found: Iterator[T]) -> Iterator[T]:
        """Hands on what is found, and tells the progress now and then."""
        for one in found:
            self._rows_done += 1
            if self._rows_done % 20_000 == 0:
                self._progress(min(0.9, self._rows_done / self._rows_in_all))
            yield one

    def _ink(self, paths: Sequence[Path]) -> None:
        path = self.home / ink.FILE_NAME
        held: dict[str, int] = {}
        for attempt_id, line in ink.lines_of(path):
            held.setdefault(attempt_id, hash(line))
        new: list[tuple[str, bytes]] = []
        differ = 0
        for source in paths:
            for attempt_id, line in ink.lines_of(source):
                there = held.get(attempt_id)
                if there is None:
                    held[attempt_id] = hash(line)
                    new.append((attempt_id, line))
                else:
                    differ += there != hash(line)
        if differ:
            self.result.told.append(f"The ink of {differ} attempts differs from the ink here; the ink here was kept.")
        self.result.new_ink = len(new)
        if new:
            new.sort()
            self.contents[ink.FILE_NAME] = _joined(path, b"", (line for _, line in new))

    def _children(self, folders: Sequence[Path]) -> None:
        listed = roster.load(self.home)
        if listed.troubles and not listed.children and not listed.left:
            self.result.told.append(f"{listed.troubles[0]} No child was added to it.")
            return
        for folder in folders:
            for child in roster.load(folder).children:
                if listed.child(child.id) is None and child.id != GUEST_ID:
                    child = self._with_badge(listed, child)
                    listed = roster.with_child(listed, child)
                    self.result.children.append(child)
        strangers = sorted({log.as_meant(i) for i in self._seen} - {c.id for c in listed.children} - {GUEST_ID})
        if strangers:
            self.result.told.append(
                f"Not in the class list: {', '.join(strangers)}. Their lines are kept and count; "
                f"give them a row in {roster.FILE_NAME} with this id."
            )
        if self.result.children:
            self.contents[roster.FILE_NAME] = iter((roster.text(listed).encode("utf-8"),))

    def _with_badge(self, listed: roster.Roster, child: Child) -> Child:
        """The child with its badge, or with a free one where another child here wears it."""
        holder = roster.holder_of(listed, child.badge)
        if holder is None or child.away:
            return child
        worn = {other.badge for other in listed.playing}
        free = next((badge for badge in BADGES if badge not in worn), None)
        now = f"gets the {free} here" if free else "wears it too, as no badge is free"
        self.result.told.append(
            f"The {child.badge} of {child.nickname} is worn by {holder.nickname} here; {child.nickname} {now}. "
            "It can be changed in the class list."
        )
        return child if free is None else replace(child, badge=free)

    def _settings(self, folders: Sequence[Path]) -> None:
        if not folders or (self.home / settings.FILE_NAME).exists():
            return
        brought, _ = settings.load(folders[0])
        kept = {name: getattr(brought, name) for name in CARRIED_SETTINGS}
        wanted = replace(settings.Settings(), **kept)
        if wanted != settings.Settings():
            self.contents[settings.FILE_NAME] = iter((settings.text(wanted).encode("utf-8"),))


def _joined(path: Path, header: bytes, new: Iterable[bytes]) -> Iterator[bytes]:
    """What stands at `path` as it is (`header` where there is nothing), then what is new."""
    if not path.exists() or path.stat().st_size == 0:
        yield header
    yield from lines.chunks(path)
    yield lines.tail(path, quoted=bool(header))
    yield from new


def _pieces(added: Sequence[_New]) -> Iterator[bytes]:
    for start in range(0, len(added), LINES_A_PIECE):
        text = "".join(entry[3] for entry in added[start : start + LINES_A_PIECE])
        yield text.encode("utf-8", errors="replace")
