"""What the tests of the grown-ups' side share: a class that has played, lines by hand, a browser without a window."""

from __future__ import annotations

import csv
import shutil
import subprocess
import tempfile
from collections.abc import Iterable, Sequence
from datetime import date, datetime
from pathlib import Path
from random import Random

from game import paths, rehearsal
from game.core import log, roster
from game.core.levels import Levels
from game.core.records import BADGES, Child
from game.teacher import report

FIRST_DAY = datetime(2026, 9, 7, 9, 0)
REPORT_DAY = date(2026, 11, 24)
ART = paths.data("art")

ODD_NICKNAMES = (
    "<b>x</b>",
    "=1+1",
    "../x",
    "L" + "o" * 198 + "g",
    "שירה",
    "🦔🌟",
    "Anna \"Nan\" & Co, Ltd.; 'q'",
    "@cmd",
    "{{ 7*7 }}",
)

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
NO_CHROMIUM = "needs chromium (Debian: apt-get install chromium)"
FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync", "--disable-extensions", "--hide-scrollbars",
    "--host-resolver-rules=MAP * ~NOTFOUND",
)  # fmt: skip


def a_class(home: Path, levels: Levels, children: int = 8, lanes: int = 12, seed: int = 3) -> Path:
    rehearsal.rehearse(levels, home, children, lanes, seed, FIRST_DAY)
    return home


def report_of(home: Path, levels: Levels, child: str | None = None, day: date = REPORT_DAY) -> str:
    return report.build(home, day, levels, ART, child)


def row(n: int = 1, **cells: str) -> list[str]:
    """One line of a log as cells, with those given."""
    held = dict(
        zip(
            log.COLUMNS,
            (
                "2026-10-05", f"09:{n // 60 % 60:02}:{n % 60:02}", "Ada~aaaa", "centre", "right", "count_set",
                "three_in_a_line", "count_set, 1 of 3, new", "3 kite, line", "how many", "3", "yes", "yes", "none",
                "", "2.5", "0.4226", "lamp1", f"lamp1-{n // 10:010x}-{n % 10 + 1:02}-1", "0.1.0",
            ),
            strict=True,
        )
    )  # fmt: skip
    return [*{**held, **cells}.values()]


def write_log(path: Path, rows: Iterable[Sequence[str]]) -> Path:
    """A log written by the csv module alone."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("w", encoding="utf-8-sig", newline="") as handle:
        writer = csv.writer(handle, quoting=csv.QUOTE_ALL)
        writer.writerow(log.COLUMNS)
        writer.writerows(rows)
    return path


def read_log(path: Path) -> list[list[str]]:
    """The lines of a log, read by the csv module alone."""
    with path.open(encoding="utf-8-sig", newline="") as handle:
        return list(csv.reader(handle))[1:]


def list_of(home: Path, nicknames: Iterable[str]) -> list[Child]:
    """Writes a class list with these nicknames and gives the children."""
    listed, rng = roster.Roster(), Random(5)
    for number, name in enumerate(nicknames):
        badge = BADGES[number % len(BADGES)]
        listed = roster.with_child(listed, roster.new_child(listed, name, badge, "right", rng))
    home.mkdir(parents=True, exist_ok=True)
    roster.save(home, listed)
    return list(listed.children)


def browse(page: Path, *words: str) -> subprocess.CompletedProcess[str]:
    """Open a page in the browser with a fresh profile."""
    assert CHROMIUM is not None
    with tempfile.TemporaryDirectory(prefix="browser-") as profile:
        return subprocess.run(
            [CHROMIUM, *FLAGS, f"--user-data-dir={profile}", *words, page.absolute().as_uri()],
            capture_output=True, text=True, timeout=180, check=True,
        )  # fmt: skip


def printed(page: Path, to: Path) -> Path:
    browse(page, "--no-pdf-header-footer", f"--print-to-pdf={to}")
    return to
