"""A centre's choice among the forms of a numeral, kept at the end of its own forms file (forms.toml).

All that a teacher wrote above stays as it is, letter by letter.
"""

from __future__ import annotations

import json
import tomllib
from pathlib import Path

from game.core.errors import Trouble
from game.core.files import swap_in
from game.core.writing.forms import load_forms

FILE_NAME = "forms.toml"
MARK = "# Chosen in Ten Lamps, for all children. Below this line the app writes; your own forms belong above it.\n"


def choose(folder: Path, own: Path, symbol: str, name: str) -> None:
    """Teach this form of a numeral to all, by the file `own`. `folder` holds the shipped forms.

    Raises Trouble, with the file as it was, when the form is unknown or the file cannot be read or written.
    """
    try:
        known = load_forms(folder, own)
        text = own.read_text(encoding="utf-8") if own.exists() else ""
        above, chosen = _parted(text)
    except (OSError, ValueError) as error:
        raise Trouble(f"{str(error).splitlines()[0]}; mend {own} first, then choose again.") from error
    names = [form.name for form in known.variants(symbol)]
    if name not in names:
        raise Trouble(f'There is no form "{name}" of {symbol}; known: {", ".join(names)}.')
    chosen[symbol] = name
    whole = _joined(above, chosen)
    try:
        tomllib.loads(whole)
        swap_in(own, whole.encode("utf-8"))
    except tomllib.TOMLDecodeError as error:
        raise Trouble(f"{own} is laid out so that nothing can be added ({error}); write [[form]] tables.") from error
    except OSError as error:
        raise Trouble(f"{own} cannot be written ({error.strerror}); close it elsewhere or make room.") from error


def _parted(text: str) -> tuple[str, dict[str, str]]:
    """What a teacher wrote, and the choices that the app wrote below it: symbol to the name of its form."""
    above, _, below = text.partition(MARK)
    return above, {table["symbol"]: table["name"] for table in tomllib.loads(below).get("form", ())}


def _joined(above: str, chosen: dict[str, str]) -> str:
    tables = "".join(
        f'\n[[form]]\nsymbol = "{symbol}"\nname = {json.dumps(name, ensure_ascii=False)}\ntaught = ["right", "left"]\n'
        for symbol, name in sorted(chosen.items())
    )
    gap = "" if not above or above.endswith("\n") else "\n"
    return above + gap + MARK + tables
