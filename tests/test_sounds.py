"""The spoken clips and the effects: nothing missing, nothing unused, every level where it should be.

Loudness by pyloudnorm, which follows ITU-R BS.1770-4 (memory); true peak as in its annex 2, on four times as many
samples (memory). That -18 LUFS suits speech on small loudspeakers is practice.
"""

from __future__ import annotations

import ast
import tomllib
from pathlib import Path
from typing import NamedTuple

import numpy as np
import pyloudnorm
import pytest
import soundfile
from scipy.signal import resample_poly

from game.core import phrases

pytestmark = pytest.mark.slow

ROOT = Path(__file__).resolve().parent.parent
SOUNDS = ROOT / "sounds"
CLIPS: dict[str, str] = tomllib.loads((SOUNDS / "en" / "script.toml").read_text(encoding="utf-8"))["clips"]
VOICE_FILES = sorted((SOUNDS / "en" / "voice").iterdir())
EFFECT_FILES = sorted((SOUNDS / "effects").iterdir())
EFFECTS = {*(f"lamp_{n}" for n in range(1, 11)), "step", "page", "soft", "tap", "tag"} | {
    *("raise", "lower", "place", "lift", "glow")
}


class Measured(NamedTuple):
    samples: np.ndarray
    rate: int
    title: str
    lufs: float
    peak: float  # dBTP

    @property
    def seconds(self) -> float:
        return len(self.samples) / self.rate


def measure(path: Path) -> Measured:
    with soundfile.SoundFile(path) as file:
        samples, rate, title = file.read(), file.samplerate, file.copy_metadata().get("title", "")
    shortest = np.pad(samples, (0, max(0, rate * 4 // 10 - len(samples))))
    lufs = pyloudnorm.Meter(rate).integrated_loudness(shortest)
    peak = 20 * np.log10(np.abs(resample_poly(samples, 4, 1)).max())
    return Measured(samples, rate, title, lufs, peak)


@pytest.fixture(scope="module")
def voice() -> dict[str, Measured]:
    return {path.stem: measure(path) for path in VOICE_FILES}


@pytest.fixture(scope="module")
def effects() -> dict[str, Measured]:
    return {path.stem: measure(path) for path in EFFECT_FILES}


def test_every_line_of_the_script_has_its_file_and_every_file_its_line():
    assert {path.name for path in VOICE_FILES} == {f"{clip}.ogg" for clip in CLIPS}


def test_the_script_speaks_all_that_the_app_can_ask_for_and_no_more():
    assert set(CLIPS) == phrases.all_clips()


def test_every_clip_was_spoken_from_the_text_in_the_script(voice: dict[str, Measured]):
    assert {clip: heard.title for clip, heard in voice.items()} == CLIPS


def test_every_clip_is_mono_and_as_loud_as_the_others(voice: dict[str, Measured]):
    # EBU R 128 (2020; copy): the measure, here by PyPI pyloudnorm; prompts at -18 LUFS +-1 (AES TD1008; copy)
    wrong = {
        clip: (heard.samples.ndim, round(heard.lufs, 1), round(heard.peak, 1))
        for clip, heard in voice.items()
        if heard.samples.ndim != 1 or heard.rate != 24_000 or not -19 <= heard.lufs <= -17 or heard.peak >= -1
    }
    assert wrong == {}


def test_no_clip_is_cut_short_or_drags(voice: dict[str, Measured]):
    """A word takes from a fifth of a second to one second; the margins around it are counted in."""
    words = {clip: len(text.split()) for clip, text in CLIPS.items()}
    wrong = {
        clip: round(heard.seconds, 2)
        for clip, heard in voice.items()
        if not 0.2 * words[clip] <= heard.seconds <= 1.0 * words[clip]
    }
    assert wrong == {}


def test_every_clip_begins_and_ends_in_quiet_and_soon(voice: dict[str, Measured]):
    """The first and last 10 ms are quiet: nothing was cut off. The loud part starts and ends close to them."""
    for clip, heard in voice.items():
        level = np.abs(heard.samples) / np.abs(heard.samples).max()
        edge = heard.rate // 100
        assert max(level[:edge].max(), level[-edge:].max()) < 0.05, clip
        loud = np.flatnonzero(level > 0.1)
        assert loud[0] < 0.30 * heard.rate, clip
        assert len(level) - loud[-1] < 0.45 * heard.rate, clip


def test_the_voice_stays_small_on_disk():
    assert sum(path.stat().st_size for path in VOICE_FILES) < 9_000_000


def test_every_effect_is_there_and_none_is_unused():
    assert {path.name for path in EFFECT_FILES} == {f"{name}.ogg" for name in EFFECTS}


def effects_named_in_code() -> set[str]:
    """The texts handed to `play(...)` anywhere in the user interface."""
    trees = [ast.parse(path.read_text(encoding="utf-8")) for path in (ROOT / "game" / "ui").rglob("*.py")]
    calls = [node for tree in trees for node in ast.walk(tree) if isinstance(node, ast.Call)]
    asked = [call for call in calls if isinstance(call.func, ast.Attribute) and call.func.attr == "play"]
    parts = [part for call in asked for argument in call.args for part in ast.walk(argument)]
    return {p.value for p in parts if isinstance(p, ast.Constant) and isinstance(p.value, str)}


def test_the_app_plays_only_effects_that_exist():
    named = effects_named_in_code() - {"lamp_"}  # followed by the number of the lamp
    assert named and named <= EFFECTS


def test_every_effect_stays_under_the_voice(voice: dict[str, Measured], effects: dict[str, Measured]):
    softest_voice = min(heard.lufs for heard in voice.values())
    for name, heard in effects.items():
        assert heard.samples.ndim == 1, name
        assert heard.lufs <= softest_voice - 4, name
        assert heard.lufs >= -36, name  # still heard
        assert heard.peak <= -10, name
        assert 0.05 <= heard.seconds <= 2, name


def test_every_effect_begins_softly(effects: dict[str, Measured]):
    """In the first two milliseconds no effect reaches a third of its height, so none startles or clicks."""
    for name, heard in effects.items():
        assert np.abs(heard.samples[: heard.rate // 500]).max() < np.abs(heard.samples).max() / 3, name


def strongest_hertz(heard: Measured) -> float:
    spectrum = np.abs(np.fft.rfft(heard.samples, 8 * len(heard.samples)))
    return float(np.argmax(spectrum)) * heard.rate / (8 * len(heard.samples))


def test_the_lamps_rise_along_a_five_note_scale_and_the_second_row_is_an_octave_up(effects: dict[str, Measured]):
    """Steps of 2, 2, 3, 2 semitones make the major five-note scale; an octave doubles the frequency (practice)."""
    notes = [12 * np.log2(strongest_hertz(effects[f"lamp_{n}"])) for n in range(1, 11)]
    assert np.diff(notes[:5]) == pytest.approx([2, 2, 3, 2], abs=0.1)
    assert np.subtract(notes[5:], notes[:5]) == pytest.approx([12] * 5, abs=0.1)
