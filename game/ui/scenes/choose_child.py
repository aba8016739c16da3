"""For whom: practice to take home, or sheets to print."""

from __future__ import annotations

from collections.abc import Sequence

from game.core.records import Child
from game.ui.child_grid import ChildGrid
from game.ui.corner_page import LEFT, TOP, CornerPage
from game.ui.draw import Page
from game.ui.office import Errand
from game.ui.scene import Kit, Next
from game.ui.widgets import Target

TITLES = {"pack": "Whose practice goes home?", "sheets": "Sheets for whom?"}


class ChooseChildScene(CornerPage):
    """`what` is to be done for the child that is chosen: "pack" or "sheets"."""

    name = "choose_child"
    tab = "files"

    def __init__(self, kit: Kit, children: Sequence[Child], what: str) -> None:
        super().__init__(kit)
        self.what, self.title = what, TITLES[what]
        self.grid = ChildGrid(children, LEFT, TOP + 54)

    def content_targets(self) -> list[Target]:
        return self.grid.targets()

    def choose(self, name: str) -> Next | None:
        if self.grid.turn(name):
            return None
        child = self.grid.child(name)
        return None if child is None else Next("files", Errand(self.what, child))

    def way_back(self) -> Next:
        return Next("files")

    def draw_content(self, page: Page) -> None:
        self.grid.draw(page, self.targets)
