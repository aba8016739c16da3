"""Reads the first tries of a log, and nothing else, fast enough for a centre's year at every start."""

from __future__ import annotations

import contextlib
import gc
from collections.abc import Iterator
from datetime import date, time
from pathlib import Path

from game.core.log import COLUMNS, FORM_OF, as_meant, rows_of
from game.core.mastery import Evidence
from game.core.records import Form


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
        self[cell] = FORM_OF.get(parts[1]) if len(parts) > 1 else None
        return self[cell]
