"""How this centre counts on fingers and forms its numerals, and whether pages turn round for a left hand."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from game.core.errors import Trouble
from game.core.layout import Box
from game.core.settings import Settings
from game.core.writing.forms import NUMERALS, Form
from game.ui import look, shapes
from game.ui.corner_page import LEFT, RIGHT, TOP, WIDTH, CornerPage
from game.ui.draw import Page
from game.ui.hands import ORDERS
from game.ui.picture_button import PictureButton
from game.ui.scene import Kit, Next
from game.ui.widgets import Target
from game.ui.word_button import WordButton

Save = Callable[[Settings], None]
Choose = Callable[[str, str], None]
"""Teaches a form, by symbol and name, to all; raises Trouble."""

SHOWN_FINGERS = 3
WAYS = (("thumb_first", "thumb first"), ("index_first", "index first"))
MIRRORED = ((True, "turned round"), (False, "as for the right"))
HALF_X = LEFT + 476
WAY_Y, WAY_H = TOP + 92, 142.0
FORMS_Y = WAY_Y + WAY_H + 76
CARD_W, CARD_H, CARD_GAP, GROUP_GAP, ROW_H = 118.0, 100.0, 8.0, 26.0, 110.0
NUMERAL_H = 50.0


class NumeralsScene(CornerPage):
    """`save` takes changed settings, `choose_form` the form of a numeral that is to be taught."""

    name = "numerals"
    title = "Hands and numerals"

    def __init__(self, kit: Kit, save: Save, choose_form: Choose) -> None:
        super().__init__(kit)
        self._save, self._choose_form = save, choose_form
        self.ways = tuple(
            PictureButton(f"way_{way}", Box(LEFT + place * 172, WAY_Y, 156, WAY_H), "hands/left_palm")
            for place, (way, _) in enumerate(WAYS)
        )
        self.mirrored = tuple(
            WordButton(f"mirrored_{place}", Box(HALF_X + place * 234, WAY_Y + 34, 222, 76), words)
            for place, (_, words) in enumerate(MIRRORED)
        )
        self.forms = tuple(self._place_forms())

    def _place_forms(self) -> Iterator[tuple[Target, Form]]:
        """The numerals that can be formed in several ways, each group together."""
        x, y = LEFT, FORMS_Y
        for symbol in NUMERALS:
            variants = self.kit.pictures.forms.variants(symbol)
            if len(variants) < 2:
                continue
            wide = len(variants) * (CARD_W + CARD_GAP)
            if x > LEFT and x + wide - CARD_GAP > RIGHT:
                x, y = LEFT, y + ROW_H
            for place, form in enumerate(variants):
                box = Box(x + place * (CARD_W + CARD_GAP), y, CARD_W, CARD_H)
                yield Target(f"form_{symbol}_{place}", box), form
            x += wide + GROUP_GAP

    def content_targets(self) -> list[Target]:
        ways = [button.target for button in self.ways]
        mirrored = [button.target for button in self.mirrored]
        return [*ways, *mirrored, *(target for target, _ in self.forms)]

    def choose(self, name: str) -> Next | None:
        settings, (what, _, rest) = self.kit.settings, name.partition("_")
        try:
            if what == "way":
                self._save(replace(settings, finger_way=rest))
            elif what == "mirrored":
                self._save(replace(settings, mirror_left=MIRRORED[int(rest)][0]))
            else:
                form = next(form for target, form in self.forms if target.name == name)
                self._choose_form(form.symbol, form.name)
            self.notice = ""
        except Trouble as trouble:
            self.notice = str(trouble)
        return None

    # ------------------------------------------------------------------ drawing
    def draw_content(self, page: Page) -> None:
        page.text_from("Three on the fingers", (LEFT, TOP + 68), look.TEXT, bold=True)
        page.text_from("Pages for a left-handed child", (HALF_X, TOP + 68), look.TEXT, bold=True)
        words = "The hand hides nothing; numbers keep their order."
        page.text_from(page.fitted(words, RIGHT - HALF_X, 18), (HALF_X, TOP + 102), 18, look.QUIET_TEXT)
        for button, (way, words) in zip(self.ways, WAYS, strict=True):
            self._draw_way(page, button, way, words)
        for choice, (value, _) in zip(self.mirrored, MIRRORED, strict=True):
            choice.draw(page, self.targets, chosen=value == self.kit.settings.mirror_left)
        page.text_from("Numerals as they are taught here", (LEFT, FORMS_Y - 44), look.TEXT, bold=True)
        page.text_from(
            page.fitted("They are shown, traced and judged so; the others are right, too.", WIDTH, 18),
            (LEFT, FORMS_Y - 18), 18, look.QUIET_TEXT,
        )  # fmt: skip
        for target, form in self.forms:
            self._draw_form(page, target, form)
        self.draw_notice(page)

    def _draw_way(self, page: Page, button: PictureButton, way: str, words: str) -> None:
        chosen = self.kit.settings.finger_way == way
        ink = self._card(page, button.target, chosen)
        up = ORDERS[way][:SHOWN_FINGERS]
        fingers = [f"hands/left_finger_{n}_{'up' if n - 1 in up else 'down'}" for n in (5, 4, 3, 2, 1)]
        x, y = button.box.centre
        if chosen:
            page.block(Box(x - 56, button.box.y + 10, 112, 96), look.CREAM, 14)
        page.layers(["hands/left_palm", *fingers], (x, y - 13), 82)
        page.text(words, (x, button.box.y + button.box.h - 20), 18, ink, chosen)

    def _draw_form(self, page: Page, target: Target, form: Form) -> None:
        chosen = self.kit.pictures.forms.taught(form.symbol).name == form.name
        ink = self._card(page, target, chosen)
        x, y = target.box.centre
        drawn = shapes.numeral(form, NUMERAL_H, ink)
        page.shape(drawn, (x, y - 14), *shapes.numeral_size(form, NUMERAL_H))
        page.text(page.fitted(form.name, CARD_W - 12, 16, chosen), (x, target.box.y + CARD_H - 18), 16, ink, chosen)

    def _card(self, page: Page, target: Target, chosen: bool) -> look.Colour:
        """The card of a choice; returns the colour for what is on it."""
        pressed = self.targets.state(target.name) == "pressed"
        fill = look.NIGHT if chosen else look.GLOW if pressed else look.SNOW
        page.panel(target.box, fill, radius=18, drop=0 if pressed else 4)
        return look.CREAM if chosen else look.INK
