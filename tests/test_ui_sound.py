"""What is heard: clips in turn by their lengths, a missing file as silence, no device without a halt."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pygame
import pytest

from game import paths
from game.core import phrases
from game.core.settings import VOLUME_CAP
from game.ui import look
from game.ui.diagnostics import FILE_NAME, Diagnostics
from game.ui.journal import Journal
from game.ui.sound import NO_SOUND, Sound
from tests.ui_player import Player


def made(home: Path, volume: float = 1.0) -> tuple[Sound, Diagnostics, Path]:
    diagnostics = Diagnostics(home, lambda: datetime(2026, 3, 2))
    journal = home / "said.jsonl"
    return (
        Sound(paths.data("sounds"), "en", home / "voice", volume, diagnostics, Journal(journal)),
        diagnostics,
        journal,
    )


@pytest.fixture
def sound(tmp_path: Path) -> Iterator[Sound]:
    playing, _, _ = made(tmp_path)
    assert playing.start() is None
    yield playing
    pygame.mixer.quit()


def seconds_until_quiet(sound: Sound) -> float:
    waited = 0.0
    while not sound.quiet():
        sound.update(0.01)
        waited += 0.01
        assert waited < 60
    return waited


def test_a_speech_lasts_as_long_as_its_clips(sound: Sound) -> None:
    clips = (phrases.number(3), phrases.total(7, "kite"))
    lengths = [pygame.mixer.Sound(paths.data("sounds") / "en" / "voice" / f"{clip}.ogg").get_length() for clip in clips]
    sound.say(*clips)
    assert seconds_until_quiet(sound) == pytest.approx(sum(lengths) + 2 * look.CLIP_GAP_S, abs=0.05)


def test_a_recording_of_ones_own_is_heard_in_place_of_the_clip(tmp_path: Path) -> None:
    import soundfile

    (tmp_path / "voice").mkdir()
    soundfile.write(tmp_path / "voice" / "number_3.wav", [0.0] * 16000 * 3, 16000)
    (tmp_path / "voice" / "number_4.wav").write_bytes(b"no sound at all")
    sound, diagnostics, _ = made(tmp_path)
    assert sound.start() is None
    sound.say(phrases.number(3))
    assert seconds_until_quiet(sound) == pytest.approx(3.0 + look.CLIP_GAP_S, abs=0.05)
    sound.say(phrases.number(4))
    assert 0.3 < seconds_until_quiet(sound) < 2.0, "a recording that is none gives way to the clip of the app"
    assert "number_4.wav" in diagnostics.lines[-1]
    pygame.mixer.quit()


def test_a_newer_speech_breaks_off_the_older_one(sound: Sound) -> None:
    sound.say(phrases.number(3), phrases.number(4))
    sound.say(phrases.number(5))
    length = pygame.mixer.Sound(paths.data("sounds") / "en" / "voice" / "number_5.ogg").get_length()
    assert seconds_until_quiet(sound) == pytest.approx(length + look.CLIP_GAP_S, abs=0.05)


def test_a_missing_clip_is_silence_and_a_line(tmp_path: Path) -> None:
    sound, diagnostics, journal = made(tmp_path)
    sound.start()
    sound.say("never_recorded")
    sound.play("never_rendered")
    assert 0.5 < seconds_until_quiet(sound) < 3
    assert [line.split(":")[0].rsplit("/")[-1] for line in diagnostics.lines] == [
        "never_recorded.ogg",
        "never_rendered.ogg",
    ]
    assert "never_recorded" in (tmp_path / FILE_NAME).read_text(encoding="utf-8")
    assert [json.loads(line) for line in journal.read_text().splitlines()] == [
        {"say": ["never_recorded"]}, {"play": "never_rendered"},
    ]  # fmt: skip
    pygame.mixer.quit()


def test_what_is_said_before_the_mixer_opens_is_said_afterwards(tmp_path: Path) -> None:
    sound, _, _ = made(tmp_path)
    sound.say(phrases.HELLO_LANE)
    sound.update(5.0)
    assert not sound.quiet()
    sound.start()
    sound.update(0.01)
    assert seconds_until_quiet(sound) > 1
    pygame.mixer.quit()


def test_without_a_device_the_grown_up_is_told_and_time_goes_on(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SDL_AUDIODRIVER", "nothing_of_that_name")
    sound, _, _ = made(tmp_path)
    assert sound.start() == NO_SOUND
    sound.say(phrases.HELLO_LANE)
    sound.update(0.01)
    assert seconds_until_quiet(sound) > 1
    pygame.mixer.quit()


def test_the_volume_is_capped(tmp_path: Path) -> None:
    sound, _, _ = made(tmp_path, volume=5.0)
    sound.start()
    sound.say(phrases.number(1))
    sound.play("tag")
    assert all(held is not None and held.get_volume() <= VOLUME_CAP + 0.01 for held in sound._held.values())
    pygame.mixer.quit()


def test_every_page_speaks_and_the_mole_says_it_again(tmp_path: Path) -> None:
    player = Player(tmp_path)
    assert player.said() == ["hello_guest"]
    player.touch("mole")
    assert player.said() == ["hello_guest"] * 2
    player.touch("guest")
    player.until(lambda: player.scene.name == "task")
    player.wait(0.2)
    task = player.scene.task
    before = len(player.said())
    assert tuple(player.said()[-len(task.prompt) :]) == task.prompt
    player.key("h")
    assert tuple(player.said()[before:]) == task.prompt
    player.close()


def test_everything_that_was_said_can_be_recorded_by_a_teacher(tmp_path: Path) -> None:
    """Whatever the pages say is one of the clips of the script."""
    player = Player(tmp_path)
    player.touch("guest")
    player.wait(20)
    player.key("escape")
    assert set(player.said()) <= phrases.all_clips()
    player.close()
