"""The scripts that make clips: what they render again, where they cut, what they do with a teacher's recording."""

from __future__ import annotations

import shutil
import sys
from pathlib import Path

import numpy as np
import pyloudnorm
import pytest
import soundfile
from scipy.signal import resample_poly

SOUNDS = Path(__file__).resolve().parent.parent / "sounds"
sys.path.insert(0, str(SOUNDS))
import finish  # noqa: E402
import own_voice  # noqa: E402
import render  # noqa: E402

SCRIPT = '[voice]\nlanguage = "en"\n[clips]\nhint_try = "Have another try."\nhint_listen = "Listen once more."\n'


@pytest.fixture
def sounds(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A sounds folder with a script of two clips, one of which is spoken."""
    (tmp_path / "en" / "voice").mkdir(parents=True)
    (tmp_path / "en" / "script.toml").write_text(SCRIPT, encoding="utf-8")
    shutil.copy(SOUNDS / "en" / "voice" / "hint_try.ogg", tmp_path / "en" / "voice")
    monkeypatch.setattr(own_voice, "HERE", tmp_path)
    return tmp_path


def take_in(recordings: Path, monkeypatch: pytest.MonkeyPatch) -> int:
    monkeypatch.setattr(sys, "argv", ["own_voice.py", str(recordings)])
    return own_voice.main()


def tone(seconds: float, level: float, rate: int = finish.RATE) -> np.ndarray:
    return level * np.sin(2 * np.pi * 440 * np.arange(int(seconds * rate)) / rate)


def test_a_clip_is_stale_when_it_is_missing_or_its_text_changed(sounds: Path):
    clips = {"hint_try": "Have another try.", "hint_listen": "Listen once more."}
    assert render.stale_clips(clips, sounds / "en" / "voice") == {"hint_listen": "Listen once more."}
    clips["hint_try"] = "Try once more."
    assert render.stale_clips(clips, sounds / "en" / "voice") == clips


def test_a_lone_word_is_cut_from_its_carrier_in_the_pause_between_them():
    """Two tones for carrier and word; a gap of 0.05 s inside the carrier is no pause."""
    carrier = np.concatenate([tone(0.2, 0.5), np.zeros(1200), tone(0.2, 0.5)])
    pause, word = np.zeros(7200), tone(0.3, 0.25)
    rest = render.after_first_pause(np.concatenate([np.zeros(4800), carrier, pause, word]))
    assert len(word) <= len(rest) <= len(word) + len(pause)
    assert np.abs(rest).max() == pytest.approx(0.25, abs=0.01)


def test_trimming_keeps_a_soft_consonant():
    """A hiss 46 dB under the vowel, as th can be, stays; the silence before it goes."""
    hiss = 0.005 * np.random.default_rng(1).standard_normal(2400)
    trimmed = finish.trim(np.concatenate([np.zeros(12000), hiss, tone(0.3, 0.9), np.zeros(12000)]))
    kept = len(hiss) + int(0.3 * finish.RATE)
    assert kept <= len(trimmed) <= kept + int(0.14 * finish.RATE)


@pytest.mark.parametrize("lufs", [-18.0, -30.0])
def test_loudness_is_reached_with_the_peak_under_its_limit(lufs: float):
    """A tone with one sharp click: the loudness by pyloudnorm, as in ITU-R BS.1770-4 (memory)."""
    sound = tone(1.0, 0.3)
    sound[12000] = 1.0
    finished = finish.set_loudness(sound, lufs, -6.0)
    assert pyloudnorm.Meter(finish.RATE).integrated_loudness(finished) == pytest.approx(lufs, abs=0.5)
    assert finish.true_peak(finished) <= -5.5


def test_a_quiet_stereo_recording_takes_the_place_of_the_clip(sounds: Path, monkeypatch: pytest.MonkeyPatch):
    speech, _ = soundfile.read(SOUNDS / "en" / "voice" / "hint_listen.ogg")
    quiet = 0.05 * resample_poly(speech, 147, 80)  # 24 kHz to 44.1 kHz
    room = 0.0003 * np.random.default_rng(2).standard_normal(len(quiet) + 88_200)
    room[44_100:-44_100] += quiet
    recordings = sounds / "recordings"
    recordings.mkdir()
    soundfile.write(recordings / "hint_listen.wav", np.stack([room, room], axis=1), 44_100)
    assert take_in(recordings, monkeypatch) == 0
    samples, rate = soundfile.read(sounds / "en" / "voice" / "hint_listen.ogg")
    assert (rate, samples.ndim) == (24_000, 1)
    assert pyloudnorm.Meter(rate).integrated_loudness(samples) == pytest.approx(-18, abs=1)
    assert len(samples) == pytest.approx(len(speech), abs=0.25 * rate)  # the two seconds of room are gone
    assert render.stale_clips({"hint_listen": "Listen once more."}, sounds / "en" / "voice") == {}


def silent_recording(folder: Path) -> None:
    soundfile.write(folder / "hint_listen.wav", np.zeros(8000), 8000)


def unknown_name(folder: Path) -> None:
    soundfile.write(folder / "hint_lissen.wav", tone(1, 0.5), 24_000)


def no_sound_file(folder: Path) -> None:
    (folder / "hint_listen.wav").write_text("not sound", encoding="utf-8")


@pytest.mark.parametrize("spoil", [silent_recording, unknown_name, no_sound_file])
def test_a_recording_that_cannot_be_used_is_named_and_nothing_is_written(
    spoil, sounds: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    recordings = sounds / "recordings"
    recordings.mkdir()
    soundfile.write(recordings / "hint_try.wav", tone(1, 0.5), 24_000)
    spoil(recordings)
    before = (sounds / "en" / "voice" / "hint_try.ogg").read_bytes()
    assert take_in(recordings, monkeypatch) == 2
    lines = capsys.readouterr().err.splitlines()
    assert len(lines) == 1 and "hint_lis" in lines[0]
    assert [path.name for path in (sounds / "en" / "voice").iterdir()] == ["hint_try.ogg"]
    assert (sounds / "en" / "voice" / "hint_try.ogg").read_bytes() == before


def test_a_bad_script_is_named_in_one_sentence(tmp_path: Path):
    script = tmp_path / "script.toml"
    script.write_text('[clips]\nhint_try = ""\n', encoding="utf-8")
    with pytest.raises(ValueError, match="clip hint_try needs a text"):
        render.read_script(script)
