"""The plain words of ideas.toml: activities at the table, ideas for home, errors and what helps."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from game.core.records import Step

FILE = Path(__file__).with_name("ideas.toml")


@dataclass(frozen=True, slots=True)
class ErrorWords:
    says: str
    try_this: str


class Ideas:
    """Looks up the words for a step or an error: of its kind and way, else of its kind, else in general."""

    def __init__(self, table: Mapping[str, Any]) -> None:
        self._any: Mapping[str, str] = table["any"]
        self._kinds: Mapping[str, Any] = table.get("kind", {})
        self._errors: Mapping[str, Mapping[str, str]] = table.get("error", {})

    def table(self, step: Step) -> str:
        """Five minutes for a group, with spoons or buttons only."""
        return self._of(step, "table")

    def home(self, step: Step) -> str:
        """A few minutes at home."""
        return self._of(step, "home")

    def error(self, kind: str, error: str) -> ErrorWords:
        """The words for an error as the log says it; what begins like a known one ("other numeral 6") has its words."""
        found = self._error(kind, error) or self._error(kind, error.rpartition(" ")[0]) or self._any
        return ErrorWords(found["says"], found["try"])

    def knows_error(self, kind: str, error: str) -> bool:
        return bool(self._error(kind, error) or self._error(kind, error.rpartition(" ")[0]))

    def _error(self, kind: str, error: str) -> Mapping[str, str] | None:
        own: Mapping[str, Mapping[str, str]] = self._kinds.get(kind, {}).get("error", {})
        return own.get(error) or self._errors.get(error)

    def knows_kind(self, kind: str) -> bool:
        return kind in self._kinds

    def _of(self, step: Step, what: str) -> str:
        kind = self._kinds.get(step.task, {})
        text: str = kind.get(step.way, {}).get(what) or kind.get(what) or self._any[what]
        return text.replace("{high}", str(max(step.numbers))).replace("{low}", str(min(step.numbers)))


def load_ideas() -> Ideas:
    return Ideas(tomllib.loads(FILE.read_text(encoding="utf-8")))
