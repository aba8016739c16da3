"""Takes recordings of your own into the game: one file a clip, named after its id, as number_7.wav.

    python sounds/own_voice.py RECORDINGS [--language en]

Each is trimmed, brought to the loudness of the other clips and put in place of the clip in <language>/voice.
"""

import argparse
import math
import sys
from pathlib import Path

import numpy as np
import soundfile
from finish import RATE, trim, write_finished
from render import HERE, VOICE_LUFS, read_script
from scipy.signal import resample_poly

ROOM_DB = -35.0  # a quiet room lies under this, seen from the highest sample of the voice
MARGIN_S = 0.1


def recorded(path: Path) -> np.ndarray:
    """The speech in a recording, mono at 24 kHz. Raises ValueError with one sentence where there is none."""
    try:
        samples, rate = soundfile.read(path, always_2d=True)
    except soundfile.LibsndfileError as error:
        raise ValueError(f"{path} cannot be read as sound ({error}); save it as .wav or .ogg.") from error
    mono = samples.mean(axis=1)
    if not np.abs(mono).max(initial=0) > 0:
        raise ValueError(f"{path} is silent; record it again.")
    common = math.gcd(RATE, rate)
    return trim(resample_poly(mono, RATE // common, rate // common), ROOM_DB, MARGIN_S, MARGIN_S)


def main() -> int:
    parser = argparse.ArgumentParser(description="Take recordings of your own into the game.")
    parser.add_argument("recordings", type=Path, help="folder with one sound file a clip, named after its id")
    parser.add_argument("--language", default="en", help="folder of the script; default: en")
    options = parser.parse_args()
    try:
        _, clips = read_script(HERE / options.language / "script.toml")
        files = sorted(path for path in options.recordings.iterdir() if not path.name.startswith("."))
        strange = [path.name for path in files if path.stem not in clips]
        if strange:
            raise ValueError(f"No clip of the script has this name: {', '.join(strange)}. Rename or remove it.")
        speech = {path.stem: recorded(path) for path in files}
        folder = HERE / options.language / "voice"
        folder.mkdir(exist_ok=True)
        for clip_id, samples in speech.items():
            write_finished(folder / f"{clip_id}.ogg", samples, VOICE_LUFS, clips[clip_id])
    except (OSError, ValueError) as error:
        print(error, file=sys.stderr)
        return 2
    print(f"{len(speech)} recordings taken in; {len(clips) - len(speech)} clips keep the voice that they had.")
    return 0


if __name__ == "__main__":
    sys.exit(main())
