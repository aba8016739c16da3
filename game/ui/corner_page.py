"""A page of the grown-ups' corner: paper, tabs on the left, the way back, and room for what there is to do."""

from __future__ import annotations

from game.core.layout import Box
from game.ui import look
from game.ui.draw import Page
from game.ui.input import Event
from game.ui.picture_button import PictureButton
from game.ui.scene import LEAVE_KEY, Kit, Next, Scene
from game.ui.widgets import Target
from game.ui.word_button import WordButton

PAPER = Box(32, 18, 1216, 756)
RAIL_X, RAIL_W, TAB_H, TAB_STEP = 56.0, 178.0, 112.0, 124.0
BACK_BOX = Box(RAIL_X, 642, RAIL_W, 108)
LINE_BOX = Box(254, 42, 4, 708)
LEFT, RIGHT, TOP, BOTTOM = 284.0, 1224.0, 42.0, 750.0
WIDTH = RIGHT - LEFT
NOTICE_BOX = Box(LEFT, 662, WIDTH, 88)
TABS = (
    ("children", "Children", "icons/grownup"),
    ("settings", "Settings", "icons/settings"),
    ("numerals", "Numerals", "icons/pencil"),
    ("files", "Files", "icons/files"),
)


class CornerPage(Scene):
    """Override `content_targets`, `choose` and `draw_content`. `notice` is a sentence for the grown-up, or nothing."""

    leavable = False
    title = ""
    tab = ""
    """The tab that the page belongs to; its own name where it is one of the four."""

    def __init__(self, kit: Kit) -> None:
        super().__init__(kit)
        self.notice = ""
        self.tabs = tuple(
            WordButton(name, Box(RAIL_X, TOP + place * TAB_STEP, RAIL_W, TAB_H), words, picture, 21, beside=False)
            for place, (name, words, picture) in enumerate(TABS)
        )
        self.back = PictureButton("back", BACK_BOX, "icons/back")

    # ------------------------------------------------------------------ for the pages to override
    def content_targets(self) -> list[Target]:
        return []

    def choose(self, name: str) -> Next | None:
        """A target of the content was picked."""
        return None

    def draw_content(self, page: Page) -> None:
        raise NotImplementedError

    def way_back(self) -> Next:
        return Next("opening")

    # ------------------------------------------------------------------ the life of the page
    def enter(self) -> None:
        self.set_targets()

    def set_targets(self) -> None:
        self.targets.set([*self.content_targets(), *(tab.target for tab in self.tabs), self.back.target])

    def handle(self, event: Event) -> Next | None:
        if event.kind == "key" and event.key == LEAVE_KEY:
            return self.way_back() if self.targets.all else None
        return super().handle(event)

    def pick(self, name: str) -> Next | None:
        if name == "back":
            return self.way_back()
        if any(name == tab.name for tab in self.tabs):
            return None if name == self.name else Next(name)
        following = self.choose(name)
        if following is None:
            self.set_targets()
        return following

    def draw(self, page: Page) -> None:
        page.backdrop("lane/opening_background")
        page.panel(PAPER, radius=36, drop=9)
        page.block(LINE_BOX, look.PAPER_SHADE, 2)
        for tab in self.tabs:
            tab.draw(page, self.targets, chosen=tab.name == (self.tab or self.name))
        self.back.draw(page, self.targets)
        page.text_from(self.title, (LEFT, TOP + 20), look.TEXT_TITLE, bold=True)
        self.draw_content(page)
        self.draw_focus(page)

    def draw_notice(self, page: Page, box: Box = NOTICE_BOX) -> None:
        if self.notice:
            page.block(box, look.PAPER_SHADE, 18)
            page.paragraph(self.notice, Box(box.x + 20, box.y + 14, box.w - 40, box.h), 20, look.INK, 3)
