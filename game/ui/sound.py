"""Voice and effects. Speech is a queue on one channel, timed by the lengths of the clips, so that a scene goes on
in the same way with a loudspeaker, without one, and faster in tests."""

from __future__ import annotations

import os
from collections import OrderedDict, deque
from pathlib import Path

import pygame

from game.core.settings import VOLUME_CAP
from game.ui import look
from game.ui.diagnostics import Diagnostics
from game.ui.journal import Journal

RATE_HZ = 44100
BUFFER = 1024
CLIPS_HELD = 40
LENGTH_UNKNOWN_S = 1.0
RECORDINGS = (".ogg", ".wav")
"""What a recording of one's own may be, in this order."""
NO_SOUND = "No sound was found on this device; children need it to hear the tasks: connect a loudspeaker and restart."


def capped(volume: float) -> float:
    """The share of full scale for a volume of 0 to 1 of the cap."""
    return max(0.0, min(1.0, volume)) * VOLUME_CAP


class Sound:
    """`say` speaks clips in turn, `play` plays one effect. A missing file is silence and a line in the diagnostics.

    A recording in the folder `own`, named after its clip, is heard in place of the clip of the app.
    """

    def __init__(
        self, folder: Path, language: str, own: Path, volume: float, diagnostics: Diagnostics, journal: Journal
    ) -> None:
        self._voices, self._own, self._effects = folder / language / "voice", own, folder / "effects"
        self._volume = capped(volume)
        self._diagnostics, self._journal = diagnostics, journal
        self._held: OrderedDict[Path, pygame.mixer.Sound | None] = OrderedDict()
        self._todo: deque[str] = deque()
        self._rest_s = 0.0
        self._on = self._started = False

    def start(self) -> str | None:
        """Open the mixer, after the first frame. Returns a sentence for a grown-up when there is no sound."""
        self._started = True
        try:
            self._open()
        except pygame.error as error:
            self._diagnostics.note(f"sound: {error}")
            os.environ["SDL_AUDIODRIVER"] = "dummy"
            try:
                self._open()
            except pygame.error as again:
                self._diagnostics.note(f"sound, without a device: {again}")
            return NO_SOUND
        return None

    def _open(self) -> None:
        pygame.mixer.quit()
        pygame.mixer.init(RATE_HZ, -16, 1, BUFFER)
        pygame.mixer.set_reserved(2)
        self._voice_channel, self._effect_channel = pygame.mixer.Channel(0), pygame.mixer.Channel(1)
        self._on = True

    def loud(self, volume: float) -> None:
        """From now on as loud as this share of the cap."""
        self._volume = capped(volume)
        for sound in self._held.values():
            if sound is not None:
                sound.set_volume(self._volume)

    def say(self, *clips: str) -> None:
        """Speak these clips now; what was being said is broken off."""
        self.hush()
        self.add(*clips)

    def add(self, *clips: str) -> None:
        """Speak these clips after what is being said."""
        if clips:
            self._journal.line(say=list(clips))
        self._todo.extend(clips)
        self._next_clip()

    def hush(self) -> None:
        self._todo.clear()
        self._rest_s = 0.0
        if self._on:
            self._voice_channel.stop()

    def quiet(self) -> bool:
        """Whether nothing is being said and nothing waits to be."""
        return self._rest_s <= 0 and not self._todo

    def play(self, effect: str) -> None:
        """Play one effect; a newer one takes the place of an older one."""
        self._journal.line(play=effect)
        sound = self._sound(self._effects / f"{effect}.ogg")
        if sound is not None:
            self._effect_channel.play(sound)

    def update(self, dt_s: float) -> None:
        if self._rest_s > 0:
            self._rest_s -= dt_s
        self._next_clip()

    def _next_clip(self) -> None:
        if self._rest_s > 0 or not self._todo or not self._started:
            return
        sound = self._clip(self._todo.popleft())
        self._rest_s = look.CLIP_GAP_S + (LENGTH_UNKNOWN_S if sound is None else sound.get_length())
        if sound is not None:
            self._voice_channel.play(sound)

    def _clip(self, clip: str) -> pygame.mixer.Sound | None:
        """The recording of one's own, else the clip of the app."""
        for path in (self._own / f"{clip}{ending}" for ending in RECORDINGS):
            if path.is_file() and (sound := self._sound(path)) is not None:
                return sound
        return self._sound(self._voices / f"{clip}.ogg")

    def _sound(self, path: Path) -> pygame.mixer.Sound | None:
        if not self._on:
            return None
        if path not in self._held:
            try:
                sound = pygame.mixer.Sound(str(path))
                sound.set_volume(self._volume)
            except (pygame.error, OSError) as error:
                self._diagnostics.note(f"{path}: {error}")
                sound = None
            self._held[path] = sound
            if len(self._held) > CLIPS_HELD:
                self._held.popitem(last=False)
        self._held.move_to_end(path)
        return self._held[path]
