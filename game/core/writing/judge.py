"""Judges ink: is it the symbol asked for, and if so, was it formed well?

Two questions, never mixed. The shape decides the first, whatever the order and direction of strokes; the second is
asked only when the shape passes, and its answer is a tip.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from game.core.records import Hand
from game.core.writing.curves import Line
from game.core.writing.formation import Ruling, Slip, StrokeVerdict, formation
from game.core.writing.forms import HANDS, LETTERS, NUMERALS, Forms, load_forms
from game.core.writing.places import Part, split, with_drawn_dot
from game.core.writing.shape import CLASS_OF, NONE, Scores, Shapes, load_shapes
from game.core.writing.strokes import MOST_STROKES, Ink, box_of, clean, mirrored
from game.core.writing.tips import tip_for

UNSURE = 0.7
"""A margin nearer to 0 than this counts neither way: the child is asked to write it again."""
LETTER_LEAD = 3.0
"""A letter must be so much likelier than the numeral asked to take its place: the child was asked for a numeral."""
NONE_LEAD = 2.0
MIRROR_LEAD = {"1": 3.0}
MIRROR_LEAD_OF_OTHERS = 1.5
"""A mirror image must be so much likelier: calling a proper numeral turned round is the worse mistake. A 1 needs
more, since only its flag can be turned."""
MIRROR_DOUBT = 6.0
"""Beyond this margin over the mirrored numeral the other way round need not be asked."""
MOST_SYMBOLS = 8
LOOKS_ALIKE = {"o": "0", "i": "1", "z": "2", "s": "5", "g": "9"}
TURNED_LETTERS = frozenset("zernhfsg")
"""Letters whose mirror image is neither themselves nor another letter."""


@dataclass(frozen=True)
class Verdict:
    """What was written. `margin` is larger the surer it is the symbol asked; below 0 it is not.

    Where nothing was asked, `looks_like` is the nearest numeral, and `sure` is False if it may be none.
    """

    asked: str | None
    is_asked: bool
    looks_like: str | None
    nearest: str | None
    """The numeral that comes nearest, even where the ink looks like none."""
    mirrored: bool
    sure: bool
    margin: float | None
    form: str | None = None
    strokes: tuple[StrokeVerdict, ...] = ()
    slips: tuple[Slip, ...] = ()
    tip: str = ""
    parts: tuple["Verdict", ...] = ()

    @property
    def slip(self) -> Slip | None:
        """The most helpful single thing to say, or None."""
        return self.slips[0] if self.slips else None


@dataclass(frozen=True)
class Judge:
    """Judges with the forms and shapes it was given."""

    forms: Forms
    shapes: Shapes

    def judge(
        self,
        strokes: Sequence[Sequence[Sequence[float]]],
        asked: str | None,
        hand: Hand = "right",
        ruling: Ruling | None = None,
        child: str | None = None,
    ) -> Verdict:
        """A verdict on strokes of (x, y, at_ms), y down; ValueError names a value that cannot be used."""
        symbols = _checked(asked)
        if hand not in HANDS:
            raise ValueError(f"hand {hand!r} is unknown; use right or left")
        ink = clean(strokes)
        if not ink.strokes:
            return _refused(asked, "nothing written")
        if len(ink.strokes) > MOST_STROKES * max(1, len(symbols)):
            return _refused(asked, "other symbol")
        writer = _Writer(self, hand, ruling, child)
        if len(symbols) > 1:
            return writer.run(ink, symbols)
        return writer.symbol(Part(ink.strokes, ink.dots), asked)


def _checked(asked: str | None) -> str:
    if asked is None:
        return ""
    known = isinstance(asked, str) and 0 < len(asked) <= MOST_SYMBOLS
    if known and (all(s in NUMERALS for s in asked) or all(s in LETTERS for s in asked)):
        return asked
    raise ValueError(f"asked {asked!r} cannot be judged; use numerals or the letters {' '.join(LETTERS)}")


def _refused(asked: str | None, slip: Slip) -> Verdict:
    margin = None if asked is None else -99.0
    return Verdict(asked, False, None, None, False, slip != "nothing written", margin, slips=(slip,), tip=tip_for(slip))


@dataclass(frozen=True)
class _Writer:
    """One judgement's circumstances: whose hand, on what lines."""

    judge: Judge
    hand: Hand
    ruling: Ruling | None
    child: str | None

    def symbol(self, part: Part, asked: str | None) -> Verdict:
        """The verdict on the ink of one symbol."""
        if asked == "i":
            part = with_drawn_dot(part)
        scores = self.judge.shapes.scores(part.strokes)
        nearest = max(NUMERALS, key=scores.__getitem__)
        if asked is None:
            return Verdict(None, False, nearest, nearest, False, _lead(scores, nearest) >= UNSURE, None)
        looks = _looks_like(scores, part, self.ruling)
        lead, turned = self._lead(part.strokes, scores, asked)
        is_asked = lead > 0 and not turned
        sure = abs(lead) >= UNSURE
        if not is_asked:
            if looks == asked:
                looks = None
            slip: Slip = "mirrored" if turned else "other symbol"
            return Verdict(
                asked, False, looks, nearest, turned, sure, lead, slips=(slip,), tip=tip_for(slip, asked, looks)
            )
        forms = self.judge.forms.allowed(asked, self.hand, self.child)
        found = formation(part.strokes, forms, self.ruling, part.dots)
        tip = tip_for(found.slips[0], asked) if found.slips else ""
        return Verdict(asked, True, asked, nearest, False, sure, lead, found.form, found.strokes, found.slips, tip)

    def _lead(self, strokes: Sequence[Line], scores: Scores, asked: str) -> tuple[float, bool]:
        """The margin of the symbol asked over whatever else it may be, and whether it is mirrored."""
        lead = _lead(scores, asked)
        if asked in NUMERALS:
            mirror = "m" + asked
            if mirror in scores and scores[CLASS_OF.get(asked, asked)] - scores[mirror] < MIRROR_DOUBT:
                over = self.judge.shapes.mirror_margin(strokes, asked, scores)
                over += MIRROR_LEAD.get(asked, MIRROR_LEAD_OF_OTHERS)
                flipped = over < 0 and _flips_to(self.judge.shapes, strokes, asked)
                return min(lead, over), flipped
        elif lead < 0 and asked in TURNED_LETTERS:
            return lead, _flips_to(self.judge.shapes, strokes, asked)
        return lead, False

    def run(self, ink: Ink, symbols: str) -> Verdict:
        """The verdict on a word or a numeral of several digits, symbol by symbol."""
        model = [self.judge.forms.taught(symbol, self.hand, self.child) for symbol in symbols]
        parts = split(ink.strokes, ink.dots, symbols, model, self.ruling, self._loss)
        if parts is None:
            return _refused(symbols, "other symbol")
        verdicts = tuple(self.symbol(part, symbol) for part, symbol in zip(parts, symbols, strict=True))
        worst = min(verdicts, key=lambda verdict: verdict.margin or 0.0)
        wrong = next((v for v in verdicts if not v.is_asked), None)
        first = wrong or next((v for v in verdicts if v.slips), None)
        looks = None if any(v.looks_like is None for v in verdicts) else "".join(v.looks_like or "" for v in verdicts)
        return Verdict(
            symbols,
            wrong is None,
            looks,
            "".join(v.nearest or "" for v in verdicts) if symbols[0] in NUMERALS else None,
            any(v.mirrored for v in verdicts),
            all(v.sure for v in verdicts),
            worst.margin,
            strokes=tuple(stroke for v in verdicts for stroke in v.strokes),
            slips=first.slips if first else (),
            tip=first.tip if first else "",
            parts=verdicts,
        )

    def _loss(self, strokes: Sequence[Line], symbol: str) -> float:
        return -self.judge.shapes.scores(strokes)[CLASS_OF.get(symbol, symbol)]


