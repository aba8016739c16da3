"""The page's cost: frame time, start, from a touch to the pixels, memory; each against a floor of plain pygame."""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from tests.bench.report import Report

ROOT = Path(__file__).resolve().parent.parent.parent
FRAMES, RUNS = 400, 9
P99_MS, P99_TIMES, START_TIMES, MEMORY_MB = 4.0, 4.0, 2.0, 120.0
INPUT_FRAMES = 1

BARE = """
import os, sys
sys.modules.setdefault("pkg_resources", None)
os.environ["PYGAME_HIDE_SUPPORT_PROMPT"] = "1"
os.environ["SDL_FRAMEBUFFER_ACCELERATION"] = "0"
import pygame
pygame.display.init()
pygame.display.set_mode((1280, 800), pygame.RESIZABLE).fill((42, 49, 87))
pygame.display.flip()
os._exit(0)
"""
OURS = """
import os, sys
from pathlib import Path
from game import __main__ as command
command.parser(command.needed([])).parse_args([])  # what `tenlamps` alone does before the window opens
from game import app
app.App.after_first_frame = lambda self: os._exit(0)
app.play(app.PlayOptions(home=Path(sys.argv[1]), child="guest"))
"""
MEMORY = """
import sys
from pathlib import Path
from tests.bench.memory import peak_mb
from tests.ui_player import Player
player = Player(Path(sys.argv[1]), kinds=("count_set", "pick_numeral", "make_ten", "one_fewer"))
player.touch("guest")
while player.scene.name != "close":
    player.app.frame([], 0.05)
    if player.scene.name == "task" and f"answer_{player.scene.task.answer}" in player.names():
        player.touch(f"answer_{player.scene.task.answer}")
    elif player.scene.name == "task":
        inviting = [n for n in player.names() if n.startswith("counter_")]
        folded = getattr(getattr(player.scene, "hands", None), "folded", [])
        inviting += [f"finger_{n}" for n in folded if f"finger_{n}" in player.names()]
        if inviting:
            player.touch(inviting[0])
print(peak_mb(), player.app.sitting.lit)
"""


def run(report: Report) -> None:
    """All figures; under SDL's dummy driver, so that no desktop's compositor is measured."""
    os.environ["SDL_VIDEODRIVER"] = os.environ["SDL_AUDIODRIVER"] = "dummy"
    _starts(report)
    _frames(report)
    _memory(report)


def p99(times: list[float]) -> float:
    return statistics.quantiles(times, n=100)[98]


def _environment() -> dict[str, str]:
    return {**os.environ, "PYTHONPATH": str(ROOT)}


def _process(code: str, home: str) -> float:
    """Milliseconds of a process; byte code is kept in `home`, as an installation keeps it."""
    kept = {k: v for k, v in _environment().items() if k != "PYTHONDONTWRITEBYTECODE"} | {"PYTHONPYCACHEPREFIX": home}
    began = time.perf_counter()
    subprocess.run([sys.executable, "-c", code, home], env=kept, cwd=ROOT, check=True)
    return (time.perf_counter() - began) * 1000


def _starts(report: Report) -> None:
    """The two are run in turn, so that what else the machine does meets both alike."""
    with tempfile.TemporaryDirectory() as home:
        pairs = [(_process(BARE, home), _process(OURS, home)) for _ in range(RUNS)]
    bare, ours = (min(times) for times in zip(*pairs, strict=True))
    report.add("start of a bare pygame window", bare, "ms", method=f"process, best of {RUNS}")
    report.add("start to the first frame of the lane", ours, "ms", method=f"process, best of {RUNS}")
    report.add("start, times the bare window", ours / bare, "x", START_TIMES)


def _timed(one_frame: Callable[[], None]) -> list[float]:
    """Milliseconds of processor time: what other work on the machine takes is not the page's cost."""
    times = []
    for _ in range(FRAMES):
        began = time.thread_time()
        one_frame()
        times.append((time.thread_time() - began) * 1000)
    return times


def _floor_ms() -> list[float]:
    """Fill, 40 blits of 96 pixels with alpha, flip: what any picture page costs."""
    import pygame

    surface = pygame.display.get_surface()
    sprite = pygame.Surface((96, 96), pygame.SRCALPHA).convert_alpha()
    pygame.draw.circle(sprite, (200, 90, 70, 255), (48, 48), 44)
    places = [(100 + 108 * (i % 10), 120 + 140 * (i // 10)) for i in range(40)]

    def one_frame() -> None:
        surface.fill((42, 49, 87))
        for place in places:
            surface.blit(sprite, place)
        pygame.display.flip()

    return _timed(one_frame)


def _frames(report: Report) -> None:
    from tests.ui_player import Player, task_of

    with tempfile.TemporaryDirectory() as home:
        player = Player(Path(home))
        scene = player.open(task_of("count_set", 10, "", "constructed", "scattered"))
        for thing in range(10):
            player.touch(f"thing_{thing}")
        scene.answers.dots = True
        player.pixels()
        times = _timed(lambda: player.app.frame([], 0.001))
        floor = p99(_floor_ms())
        report.add(
            "floor: fill, 40 blits, flip (p99)", floor, "ms", method=f"processor time, {FRAMES} frames, 1280 x 800"
        )
        report.add("fullest page, a whole frame (median)", statistics.median(times), "ms")
        report.add(
            "fullest page, a whole frame (p99)", p99(times), "ms", P99_MS, method="10 things tagged, path with dots"
        )
        report.add("fullest page, times the floor (p99)", p99(times) / floor, "x", P99_TIMES)
        report.add("from a press to the picture of it", _frames_until_seen(player), "frames", INPUT_FRAMES)
        player.close()


def _frames_until_seen(player: object) -> int:
    """Frames from the one that reads a press to the first that shows the pressed card."""
    from game.ui.input import Event
    from tests.ui_player import Player, task_of

    assert isinstance(player, Player)
    player.open(task_of("pick_numeral", 4, "heard", "choice4"))
    player.wait(8)
    player.pixels()
    target = next(target for target in player.scene.targets.all if target.name == "answer_4")
    view, surface = player.app.window.view, player.app.window.surface
    area = surface.subsurface(view.box(target.box))
    before = area.copy().get_buffer().raw
    for frame in range(1, 20):
        player.app.frame([Event("press", *target.box.centre)] if frame == 1 else [], 0.016)
        if area.copy().get_buffer().raw != before:
            return frame
    return 20


def _memory(report: Report) -> None:
    with tempfile.TemporaryDirectory() as home:
        done = subprocess.run(
            [sys.executable, "-c", MEMORY, home],
            env=_environment(),
            cwd=ROOT,
            check=True,
            capture_output=True,
            text=True,
        )
    megabytes, lit = map(float, done.stdout.split()[-2:])
    report.add("memory at most, after a whole lane", megabytes, "MB", MEMORY_MB, method=f"{lit:.0f} lamps lit")
