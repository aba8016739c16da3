"""When things go wrong: one sentence for the grown-up, details in the diagnostics, nothing for the child to see."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from game.core import log
from game.ui.diagnostics import FILE_NAME, MOST_BYTES, Diagnostics
from game.ui.input import Event
from game.ui.strip import Strip, lines_of
from tests.ui_player import Evening, Player

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture
def player(tmp_path: Path) -> Iterator[Player]:
    made = Player(tmp_path)
    yield made
    made.close()


def run_turns(player: Player, monkeypatch: pytest.MonkeyPatch, turns: int) -> int:
    """The app's own loop for so many turns."""
    left = [turns]

    def tick() -> float:
        left[0] -= 1
        if left[0] <= 0:
            player.app._ended = True
        return 0.016

    monkeypatch.setattr(player.app.window, "tick", tick)
    return player.app.run()


def test_an_unexpected_error_leads_back_to_the_opening(player: Player, monkeypatch: pytest.MonkeyPatch) -> None:
    player.touch("guest")
    scene = player.scene

    def broken(page: object) -> None:
        raise RuntimeError("a page that cannot be drawn")

    monkeypatch.setattr(scene, "draw", broken)
    assert run_turns(player, monkeypatch, 5) == 0
    assert player.scene.name == "opening"
    assert "all answers are saved" in player.app.strip.waiting[0]
    written = (player.app.options.home / FILE_NAME).read_text(encoding="utf-8")
    assert "RuntimeError: a page that cannot be drawn" in written and "Traceback" in written


def test_errors_that_come_again_and_again_end_the_app(
    player: Player, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def broken() -> None:
        raise RuntimeError("nothing can be drawn")

    monkeypatch.setattr(player.app, "draw", broken)
    assert run_turns(player, monkeypatch, 50) == 1
    said = capsys.readouterr().err
    assert "Traceback" not in said and said.count("\n") == 1 and FILE_NAME in said


def test_a_log_that_cannot_be_written_is_told_and_kept_elsewhere(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("game.paths.rescue_file", lambda folder: tmp_path / "rescue.csv")
    (tmp_path / log.FILE_NAME).mkdir()
    player = Player(tmp_path)
    player.touch("guest")
    player.until(lambda: player.scene.name == "task")
    player.wait(1)
    player.touch(f"answer_{player.scene.task.answer}")
    player.until(lambda: player.scene.name == "lane")
    assert player.app.sitting.lit == 1
    assert any("cannot be read" in sentence for sentence in player.app.strip.waiting)
    assert any("cannot be written" in sentence for sentence in player.app.strip.waiting)
    assert len(log.read(tmp_path / "rescue.csv").attempts) == 1
    player.close()


@pytest.mark.parametrize("driver", ["offscreen", "nothing_of_that_name", ""])
def test_no_screen_is_one_sentence_and_exit_2(tmp_path: Path, driver: str) -> None:
    environment = {name: value for name, value in os.environ.items() if name not in ("DISPLAY", "WAYLAND_DISPLAY")}
    environment["SDL_VIDEODRIVER"] = driver
    done = subprocess.run(
        [sys.executable, "-m", "game", "--home", str(tmp_path)],
        cwd=ROOT, env=environment, capture_output=True, text=True, timeout=60,
    )  # fmt: skip
    assert done.returncode == 2
    assert done.stderr.count("\n") == 1 and "no screen" in done.stderr


def test_a_child_nobody_knows_is_one_sentence(tmp_path: Path) -> None:
    from game.app import PlayOptions, play
    from game.core.errors import Trouble

    with pytest.raises(Trouble, match="Mirra"):
        play(PlayOptions(home=tmp_path, child="Mirra"), Evening())


def test_the_strip_tells_each_sentence_once_and_goes_away_by_a_touch() -> None:
    strip = Strip()
    for sentence in ("One thing.", "Another thing.", "One thing."):
        strip.tell(sentence)
    assert strip.waiting == ["One thing.", "Another thing."]
    assert strip.handle(Event("press", 600, 20)) and strip.handle(Event("release", 600, 20))
    assert strip.waiting == ["Another thing."]
    assert not strip.handle(Event("press", 600, 400))
    strip.handle(Event("press", 600, 20))
    strip.handle(Event("release", 600, 300))
    assert strip.waiting == ["Another thing."], "slid off"


def test_a_long_sentence_keeps_all_its_letters_in_lines_that_fit() -> None:
    sentence = f'/{"a" * 300}/levels.toml, step "scattered": numbers go to 12; use 0 to 10.'
    lines = lines_of(sentence, 80)
    assert max(map(len, lines)) <= 80
    assert "".join(lines).replace(" ", "") == sentence.replace(" ", "")


def test_diagnostics_say_a_thing_once_and_never_fill_the_disk(tmp_path: Path) -> None:
    diagnostics = Diagnostics(tmp_path, Evening())
    diagnostics.note("a missing picture")
    diagnostics.note("a missing picture")
    path = tmp_path / FILE_NAME
    assert path.read_text(encoding="utf-8").count("a missing picture") == 1
    path.write_bytes(b"x" * (MOST_BYTES + 1))
    diagnostics.note("another one")
    assert path.stat().st_size < 200


def test_diagnostics_that_cannot_be_written_are_let_go(tmp_path: Path) -> None:
    (tmp_path / FILE_NAME).mkdir()
    Diagnostics(tmp_path, Evening()).note("nowhere to write this")


def test_a_missing_picture_is_a_line_not_a_halt(player: Player) -> None:
    made = player.app.kit.pictures.picture("things/never_drawn", 90)
    assert made.get_size() == (90, 90) and made.get_at((45, 45)).a == 0
    assert any("never_drawn" in line for line in player.app.diagnostics.lines)
