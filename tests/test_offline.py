"""Nothing leaves the machine: no socket is opened while a lane is played, with window, sound and log."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent

WATCHED = """
import sys
opened = []
sys.addaudithook(lambda event, args: opened.append((event, args)) if event.startswith("socket.") else None)
from game.__main__ import main
code = main(sys.argv[1:])
print("SOCKETS", opened)
sys.exit(code)
"""


def watched(*words: str) -> str:
    env = {**os.environ, "SDL_VIDEODRIVER": "dummy", "SDL_AUDIODRIVER": "dummy"}
    done = subprocess.run(
        [sys.executable, "-c", WATCHED, *words], cwd=ROOT, env=env, capture_output=True, text=True, timeout=120
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_the_hook_sees_sockets():
    code = WATCHED.replace("code = main(sys.argv[1:])", "import socket; socket.socket(); code = 0")
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert "socket.__new__" in done.stdout


def test_a_rehearsed_session_opens_no_socket(tmp_path):
    assert "SOCKETS []" in watched("rehearse", "--children", "1", "--lanes", "1", "--home", str(tmp_path / "h"))


PLAYED = """
import sys
from pathlib import Path
opened = []
sys.addaudithook(lambda event, args: opened.append((event, args)) if event.startswith("socket.") else None)
from tests.ui_player import Player
player = Player(Path(sys.argv[1]), kinds=("count_set", "pick_numeral"))
player.key("right", "space")
for _ in range(10):
    player.until(lambda: player.scene.name == "task")
    player.wait(6.0)
    number = player.scene.task.answer
    player.key(*(("1", "0") if number == 10 else (str(number),)))
    player.wait(1.0)
    player.until(lambda: player.scene.name in ("lane", "close"))
print("LIT", player.app.sitting.lit)
player.close()
print("SOCKETS", opened)
"""


def test_a_lane_played_in_the_window_opens_no_socket(tmp_path):
    env = {**os.environ, "SDL_VIDEODRIVER": "dummy", "SDL_AUDIODRIVER": "dummy"}
    done = subprocess.run(
        [sys.executable, "-c", PLAYED, str(tmp_path)], cwd=ROOT, env=env, capture_output=True, text=True, timeout=300
    )
    assert "LIT 10" in done.stdout, done.stderr
    assert "SOCKETS []" in done.stdout
