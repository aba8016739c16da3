"""The attempt log as a file: one CSV line an attempt, only ever appended, safe in a spreadsheet; how it is read.

UTF-8 with a byte order mark, every cell quoted. Cells that a spreadsheet could run as a formula get an apostrophe in
front (OWASP, CSV Injection) and are read back without it.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import cast

from game.core.records import FORM_WORDS, Attempt, Form, Help

COLUMNS = (
    "date", "time", "child", "place", "hand", "skill", "step", "task", "shown", "asked", "answered", "right",
    "first_try", "help", "error", "seconds", "chance_known", "device", "attempt_id", "version",
)  # fmt: skip
FILE_NAME = "attempts.csv"
TORN_NAME = "attempts-torn.txt"
BOM = b"\xef\xbb\xbf"
_RISKY = ("=", "+", "-", "@", "\t", "\r", "\n", "'", "＝", "＋", "－", "＠")
FORM_OF: dict[str, Form] = {word: form for form, word in FORM_WORDS.items()}
_RIGHT = {"yes": True, "no": False, "unsure": None}
_RIGHT_WORD = {True: "yes", False: "no", None: "unsure"}


def harmless(cell: str) -> str:
    """The cell as it is written: with an apostrophe in front where a spreadsheet could run it."""
    return "'" + cell if cell.startswith(_RISKY) else cell


def as_meant(cell: str) -> str:
    """The cell as it was before `harmless`."""
    return cell[1:] if cell.startswith("'") else cell


def to_row(a: Attempt) -> list[str]:
    """The cells of an attempt, in the order of COLUMNS."""
    cells = (
        a.at.strftime("%Y-%m-%d"), a.at.strftime("%H:%M:%S"), a.child, a.place, a.hand, a.skill, a.step,
        f"{a.task}, {FORM_WORDS[a.form]}, {a.reason}", a.shown, a.asked, a.answered, _RIGHT_WORD[a.right],
        "yes" if a.first_try else "no", a.help, a.error, f"{a.seconds:.1f}", f"{a.chance_known:.4f}",
        a.device, a.attempt_id, a.version,
    )  # fmt: skip
    return [harmless(cell) for cell in cells]


def from_row(row: Sequence[str]) -> Attempt:
    """The attempt in a row of cells. Raises ValueError when the row is no attempt (torn, edited)."""
    if len(row) != len(COLUMNS):
        raise ValueError(f"{len(row)} cells instead of {len(COLUMNS)}")
    cell = dict(zip(COLUMNS, map(as_meant, row), strict=True))
    task, form, reason = ([*cell["task"].split(", ", 2), "", ""])[:3]
    if form not in FORM_OF or cell["right"] not in _RIGHT or not cell["attempt_id"].strip():
        raise ValueError(f'task "{cell["task"]}", right "{cell["right"]}"')
    if cell["first_try"] not in ("yes", "no") or cell["help"] not in ("none", "hint", "together"):
        raise ValueError(f'first_try "{cell["first_try"]}", help "{cell["help"]}"')
    at = datetime.fromisoformat(f"{cell['date']} {cell['time']}")
    if at.tzinfo is not None:
        raise ValueError(f'time "{cell["time"]}" has a zone; local time is wanted')
    return Attempt(
        at=at,
        child=cell["child"],
        place=cell["place"],
        hand="left" if cell["hand"] == "left" else "right",
        skill=cell["skill"],
        step=cell["step"],
        task=task,
        form=FORM_OF[form],
        reason=reason,
        shown=cell["shown"],
        asked=cell["asked"],
        answered=cell["answered"],
        right=_RIGHT[cell["right"]],
        first_try=cell["first_try"] == "yes",
        help=cast(Help, cell["help"]),
        error=cell["error"],
        seconds=float(cell["seconds"]),
        chance_known=float(cell["chance_known"]),
        device=cell["device"],
        attempt_id=cell["attempt_id"],
        version=cell["version"],
    )


def line_of(cells: Iterable[str]) -> str:
    out = io.StringIO(newline="")
    csv.writer(out, quoting=csv.QUOTE_ALL, lineterminator="\r\n").writerow(list(cells))
    return out.getvalue()


@dataclass(frozen=True, slots=True)
class Contents:
    """What a log holds: its attempts in the order in which they happened, and a sentence for each trouble."""

    attempts: tuple[Attempt, ...]
    troubles: tuple[str, ...] = ()


def rows_of(path: Path) -> Iterator[list[str]]:
    """The rows below the header, cells in the order of COLUMNS, whatever the file's order or separator is.

    A missing file has no rows. Raises ValueError when a column is missing.
    """
    try:
        handle = path.open(encoding="utf-8-sig", errors="replace", newline="")
    except FileNotFoundError:
        return
    with handle:
        first = handle.readline()
        if not first.strip():
            return
        separator = next((s for s in (",", ";", "\t") if s in first), ",")
        header = next(csv.reader([first], delimiter=separator))
        missing = [name for name in COLUMNS if name not in header]
        if missing:
            raise ValueError(f"{path}: the column {missing[0]} is missing; put back the header line")
        rows = all_rows(csv.reader(handle, delimiter=separator))
        if tuple(header) == COLUMNS and separator == ",":
            yield from rows
        else:
            places = [header.index(name) for name in COLUMNS]
            for row in rows:
                yield in_order(row, places, len(header), separator)


def all_rows(reader: Iterator[list[str]]) -> Iterator[list[str]]:
    """The rows of a reader; one that it cannot take (a cell without end) comes as a row of one cell."""
    while True:
        try:
            yield from reader
            return
        except csv.Error:
            yield [""]


def in_order(row: list[str], places: Sequence[int], width: int, separator: str) -> list[str]:
    """The cells of a row of a file that a spreadsheet saved in its own way, in the order of COLUMNS.

    `places`: where each of COLUMNS stands among the file's `width` columns. Lines that were appended since are in our
    way and are taken as such.
    """
    if len(row) == width:
        ordered = [row[p] for p in places]
        return row if _dated(row) and not _dated(ordered) and width == len(COLUMNS) else ordered
    ours = next(csv.reader([separator.join(row)]), [])
    return ours if len(ours) == len(COLUMNS) else row


def _dated(row: Sequence[str]) -> bool:
    return row[0][4:5] == "-" == row[0][7:8]


def read(path: Path) -> Contents:
    """All attempts of a log; unreadable lines are counted and told, never fatal."""
    attempts: list[Attempt] = []
    known: set[str] = set()
    unreadable = 0
    for row in rows_of(path):
        if not row:
            continue
        try:
            attempt = from_row(row)
        except ValueError:
            unreadable += 1
            continue
        if attempt.attempt_id not in known:
            known.add(attempt.attempt_id)
            attempts.append(attempt)
    attempts.sort(key=lambda a: (a.at, a.attempt_id))
    return Contents(tuple(attempts), _unreadable(path, unreadable))


def _unreadable(path: Path, lines: int) -> tuple[str, ...]:
    if not lines:
        return ()
    what = "1 line is" if lines == 1 else f"{lines} lines are"
    return (f"{path}: {what} not whole and left out; the other lines are used, nothing needs to be done.",)
