"""How fast mastery is computed anew from a log of 320,000 attempts, against csv.reader alone."""

from __future__ import annotations

import csv
import tempfile
import time
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from game import paths, rehearsal
from game.core import log
from game.core.levels import load_levels
from game.core.mastery import rebuild
from tests.bench.report import Report

ATTEMPTS = 320_000
CHILDREN, LANES_A_CHILD = 30, 950


def large_log(folder: Path) -> Path:
    """A log of ATTEMPTS lines that rehearsing children left (the lines past them are cut off)."""
    levels = load_levels([paths.data("levels")])
    rehearsal.rehearse(levels, folder, CHILDREN, LANES_A_CHILD, 11, datetime(2026, 9, 7, 9, 0))
    path = folder / log.FILE_NAME
    with path.open("rb") as handle:
        lines = handle.readlines()
    if len(lines) <= ATTEMPTS:
        raise RuntimeError(f"the rehearsal left {len(lines) - 1} attempts; raise LANES_A_CHILD")
    path.write_bytes(b"".join(lines[: ATTEMPTS + 1]))
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


def run(report: Report) -> None:
    levels = load_levels([paths.data("levels")])
    with tempfile.TemporaryDirectory() as folder:
        path = large_log(Path(folder))
        floor = best(lambda: read_alone(path))
        ours = best(lambda: rebuild(log.evidence(path), levels.skills))
    report.add("csv.reader alone, 320,000 attempts", floor, "s", method="best of 3")
    report.add("replay of 320,000 attempts", ours, "s", method="best of 3")
    report.add("replay over csv.reader alone", ours / floor, "x", 3.0, method="same file, same run")
