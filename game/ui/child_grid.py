"""The class list as a grown-up sees it: two columns of six, with nickname, hand and notes."""

from __future__ import annotations

from collections.abc import Sequence

from game.core.layout import Box
from game.core.records import Child
from game.ui import look
from game.ui.corner_page import BOTTOM, RIGHT
from game.ui.draw import Page
from game.ui.picture_button import PictureButton
from game.ui.widgets import Target, Targets

COLUMNS, ROWS = 2, 6
A_PAGE = COLUMNS * ROWS
WIDTH, HEIGHT = 456.0, 88.0
STEP_X, STEP_Y = 472.0, 92.0
BADGE = 68.0
FOOT_H = 82.0
FOOT_Y = BOTTOM - FOOT_H - 4
EARLIER = PictureButton("earlier", Box(RIGHT - 204, FOOT_Y, 96, FOOT_H), "icons/back")
LATER = PictureButton("later", Box(RIGHT - 98, FOOT_Y, 96, FOOT_H), "icons/next")
_NAME = "child_"


class ChildGrid:
    """Shows `children`, twelve a page, from the point (`left`, `top`) on; `page` counts from 0."""

    def __init__(self, children: Sequence[Child], left: float, top: float, page: int = 0) -> None:
        self.children, self._left, self._top = tuple(children), left, top
        self.page = min(page, self.pages - 1)

    @property
    def pages(self) -> int:
        return max(1, -(-len(self.children) // A_PAGE))

    @property
    def shown(self) -> tuple[Child, ...]:
        return self.children[self.page * A_PAGE : (self.page + 1) * A_PAGE]

    def targets(self) -> list[Target]:
        """The children of the page, and the buttons that turn to another."""
        children = [Target(f"{_NAME}{place}", self._box(place)) for place in range(len(self.shown))]
        return [*children, *(button.target for button in self._turns())]

    def _turns(self) -> list[PictureButton]:
        there = ((EARLIER, self.page > 0), (LATER, self.page < self.pages - 1))
        return [button for button, shown in there if shown]

    def turn(self, name: str) -> bool:
        """Turn the page when the target says so."""
        self.page += {EARLIER.name: -1, LATER.name: 1}.get(name, 0)
        return name in (EARLIER.name, LATER.name)

    def child(self, name: str) -> Child | None:
        """The child that a target stands for."""
        return self.shown[int(name.removeprefix(_NAME))] if name.startswith(_NAME) else None

    def _box(self, place: int) -> Box:
        """The first column is read down, then the second."""
        column, row = divmod(place, ROWS)
        return Box(self._left + column * STEP_X, self._top + row * STEP_Y, WIDTH, HEIGHT - 6)

    def draw(self, page: Page, targets: Targets) -> None:
        for place, child in enumerate(self.shown):
            self._draw_child(page, self._box(place), child, targets.state(f"{_NAME}{place}") == "pressed")
        for button in self._turns():
            button.draw(page, targets)
        if self.pages > 1:
            words = f"page {self.page + 1} of {self.pages}"
            page.text(words, (RIGHT - 262, FOOT_Y + FOOT_H / 2), 18, look.QUIET_TEXT)

    def _draw_child(self, page: Page, box: Box, child: Child, pressed: bool) -> None:
        page.block(box, look.GLOW if pressed else look.SNOW, 18)
        y = box.y + box.h / 2
        if child.badge:
            page.picture(f"badges/{child.badge}", (box.x + 46, y), BADGE)
        x, room = box.x + 94, box.w - 112
        page.text_from(page.fitted(child.nickname, room, look.TEXT, True), (x, y - 16), look.TEXT, bold=True)
        words = f"{child.hand} hand" + (f" · {child.notes}" if child.notes.strip() else "")
        page.text_from(page.fitted(words, room, 19), (x, y + 19), 19, look.QUIET_TEXT)
