"""The class list for grown-ups: every child can be opened and changed, new ones added; those put away are kept."""

from __future__ import annotations

from collections.abc import Sequence

from game.core.layout import Box
from game.core.records import Child
from game.ui import look
from game.ui.child_grid import FOOT_H, FOOT_Y, ChildGrid
from game.ui.corner_page import LEFT, TOP, WIDTH, CornerPage
from game.ui.draw import Page
from game.ui.scene import Kit, Next
from game.ui.widgets import Target
from game.ui.word_button import WordButton

GRID_Y = TOP + 54
ADD_BOX = Box(LEFT, FOOT_Y, 300, FOOT_H)
AWAY_BOX = Box(LEFT + 316, FOOT_Y, 300, FOOT_H)


class ChildrenScene(CornerPage):
    """`children`: the whole list. With `away` those that were put away are shown. `told`: rows that were not usable."""

    name = "children"

    def __init__(self, kit: Kit, children: Sequence[Child], away: bool = False, page: int = 0, told: str = "") -> None:
        super().__init__(kit)
        self.away, self.told = away, told
        self.put_away = tuple(child for child in children if child.away)
        playing = tuple(child for child in children if not child.away)
        self.grid = ChildGrid(self.put_away if away else playing, LEFT, GRID_Y, page)
        self.title = "Put away" if away else "Children"
        words = "Back to the list" if away else f"Put away ({len(self.put_away)})"
        self.add = WordButton("add", ADD_BOX, "Add a child", "icons/add")
        self.change = WordButton("change", ADD_BOX if away else AWAY_BOX, words)

    def buttons(self) -> list[WordButton]:
        return [*([] if self.away else [self.add]), *([self.change] if self.away or self.put_away else [])]

    def content_targets(self) -> list[Target]:
        return [*self.grid.targets(), *(button.target for button in self.buttons())]

    def way_back(self) -> Next:
        return Next("children") if self.away else Next("opening")

    def choose(self, name: str) -> Next | None:
        if name == "add":
            return Next("child")
        if name == "change":
            return Next("children", not self.away)
        if self.grid.turn(name):
            return None
        return Next("child", self.grid.child(name))

    def draw_content(self, page: Page) -> None:
        many = len(self.grid.children)
        words = f"{many} put away; all that they did is kept" if self.away else f"{many} in the list"
        if self.told:
            words = page.fitted(self.told, WIDTH - 190, 19)
        if many or self.told:
            page.text_from(words, (LEFT + 186, TOP + 24), 19, look.BRICK if self.told else look.QUIET_TEXT)
        if not many:
            words = "Nobody is put away." if self.away else "Nobody is in the list yet; a nickname is enough."
            page.paragraph(words, Box(LEFT, GRID_Y + 20, WIDTH, 100), look.TEXT)
        self.grid.draw(page, self.targets)
        for button in self.buttons():
            button.draw(page, self.targets)
