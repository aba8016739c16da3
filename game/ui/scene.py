"""What a scene is, and what it is given.

The life of a scene:

    made        by the app, with the kit and what it is about (a task, a lane); it touches nothing yet
    enter()     it is on the page now: sets its targets and begins to speak
    handle(e)   one input event; returns what comes next, or None
    update(dt)  `dt` seconds went by (0.05 at most, times the pace); returns what comes next, or None
    draw(page)  paints the whole page; changes nothing, so that two draws give the same pixels
    leave()     it goes away: nothing of it speaks any more

A scene holds what it shows and where, never the log or the mastery, and never knows another scene. What comes next is
a value, `Next("lane")`; the app makes that scene. A scene that comes over another one (`over=True`) is drawn above it
and goes away with `Next("resume")`.

What happens in time is written as a script, a generator that yields what it waits for: a number of seconds, or a
function that says when to go on. `self.say(...)` speaks and gives such a function:

    def welcome(self) -> Script:
        yield self.say("hello_lane")      # waits until it is said
        yield 0.4                         # waits 0.4 seconds
        return Next("task")               # what comes next

    def enter(self) -> None:
        self.run(self.welcome())
"""

from __future__ import annotations

from collections.abc import Callable, Generator
from dataclasses import dataclass
from typing import Any

from game.core.layout import Box, Point
from game.core.settings import Settings
from game.ui import look
from game.ui.assets import Pictures
from game.ui.draw import Page
from game.ui.input import Event
from game.ui.picture_button import PictureButton
from game.ui.sound import Sound
from game.ui.widgets import Target, Targets


@dataclass(frozen=True, slots=True)
class Next:
    """What comes next: a scene by name and what it is about. `over` keeps the present one underneath."""

    scene: str
    about: Any = None
    over: bool = False


Wait = float | Callable[[], bool]
Script = Generator[Wait, None, Next | None]
LEAVE_KEY = "escape"


@dataclass(slots=True)
class Kit:
    """What every scene is given. `left` is true while a left-handed child plays and pages are to be mirrored.

    `typing(True)` lets the keyboard (and its input method) write, `typing(False)` ends it.
    """

    pictures: Pictures
    sound: Sound
    settings: Settings
    typing: Callable[[bool], None]
    left: bool = False


class Scene:
    """The base of all scenes: targets, script, mole and the way out. Override what differs."""

    name = "scene"
    leavable = True
    """Whether the page shows the way home (and Esc asks for it)."""

    def __init__(self, kit: Kit) -> None:
        self.kit = kit
        self.targets = Targets(kit.settings.switch_seconds)
        self.age_s = 0.0
        self._script: Script | None = None
        self._wait: Wait = 0.0

    # ------------------------------------------------------------------ the five verbs
    def enter(self) -> None:
        """The scene is on the page now."""

    def handle(self, event: Event) -> Next | None:
        if event.kind == "key" and event.key == LEAVE_KEY and self.leavable:
            return Next("leave", over=True)
        picked = self.targets.handle(event)
        return None if picked is None else self._picked(picked)

    def update(self, dt_s: float) -> Next | None:
        self.age_s += dt_s
        picked = self.targets.update(dt_s)
        following = None if picked is None else self._picked(picked)
        return following or self._run_on(dt_s)

    def draw(self, page: Page) -> None:
        raise NotImplementedError

    def leave(self) -> None:
        self.kit.sound.hush()

    # ------------------------------------------------------------------ for scenes to use
    def pick(self, name: str) -> Next | None:
        """A target was picked (not the mole, not the way out)."""
        return None

    def hear_again(self) -> None:
        """The mole was touched: say what there is to do."""

    def say(self, *clips: str) -> Callable[[], bool]:
        """Speak now; the returned function tells when it is said."""
        self.kit.sound.say(*clips)
        return self.kit.sound.quiet

    def play(self, effect: str) -> None:
        self.kit.sound.play(effect)

    def run(self, script: Script | None) -> None:
        """Run this script from now on, in place of the present one."""
        self._script, self._wait = script, 0.0

    @property
    def running(self) -> bool:
        return self._script is not None

    def side(self, point: Point) -> Point:
        """The point, on the other side of the page for a left-handed child."""
        return (look.PAGE_WIDTH - point[0], point[1]) if self.kit.left else point

    def side_box(self, box: Box) -> Box:
        return Box(look.PAGE_WIDTH - box.x - box.w, box.y, box.w, box.h) if self.kit.left else box

    @property
    def calm(self) -> bool:
        return self.kit.settings.calm

    # ------------------------------------------------------------------ mole and way out
    mole_centre: Point = look.MOLE_CENTRE
    mole_width: float = look.MOLE_WIDTH
    mole_pose = "stand"
    """The pose while the mole is silent."""

    @property
    def mole_at(self) -> Point:
        """Where the mole is on the page now."""
        return self.side(self.mole_centre)

    @property
    def mole_flip(self) -> bool:
        """Whether the mole looks to the left."""
        return self.kit.left

    def mole_target(self) -> Target:
        x, y = self.mole_at
        w, h = self.mole_width, self.mole_width * 280 / 240
        return Target("mole", Box(x - w / 2, y - h / 2, w, h), keys=("h", "m"))

    def leave_button(self) -> PictureButton:
        return PictureButton("leave", self.side_box(look.LEAVE_BOX), "icons/quit", share=0.66)

    def leave_target(self) -> Target:
        return self.leave_button().target

    def draw_mole(self, page: Page) -> None:
        pose = self.mole_pose
        if not self.kit.sound.quiet():
            shut = not self.calm and self.age_s % (2 * look.TALK_BEAT_S) > look.TALK_BEAT_S
            pose = "stand" if shut else "talk"
        pressed = self.targets.state("mole") == "pressed"
        x, y = self.mole_at
        page.picture(f"mole/{pose}", (x, y + (5 if pressed else 0)), self.mole_width, flip=self.mole_flip)

    def draw_leave(self, page: Page) -> None:
        self.leave_button().draw(page, self.targets)

    def draw_focus(self, page: Page) -> None:
        """The ring around the target that keys or switch are on; drawn last."""
        target = self.targets.focused()
        if target is not None:
            page.ring(target.box)

    # ------------------------------------------------------------------ inner works
    def _picked(self, name: str) -> Next | None:
        if name == "mole":
            self.hear_again()
            return None
        if name == "leave":
            return Next("leave", over=True)
        return self.pick(name)

    def _run_on(self, dt_s: float) -> Next | None:
        """Run the script as far as it gets; time that is left over from one wait goes to the next."""
        left = dt_s
        while self._script is not None:
            if isinstance(self._wait, (int, float)):
                if self._wait > left:
                    self._wait -= left
                    return None
                left -= self._wait
            elif not self._wait():
                return None
            script = self._script
            try:
                self._wait = next(script)
            except StopIteration as end:
                if self._script is script:
                    self._script = None
                following: Next | None = end.value
                return following
        return None
