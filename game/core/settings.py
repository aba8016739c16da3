"""The grown-up's settings of one device, kept as settings.json in the data folder."""

from __future__ import annotations

import contextlib
import json
from dataclasses import asdict, dataclass, fields, replace
from pathlib import Path
from random import Random
from typing import Any, ClassVar

from game.core.files import swap_in

FILE_NAME = "settings.json"
_LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"
VOLUME_CAP = 0.8
"""The app never plays louder than this share of full scale, whatever the settings say."""


@dataclass(frozen=True, slots=True)
class Settings:
    """`volume` 0 to 1 of the app's cap; `lanes` a child may play in one sitting (1 to 6)."""

    device: str = ""
    place: str = "centre"
    volume: float = 0.8
    lanes: int = 2
    mirror_left: bool = True
    calm: bool = False
    finger_way: str = "thumb_first"
    switch_seconds: float = 0.0

    ALLOWED: ClassVar[dict[str, tuple[str, ...]]] = {
        "place": ("centre", "home"),
        "finger_way": ("thumb_first", "index_first"),
    }


def load(folder: Path) -> tuple[Settings, tuple[str, ...]]:
    """The settings in `folder` and a sentence for each entry that could not be used (its default is)."""
    path = folder / FILE_NAME
    try:
        held = json.loads(path.read_text(encoding="utf-8"))
    except FileNotFoundError:
        return Settings(), ()
    except (OSError, ValueError) as error:
        return Settings(), (f"{path} cannot be read ({error}); the usual settings are used.",)
    if not isinstance(held, dict):
        return Settings(), (f"{path} holds no settings; the usual ones are used.",)
    usable: dict[str, Any] = {}
    troubles: list[str] = []
    for field in fields(Settings):
        if field.name not in held:
            continue
        value = held[field.name]
        if _fits(field.name, value):
            usable[field.name] = value
        else:
            troubles.append(f"{path}: {field.name} is {value!r}, which cannot be; the usual value is used.")
    return replace(Settings(), **usable), tuple(troubles)


def _fits(name: str, value: Any) -> bool:
    if name in Settings.ALLOWED:
        return value in Settings.ALLOWED[name]
    if name in ("mirror_left", "calm"):
        return isinstance(value, bool)
    if name == "lanes":
        return isinstance(value, int) and not isinstance(value, bool) and 1 <= value <= 6
    if name == "volume":
        return isinstance(value, (int, float)) and not isinstance(value, bool) and 0 <= value <= 1
    if name == "switch_seconds":
        return isinstance(value, (int, float)) and not isinstance(value, bool) and 0 <= value <= 10
    return isinstance(value, str) and len(value) <= 40


def text(settings: Settings) -> str:
    """The settings as they are written."""
    return json.dumps(asdict(settings), indent=2, ensure_ascii=False) + "\n"


def with_device(folder: Path, settings: Settings, rng: Random) -> Settings:
    """The settings with a name for this device, which is made up once and kept, so that logs can be put together.

    When it cannot be kept, another one is made up the next time; nothing depends on it.
    """
    if settings.device:
        return settings
    named = replace(settings, device="lamp-" + "".join(rng.choices(_LETTERS, k=4)))
    with contextlib.suppress(OSError):
        save(folder, named)
    return named


def save(folder: Path, settings: Settings) -> None:
    """Write the settings in one step. Raises OSError."""
    swap_in(folder / FILE_NAME, text(settings).encode("utf-8"))
