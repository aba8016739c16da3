"""The real process, a real window, a real pointer: a 2 is traced, a 10 copied, "ten" written, by each hand."""

from __future__ import annotations

import json
import math
import os
import shutil
import subprocess
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from game import paths
from game.core import ink, log, phrases
from game.core.layout import Point
from game.core.records import Hand
from game.core.writing.forms import load_forms
from game.ui.desk import Desk
from game.ui.window import View
from tests.test_clicks import display as display
from tests.writing_hand import shaky

ROOT = Path(__file__).resolve().parent.parent
VIEW = View.of((1024, 640))
"""A window that fits the screen of 1366 x 768 with its frame."""
MOST_SECONDS = 150.0
LEVEL = """
skill = "desk"
title = "At the desk"
""" + "".join(
    f'[[step]]\nid = "{way}"\ntitle = "{way}"\ntask = "{task}"\nway = "{way}"\nnumbers = [{number}]\n'
    'answer = "own answer"\nstandard = "K.CC.A.3"\n'
    for task, way, number in (
        ("write_numeral", "trace", 2),
        ("write_numeral", "copy", 10),
        ("write_word", "memory", 10),
    )
)
PROGRAM = """
import sys
from pathlib import Path
from game import paths
shipped, home = paths.data, Path(sys.argv[1])
paths.data = lambda name: home / "desk" if name == "levels" else shipped(name)
from game.app import PlayOptions, play
sys.exit(play(PlayOptions(home, seed=3, size=(1024, 640), pace=10.0, journal=home / "journal.jsonl", child="Mira")))
"""
"""The app with one level, so that all three ways come in every lane."""

no_screen = pytest.mark.skipif(
    not (shutil.which("Xvfb") and shutil.which("xdotool")), reason="needs Xvfb and xdotool, to write in a real window"
)
pytestmark = [no_screen, pytest.mark.slow]


