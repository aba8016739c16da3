"""The forms in which numerals and letters are taught: strokes with their order, direction and spoken cue.

A folder holds form files (TOML, see levels/forms/README.md). A centre's own file of the same layout may
stand in the data folder; what it says wins over the folder, for every child, and above that for the child it names.
"""

import tomllib
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path
from typing import Any

from game.core.records import Hand
from game.core.writing.curves import Line, flatten, length, spaced

HANDS: tuple[Hand, ...] = ("right", "left")
NUMERALS = tuple("0123456789")
LETTERS = tuple("zerontwhfuivsxg")
DOT_LENGTH = 0.05
"""A stroke of a form shorter than this is a dot."""
SYMBOLS = (*NUMERALS, "10", *LETTERS)


@dataclass(frozen=True)
class Stroke:
    """One stroke on the ruling (y 0 top line, 1 base line), in the direction of writing, and its cue."""

    line: Line
    cue: str = ""
    text: str = ""

    def points(self, count: int = 64) -> Line:
        """`count` points evenly spaced along the stroke, both ends included."""
        return spaced(self.line, count)

    @cached_property
    def length(self) -> float:
        return length(self.line)

    def moved(self, dx: float) -> "Stroke":
        """The same stroke `dx` further to the right."""
        return replace(self, line=tuple((x + dx, y) for x, y in self.line))


@dataclass(frozen=True)
class Form:
    """One way to write a symbol; `name` tells the forms of a symbol apart ("open", "closed")."""

    symbol: str
    name: str
    strokes: tuple[Stroke, ...]

    @property
    def width(self) -> float:
        """From the leftmost to the rightmost point, in heights of a numeral."""
        xs = [x for stroke in self.strokes for x, _ in stroke.line]
        return max(xs) - min(xs)

    @cached_property
    def body(self) -> tuple[Line, ...]:
        """The lines of the strokes that are more than a dot."""
        return tuple(stroke.line for stroke in self.strokes if stroke.length > DOT_LENGTH)


@dataclass(frozen=True)
class _Entry:
    form: Form
    taught: tuple[Hand, ...]
    allowed: tuple[Hand, ...]
    child: str | None


class Forms:
    """All forms known: one taught form for each symbol and hand, and others that are as good."""

    def __init__(self, entries: Iterable[_Entry], gaps: dict[str, float]) -> None:
        self._entries = tuple(entries)
        self._by_symbol: dict[str, list[_Entry]] = {}
        for entry in self._entries:
            self._by_symbol.setdefault(entry.form.symbol, []).append(entry)
        self._gaps = gaps

    def taught(self, symbol: str, hand: Hand = "right", child: str | None = None) -> Form:
        """The form to show; a run ("10", "seven") is set side by side. ValueError for an unknown symbol."""
        if len(symbol) > 1:
            return self._side_by_side(symbol, hand, child)
        for entry in reversed(self._of(symbol, hand, child)):
            if hand in entry.taught:
                return entry.form
        raise ValueError(f"no form is taught for {symbol!r} with the {hand} hand; known: {' '.join(SYMBOLS)}")

    def allowed(self, symbol: str, hand: Hand = "right", child: str | None = None) -> tuple[Form, ...]:
        """The taught form first, then every other form that is as good for this hand."""
        first = self.taught(symbol, hand, child)
        others = [entry.form for entry in self._of(symbol, hand, child)]
        return (first, *(form for form in others if form.name != first.name))

    def variants(self, symbol: str) -> tuple[Form, ...]:
        """The forms of a symbol to choose from for all children: those that are good for both hands."""
        named: dict[str, Form] = {}
        for entry in self._by_symbol.get(symbol, ()):
            if entry.child is None and {*entry.taught, *entry.allowed} == set(HANDS):
                named[entry.form.name] = entry.form
        return tuple(named.values())

    def gap(self, symbol: str) -> float:
        """The space between two neighbours of this symbol's kind, in heights of a numeral."""
        return self._gaps["numerals" if symbol[0] in NUMERALS else "letters"]

    def cues(self) -> dict[str, str]:
        """Every clip id that a stroke can ask for, with its text."""
        strokes = (stroke for entry in self._entries for stroke in entry.form.strokes)
        return {stroke.cue: stroke.text for stroke in strokes}

    def _of(self, symbol: str, hand: Hand, child: str | None) -> list[_Entry]:
        """The entries that hold here, the most telling last: what is for all, then what names the child."""
        found = [
            entry
            for entry in self._by_symbol.get(symbol, ())
            if entry.child in (None, child) and hand in (*entry.taught, *entry.allowed)
        ]
        return sorted(found, key=lambda entry: entry.child is not None)

    def _side_by_side(self, symbols: str, hand: Hand, child: str | None) -> Form:
        strokes: list[Stroke] = []
        at = 0.0
        for symbol in symbols:
            form = self.taught(symbol, hand, child)
            left = min(x for stroke in form.strokes for x, _ in stroke.line)
            strokes.extend(stroke.moved(at - left) for stroke in form.strokes)
            at += form.width + self.gap(symbol)
        return Form(symbols, "side by side", tuple(strokes))


