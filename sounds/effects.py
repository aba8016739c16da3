"""Makes the effects from sines and noise: python sounds/effects.py writes effects/*.ogg again.

Each begins softly and stays well under the voice. No effect says "wrong".
"""

from collections.abc import Callable
from pathlib import Path

import numpy as np
from finish import RATE, encode, fade, loudness, true_peak
from scipy.signal import butter, sosfilt

Sound = np.ndarray

LOUDEST_LUFS = -24.0  # six under the voice
HIGHEST_PEAK_DB = -12.0  # dBTP; holds back the short taps, which hardly count as loud
FIVE_NOTES = (0, 2, 4, 7, 9)  # semitones of the five-note scale
FOLDER = Path(__file__).resolve().parent / "effects"
G4, A4, B4, D5, E5, G5 = 67, 69, 71, 74, 76, 79  # MIDI numbers


def hertz(note: float) -> float:
    """Frequency of a MIDI note number in equal temperament, A4 = 440 Hz (ISO 16)."""
    return 440.0 * 2.0 ** ((note - 69) / 12)


def moments(seconds: float) -> Sound:
    return np.arange(int(seconds * RATE)) / RATE


def swell(seconds: float, attack: float, halving: float) -> Sound:
    """Loudness over time: rises softly over the attack, then halves every so many seconds, and ends in silence."""
    time = moments(seconds)
    rise = np.sin(np.pi / 2 * np.clip(time / attack, 0, 1)) ** 2
    end = np.cos(np.pi / 2 * np.clip((time - seconds * 0.7) / (seconds * 0.3), 0, 1)) ** 2
    return rise * 0.5 ** (time / halving) * end


def bell(note: float, seconds: float, attack: float = 0.012) -> Sound:
    """A small warm bell: the note with three quieter overtones that fade sooner."""
    time = moments(seconds)
    overtones = ((1, 1.0, 0.16), (2, 0.30, 0.11), (3, 0.10, 0.07), (4.2, 0.04, 0.04))
    return sum(
        part * np.sin(2 * np.pi * hertz(note) * times * time) * swell(seconds, attack, halving * seconds)
        for times, part, halving in overtones
    )


def glide(first: float, last: float, seconds: float) -> Sound:
    """A round tone that slides from one note to another."""
    notes = np.linspace(first, last, int(seconds * RATE))
    turn = 2 * np.pi * np.cumsum(440.0 * 2.0 ** ((notes - 69) / 12)) / RATE
    return (np.sin(turn) + 0.2 * np.sin(2 * turn)) * swell(seconds, seconds * 0.3, seconds * 0.8)


def knock(note: float, seconds: float, hiss: float) -> Sound:
    """A light touch on wood: a very short note with some soft noise."""
    wood = np.sin(2 * np.pi * hertz(note) * moments(seconds))
    return (wood + hiss * breath(seconds, 300, 2500)) * swell(seconds, 0.006, seconds * 0.15)


def breath(seconds: float, low: float, high: float) -> Sound:
    """Noise between two frequencies in Hz, the same at every run."""
    noise = np.random.default_rng(10).standard_normal(int(seconds * RATE))
    return sosfilt(butter(2, (low, high), "bandpass", fs=RATE, output="sos"), noise)


def after(wait: float, sound: Sound) -> Sound:
    return np.concatenate([np.zeros(int(wait * RATE)), sound])


def together(*sounds: Sound) -> Sound:
    longest = max(len(sound) for sound in sounds)
    return sum(np.pad(sound, (0, longest - len(sound))) for sound in sounds)


def lamp(number: int) -> Sound:
    """The lamp of a lane: the next note of a rising five-note scale, the second row an octave up."""
    row, place = divmod(number - 1, 5)
    return bell(G4 + 12 * row + FIVE_NOTES[place], 1.2)


EFFECTS: dict[str, Callable[[], Sound]] = {
    **{f"lamp_{number}": lambda number=number: lamp(number) for number in range(1, 11)},
    "step": lambda: together(knock(52, 0.12, 0.5), after(0.05, 0.5 * knock(55, 0.10, 0.5))),
    "page": lambda: breath(0.45, 500, 3000) * swell(0.45, 0.2, 0.12),
    "soft": lambda: together(bell(G4, 0.6, 0.03), after(0.22, bell(A4, 0.8, 0.03))),
    "tap": lambda: knock(E5, 0.09, 0.2),
    "tag": lambda: bell(B4, 0.35),
    "raise": lambda: glide(G4 - 5, D5 - 5, 0.24),
    "lower": lambda: glide(D5 - 5, G4 - 5, 0.24),
    "place": lambda: knock(G4, 0.14, 0.35),
    "lift": lambda: glide(G4, B4, 0.14),
    "glow": lambda: together(*(bell(note, 1.8, 0.5) for note in (G4, B4, D5, G5))),
}


def quieten(sound: Sound) -> Sound:
    """Sets the level: as loud as both the loudness and the peak allow."""
    change_db = min(LOUDEST_LUFS - loudness(sound), HIGHEST_PEAK_DB - true_peak(sound))
    return fade(sound * 10 ** (change_db / 20), 0.003)


def main() -> None:
    FOLDER.mkdir(exist_ok=True)
    for name, make in EFFECTS.items():
        sound = quieten(make())
        (FOLDER / f"{name}.ogg").write_bytes(encode(sound, name))
        print(f"{name}  {len(sound) / RATE:.2f} s  {loudness(sound):.1f} LUFS  {true_peak(sound):.1f} dBTP")


if __name__ == "__main__":
    main()
