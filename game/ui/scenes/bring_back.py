"""Which file of home practice is brought in: those in the folder for it, and in the data folder."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from pathlib import Path

from game.core.layout import Box
from game.ui import look
from game.ui.corner_page import BOTTOM, LEFT, RIGHT, TOP, WIDTH, CornerPage
from game.ui.draw import Page
from game.ui.office import Errand
from game.ui.picture_button import PictureButton
from game.ui.scene import Kit, Next
from game.ui.widgets import Target

ROWS = 5
ROW_Y, ROW_H = TOP + 118, 92.0
FOOT_Y, FOOT_H = BOTTOM - 86, 82.0
EARLIER = PictureButton("earlier", Box(RIGHT - 204, FOOT_Y, 96, FOOT_H), "icons/back")
LATER = PictureButton("later", Box(RIGHT - 98, FOOT_Y, 96, FOOT_H), "icons/next")
"""Turn to other files when there are more than a page holds."""
_NAME = "file_"


class BringBackScene(CornerPage):
    """`found`: the files, the newest first, with the time they were written; `folder`: where they belong."""

    name = "bring_back"
    tab = "files"
    title = "Bring practice back"

    def __init__(self, kit: Kit, found: Sequence[tuple[Path, datetime]], folder: Path) -> None:
        super().__init__(kit)
        self.found, self.folder = tuple(found), folder
        self.page = 0

    @property
    def shown(self) -> tuple[tuple[Path, datetime], ...]:
        return self.found[self.page * ROWS : (self.page + 1) * ROWS]

    def _turns(self) -> list[PictureButton]:
        there = ((EARLIER, self.page > 0), (LATER, (self.page + 1) * ROWS < len(self.found)))
        return [button for button, is_there in there if is_there]

    def _box(self, place: int) -> Box:
        return Box(LEFT, ROW_Y + place * ROW_H, WIDTH, ROW_H - 10)

    def content_targets(self) -> list[Target]:
        files = [Target(f"{_NAME}{place}", self._box(place)) for place in range(len(self.shown))]
        return [*files, *(button.target for button in self._turns())]

    def choose(self, name: str) -> Next | None:
        if name in (EARLIER.name, LATER.name):
            self.page += 1 if name == LATER.name else -1
            return None
        path, _ = self.shown[int(name.removeprefix(_NAME))]
        return Next("files", Errand("merge", path=path))

    def way_back(self) -> Next:
        return Next("files")

    def draw_content(self, page: Page) -> None:
        words = f"Put files that end in .lane into {self.folder}. Then choose one."
        page.paragraph(words, Box(LEFT, TOP + 50, WIDTH, 60), look.TEXT_SMALL, most=2)
        if not self.found:
            page.paragraph("No file is there yet.", Box(LEFT, ROW_Y + 20, WIDTH, 60), look.TEXT)
        for place, (path, at) in enumerate(self.shown):
            box = self._box(place)
            pressed = self.targets.state(f"{_NAME}{place}") == "pressed"
            page.block(box, look.GLOW if pressed else look.SNOW, 18)
            page.picture("icons/bring_back", (box.x + 54, box.y + box.h / 2), 64)
            page.text_from(page.fitted(path.name, WIDTH - 130, look.TEXT, True), (box.x + 104, box.y + 26), bold=True)
            words = f"{at.day} {at:%B %Y, %H:%M} · {path.parent}"
            page.text_from(page.fitted(words, WIDTH - 130, 18), (box.x + 104, box.y + 60), 18, look.QUIET_TEXT)
        for button in self._turns():
            button.draw(page, self.targets)
