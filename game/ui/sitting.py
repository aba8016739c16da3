"""Who plays, and what is known and kept: class list, levels, log, mastery, and the lane that is going on."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path
from random import Random
from typing import TYPE_CHECKING

from game.core import files, roster
from game.core.errors import Trouble
from game.core.records import GUEST, Child, Outcome, Task
from game.core.settings import Settings

if TYPE_CHECKING:
    from game.core.attempt_log import AttemptLog
    from game.core.ink import InkLog
    from game.core.levels import Levels
    from game.core.mastery import ChildMastery
    from game.core.session import Session

MIXED_KINDS = 3
BREAK = timedelta(minutes=20)
"""After a break of this length a child's next lane begins a new sitting."""


class Sitting:
    """`open` reads levels and log (after the first frame); before, only the class list is there."""

    def __init__(
        self,
        home: Path,
        level_folder: Path,
        rescue: Callable[[Path], Path],
        settings: Settings,
        rng: Random,
        now: Callable[[], datetime],
    ) -> None:
        self.home, self._level_folder = home, level_folder
        self._settings, self._rng, self._now = settings, rng, now
        self._rescue = rescue
        self._log: AttemptLog | None = None
        self._ink: InkLog | None = None
        self._all_levels: Levels | None = None
        self._levels: Levels | None = None
        self._mastery: dict[str, ChildMastery] = {}
        self._played: dict[str, tuple[int, datetime]] = {}
        self._session: Session | None = None
        self._before: Session | None = None
        self._mixed = False
        self._child = GUEST
        self._unread: str | None = None
        self._unfinished = _finish_swaps(home)
        self.roster = roster.load(home)

    def open(self) -> None:
        """Read the levels and the log, once."""
        if self._levels is not None:
            return
        from game.core import attempt_log, ink, levels  # not before the first frame: they take as long as the window

        self._log = attempt_log.AttemptLog(self.home, self._rescue(self.home))
        self._ink = ink.InkLog(self.home, self._rescue(self.home).with_suffix(".ink.jsonl"))
        self._ink.flush()
        self._all_levels = levels.load_levels([self._level_folder, self.home / "levels"])
        self.use(self._settings)
        self._read_log()

    def _read_log(self) -> None:
        """What every child knows, from the log alone."""
        from game.core import mastery, replay

        assert self._all_levels is not None and self._log is not None
        self._unread = None
        try:
            self._mastery = mastery.rebuild(replay.evidence(self._log.path), self._all_levels.skills)
        except (OSError, ValueError) as error:
            reason = getattr(error, "strerror", None) or error
            self._unread = (
                f"{self._log.path} cannot be read ({reason}), so that every child begins anew: "
                "close it elsewhere or mend it, then start again."
            )

    def use(self, settings: Settings) -> None:
        """These settings hold from now on."""
        self._settings = settings
        if self._all_levels is not None:
            one_switch = settings.switch_seconds > 0
            self._levels = self._all_levels.without_pen() if one_switch else self._all_levels

    def read_again(self) -> None:
        """Class list and log were changed from outside (home practice was brought in)."""
        self.read_list()
        self._session = self._before = None
        if self._all_levels is not None:
            self._read_log()

    def read_list(self) -> None:
        """The class list as it stands on the disk now: a teacher may have edited it meanwhile."""
        self.roster = roster.load(self.home)

    @property
    def troubles(self) -> list[str]:
        """Sentences for a grown-up."""
        found = [*self._unfinished, *self.roster.troubles, *([self._unread] if self._unread else [])]
        if self._levels is not None:
            found += [str(fault) for fault in self._levels.faults]
        if self._log is not None:
            found += [*self._log.told, *([self._log.trouble] if self._log.trouble else [])]
        if self._ink is not None and self._ink.trouble:
            found.append(self._ink.trouble)
        return found

    # ------------------------------------------------------------------ playing
    def begin(self, child: Child | None) -> None:
        """This child plays now (None: a guest, who is new each time); the next lane is a new one."""
        self._child = child or GUEST
        self._session = self._before = None
        self._mixed = False
        if self._child.guest:
            self._played.pop(self._child.id, None)
            self._mastery.pop(self._child.id, None)

    def play_on(self, mixed: bool = False) -> None:
        """The same child takes another lane, a mixed one if it likes."""
        self._before, self._session = self._session, None
        self._mixed = mixed

    @property
    def mixable(self) -> bool:
        """Whether this child has met enough kinds of task for a lane with a little of everything."""
        known = self._mastery.get(self._child.id)
        if known is None or self._levels is None:
            return False
        return len({step.task for step in self._levels.steps if step.key in known.steps}) >= MIXED_KINDS

    @property
    def child(self) -> Child:
        return self._child

    @property
    def lit(self) -> int:
        return 0 if self._session is None else self._session.lit

    def next_task(self) -> Task | None:
        """The task to do; None when the lane is done. Raises Trouble when no level can be played."""
        self.open()
        assert self._levels is not None and self._log is not None and self._ink is not None
        if self._session is None:
            from game.core import planner
            from game.core.mastery import ChildMastery, Neighbours
            from game.core.session import Session, Where

            if not self._levels.steps:
                raise Trouble(f"No level can be played; put back the level files in {self._level_folder}.")
            known = self._mastery.setdefault(self._child.id, ChildMastery(Neighbours(self._levels.skills)))
            where = Where(self._settings.place, self._settings.device or "here")
            self._session = Session(
                self._levels,
                known,
                self._child,
                where,
                self._rng,
                self._now,
                self._log.append,
                self._ink.append,
                after=self._before,
                choose=planner.mixed if self._mixed else planner.choose,
            )
        return self._session.next_task()

    def answer(self, response: object, seconds: float) -> Outcome:
        """Judge and log; the attempt is on disk when this returns, or the log says why not."""
        assert self._session is not None
        return self._session.answer(response, seconds)

    def lane_done(self) -> None:
        """Count the lane for the limit of this sitting."""
        count, _ = self._lanes()
        self._played[self._child.id] = (count + 1, self._now())
        if self._log is not None:
            self._log.flush()
        if self._ink is not None:
            self._ink.flush()

    @property
    def more(self) -> bool:
        """Whether this child may play another lane in this sitting."""
        return self._lanes()[0] < self._settings.lanes

    def _lanes(self) -> tuple[int, datetime]:
        count, last = self._played.get(self._child.id, (0, self._now()))
        return (0, last) if self._now() - last >= BREAK else (count, last)

    # ------------------------------------------------------------------ class list
    @property
    def alone(self) -> Child | None:
        """The child of a parent's copy: at home, and nobody else is in the list."""
        playing = self.roster.playing
        return playing[0] if self._settings.place == "home" and len(playing) == 1 else None

    def keep(self, child: Child) -> Child:
        """Change a child in the class list as it stands now, or add one that has no id yet.

        Raises Trouble, with the list as it was, when it cannot be read or saved.
        """
        held = roster.load(self.home)
        path = self.home / roster.FILE_NAME
        if held.unread:
            raise Trouble(f"{held.troubles[0]} Nothing was saved, so that nothing in it is lost.")
        if not child.id:
            made = roster.new_child(held, child.nickname, child.badge, child.hand, self._rng)
            child = replace(made, notes=child.notes)
        child = replace(child, nickname=roster.clean(child.nickname))
        if not child.nickname:
            raise Trouble("The nickname is empty; type one.")
        changed = roster.with_child(held, child)
        try:
            roster.save(self.home, changed)
        except OSError as error:
            raise Trouble(
                f"{path} cannot be written ({error.strerror}); close it elsewhere or make room, then try again."
            ) from error
        self.roster = changed
        return child

    def close(self) -> None:
        if self._log is not None:
            self._log.close()
        if self._ink is not None:
            self._ink.flush()


def _finish_swaps(home: Path) -> list[str]:
    """Finish or undo what was cut short while files were brought in; a sentence when that cannot be done."""
    try:
        files.finish_swaps(home)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or error
        return [f"A change in {home} was cut short and cannot be finished ({reason}); check the folder, start again."]
    return []
