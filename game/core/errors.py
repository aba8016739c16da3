"""Errors by reader: a `Trouble` carries one sentence for a grown-up; the details go to the diagnostics file."""

from __future__ import annotations

import difflib
from collections.abc import Iterable


class Trouble(Exception):
    """Something a grown-up can mend. Its text is one sentence: what, where, what to do."""


def near(value: object, allowed: Iterable[object]) -> str:
    """` (did you mean "x"?)` for the allowed value that is closest to `value`, or nothing."""
    words = {str(a): a for a in allowed}
    found = difflib.get_close_matches(str(value), words, n=1, cutoff=0.6)
    if not found:
        return ""
    meant = words[found[0]]
    return f' (did you mean "{meant}"?)' if isinstance(meant, str) else f" (did you mean {meant}?)"
