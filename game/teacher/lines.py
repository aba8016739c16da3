"""The lines of a log as they stand in the file, together with their cells; and lines written like them."""

from __future__ import annotations

import contextlib
import csv
import re
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from itertools import chain
from pathlib import Path
from typing import TextIO

from game.core.log import BOM, COLUMNS, all_rows, as_meant, from_row, harmless, in_order, rows_of
from game.core.records import FORM_WORDS
from game.teacher.gather import BYTES_A_LINE, day_of, second_of

ID_PLACE = COLUMNS.index("attempt_id")
CHILD_PLACE = COLUMNS.index("child")
CHUNK = 1 << 20
BETWEEN = '","'
_FORMS = frozenset(FORM_WORDS.values())
_RIGHT, _FIRST = frozenset(("yes", "no", "unsure")), frozenset(("yes", "no"))
_HELP = frozenset(("none", "hint", "together"))
_RISKY = frozenset("=+-@\t\r\n'＝＋－＠")
_RISKY_START = re.compile("\"[=+\\-@\t\r\n'＝＋－＠]")


class LogLines:
    """Walks through a log: for each row the cells in the order of COLUMNS, and the text exactly as it stands.

    `header` is the first line with its byte order mark. A missing file has no lines. Raises ValueError when the
    header lacks a column.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        self.header = ""
        if path.exists():
            with self._open() as handle:
                self.header = handle.readline()
        first = self.header.removeprefix("\ufeff")
        self._separator = next((s for s in (",", ";", "\t") if s in first), ",")
        self._names = tuple(next(csv.reader([first], delimiter=self._separator), COLUMNS)) or COLUMNS
        missing = [name for name in COLUMNS if name not in self._names]
        if missing:
            raise ValueError(f"{path}: the column {missing[0]} is missing; put back the header line")

    def _open(self) -> TextIO:
        return self.path.open(encoding="utf-8", errors="surrogateescape", newline="")

    def __iter__(self) -> Iterator[tuple[list[str], str]]:
        if not self.header:
            return
        read: list[str] = []
        with self._open() as handle:
            handle.readline()
            rows = csv.reader(_noting(handle, read), delimiter=self._separator)
            while True:
                try:
                    row = next(rows)
                except StopIteration:
                    return
                except csv.Error:
                    row = []
                yield self._in_order(row), "".join(read)
                read.clear()

    def _in_order(self, row: list[str]) -> list[str]:
        if not row or (self._names == COLUMNS and self._separator == ","):
            return row
        places = [self._names.index(name) for name in COLUMNS]
        return in_order(row, places, len(self._names), self._separator)


def rows(path: Path) -> Iterator[list[str]]:
    """As `log.rows_of`, faster on a log that the app wrote."""
    for row, _ in entries(path):
        yield row


def entries(path: Path) -> Iterator[tuple[list[str], str | None]]:
    """Each row, and what stands between its outer quotes where no cell holds another quote."""
    for found in _inners(path):
        yield (found.split(BETWEEN), found) if isinstance(found, str) else (found, None)


def marks(path: Path) -> Iterator[tuple[str, int]]:
    """For each line that could be an attempt its id, and a hash that `mark` of the same cells gives again."""
    for found in _inners(path):
        if isinstance(found, str):
            yield as_meant(found.rsplit(BETWEEN, 2)[1]), hash(found)
        elif len(found) == len(COLUMNS):
            yield as_meant(found[ID_PLACE]), mark(found)


def mark(row: Sequence[str]) -> int:
    return hash(BETWEEN.join(row))


def _inners(path: Path) -> Iterator[str | list[str]]:
    """For a line with every cell quoted and no other quote what stands between the outer quotes, else its cells.

    From the first line on that is no such one, the rest is read by the csv module.
    """
    with (
        contextlib.suppress(FileNotFoundError),
        path.open(encoding="utf-8-sig", errors="replace", newline="") as handle,
    ):
        if handle.readline() != line(COLUMNS):
            yield from rows_of(path)
            return
        quotes, between = 2 * len(COLUMNS), len(COLUMNS) - 1
        for text in handle:
            plain = text[:1] == '"' and text[-3:] == '"\r\n' and text.count('"') == quotes
            if not plain or text.count(BETWEEN) != between:
                yield from all_rows(csv.reader(chain((text,), handle)))
                return
            yield text[1:-3]


def _noting(texts: Iterable[str], noted: list[str]) -> Iterator[str]:
    """Hands the texts on and notes each of them."""
    for text in texts:
        noted.append(text)
        yield text


def line(row: Sequence[str], text: str | None = None) -> str:
    """The cells of COLUMNS as one line of a log: as `log.line_of` writes them once they are harmless, only faster."""
    return f'"{inner(row, text)}"\r\n'


def bytes_of(text: str) -> bytes:
    """The bytes that `LogLines` read as this text."""
    return text.encode("utf-8", errors="surrogateescape")


def bytes_lines(path: Path) -> Iterator[str]:
    """The lines of a text file as they stand; `bytes_of` gives their bytes back."""
    with path.open(encoding="utf-8", errors="surrogateescape", newline="\n") as handle:
        yield from handle


def whole(row: Sequence[str]) -> bool:
    """Whether a row is an attempt: what the log's reader would take."""
    if len(row) != len(COLUMNS):
        return False
    try:
        float(row[15])
        float(row[16])
    except ValueError:
        return safely_whole(row)
    usual = _usual(row[7], row[11], row[12], row[13]) and day_of(row[0]) is not None and second_of(row[1]) is not None
    return bool(as_meant(row[ID_PLACE]).strip()) if usual else safely_whole(row)


