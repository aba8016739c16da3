"""The one loop: events, update, draw."""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from random import Random

from game import paths
from game.core import settings as settings_file
from game.core.errors import Trouble
from game.core.records import GUEST_ID
from game.ui import look
from game.ui.assets import Pictures
from game.ui.diagnostics import FILE_NAME as DIAGNOSTICS_FILE
from game.ui.diagnostics import Diagnostics
from game.ui.director import Director
from game.ui.draw import Page
from game.ui.input import Event, Input
from game.ui.journal import Journal
from game.ui.office import Office
from game.ui.scene import Kit, Next, Scene
from game.ui.sitting import Sitting
from game.ui.sound import Sound
from game.ui.strip import Strip
from game.ui.window import NoScreen, Window

LANGUAGE = "en"
OWN_VOICE = "voice"
"""The folder beside the log with recordings of the grown-up's own."""
FAULTS_MOST = 3
"""After so many unexpected errors in one run the app ends; before, it goes back to the opening."""


@dataclass(frozen=True, slots=True)
class PlayOptions:
    """How to play. `pace` multiplies time, `child` (an id or nickname, "guest") skips the opening.

    `office` makes what the grown-ups' corner asks for; without it the corner has no files.
    """

    home: Path
    seed: int | None = None
    pace: float = 1.0
    journal: Path | None = None
    full_screen: bool = False
    size: tuple[int, int] = (look.PAGE_WIDTH, look.PAGE_HEIGHT)
    child: str | None = None
    office: Office | None = None


def play(options: PlayOptions, now: Callable[[], datetime] = datetime.now, rng: Random | None = None) -> int:
    """Open the window and play until it is closed. The exit code: 0, 1 after repeated errors, 2 without a screen."""
    try:
        window = Window(options.size, options.full_screen)
    except NoScreen as missing:
        print(f"tenlamps: no screen was found ({missing}); start it on a computer with a display.", file=sys.stderr)
        return 2
    try:
        app = App(options, window, now, rng or Random(options.seed))
    except (Trouble, KeyboardInterrupt):
        raise
    except Exception as error:
        Diagnostics(options.home, now).fault(error)
        print(f"tenlamps: the app could not be started; details: {options.home / DIAGNOSTICS_FILE}", file=sys.stderr)
        return 1
    try:
        return app.run()
    finally:
        app.close()


