"""Who plays, and what is known and kept: class list, levels, log, mastery, and the lane that is going on."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path
from random import Random
from typing import TYPE_CHECKING

from game.core import roster
from game.core.errors import Trouble
from game.core.records import GUEST, Child, Hand, Outcome, Task
from game.core.settings import Settings

if TYPE_CHECKING:
    from game.core.ink import InkLog
    from game.core.levels import Levels
    from game.core.log import AttemptLog
    from game.core.mastery import ChildMastery
    from game.core.session import Session

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
        self._home, self._level_folder = home, level_folder
        self._settings, self._rng, self._now = settings, rng, now
        self._rescue = rescue
        self._log: AttemptLog | None = None
        self._ink: InkLog | None = None
        self._levels: Levels | None = None
        self._mastery: dict[str, ChildMastery] = {}
        self._played: dict[str, tuple[int, datetime]] = {}
        self._session: Session | None = None
        self._before: Session | None = None
        self._child = GUEST
        self._unread: str | None = None
        self.roster = roster.load(home)

    def open(self) -> None:
        """Read the levels and the log, once."""
        if self._levels is not None:
            return
        from game.core import ink, levels, log, mastery  # not before the first frame: they take as long as the window

        self._log = log.AttemptLog(self._home, self._rescue(self._home))
        self._ink = ink.InkLog(self._home, self._rescue(self._home).with_suffix(".ink.jsonl"))
        self._ink.flush()
        self._levels = levels.load_levels([self._level_folder, self._home / "levels"])
        try:
            self._mastery = mastery.rebuild(log.evidence(self._log.path), self._levels.skills)
        except (OSError, ValueError) as error:
            reason = getattr(error, "strerror", None) or error
            self._unread = (
                f"{self._log.path} cannot be read ({reason}), so that every child begins anew: "
                "close it elsewhere or mend it, then start again."
            )
        if self._settings.switch_seconds > 0:
            self._levels = self._levels.without_pen()

    @property
    def troubles(self) -> list[str]:
        """Sentences for a grown-up."""
        found = [*self.roster.troubles, *([self._unread] if self._unread else [])]
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
        if self._child.guest:
            self._played.pop(self._child.id, None)
            self._mastery.pop(self._child.id, None)

    def play_on(self) -> None:
        """The same child takes another lane."""
        self._before, self._session = self._session, None

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
    def add(self, nickname: str, badge: str, hand: Hand) -> Child:
        """A new child in the class list. Raises Trouble when it cannot be saved."""
        child = roster.new_child(self.roster, nickname, badge, hand, self._rng)
        changed = roster.with_child(self.roster, child)
        try:
            roster.save(self._home, changed)
        except OSError as error:
            raise Trouble(f"{self._home / roster.FILE_NAME} cannot be written ({error.strerror}); "
                          "close it elsewhere or make room, then add the child again.") from error  # fmt: skip
        self.roster = changed
        return child

    def close(self) -> None:
        if self._log is not None:
            self._log.close()
        if self._ink is not None:
            self._ink.flush()
