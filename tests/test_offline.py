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
