"""Takes away everything about one child: lines, ink, list entry. The new files are put in place as one change."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from game.core import log, roster
from game.core.errors import Trouble
from game.core.files import PART, swap_all, swap_in
from game.teacher import ink, lines, report
from game.teacher.gather import Progress, nothing
from game.teacher.held import Held, Mine, fragments_of, held, is_ink, names, unusable_row_of


def forget(home: Path, name: str, also: tuple[Path, ...] = (), progress: Progress = nothing) -> Held:
    """Take away all about the child with that nickname or id; what was held is returned. All other bytes stay.

    A report in the folder goes too, since it tells about the child.

    `also`: logs and ink elsewhere that the app would bring back (see `paths.rescued`). Raises Trouble, with nothing
    changed, when there is no such child, when the app is just writing, or when the folder cannot be written.
    """
    path = home / log.FILE_NAME
    size = path.stat().st_size if path.exists() else 0
    found = held(home, name, also, lambda done: progress(done * 0.5))
    try:
        for other in also:
            if other.exists():
                swap_in(other, b"".join((_ink if is_ink(other) else _log)(other, found)))
        contents = _contents(home, found)
        if path.exists() and path.stat().st_size != size:
            raise Trouble(f"Ten Lamps is playing on {home} just now; close it and try again. Nothing was changed.")
        swap_all(home, contents)
        for name in (report.FILE_NAME, roster.FILE_NAME + PART):
            (home / name).unlink(missing_ok=True)
    except OSError as error:
        raise Trouble(f"{home} cannot be written ({error.strerror}); close what holds its files.") from error
    progress(1.0)
    return found


def _contents(home: Path, found: Held) -> dict[str, Iterator[bytes]]:
    """The new contents of each file that holds something of the child."""
    contents: dict[str, Iterator[bytes]] = {}
    if found.rows or found.fragments:
        contents[log.FILE_NAME] = _log(home / log.FILE_NAME, found)
    if any(mine for _, mine in fragments_of(home / log.TORN_NAME, found.child.id)):
        contents[log.TORN_NAME] = _torn(home / log.TORN_NAME, found)
    if found.ink:
        contents[ink.FILE_NAME] = _ink(home / ink.FILE_NAME, found)
    if found.listed:
        listed = roster.load(home)
        left = tuple(row for row in listed.left if not unusable_row_of(found.child, row))
        rest = roster.Roster(tuple(c for c in listed.children if c.id != found.child.id), left)
        contents[roster.FILE_NAME] = iter((roster.text(rest).encode("utf-8"),))
    return contents


def _log(path: Path, found: Held) -> Iterator[bytes]:
    walked = lines.LogLines(path)
    yield lines.bytes_of(walked.header)
    for row, text in walked:
        if not names(row, found.child.id):
            yield lines.bytes_of(text)


def _torn(path: Path, found: Held) -> Iterator[bytes]:
    for text, mine in fragments_of(path, found.child.id):
        if not mine:
            yield lines.bytes_of(text)


def _ink(path: Path, found: Held) -> Iterator[bytes]:
    mine = Mine(found.child.id, {row[lines.ID_PLACE] for row in found.rows})
    with path.open("rb") as handle:
        for line in handle:
            attempt_id = ink.owner_of(line)
            if attempt_id is None or not mine.has(attempt_id):
                yield line