def load_forms(folder: Path, own: Path | None = None) -> Forms:
    """Read numerals.toml and letters.toml, then a centre's `own` file if it exists.

    ValueError lists every fault found, with file and form, one a line.
    """
    entries: list[_Entry] = []
    gaps: dict[str, float] = {}
    faults: list[str] = []
    files = [folder / "numerals.toml", folder / "letters.toml"]
    for path in files + ([own] if own is not None and own.exists() else []):
        try:
            data = tomllib.loads(path.read_text(encoding="utf-8"))
        except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
            faults.append(f"{path}: cannot be read ({error})")
            continue
        if path in files:
            gaps[path.stem] = float(data.get("gap", 0.2))
        for number, table in enumerate(data.get("form", []), start=1):
            try:
                entries.append(_entry(table, entries))
            except (ValueError, TypeError, AttributeError) as fault:
                faults.append(f"{path}, form {number}: {fault}")
    if faults:
        raise ValueError("\n".join(faults))
    return Forms(entries, gaps)


def _entry(table: dict[str, Any], known: list[_Entry]) -> _Entry:
    """A form of one table; without strokes it names a form that is known already, to be taught instead."""
    symbol, name, child = table.get("symbol"), table.get("name"), table.get("child")
    if symbol not in (*NUMERALS, *LETTERS):
        raise ValueError(f"symbol {symbol!r} is unknown; use one of {' '.join((*NUMERALS, *LETTERS))}")
    if not isinstance(name, str) or not (child is None or isinstance(child, str)):
        raise ValueError("name and child must be words in quotes")
    if "stroke" in table:
        strokes = tuple(_stroke(part) for part in table["stroke"])
        if not strokes:
            raise ValueError("a form needs at least one stroke")
        form = Form(symbol, name, strokes)
    else:
        same = [entry.form for entry in known if (entry.form.symbol, entry.form.name) == (symbol, name)]
        if not same:
            names = ", ".join(entry.form.name for entry in known if entry.form.symbol == symbol)
            raise ValueError(f"no form {name!r} of {symbol} is known and no stroke is given; known: {names}")
        form = same[-1]
    return _Entry(form, _hands(table, "taught"), _hands(table, "allowed"), child)


def _stroke(table: dict[str, Any]) -> Stroke:
    return Stroke(flatten(str(table.get("path", ""))), str(table.get("cue", "")), str(table.get("text", "")))


def _hands(table: dict[str, Any], key: str) -> tuple[Hand, ...]:
    given = table.get(key, [])
    if any(hand not in HANDS for hand in given):
        raise ValueError(f'{key} = {given!r}; use ["right"], ["left"] or both')
    return tuple(hand for hand in HANDS if hand in given)