def _lead(scores: Scores, asked: str) -> float:
    """Logarithm of how much likelier the symbol asked is than its strongest rival."""
    own = CLASS_OF.get(asked, asked)
    if asked in NUMERALS:
        rivals = [scores[rival] for rival in NUMERALS if rival != own]
        rivals += [scores[s] - LETTER_LEAD for s in LETTERS if s not in CLASS_OF]
        rivals.append(scores[NONE] - NONE_LEAD)
        return scores[own] - max(rivals)
    alike = {own, LOOKS_ALIKE.get(asked), NONE}
    rivals = [score for rival, score in scores.items() if rival not in alike and not rival.startswith("m")]
    return max(scores[own], scores[LOOKS_ALIKE.get(asked, own)]) - max([*rivals, scores[NONE] - NONE_LEAD])


def _flips_to(shapes: Shapes, strokes: Sequence[Line], asked: str) -> bool:
    """Whether the looking-glass shows the symbol asked."""
    return _lead(shapes.scores(mirrored(strokes)), asked) > 0


def _looks_like(scores: Scores, part: Part, ruling: Ruling | None) -> str | None:
    """The numeral or letter that the ink looks like; numerals go first, since they are what is written most."""
    numeral = max(NUMERALS, key=scores.__getitem__)
    letter = max((s for s in LETTERS if s not in CLASS_OF), key=scores.__getitem__)
    if scores[NONE] > max(scores[numeral], scores[letter]) + NONE_LEAD:
        return None
    if scores[letter] > scores[numeral] + LETTER_LEAD:
        return letter
    if ruling is not None and numeral in "01":
        box = box_of(part.strokes)
        if ruling.level(box.top) > 0.3 and ruling.level(box.bottom) < 1.25:
            return "o" if numeral == "0" else "i" if part.dots else "1"
    return numeral


@lru_cache(maxsize=4)
def load_judge(folder: Path, own: Path | None = None) -> Judge:
    """The judge with the forms and weights of a folder, and a centre's own forms; read once."""
    return Judge(load_forms(folder, own), load_shapes(folder / "shape_weights.json"))


def judge(
    strokes: Sequence[Sequence[Sequence[float]]],
    asked: str | None,
    hand: Hand = "right",
    ruling: Ruling | None = None,
) -> Verdict:
    """`Judge.judge` with the forms that Ten Lamps ships."""
    return load_judge(shipped()).judge(strokes, asked, hand, ruling)


def shipped() -> Path:
    """The folder of forms beside the package (a checkout) or in it (installed)."""
    package = Path(__file__).resolve().parents[2]
    inside = package / "data" / "levels" / "forms"
    return inside if inside.is_dir() else package.parent / "levels" / "forms"
