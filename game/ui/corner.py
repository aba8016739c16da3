"""The grown-ups' corner: makes its pages and does what they ask, by class list, settings and office."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from random import Random
from typing import Any

from game.core import settings as settings_file
from game.core.errors import Trouble
from game.core.records import Child
from game.core.settings import Settings
from game.ui.office import Errand, Office, Progress
from game.ui.scene import Kit, Next, Scene
from game.ui.sitting import Sitting

HOME_HINT = "If this device is at home, say so in Settings: one child alone then has the own page."


class Corner:
    """`rng` chooses the sums of the gate."""

    def __init__(self, kit: Kit, sitting: Sitting, rng: Random, office: Office | None) -> None:
        self._kit, self._sitting, self._rng, self._made_by = kit, sitting, rng, office
        self._makers: dict[str, Callable[[Any], Scene]] = {
            "gate": self._gate,
            "children": self._children,
            "child": self._child,
            "first_child": self._first_child,
            "settings": self._settings,
            "numerals": self._numerals,
            "files": self._files,
            "choose_child": self._choose_child,
            "bring_back": self._bring_back,
        }

    def make(self, following: Next) -> Scene:
        """Raises Trouble when the page cannot be made."""
        return self._makers[following.scene](following.about)

    @property
    def _office(self) -> Office:
        if self._made_by is None:
            raise Trouble("Files can be made only where the app was started by its own command, tenlamps.")
        return self._made_by

    # ------------------------------------------------------------------ pages
    def _gate(self, _about: object) -> Scene:
        from game.ui.scenes.gate import GateScene

        return GateScene(self._kit, self._rng)

    def _children(self, away: bool | None) -> Scene:
        from game.ui.scenes.children import ChildrenScene

        self._sitting.read_list()
        listed = self._sitting.roster
        return ChildrenScene(self._kit, listed.children, bool(away), told=" ".join(listed.troubles))

    def _child(self, child: Child | None) -> Scene:
        from game.ui.scenes.child import ChildScene

        others = [other for other in self._sitting.roster.children if child is None or other.id != child.id]
        after = Next("children", child is not None and child.away)
        return ChildScene(self._kit, child, others, self._keep, after)

    def _first_child(self, _about: object) -> Scene:
        """While the list is empty anybody may add a child: there is nothing yet that could be spoilt."""
        if self._sitting.roster.children:
            return self._gate(None)
        from game.ui.scenes.child import ChildScene

        return ChildScene(self._kit, None, (), self._keep, Next("opening"), self._kit.settings.place)

    def _settings(self, _about: object) -> Scene:
        from game.ui.scenes.settings import SettingsScene

        return SettingsScene(self._kit, self.save)

    def _numerals(self, _about: object) -> Scene:
        from game.ui.scenes.numerals import NumeralsScene

        return NumeralsScene(self._kit, self.save, self._choose_form)

    def _files(self, errand: Errand | None) -> Scene:
        from game.ui.scenes.files import FilesScene

        alone = self._sitting.alone
        return FilesScene(self._kit, self._office, self._sitting.home, self._everybody(), alone, self._merge, errand)

    def _choose_child(self, what: str) -> Scene:
        from game.ui.scenes.choose_child import ChooseChildScene

        return ChooseChildScene(self._kit, self._everybody(), what)

    def _bring_back(self, _about: object) -> Scene:
        from game.ui.scenes.bring_back import BringBackScene

        home = self._sitting.home
        found = [(path, datetime.fromtimestamp(path.stat().st_mtime)) for path in self._office.brought(home)]
        return BringBackScene(self._kit, found, home / self._office.bring_back)

    def _everybody(self) -> list[Child]:
        """Those who play first, then those put away."""
        return sorted(self._sitting.roster.children, key=lambda child: child.away)

    # ------------------------------------------------------------------ what they ask for
    def _keep(self, child: Child, place: str | None) -> None:
        self._sitting.keep(child)
        if place is not None and place != self._kit.settings.place:
            self.save(replace(self._kit.settings, place=place))

    def save(self, settings: Settings) -> None:
        """Write the settings, then let them hold. Raises Trouble; then all is as it was."""
        home = self._sitting.home
        try:
            settings_file.save(home, settings)
        except OSError as error:
            raise Trouble(f"{home / settings_file.FILE_NAME} cannot be written ({error.strerror}); "
                          "close it elsewhere or make room, then choose again.") from error  # fmt: skip
        self._use(settings)

    def _use(self, settings: Settings) -> None:
        self._kit.settings = settings
        self._sitting.use(settings)
        self._kit.sound.loud(settings.volume)

    def _choose_form(self, symbol: str, name: str) -> None:
        from game.core.writing.own_forms import choose

        choose(*self._kit.pictures.form_files, symbol, name)
        self._kit.pictures.read_forms_again()

    def _merge(self, path: Path, progress: Progress) -> Sequence[str]:
        """Bring a file in while the log is closed, then read everything anew."""
        home, was_empty = self._sitting.home, not self._sitting.roster.children
        self._sitting.close()
        said = list(self._office.merge(home, path, progress))
        self._sitting.read_again()
        self._use(settings_file.load(home)[0])
        only_one = was_empty and len(self._sitting.roster.playing) == 1 and self._kit.settings.place != "home"
        return [*said, HOME_HINT] if only_one else said