@lru_cache(maxsize=10_000)
def _usual(task: str, right: str, first_try: str, helped: str) -> bool:
    parts = task.split(", ", 2)
    return len(parts) > 1 and parts[1] in _FORMS and right in _RIGHT and first_try in _FIRST and helped in _HELP


def safely_whole(row: Sequence[str]) -> bool:
    """As `whole`, by the log's own reader: slow, and right for cells that a spreadsheet has touched."""
    try:
        from_row(row)
    except ValueError:
        return False
    return True


def inner(row: Sequence[str], text: str | None = None) -> str:
    """The cells between the outer quotes of a line, as they are written: doubled quotes, harmless for a spreadsheet.

    `text`: what `entries` gave beside the row, which saves work.
    """
    if text is None:
        text = BETWEEN.join(row)
        plain = text.count('"') == 2 * (len(row) - 1)
    else:
        plain = True
    if plain and text[:1] not in _RISKY and _RISKY_START.search(text) is None:
        return text
    return BETWEEN.join(harmless(as_meant(cell)).replace('"', '""') for cell in row)


def tail(path: Path, quoted: bool) -> bytes:
    """What must be written behind the last line of `path` before another line: its end, where it was torn.

    `quoted`: the file is a log, of which a cell may be torn inside its quotes.
    """
    if not path.exists() or path.stat().st_size == 0:
        return b""
    with path.open("rb") as handle:
        handle.seek(-1, 2)
        if handle.read(1) == b"\n":
            return b""
    data = path.read_bytes()
    torn = data[data.rfind(b"\n") + 1 :]
    return (b'"' if quoted and torn.count(b'"') % 2 else b"") + (b"\r\n" if quoted else b"\n")


def chunks(path: Path) -> Iterator[bytes]:
    """The bytes of a file, piece by piece; none when there is no file."""
    if path.exists():
        with path.open("rb") as handle:
            while piece := handle.read(CHUNK):
                yield piece


def count_guess(path: Path) -> int:
    """About how many lines a log has, by its size; at least 1."""
    return 1 + (path.stat().st_size // BYTES_A_LINE if path.exists() else 0)


def header() -> bytes:
    return BOM + line(COLUMNS).encode("utf-8")
