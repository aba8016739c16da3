"""Everything held about one child, to be read by a family or carried away: as plain text or as JSON."""

from __future__ import annotations

import json
import unicodedata
from pathlib import Path
from typing import Any

from game.core import log
from game.teacher import ink
from game.teacher.held import Held

FILES = {
    "children.csv": "the entry in the class list",
    log.FILE_NAME: "one line for each attempt",
    ink.FILE_NAME: "the ink of writing tasks, by attempt id",
}


def as_json(found: Held) -> str:
    """All of it for a machine; texts as they are meant, ink as it stands."""
    child = found.child
    whole: dict[str, Any] = {
        "what": "everything that Ten Lamps holds about one child",
        "files": FILES,
        "child": {
            "id": child.id, "nickname": child.nickname, "badge": child.badge, "hand": child.hand,
            "notes": child.notes, "away": child.away, "in_class_list": found.listed,
        },
        "attempts": [dict(zip(log.COLUMNS, row, strict=True)) for row in found.rows],
        "torn_lines": list(found.fragments),
        "ink": [_read(line) for line in found.ink],
        "own_stroke_forms": found.forms,
    }  # fmt: skip
    return json.dumps(whole, indent=1, ensure_ascii=False) + "\n"


def _read(line: str) -> Any:
    """A line of ink; as it stands where it cannot be read."""
    try:
        return json.loads(line)
    except ValueError:
        return line.rstrip("\n")


def as_text(found: Held) -> str:
    """All of it to be read; control characters are shown as spaces."""
    child = found.child
    parts = [
        f"Everything that Ten Lamps holds about {child.nickname}",
        "",
        f"id        {child.id}",
        f"nickname  {child.nickname}",
        f"badge     {child.badge or '-'}",
        f"hand      {child.hand}",
        f"notes     {child.notes or '-'}",
        f"in the class list: {('yes, away' if child.away else 'yes') if found.listed else 'no'}",
        "",
        f"Lines in the log ({log.FILE_NAME}): {len(found.rows)}",
        "; ".join(log.COLUMNS),
        *("; ".join(row) for row in found.rows),
        "",
        f"Torn lines: {len(found.fragments)}",
        *found.fragments,
        "",
        f"Ink ({ink.FILE_NAME}): {len(found.ink)}",
        *(line.rstrip("\n") for line in found.ink),
        "",
        f"Stroke forms of the centre for this child alone: {found.forms}",
    ]
    return "\n".join(map(_plain, parts)) + "\n"


def _plain(text: str) -> str:
    return "".join(" " if unicodedata.category(c) == "Cc" else c for c in text)


def text_for(found: Held, to: Path | None) -> str:
    """JSON where the file's name ends in .json, else plain text."""
    return as_json(found) if to is not None and to.suffix.lower() == ".json" else as_text(found)
