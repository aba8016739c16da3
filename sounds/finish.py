"""Finishes a sound for the game: trims silence, sets loudness, writes and reads OGG Vorbis files.

A sound is a one-dimensional numpy array of samples between -1 and 1, at RATE samples a second.
"""

import io
from pathlib import Path

import numpy as np
import pyloudnorm
import soundfile
from scipy.ndimage import minimum_filter1d, uniform_filter1d
from scipy.signal import resample_poly

RATE = 24_000
PEAK_DB = -1.0  # dBTP, highest true peak of a finished file
LIMITS_DB = (-1.5, -2.5, -3.5, -4.5, -5.5, -6.5)  # tried in turn before encoding, as the encoder adds to some peaks
COMPRESSION = 0.95  # libsndfile's scale from the largest file, 0, to the smallest, 1; speech stays clear
FRAME = RATE // 100  # 10 ms
SHORTEST_MEASURED = RATE * 4 // 10  # one measuring block of ITU-R BS.1770 is 0.4 s


def loudness(samples: np.ndarray) -> float:
    """Integrated loudness in LUFS (ITU-R BS.1770); sounds under 0.4 s are padded with silence first."""
    padding = max(0, SHORTEST_MEASURED - len(samples))
    return float(pyloudnorm.Meter(RATE).integrated_loudness(np.pad(samples, (0, padding))))


def true_peak(samples: np.ndarray) -> float:
    """Highest level in dBTP, on four times as many samples (ITU-R BS.1770 annex 2)."""
    return float(20 * np.log10(np.abs(resample_poly(samples, 4, 1)).max() + 1e-12))


def frame_levels(samples: np.ndarray) -> np.ndarray:
    """Level of each 10 ms in dB under the highest sample."""
    frames = np.pad(samples, (0, -len(samples) % FRAME)).reshape(-1, FRAME)
    return 20 * np.log10(np.sqrt((frames**2).mean(axis=1)) / np.abs(samples).max() + 1e-9)


def trim(samples: np.ndarray, floor_db: float = -55.0, before_s: float = 0.04, after_s: float = 0.08) -> np.ndarray:
    """Cuts silence off both ends. The floor lies under the softest f, th and s; a margin stays on each side."""
    heard = np.flatnonzero(frame_levels(samples) > floor_db)
    start = max(0, heard[0] * FRAME - int(before_s * RATE))
    end = min(len(samples), (heard[-1] + 1) * FRAME + int(after_s * RATE))
    return fade(samples[start:end])


def fade(samples: np.ndarray, seconds: float = 0.01) -> np.ndarray:
    """Fades both ends so that no clip begins or ends with a click."""
    ramp = np.linspace(0, 1, int(seconds * RATE))
    faded = samples.astype(np.float64)
    faded[: len(ramp)] *= ramp
    faded[-len(ramp) :] *= ramp[::-1]
    return faded


def limit(samples: np.ndarray, peak_db: float, reach_s: float = 0.004) -> np.ndarray:
    """Turns the few highest peaks down to a level in dBTP, smoothly over a few milliseconds on each side."""
    between = np.abs(resample_poly(samples, 4, 1)).reshape(-1, 4).max(axis=1)
    gain = np.minimum(1, 10 ** (peak_db / 20) / np.maximum(between, 1e-9))
    reach = 2 * int(reach_s * RATE) + 1
    return samples * uniform_filter1d(minimum_filter1d(gain, reach), reach)


def set_loudness(samples: np.ndarray, lufs: float, peak_db: float) -> np.ndarray:
    """Brings a sound to a loudness, its true peak under a limit. The second and third time around make up
    for what limiting takes away."""
    for _ in range(3):
        samples = limit(samples * 10 ** ((lufs - loudness(samples)) / 20), peak_db)
    return samples


def encode(samples: np.ndarray, title: str) -> bytes:
    """Mono OGG Vorbis with a TITLE comment."""
    encoded = io.BytesIO()
    with soundfile.SoundFile(
        encoded, "w", RATE, 1, format="OGG", subtype="VORBIS", compression_level=COMPRESSION
    ) as file:
        file.title = title
        file.write(samples)
    return encoded.getvalue()


def write_finished(path: Path, samples: np.ndarray, lufs: float, title: str) -> None:
    """Sets loudness and writes the file, whole or not at all. Raises ValueError where no limit tames its peak."""
    for peak_db in LIMITS_DB:
        encoded = encode(set_loudness(samples, lufs, peak_db), title)
        if true_peak(soundfile.read(io.BytesIO(encoded))[0]) < PEAK_DB:
            unfinished = path.with_suffix(".part")
            unfinished.write_bytes(encoded)
            unfinished.replace(path)
            return
    raise ValueError(f"{path.name}: the peaks stay over {PEAK_DB} dBTP at {lufs} LUFS; use another wording.")


def title_of(path: Path) -> str:
    """The TITLE comment of a sound file; empty where it has none."""
    with soundfile.SoundFile(path) as file:
        return str(file.copy_metadata().get("title", ""))
