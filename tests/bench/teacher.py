"""The report of a centre-year against the replay alone; merging two of them against reading them; their memory."""

from __future__ import annotations

import csv
import subprocess
import sys
import tempfile
from datetime import date
from pathlib import Path
from shutil import copytree, rmtree

import html5lib

from game import paths
from game.core import replay
from game.core.levels import Levels, load_levels
from game.core.mastery import rebuild
from game.teacher import merge, report
from tests.bench.centre_year import best, centre_year, read_alone
from tests.bench.memory import peak_mb
from tests.bench.report import Report

DAY = date(2027, 9, 6)
ALONE = """
import sys
from datetime import date
from pathlib import Path
from game import paths
from game.core.levels import load_levels
from game.teacher import report
from tests.bench.memory import peak_mb
levels = load_levels([paths.data("levels")])
report.build(Path(sys.argv[1]), date.fromisoformat(sys.argv[2]), levels, paths.data("art"))
print(peak_mb())
"""


def run(bench: Report) -> None:
    levels = load_levels([paths.data("levels")])
    with tempfile.TemporaryDirectory() as temporary:
        root = Path(temporary)
        home = root / "home"
        path = centre_year(home, levels)
        _report(bench, home, path, levels)
        _merge(bench, root, home, path)


def _report(bench: Report, home: Path, path: Path, levels: Levels) -> None:
    floor = best(lambda: rebuild(replay.evidence(path), levels.skills))
    art = paths.data("art")
    ours = best(lambda: report.build(home, DAY, levels, art))
    html = report.build(home, DAY, levels, art)
    parser = html5lib.HTMLParser(strict=False)
    parser.parse(html)
    peak = subprocess.run(
        [sys.executable, "-c", ALONE, str(home), DAY.isoformat()], capture_output=True, text=True, check=True
    )
    bench.add("report of 30 children and 320,000 attempts", ours, "s", method="best of 3")
    bench.add("report over the replay alone", ours / floor, "x", 4.0, method="same file, same run")
    bench.add("report, peak memory", float(peak.stdout), "MB", 300.0, method="a process of its own")
    bench.add("report, size of the HTML", len(html.encode()) / 1e6, "MB", 3.0)
    bench.add("report, faults in the HTML", len(parser.errors), "", 0.0, method="html5lib")


def _merge(bench: Report, root: Path, home: Path, path: Path) -> None:
    """The other log has the same lines under other ids, so that all of them are new."""
    other = root / "other.csv"
    with (
        path.open(encoding="utf-8-sig", newline="") as handle,
        other.open("w", encoding="utf-8-sig", newline="") as out,
    ):
        writer = csv.writer(out, quoting=csv.QUOTE_ALL)
        writer.writerows(
            [*row[:18], row[18] if n == 0 else "y" + row[18], row[19]] for n, row in enumerate(csv.reader(handle))
        )
    floor = best(lambda: read_alone(path) + read_alone(other))
    here = root / "here"
    times: list[float] = []
    for _ in range(3):
        rmtree(here, ignore_errors=True)
        copytree(home, here)
        times.append(best(lambda: merge.merge_into(here, [other]), runs=1))
    known = best(lambda: merge.merge_into(here, [other]), runs=1)
    bench.add("csv.reader alone, both logs", floor, "s", method="best of 3")
    bench.add("merge of two logs of 320,000 lines, all new", min(times), "s", method="best of 3")
    bench.add("merge over csv.reader alone", min(times) / floor, "x", 3.0, method="same files, same run")
    bench.add("merge again, all known", known, "s", method="once; 640,000 lines are there")
    peak = peak_mb()
    bench.add("peak memory of this bench", peak, "MB", method="rehearsal included")
