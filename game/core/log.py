"""The attempt log: one CSV line an attempt, only ever appended, safe in a spreadsheet, never lost.

UTF-8 with a byte order mark, every cell quoted. Cells that a spreadsheet could run as a formula get an apostrophe in
front (OWASP, CSV Injection) and are read back without it.
"""

from __future__ import annotations

import contextlib
import csv
import gc
import io
import os
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time
from pathlib import Path
from typing import cast

from game.core.files import finish_swaps
from game.core.mastery import Evidence
from game.core.records import FORM_WORDS, Attempt, Form, Help

COLUMNS = (
    "date", "time", "child", "place", "hand", "skill", "step", "task", "shown", "asked", "answered", "right",
    "first_try", "help", "error", "seconds", "chance_known", "device", "attempt_id", "version",
)  # fmt: skip
FILE_NAME = "attempts.csv"
TORN_NAME = "attempts-torn.txt"
BOM = b"\xef\xbb\xbf"
_RISKY = ("=", "+", "-", "@", "\t", "\r", "\n", "'", "＝", "＋", "－", "＠")
_FORM_OF: dict[str, Form] = {word: form for form, word in FORM_WORDS.items()}
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
    if form not in _FORM_OF or cell["right"] not in _RIGHT or not cell["attempt_id"].strip():
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
        form=_FORM_OF[form],
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


def evidence(path: Path) -> list[Evidence]:
    """The first tries of a log, in the order in which they happened: all that mastery needs, read fast.

    Reads only the cells it needs; a line that is not an attempt is left out, as `read` leaves it out. The texts that
    come again and again are worked out once, and the lines are sorted only where they are out of order (a merged log).
    """
    with no_collecting():
        return _evidence(path)


@contextlib.contextmanager
def no_collecting() -> Iterator[None]:
    """While many records are made that all stay, looking for garbage among them takes a third of the time."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def _evidence(path: Path) -> list[Evidence]:
    days, times = _Days(), _Times()
    keys, forms = _StepKeys(), _Forms()
    known: set[str] = set()
    found: list[Evidence] = []
    order: list[str] = []
    last, in_order = "", True
    width = len(COLUMNS)
    for row in rows_of(path):
        if len(row) != width or row[12] != "yes":
            continue
        right, form, day, attempt_id = row[11], forms[row[7]], days[row[0]], row[18]
        if form is None or day is None or not times[row[1]] or (right != "yes" and right != "no"):
            continue
        child = row[2]
        if child.startswith("'"):
            child = child[1:]
        if attempt_id.startswith("'"):
            attempt_id = attempt_id[1:]
        if attempt_id in known:
            continue
        known.add(attempt_id)
        found.append(Evidence(day, child, keys[row[5], row[6]], form, right == "yes", attempt_id.rsplit("-", 2)[0]))
        now = row[0] + row[1] + attempt_id
        order.append(now)
        if now <= last:
            in_order = False
        last = now
    return found if in_order else _in_order(found, order)


def _in_order(found: list[Evidence], order: list[str]) -> list[Evidence]:
    """Sorted by time and id."""
    return [found[place] for place in sorted(range(len(order)), key=order.__getitem__)]


class _Days(dict[str, "int | None"]):
    """A date's text to its proleptic ordinal; None for a text that is no date."""

    def __missing__(self, text: str) -> int | None:
        try:
            self[text] = date.fromisoformat(text).toordinal()
        except ValueError:
            self[text] = None
        return self[text]


class _Times(dict[str, bool]):
    """Whether a text is a local time of day."""

    def __missing__(self, text: str) -> bool:
        try:
            self[text] = time.fromisoformat(text).tzinfo is None
        except ValueError:
            self[text] = False
        return self[text]


class _StepKeys(dict[tuple[str, str], str]):
    """A skill's and a step's cell to the step's key."""

    def __missing__(self, cells: tuple[str, str]) -> str:
        self[cells] = f"{as_meant(cells[0])}.{as_meant(cells[1])}"
        return self[cells]


class _Forms(dict[str, "Form | None"]):
    """A task's cell to the form of its answer; None when it names none."""

    def __missing__(self, cell: str) -> Form | None:
        parts = cell.split(", ", 2)
        self[cell] = _FORM_OF.get(parts[1]) if len(parts) > 1 else None
        return self[cell]


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
