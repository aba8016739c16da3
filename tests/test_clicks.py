"""The real process, a real window, a real pointer: a whole lane is played by clicks."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from game.core import log

ROOT = Path(__file__).resolve().parent.parent
MOST_SECONDS = 120.0
LOOK_AGAIN_S = 0.02

no_screen = pytest.mark.skipif(
    not (shutil.which("Xvfb") and shutil.which("xdotool")), reason="needs Xvfb and xdotool, to click in a real window"
)
pytestmark = [no_screen, pytest.mark.slow]


@pytest.fixture
def display() -> Iterator[str]:
    """An X server of its own, on a display number that it finds free itself."""
    reading, writing = os.pipe()
    server = subprocess.Popen(
        ["Xvfb", "-displayfd", str(writing), "-screen", "0", "1366x768x24", "-nolisten", "tcp"],
        pass_fds=(writing,), stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
    )  # fmt: skip
    os.close(writing)
    try:
        with os.fdopen(reading) as pipe:
            number = pipe.readline().strip()
        assert number, "Xvfb did not start"
        yield f":{number}"
    finally:
        server.terminate()
        server.wait(10)


class Clicker:
    """Reads the journal of the running app, and clicks where it says that targets are."""

    def __init__(self, display: str, home: Path) -> None:
        self.journal = home / "journal.jsonl"
        self.environment = {**os.environ, "DISPLAY": display, "SDL_AUDIODRIVER": "dummy", "SDL_VIDEODRIVER": "x11"}
        words = ["--home", str(home), "--seed", "5", "--pace", "12", "--journal", str(self.journal)]
        self.app = subprocess.Popen(
            [sys.executable, "-m", "game", *words], cwd=ROOT, env=self.environment, stderr=subprocess.PIPE, text=True
        )
        self.pages: list[dict[str, Any]] = []
        self.played: list[str] = []
        self._read = 0

    def look(self) -> dict[str, Any]:
        """The page that is shown now."""
        if self.journal.exists():
            lines = self.journal.read_text(encoding="utf-8").splitlines(keepends=True)
            whole = [line for line in lines if line.endswith("\n")]
            for line in map(json.loads, whole[self._read :]):
                if "scene" in line:
                    self.pages.append(line)
                if "play" in line:
                    self.played.append(line["play"])
            self._read = len(whole)
        return self.pages[-1] if self.pages else {"scene": "", "targets": {}}

    def key(self, name: str) -> None:
        subprocess.run(["xdotool", "key", name], env=self.environment, check=True)
        time.sleep(20 * LOOK_AGAIN_S)

    def click(self, box: list[int]) -> None:
        x, y = box[0] + box[2] // 2, box[1] + box[3] // 2
        words = ["xdotool", "mousemove", str(x), str(y), "mousedown", "1", "mouseup", "1"]
        subprocess.run(words, env=self.environment, check=True)

    def wait_for_something(self) -> None:
        """Until the page has taken the click in; a click on a page that was not listening yet leads to nothing."""
        before = (len(self.pages), len(self.played))
        patient_until = time.monotonic() + 0.6
        while (len(self.pages), len(self.played)) == before and time.monotonic() < patient_until:
            time.sleep(LOOK_AGAIN_S)
            self.look()

    def pick(self, page: dict[str, Any]) -> str | None:
        """What a child touches next that answers wrong first, then right: the first two steps stay the only ones."""
        names = list(page["targets"])
        if page["scene"] == "opening":
            return "guest"
        if page["scene"] == "close":
            return "home" if "home" in names else None
        right = f"answer_{page.get('answer')}"
        answers = [name for name in names if name.startswith("answer_")]
        if right not in answers:
            return None
        lamps = sum(effect.startswith("lamp_") for effect in self.played)
        wrong_given = self.played.count("soft") > lamps
        return right if wrong_given else next(name for name in answers if name != right)


def test_keys_after_full_screen_and_back_reach_the_page(display: str, tmp_path: Path) -> None:
    clicker = Clicker(display, tmp_path)
    try:
        while clicker.look()["scene"] != "opening":
            assert clicker.app.poll() is None
            time.sleep(LOOK_AGAIN_S)
        time.sleep(10 * LOOK_AGAIN_S)
        for _ in range(4):
            clicker.key("F11")
            clicker.key("h")
            assert clicker.app.poll() is None, "the process died of a key after F11"
        clicker.key("Escape")
        assert clicker.look()["scene"] == "leave"
        clicker.key("Escape")
        clicker.click(clicker.look()["targets"]["guest"])
        time.sleep(10 * LOOK_AGAIN_S)
        assert clicker.look()["scene"] in ("lane", "task")
    finally:
        clicker.app.terminate()
        clicker.app.wait(10)


def test_a_whole_lane_is_played_by_clicks(display: str, tmp_path: Path) -> None:
    clicker = Clicker(display, tmp_path)
    began = time.monotonic()
    try:
        while clicker.look()["scene"] != "close" and time.monotonic() - began < MOST_SECONDS:
            page = clicker.look()
            name = clicker.pick(page)
            if name is not None:
                clicker.click(page["targets"][name])
                clicker.wait_for_something()
            assert clicker.app.poll() is None, clicker.app.stderr and clicker.app.stderr.read()
            time.sleep(LOOK_AGAIN_S)
        attempts = log.read(tmp_path / log.FILE_NAME).attempts
        assert [attempt.right for attempt in attempts] == [False, True] * 10
        assert {attempt.child for attempt in attempts} == {"guest"}
        assert [effect for effect in clicker.played if effect.startswith("lamp_")] == [
            f"lamp_{n}" for n in range(1, 11)
        ]
    finally:
        clicker.app.terminate()
        clicker.app.wait(10)
