"""Painting on the page, in page units. Painting changes nothing but the pixels."""

from __future__ import annotations

import math
from collections.abc import Sequence

import pygame

from game.core.layout import Box, Point
from game.ui import look, shapes
from game.ui.assets import Pictures
from game.ui.look import Colour
from game.ui.window import View


class Page:
    """A surface that is painted on in page units. Centres are (x, y), `alpha` is 0 (nothing) to 1 (solid)."""

    def __init__(self, surface: pygame.Surface, view: View, pictures: Pictures) -> None:
        self.surface, self.view, self.pictures = surface, view, pictures

    def backdrop(self, name: str) -> None:
        self.surface.blit(self.pictures.backdrop(name), (0, 0))

    def picture(self, name: str, centre: Point, width: float, flip: bool = False, alpha: float = 1.0) -> None:
        self._put(self.pictures.picture(name, width, flip), centre, alpha)

    def layers(self, names: Sequence[str], centre: Point, width: float, flip: bool = False, alpha: float = 1.0) -> None:
        self._put(self.pictures.layers(names, width, flip), centre, alpha)

    def shape(self, text: str, centre: Point, width: float, height: float, alpha: float = 1.0) -> None:
        self._put(self.pictures.shape(text, width, height), centre, alpha)

    def numeral(self, number: int, centre: Point, height: float, colour: Colour = look.INK, alpha: float = 1.0) -> None:
        self._put(self.pictures.numeral(number, height, colour), centre, alpha)

    def text(
        self, words: str, centre: Point, size: float = look.TEXT, colour: Colour = look.INK, bold: bool = False
    ) -> None:
        self._put(self.pictures.text(words, size, colour, bold), centre, 1.0)

    def text_from(
        self, words: str, left: Point, size: float = look.TEXT, colour: Colour = look.INK, bold: bool = False
    ) -> float:
        """Words that begin at `left`, centred on its height; returns their width in units."""
        drawn = self.pictures.text(words, size, colour, bold)
        x, y = self.view.to_window(*left)
        self.surface.blit(drawn, (x, y - drawn.get_height() // 2))
        return drawn.get_width() / self.view.k

    def fitted(self, words: str, width: float, size: float = look.TEXT, bold: bool = False) -> str:
        """The words, cut behind as many letters as fit into `width` units."""
        if self.pictures.width(words, size, bold) <= width:
            return words
        short, long = 0, len(words)
        while short + 1 < long:
            middle = (short + long) // 2
            fits = self.pictures.width(words[:middle].rstrip() + "…", size, bold) <= width
            short, long = (middle, long) if fits else (short, middle)
        return words[:short].rstrip() + "…"

    def paragraph(
        self, words: str, box: Box, size: float = look.TEXT_SMALL, colour: Colour = look.QUIET_TEXT, most: int = 9
    ) -> None:
        """Words in lines that fit `box`, from its top left corner; what is beyond `most` lines is cut."""
        lines = [""]
        for word in words.split():
            for piece in self._pieces(word, box.w, size):
                longer = f"{lines[-1]} {piece}".strip()
                if lines[-1] and self.pictures.width(longer, size) > box.w:
                    lines.append(piece)
                else:
                    lines[-1] = longer
        if len(lines) > most:
            lines[most - 1] = self.fitted(" ".join(lines[most - 1 :]), box.w, size)
        for i, line in enumerate(lines[:most]):
            self.text_from(line, (box.x, box.y + size * look.LINE_STEP * (i + 0.5)), size, colour)

    def _pieces(self, word: str, width: float, size: float) -> list[str]:
        """A word (a path) that is wider than a line, in pieces."""
        pieces = []
        while self.pictures.width(word, size) > width:
            most = next(n for n in range(len(word), 0, -1) if n == 1 or self.pictures.width(word[:n], size) <= width)
            pieces.append(word[:most])
            word = word[most:]
        return [*pieces, word]

    def block(self, box: Box, fill: Colour, radius: float = 10.0) -> None:
        """A patch of colour without an outline."""
        self.shape(shapes.block(box.w, box.h, radius, fill), box.centre, box.w, box.h)

    def panel(
        self, box: Box, fill: Colour = look.CREAM, radius: float = 26.0, drop: float = 6.0, alpha: float = 1.0
    ) -> None:
        """A card that fills `box`, its shadow below the box."""
        height = box.h + drop
        self._put(
            self.pictures.shape(shapes.panel(box.w, height, radius, fill, drop=drop), box.w, height),
            (box.x + box.w / 2, box.y + height / 2),
            alpha,
        )

    def ring(self, box: Box, radius: float = 30.0, alpha: float = 1.0) -> None:
        """The mark around what is focused, or right."""
        grown = Box(box.x - 12, box.y - 12, box.w + 24, box.h + 24)
        self.shape(shapes.ring(grown.w, grown.h, radius), grown.centre, grown.w, grown.h, alpha)

    def disc(self, centre: Point, size: float, fill: Colour, line: Colour | None = look.INK) -> None:
        self.shape(shapes.disc(size, fill, line), centre, size, size)

    def label(self, words: str, centre: Point) -> None:
        """Small light words on a dark band, to be read on any backdrop."""
        drawn = self.pictures.text(words, look.TEXT_SMALL, look.CREAM)
        width = round(drawn.get_width() / self.view.k / 8 + 3.5) * 8.0
        self.shape(shapes.band(width, look.LABEL_HEIGHT), centre, width, look.LABEL_HEIGHT)
        self._put(drawn, centre, 1.0)

    def veil(self, alpha: float) -> None:
        """Night over the whole window."""
        veil = pygame.Surface(self.view.size)
        veil.fill(look.NIGHT)
        veil.set_alpha(round(255 * alpha))
        self.surface.blit(veil, (0, 0))

    def _put(self, made: pygame.Surface, centre: Point, alpha: float) -> None:
        if alpha <= 0:
            return
        x, y = self.view.left + centre[0] * self.view.k, self.view.top + centre[1] * self.view.k
        where = (math.floor(x - made.get_width() / 2 + 0.5), math.floor(y - made.get_height() / 2 + 0.5))
        if alpha >= 1:
            self.surface.blit(made, where)
        else:
            made.set_alpha(round(255 * alpha))
            self.surface.blit(made, where)
            made.set_alpha(255)
