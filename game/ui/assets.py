"""Pictures, numerals and words as pixels at the window's own scale, made once each and kept."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import pygame

from game.core.records import Hand
from game.ui import look, shapes
from game.ui.diagnostics import Diagnostics
from game.ui.look import Colour
from game.ui.raster import Key, Rasteriser, rasterise
from game.ui.window import View

if TYPE_CHECKING:
    from game.core.writing.forms import Form, Forms

WHOLE_VIEW = View.of((look.PAGE_WIDTH, look.PAGE_HEIGHT))
_BOX = re.compile(r'viewBox="\s*[-\d.]+[\s,]+[-\d.]+[\s,]+([\d.]+)[\s,]+([\d.]+)')
ROUGH = 6
"""A backdrop that is not ready is made from a sixth of its width: the first frame must not wait for it."""

STEADY_FRAMES = 6
"""While a window is being resized, backdrops wait until its size has stayed for so many frames."""


@dataclass(frozen=True, slots=True)
class Drawing:
    """An SVG and the size of its view box in units."""

    text: str
    width: float
    height: float


EMPTY = Drawing(shapes.svg(200, 200), 200, 200)


class Pictures:
    """All that is drawn, by name and size in page units. `view` may change at any time (the window was resized):
    what was drawn for another scale stands in, stretched, until the sharp one is made, a few a frame."""

    def __init__(self, art: Path, levels: Path, own_forms: Path, diagnostics: Diagnostics) -> None:
        self._art = art
        self.form_files = (levels / "forms", own_forms)
        self._diagnostics = diagnostics
        self._drawings: dict[str, Drawing] = {}
        self._ready: dict[Key, pygame.Surface] = {}
        self._old: dict[Key, pygame.Surface] = {}
        self._stretched: dict[Key, pygame.Surface] = {}
        self._todo: dict[Key, tuple[str, float, float, bool]] = {}
        self._fonts: dict[Key, pygame.font.Font] = {}
        self._wanted: set[str] = set()
        self._asked: set[str] = set()
        self._steady = STEADY_FRAMES
        self._forms: Forms | None = None
        self._behind = Rasteriser()
        self.view = WHOLE_VIEW
        self.hand: Hand = "right"
        self.child: str | None = None
        self.troubles: list[str] = []

    def look_through(self, view: View) -> None:
        """Draw for this view from now on."""
        if view == self.view:
            return
        self.view = view
        self._old = {**self._old, **{key: made for key, made in self._ready.items() if key[0] != "backdrop"}}
        self._ready, self._stretched, self._todo, self._fonts = {}, {}, {}, {}
        self._steady = 0
        self._wanted, self._asked = set(), set()

    # ------------------------------------------------------------------ pictures and shapes
    def picture(self, name: str, width: float, flip: bool = False) -> pygame.Surface:
        """art/`name`.svg, `width` units wide."""
        drawing = self.drawing(name)
        height = width * drawing.height / drawing.width
        return self._made(("picture", name, width, flip), drawing.text, width, height, flip)

    def shape(self, text: str, width: float, height: float, flip: bool = False) -> pygame.Surface:
        """A drawing of shapes.py."""
        return self._made(("shape", text, width, flip), text, width, height, flip)

    def layers(self, names: Sequence[str], width: float, flip: bool = False) -> pygame.Surface:
        """Pictures of the same view box, one above the other, as one."""
        key = ("layers", *names, width, flip)
        drawings = [self.drawing(name) for name in names]
        size = (width, width * drawings[0].height / drawings[0].width)
        if key in self._ready:
            return self._ready[key]
        return self._made(key, shapes.layered([drawing.text for drawing in drawings]), *size, flip)

    def drawing(self, name: str) -> Drawing:
        if name not in self._drawings:
            self._drawings[name] = self._read(name)
        return self._drawings[name]

    def _read(self, name: str) -> Drawing:
        path = self._art / f"{name}.svg"
        try:
            text = path.read_text(encoding="utf-8")
            box = _BOX.search(text)
            if box is None:
                raise ValueError("it has no viewBox")
            return Drawing(text, float(box.group(1)), float(box.group(2)))
        except (OSError, ValueError) as error:
            self._diagnostics.note(f"picture {path}: {error}")
            return EMPTY

    def _made(self, key: Key, text: str, width: float, height: float, flip: bool) -> pygame.Surface:
        found = self._ready.get(key)
        if found is not None:
            return found
        if key not in self._old:
            return self._make(key, text, width, height, flip)
        self._todo[key] = (text, width, height, flip)
        if key not in self._stretched:
            self._stretched[key] = pygame.transform.scale(self._old[key], self._pixels(width, height))
        return self._stretched[key]

    def _make(self, key: Key, text: str, width: float, height: float, flip: bool) -> pygame.Surface:
        size = self._pixels(width, height)
        try:
            made = rasterise(text, *size).convert_alpha()
        except pygame.error as error:
            self._diagnostics.note(f"picture {str(key)[:80]}: {error}")
            made = pygame.Surface(size, pygame.SRCALPHA)
        self._ready[key] = pygame.transform.flip(made, True, False) if flip else made
        return self._ready[key]

    def _pixels(self, width: float, height: float) -> tuple[int, int]:
        return max(1, round(width * self.view.k)), max(1, round(height * self.view.k))

    # ------------------------------------------------------------------ backdrops
    def backdrop(self, name: str) -> pygame.Surface:
        """A picture of the whole page, mirrored outwards at the page's edges so that it fills the window."""
        key = ("backdrop", name, self.view)
        if key not in self._ready:
            self.want_backdrop(name)
            self._ready[key] = self._filling(self._rough(name))
        return self._ready[key]

    def want_backdrop(self, name: str) -> None:
        """Have this backdrop made behind the frames: it will be needed soon."""
        if name not in self._asked:
            self._asked.add(name)
            self._wanted.add(name)

    def _ask_for_backdrops(self) -> None:
        size = self._pixels(look.PAGE_WIDTH, look.PAGE_HEIGHT)
        for name in self._wanted:
            self._behind.ask(("backdrop", name, self.view), self.drawing(name).text, *size)
        self._wanted.clear()

    def _rough(self, name: str) -> pygame.Surface:
        """The backdrop from few of its pixels: quick, soft, soon replaced."""
        width, height = self._pixels(look.PAGE_WIDTH, look.PAGE_HEIGHT)
        try:
            small = rasterise(self.drawing(name).text, max(1, width // ROUGH), max(1, height // ROUGH))
        except pygame.error as error:
            self._diagnostics.note(f"backdrop {name}: {error}")
            small = pygame.Surface((1, 1))
        return pygame.transform.smoothscale(small, (width, height))

    def _filling(self, page: pygame.Surface) -> pygame.Surface:
        """The window filled with the page and, beyond its edges, with the page's mirror image."""
        view = self.view
        page = page.convert()
        width, height = page.get_size()
        if (width, height) == view.size:
            return page
        whole = pygame.Surface(view.size).convert()
        for column in (0, -1, 1):
            for row in (0, -1, 1):
                part = pygame.transform.flip(page, column != 0, row != 0) if column or row else page
                whole.blit(part, (view.left + column * width, view.top + row * height))
        return whole

    # ------------------------------------------------------------------ numerals and words
    @property
    def forms(self) -> Forms:
        """The forms of numerals and letters that are taught here, a centre's own among them."""
        if self._forms is None:
            self._forms = self._load_forms()
        return self._forms

    def form(self, number: int) -> Form:
        """The strokes of a numeral as this child is taught it."""
        return self.forms.taught(str(number), self.hand, self.child)

    def read_forms_again(self) -> None:
        """The forms file was changed: draw numerals anew."""
        self._forms = None
        for held in (self._ready, self._old, self._stretched, self._todo):
            for key in [key for key in held if key[0] == "numeral"]:
                del held[key]

    def _load_forms(self) -> Forms:
        from game.core.writing.forms import load_forms  # the first page has no numerals

        folder, own = self.form_files
        try:
            return load_forms(folder, own=own)
        except ValueError as error:
            self._diagnostics.note(str(error))
            self.troubles.append(f"{str(error).splitlines()[0]}; the usual numerals are used until it is mended.")
            return load_forms(folder)

    def numeral(self, number: int, height: float, colour: Colour = look.INK) -> pygame.Surface:
        """A numeral, `height` units from top to foot."""
        key = ("numeral", number, height, colour, self.hand, self.child)
        if key in self._ready:
            return self._ready[key]
        form = self.form(number)
        return self._made(key, shapes.numeral(form, height, colour), *shapes.numeral_size(form, height), False)

    def text(self, words: str, size: float, colour: Colour = look.INK, bold: bool = False) -> pygame.Surface:
        """Words for a grown-up, cut to their ink so that they can be centred."""
        key = ("text", words, size, colour, bold)
        if key not in self._ready:
            font = self._font(words, size, bold)
            if font.size(words)[0] < 1:  # marks alone that nobody sees
                words = " "
            drawn = font.render(words, True, colour)
            ink = drawn.get_bounding_rect()
            if ink.w:
                drawn = drawn.subsurface((ink.x, 0, ink.w, drawn.get_height()))
            self._ready[key] = drawn.convert_alpha()
        return self._ready[key]

    def width(self, words: str, size: float, bold: bool = False) -> float:
        """How wide these words are, in units."""
        return self._font(words, size, bold).size(words)[0] / self.view.k

    def _font(self, words: str, size: float, bold: bool) -> pygame.font.Font:
        """Andika, or a font of this computer for a script that Andika does not hold."""
        pygame.font.init()
        pixels = max(8, round(size * self.view.k))
        name = self._art / "fonts" / f"Andika-{'Bold' if bold else 'Regular'}.ttf"
        font = self._opened(name, pixels)
        if None not in font.metrics(words):
            return font
        for other in OTHER_SCRIPTS:
            found = pygame.font.match_font(other)
            if found is not None and None not in self._opened(Path(found), pixels).metrics(words):
                return self._opened(Path(found), pixels)
        return font

    def _opened(self, path: Path, pixels: int) -> pygame.font.Font:
        key = (path, pixels)
        if key not in self._fonts:
            try:
                self._fonts[key] = pygame.font.Font(path, pixels)
            except (OSError, pygame.error) as error:
                self._diagnostics.note(f"font {path}: {error}")
                self._fonts[key] = pygame.font.Font(None, pixels)
        return self._fonts[key]

    # ------------------------------------------------------------------ between the frames
    def work(self, most: int = 3, wait: bool = False) -> None:
        """Make a few of the drawings that are stood in for; with `wait` all of them."""
        self._steady += 1
        if self._wanted and (wait or self._steady >= STEADY_FRAMES):
            self._ask_for_backdrops()
        for key, made in self._behind.collect(wait):
            if key[-1] == self.view:
                self._ready[key] = self._filling(made)
        for key in list(self._todo)[: None if wait else most]:
            self._make(key, *self._todo.pop(key))
        if not self._todo:
            self._old.clear()
            self._stretched.clear()

    def stop(self) -> None:
        self._behind.stop()


OTHER_SCRIPTS = (
    "notosanscjksc", "notosanscjk", "notosansarabic", "notosanshebrew", "notosansdevanagari", "notosans",
    "microsoftyahei", "msgothic", "malgungothic", "segoeui", "arialunicodems", "hiraginosans", "wenquanyimicrohei",
    "dejavusans", "freesans",
)  # fmt: skip
