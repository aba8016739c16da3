"""Everything that a data folder holds about one child: to be shown, and to be taken away."""

from __future__ import annotations

import csv
import io
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from game.core import log, roster
from game.core.errors import Trouble, near
from game.core.files import finish_swaps
from game.core.records import GUEST_ID, Child, lane_of
from game.teacher import ink, lines, output
from game.teacher.gather import Progress, nothing

OWN_FORMS = "forms.toml"


@dataclass(frozen=True, slots=True)
class Held:
    """What is held. `rows`: the child's log lines, cells as meant; `fragments`: torn lines that name the child.

    `forms`: how many of the centre's own stroke forms are for this child alone.
    """

    child: Child
    listed: bool
    rows: tuple[tuple[str, ...], ...]
    fragments: tuple[str, ...]
    ink: tuple[str, ...]
    forms: int

    @property
    def nothing(self) -> bool:
        return not (self.listed or self.rows or self.fragments or self.ink)

    def sentence(self) -> str:
        """What is held, in one sentence."""
        first, last = (self.rows[0][0], self.rows[-1][0]) if self.rows else ("", "")
        when = f" from {first} to {last}" if self.rows else ""
        return (
            f"{self.child.nickname} ({self.child.id}): {'an entry' if self.listed else 'no entry'} in the class list, "
            f"{len(self.rows)} lines in the log{when}, {len(self.fragments)} torn lines, {len(self.ink)} with ink."
        )


def held(home: Path, name: str, also: tuple[Path, ...] = (), progress: Progress = nothing) -> Held:
    """All about the child with that nickname or id. `also`: logs and ink elsewhere, as kept when a disk was full.

    Raises Trouble when nothing is held about such a child.
    """
    output.data_folder(home)
    try:
        finish_swaps(home)
        child, listed = who(home, name)
        rows, fragments = _rows(home, child.id, also, progress)
        ids = {row[lines.ID_PLACE] for row in rows}
        mine = Mine(child.id, ids)
        inks = (home / ink.FILE_NAME, *(path for path in also if is_ink(path)))
        drawn = {i: text.decode("utf-8", "replace") for path in inks for i, text in ink.lines_of(path) if mine.has(i)}
    except OSError as error:
        raise output.unreadable(home, error) from error
    except ValueError as error:
        raise Trouble(f"{error}.") from error
    found = Held(child, listed, tuple(rows), tuple(fragments), tuple(drawn.values()), _forms(home, child.id))
    if found.nothing:
        nicknames = [other.nickname for other in roster.load(home).children]
        raise Trouble(f'Nothing is held about "{name}"{near(name, nicknames)}; check the name.')
    progress(1.0)
    return found


def who(home: Path, name: str) -> tuple[Child, bool]:
    """The child of the list with that nickname or id, else one whom only the log may know, by id."""
    listed = roster.load(home)
    if listed.unread:
        raise Trouble(listed.troubles[0])
    try:
        return listed.named(name), True
    except Trouble:
        if any(name in (child.id, child.nickname) for child in listed.children):
            raise
        child = Child(name, "Guest" if name == GUEST_ID else name, "")
        return child, any(unusable_row_of(child, row) for row in listed.left)


def unusable_row_of(child: Child, row: tuple[str, ...]) -> bool:
    """Whether a row of the list that could not be used is about the child: by id, or by nickname where it has none."""
    child_id, nickname = ([*row, "", ""])[:2]
    return child_id == child.id or (not child_id and nickname in (child.id, child.nickname))


def is_ink(path: Path) -> bool:
    return path.suffix == Path(ink.FILE_NAME).suffix


class Mine:
    """Tells whether an attempt is the child's: by its id, or by the lane it belongs to."""

    def __init__(self, child_id: str, ids: set[str]) -> None:
        self.child_id, self._ids = child_id, ids
        self._lanes = {lane_of(attempt_id) for attempt_id in ids if attempt_id.count("-") >= 2}

    def has(self, attempt_id: str) -> bool:
        return attempt_id in self._ids or lane_of(attempt_id) in self._lanes


def names(row: list[str], child_id: str) -> bool:
    """Whether a row of the log is about the child; a torn one is when what is left of it could be."""
    if len(row) == len(log.COLUMNS):
        return log.as_meant(row[lines.CHILD_PLACE]) == child_id
    cell = log.as_meant(row[lines.CHILD_PLACE]) if len(row) > lines.CHILD_PLACE else ""
    last = len(row) == lines.CHILD_PLACE + 1
    return bool(cell) and (cell == child_id or (last and child_id.startswith(cell)))


def fragments_of(path: Path, child_id: str) -> Iterator[tuple[str, bool]]:
    """The lines of the file of torn lines, each with whether it is about the child."""
    if path.exists():
        for text in lines.bytes_lines(path):
            row = next(csv.reader(io.StringIO(text.strip("\r\n"))), [])
            yield text, names(row, child_id)


def _rows(
    home: Path, child_id: str, also: tuple[Path, ...], progress: Progress
) -> tuple[list[tuple[str, ...]], list[str]]:
    rows: dict[str, tuple[str, ...]] = {}
    fragments = [text.strip() for text, mine in fragments_of(home / log.TORN_NAME, child_id) if mine]
    total = lines.count_guess(home / log.FILE_NAME)
    for path in (home / log.FILE_NAME, *(path for path in also if not is_ink(path))):
        for number, row in enumerate(lines.rows(path)):
            if number % 20_000 == 0:
                progress(min(0.9, number / total))
            if not names(row, child_id):
                continue
            if lines.whole(row):
                cells = tuple(map(log.as_meant, row))
                rows.setdefault(cells[lines.ID_PLACE], cells)
            else:
                fragments.append(" ".join(row))
    return sorted(rows.values(), key=lambda r: (r[0], r[1], r[lines.ID_PLACE])), fragments


def _forms(home: Path, child_id: str) -> int:
    try:
        held_forms = tomllib.loads((home / OWN_FORMS).read_text(encoding="utf-8")).get("form", [])
        return sum(isinstance(form, dict) and form.get("child") == child_id for form in held_forms)
    except (OSError, ValueError):
        return 0