class App:
    """Window, input, kit and the page that is shown; a second page may lie over it."""

    def __init__(self, options: PlayOptions, window: Window, now: Callable[[], datetime], rng: Random) -> None:
        self.options, self.window = options, window
        self.diagnostics = Diagnostics(options.home, now)
        self.journal = self._open_journal(options.journal)
        self.strip = Strip()
        settings, troubles = settings_file.load(options.home)
        settings = settings_file.with_device(options.home, settings, rng)
        pictures = Pictures(paths.data("art"), paths.data("levels"), options.home / "forms.toml", self.diagnostics)
        pictures.look_through(window.view)
        own = options.home / OWN_VOICE
        sound = Sound(paths.data("sounds"), LANGUAGE, own, settings.volume, self.diagnostics, self.journal)
        self.kit = Kit(pictures, sound, settings, window.typing)
        self.sitting = Sitting(options.home, paths.data("levels"), paths.rescue_file, settings, rng, now)
        self.input = Input()
        self.under: Scene | None = None
        self._shown_targets: object = None
        self._ended = False
        for sentence in troubles:
            self.strip.tell(sentence)
        self.director = Director(self.kit, self.sitting, self.strip, rng, options.office)
        self.scene = self.director.make(self._first())
        self.scene.enter()

    def _open_journal(self, path: Path | None) -> Journal:
        try:
            return Journal(path)
        except OSError as error:
            self.diagnostics.note(f"journal {path}: {error}")
            return Journal()

    def _first(self) -> Next:
        wanted = self.options.child
        if wanted is None:
            return Next("opening")
        return Next("play", None if wanted == GUEST_ID else self.sitting.roster.named(wanted))

    # ------------------------------------------------------------------ the loop
    def run(self) -> int:
        """Run until the window is closed."""
        faults = 0
        turn = self._first_turn
        while not self._ended:
            try:
                turn()
            except Exception as error:
                faults += 1
                if not self._recover(error, faults):
                    return 1
            turn = self._turn
        return 0

    def _first_turn(self) -> None:
        self.frame([], 0.0)
        self.after_first_frame()

    def _turn(self) -> None:
        real_s = self.window.tick()
        if self.window.follow():
            self.kit.pictures.look_through(self.window.view)
        view = self.window.view
        events = self.input.read(view.to_page, view.size, stale=real_s > look.STALE_S)
        self.frame(events, min(real_s, look.LONGEST_FRAME_S) * self.options.pace)

    def frame(self, events: list[Event], dt_s: float) -> None:
        """One turn of the loop."""
        self.advance(events, dt_s)
        self.draw()
        self.window.flip()
        self.kit.pictures.work()

    def advance(self, events: list[Event], dt_s: float) -> None:
        """Take in what was done, and let `dt_s` seconds go by."""
        for event in events:
            self._handle(event)
        self.kit.sound.update(dt_s)
        self.go(self.scene.update(dt_s))
        self._tell()

    def _handle(self, event: Event) -> None:
        if event.kind == "quit":
            self._ended = True
        elif event.kind == "key" and event.key == "full_screen":
            self.window.toggle_full_screen()
        elif not self.strip.handle(event):
            self.go(self.scene.handle(event))

    def draw(self) -> None:
        page = Page(self.window.surface, self.window.view, self.kit.pictures)
        if self.under is not None:
            self.under.draw(page)
        self.scene.draw(page)
        self.strip.draw(page)

    def after_first_frame(self) -> None:
        """What takes time and is not needed to show the first page."""
        self.strip.tell(self.kit.sound.start())
        self.window.icon(self.kit.pictures.picture("things/counter", 64))
        self.window.typing(False)
        self.sitting.open()

    def _tell(self) -> None:
        """Let the grown-up know what went wrong, and the journal what can be touched."""
        for sentence in (*self.sitting.troubles, *self.kit.pictures.troubles):
            self.strip.tell(sentence)
        if not self.journal.kept:
            return
        view, scene = self.window.view, self.scene
        shown = {target.name: list(view.box(target.box)) for target in scene.targets.all}
        if (scene, shown) != self._shown_targets:
            self._shown_targets = (scene, shown)
            task = getattr(scene, "task", None)
            what = {} if task is None else {"task": task.kind, "answer": task.answer, "way": task.step.way}
            self.journal.line(scene=scene.name, targets=shown, **what)

    def _recover(self, error: Exception, faults: int) -> bool:
        """Note the error and go back to the opening; False when that happened too often."""
        self.diagnostics.fault(error)
        where = self.options.home / DIAGNOSTICS_FILE
        if faults >= FAULTS_MOST:
            print(
                f"tenlamps: something went wrong and the app was closed; all answers are saved, details: {where}",
                file=sys.stderr,
            )
            return False
        self.strip.tell(f"Something went wrong and a page was left ({faults}); all answers are saved. Details: {where}")
        self.under = None
        self._show(Next("opening"))
        return True

    def close(self) -> None:
        self.sitting.close()
        self.journal.close()
        self.kit.pictures.stop()
        self.window.close()

    def go(self, following: Next | None) -> None:
        """Go where a page says."""
        if following is None:
            return
        if following.scene == "quit":
            self._ended = True
        elif following.scene == "resume" and self.under is not None:
            self.scene.leave()
            self.scene, self.under = self.under, None
            self.scene.hear_again()
        elif following.over:
            self.kit.sound.hush()
            self.scene.targets.let_go()
            self.under = self.scene
            self._show(following)
        else:
            self.scene.leave()
            self.under = None
            self._show(following)

    def _show(self, following: Next) -> None:
        self.scene = self.director.make(following, self.under)
        self.scene.enter()