class Writer:
    """Reads what the running app says, and moves the real pointer."""

    def __init__(self, display: str, home: Path, hand: Hand) -> None:
        (home / "children.csv").write_text(f"id,nickname,badge,hand,notes\nMira~1,Mira,owl,{hand},\n", encoding="utf-8")
        (home / "desk").mkdir()
        (home / "desk" / "forms").symlink_to(paths.data("levels") / "forms")
        (home / "desk" / "desk.toml").write_text(LEVEL, encoding="utf-8")
        self.journal, self.hand = home / "journal.jsonl", hand
        self.environment = {
            **os.environ, "DISPLAY": display, "SDL_AUDIODRIVER": "dummy", "SDL_VIDEODRIVER": "x11",
            "SDL_VIDEO_WINDOW_POS": "0,0",
        }  # fmt: skip
        words = [sys.executable, "-c", PROGRAM, str(home)]
        self.app = subprocess.Popen(words, cwd=ROOT, env=self.environment, stderr=subprocess.PIPE, text=True)

    def lines(self) -> list[dict[str, Any]]:
        text = self.journal.read_text(encoding="utf-8") if self.journal.exists() else ""
        return [json.loads(line) for line in text.splitlines(keepends=True) if line.endswith("\n")]

    def said_since(self, start: int) -> list[str]:
        return [clip for line in self.lines()[start:] for clip in line.get("say", ())]

    def until(self, true: Callable[[], Any]) -> Any:
        """Wait for something that holds, and give it."""
        began = time.monotonic()
        while not (found := true()):
            assert self.app.poll() is None, self.app.stderr and self.app.stderr.read()
            assert time.monotonic() - began < MOST_SECONDS / 3, self.lines()[-3:]
            time.sleep(0.02)
        return found

    def next_task(self, start: int) -> tuple[int, dict[str, Any]]:
        """The next page with a task and the number of its line in the journal."""
        return self.until(
            lambda: next(((n, e) for n, e in enumerate(self.lines()) if n >= start and e.get("task")), None)
        )

    def move(self, strokes: Sequence[Sequence[Point]]) -> None:
        """Draw strokes, given in pixels of the window."""
        words = ["xdotool"]
        for stroke in strokes:
            words += ["mousemove", *_at(stroke[0]), "mousedown", "1"]
            for point in stroke[1:]:
                words += ["mousemove", *_at(point), "sleep", "0.004"]
            words += ["mouseup", "1", "sleep", "0.05"]
        subprocess.run(words, env=self.environment, check=True)

    def write_strokes(self, strokes: Sequence[Sequence[Point]]) -> None:
        """Draw strokes, given in units of the page."""
        self.move([[VIEW.to_window(*point) for point in stroke] for stroke in strokes])

    def desk(self, symbol: str, tracing: bool) -> Desk:
        form = load_forms(paths.data("levels") / "forms").taught(symbol, self.hand)
        letters = [1] * len(form.strokes) if symbol == "ten" else [len(form.strokes)]
        return Desk(form, letters, tracing, self.hand == "left", VIEW)

    def write(self, start: int, page: dict[str, Any]) -> None:
        """The whole answer to the task on this page."""
        way, word = page["way"], page["task"] == "write_word"
        symbol = "ten" if word else str(page["answer"])
        desk = self.desk(symbol, way == "trace")
        if way == "trace":
            self.until(lambda: phrases.ASK_TRACE in self.said_since(start))
            time.sleep(0.6)  # the mole is asked to finish its sentence first
            self.stray(start, desk.way_of[0][0])
        else:
            asked = (phrases.ask_copy if way == "copy" else phrases.ask_write)(page["answer"], word)
            self.until(lambda: asked in self.said_since(start))
            time.sleep(0.1)
        self.write_strokes([shaky(line) for line in desk.way_of])
        if way != "trace":
            box = self.until(lambda: self.lines()[-1].get("targets", {}).get("done") or self._done_box(start))
            time.sleep(0.15)
            self.move([[(box[0] + box[2] / 2, box[1] + box[3] / 2)]])
        self.until(lambda: phrases.wrote(page["answer"], word) in self.said_since(start))

    def stray(self, start: int, dot: Point) -> None:
        """Leave the way once: kindly called back, nothing lost."""
        self.write_strokes([[dot, *((dot[0] - 12 * n, dot[1] + 10 * n) for n in range(1, 14))]])
        self.until(lambda: phrases.TRACE_BACK in self.said_since(start))

    def _done_box(self, start: int) -> list[int] | None:
        found = [line["targets"]["done"] for line in self.lines()[start:] if "done" in line.get("targets", {})]
        return found[-1] if found else None


def _at(point: Point) -> list[str]:
    return [str(round(point[0])), str(round(point[1]))]


@pytest.fixture
def writer(request: pytest.FixtureRequest, display: str, tmp_path: Path) -> Iterator[Writer]:
    made = Writer(display, tmp_path, request.param)
    yield made
    made.app.terminate()
    made.app.wait(10)


@pytest.mark.parametrize("writer", ["right", "left"], indirect=True)
def test_a_real_pointer_traces_copies_and_writes_with_the_right_feedback(writer: Writer, tmp_path: Path) -> None:
    line, ways = 0, set()
    while ways != {"trace", "copy", "memory"}:
        line, page = writer.next_task(line)
        writer.write(line, page)
        ways.add(page["way"])
        line = writer.until(
            lambda at=line: next((n for n, e in enumerate(writer.lines()) if n > at and e.get("scene") == "lane"), None)
        )
    attempts = log.read(tmp_path / log.FILE_NAME).attempts
    assert all(a.right and a.first_try and a.hand == writer.hand and not a.error for a in attempts), attempts
    assert {a.asked for a in attempts} == {"2", "10", "ten"}
    held = {one.attempt_id: one for one in ink.read(tmp_path / ink.FILE_NAME)}
    assert {a.attempt_id for a in attempts} <= set(held)
    for one in held.values():
        assert one.hand == writer.hand and one.strokes
        for stroke in one.strokes:
            gaps = [math.dist(a[:2], b[:2]) for a, b in pairwise(stroke)]
            assert max(gaps, default=0) < 60, "no point of the real pointer was lost"
