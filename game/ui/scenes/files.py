"""Where the data lies, the report, practice that goes home and comes back, and sheets to print."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from game.core.errors import Trouble
from game.core.layout import Box
from game.core.records import Child
from game.ui import look
from game.ui.corner_page import BOTTOM, LEFT, RIGHT, TOP, WIDTH, CornerPage
from game.ui.draw import Page
from game.ui.office import Errand, Office, Progress
from game.ui.scene import Kit, Next, Script
from game.ui.widgets import Target
from game.ui.word_button import WordButton
from game.ui.work import Job, Work

Merge = Callable[[Path, Progress], Sequence[str]]
PATH_BOX = Box(LEFT, TOP + 52, WIDTH, 92)
OPEN_BOX = Box(RIGHT - 250, TOP + 62, 232, 72)
CARD_W, CARD_H = (WIDTH - 16) / 2, 142.0
CARDS_Y = TOP + 160
TOLD_BOX = Box(LEFT, CARDS_Y + 2 * (CARD_H + 14) + 4, WIDTH, BOTTOM - CARDS_Y - 2 * (CARD_H + 14) - 4)
LINES_MOST = 7


class FilesScene(CornerPage):
    """`children`: who can be chosen; `alone`: the one child of a parent's copy. `errand` is begun at once."""

    name = "files"
    title = "Files"

    def __init__(
        self,
        kit: Kit,
        office: Office,
        home: Path,
        children: Sequence[Child],
        alone: Child | None,
        merge: Merge,
        errand: Errand | None = None,
    ) -> None:
        super().__init__(kit)
        self.office, self.home, self.children, self.alone = office, home, tuple(children), alone
        self._merge, self._errand = merge, errand
        self.work: Work | None = None
        self.doing = ""
        self.open = WordButton("open", OPEN_BOX, "Open the folder", size=22)
        self.cards = (
            ("report", "icons/report", "Report", "The class, each child, and a sheet for each family."),
            ("pack", "icons/take_home", "Practice to take home", "One file, to carry to another device."),
            ("bring", "icons/bring_back", "Bring practice back", "Adds what is new in a file from another device."),
            ("sheets", "icons/printer", "Sheets to print", "Paper for the table, from a child's own next steps."),
        )  # fmt: skip
        if alone is not None:
            name, picture, _, _ = self.cards[0]
            says = "What was practised, how it goes, and what to play at home."
            self.cards = ((name, picture, "The sheet for parents", says), *self.cards[1:])

    # ------------------------------------------------------------------ what can be touched
    def enter(self) -> None:
        super().enter()
        if self._errand is not None:
            self._run_errand(self._errand)

    def set_targets(self) -> None:
        if self.work is None:
            super().set_targets()
        else:
            self.targets.set([])

    def content_targets(self) -> list[Target]:
        return [self.open.target, *(Target(card[0], self._box(place)) for place, card in enumerate(self.cards))]

    @staticmethod
    def _box(place: int) -> Box:
        row, column = divmod(place, 2)
        return Box(LEFT + column * (CARD_W + 16), CARDS_Y + row * (CARD_H + 14), CARD_W, CARD_H)

    # ------------------------------------------------------------------ doing
    def choose(self, name: str) -> Next | None:
        if name == "open":
            self._do("Opening the folder", lambda progress: self._opened())
        elif name == "report":
            self._do("Writing the report", self._report)
        elif name == "bring":
            return Next("bring_back")
        elif not self.children:
            self.notice = "Nobody is in the class list yet; add a child first."
        elif len(self.children) == 1:
            self._run_errand(Errand(name, self.children[0]))
        else:
            return Next("choose_child", name)
        return None

    def _run_errand(self, errand: Errand) -> None:
        child, path = errand.child, errand.path
        if errand.what == "pack" and child is not None:
            self._do("Packing", lambda progress: self._pack(child, progress))
        elif errand.what == "sheets" and child is not None:
            self._do("Drawing the sheets", lambda progress: self._sheets(child, progress))
        elif path is not None:
            self._do("Bringing it in", lambda progress: " ".join(self._merge(path, progress)))

    def _do(self, doing: str, job: Job) -> None:
        self.run(self._doing(doing, job))

    def _doing(self, doing: str, job: Job) -> Script:
        """The page rests until the work is done, then says what came of it."""
        self.doing, self.notice = doing, ""
        work = self.work = Work(job)
        self.set_targets()
        yield lambda: work.done
        self.work = None
        self.set_targets()
        try:
            self.notice = work.result()
        except Trouble as trouble:
            self.notice = str(trouble)
        return None

    def _opened(self) -> str:
        self.home.mkdir(parents=True, exist_ok=True)
        if self.office.show(self.home):
            return f"The folder is open in another window: {self.home}"
        return f"The folder could not be opened from here; look for it yourself: {self.home}"

    def _report(self, progress: Progress) -> str:
        path = self.office.report(self.home, None if self.alone is None else self.alone.id, progress)
        return self._shown("The sheet for parents is" if self.alone else "The report is", path)

    def _sheets(self, child: Child, progress: Progress) -> str:
        path = self.office.sheets(self.home, child, progress)
        return self._shown(f"The sheets for {child.nickname[:40]} are", path, "Print them at full size (100 %).")

    def _pack(self, child: Child, progress: Progress) -> str:
        path, many = self.office.pack(self.home, child, progress)
        what = "1 attempt" if many == 1 else f"{many} attempts"
        return f"{what} of {child.nickname[:40]} in {path}. Copy this file to the other device, and bring it in there."

    def _shown(self, what: str, path: Path, more: str = "") -> str:
        shown = self.office.show(path)
        how = "It opens in the browser." if shown else "No browser could be opened from here; open the file yourself."
        return f"{what} in {path}. {how} {more}".strip()

    # ------------------------------------------------------------------ drawing
    def draw_content(self, page: Page) -> None:
        page.block(PATH_BOX, look.SNOW, 18)
        page.text_from("All that this device keeps lies in", (LEFT + 20, PATH_BOX.y + 22), 19, look.QUIET_TEXT)
        page.paragraph(str(self.home), Box(LEFT + 20, PATH_BOX.y + 38, WIDTH - 310, 50), 19, look.INK, 2)
        self.open.draw(page, self.targets)
        for place, (name, picture, title, says) in enumerate(self.cards):
            self._draw_card(page, self._box(place), name, picture, title, says)
        if self.work is not None:
            self._draw_work(page, self.work)
        elif self.notice:
            page.block(TOLD_BOX, look.PAPER_SHADE, 18)
            inner = Box(LEFT + 22, TOLD_BOX.y + 16, WIDTH - 44, TOLD_BOX.h)
            page.paragraph(self.notice, inner, 21, look.INK, LINES_MOST)

    def _draw_card(self, page: Page, box: Box, name: str, picture: str, title: str, says: str) -> None:
        pressed = self.targets.state(name) == "pressed"
        page.panel(box, look.GLOW if pressed else look.SNOW, radius=24, drop=0 if pressed else 6)
        page.picture(picture, (box.x + 72, box.y + box.h / 2), 104)
        page.text_from(page.fitted(title, box.w - 152, look.TEXT, True), (box.x + 136, box.y + 34), bold=True)
        page.paragraph(says, Box(box.x + 136, box.y + 54, box.w - 152, 80), 19, most=3)

    def _draw_work(self, page: Page, work: Work) -> None:
        page.block(TOLD_BOX, look.PAPER_SHADE, 18)
        page.text_from(f"{self.doing} …", (LEFT + 22, TOLD_BOX.y + 44), look.TEXT)
        bar = Box(LEFT + 22, TOLD_BOX.y + 84, WIDTH - 44, 20)
        page.block(bar, look.CREAM, 10)
        share = round(min(1.0, max(0.0, work.share)) * 50) / 50
        if share > 0:
            page.block(Box(bar.x, bar.y, max(20.0, bar.w * share), bar.h), look.TEAL, 10)
