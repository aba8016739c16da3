"""How fast mastery is computed anew from a log of 320,000 attempts, against csv.reader alone."""

from __future__ import annotations

import tempfile
from pathlib import Path

from game import paths
from game.core import replay
from game.core.levels import load_levels
from game.core.mastery import rebuild
from tests.bench.centre_year import best, centre_year, read_alone
from tests.bench.report import Report


def run(report: Report) -> None:
    levels = load_levels([paths.data("levels")])
    with tempfile.TemporaryDirectory() as folder:
        path = centre_year(Path(folder), levels)
        floor = best(lambda: read_alone(path))
        ours = best(lambda: rebuild(replay.evidence(path), levels.skills))
    report.add("csv.reader alone, 320,000 attempts", floor, "s", method="best of 3")
    report.add("replay of 320,000 attempts", ours, "s", method="best of 3")
    report.add("replay over csv.reader alone", ours / floor, "x", 3.0, method="same file, same run")
