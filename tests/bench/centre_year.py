"""A log of 320,000 attempts (about a centre's year), and the shortest of some runs: what several benches share."""

from __future__ import annotations

import csv
import time
from collections.abc import Callable
from datetime import datetime
from itertools import count
from pathlib import Path

from game import rehearsal
from game.core import log
from game.core.levels import Levels

ATTEMPTS = 320_000
CHILDREN, LANES_A_CHILD = 30, 40


def centre_year(home: Path, levels: Levels) -> Path:
    """A log of ATTEMPTS lines in order: lanes of rehearsing children, repeated under other ids until they suffice.

    Rehearsing them all would take minutes, most of it for judging ink.
    """
    rehearsal.rehearse(levels, home, CHILDREN, LANES_A_CHILD, 11, datetime(2026, 9, 7, 9, 0))
    path = home / log.FILE_NAME
    played = list(log.rows_of(path))
    rows: list[list[str]] = []
    for number in count():
        rows.extend([*row[:18], row[18] if number == 0 else f"{number}x{row[18]}", row[19]] for row in played)
        if len(rows) >= ATTEMPTS:
            break
    rows = sorted(rows[:ATTEMPTS], key=lambda row: (row[0], row[1], row[18]))
    with path.open("w", encoding="utf-8-sig", newline="") as handle:
        writer = csv.writer(handle, quoting=csv.QUOTE_ALL)
        writer.writerow(log.COLUMNS)
        writer.writerows(rows)
    return path


def best(what: Callable[[], object], runs: int = 3) -> float:
    """The shortest of some runs, in seconds."""
    times = []
    for _ in range(runs):
        began = time.perf_counter()
        what()
        times.append(time.perf_counter() - began)
    return min(times)


def read_alone(path: Path) -> int:
    with path.open(encoding="utf-8-sig", newline="") as handle:
        return sum(1 for _ in csv.reader(handle))
