"""Makes HTML from the templates: everything is escaped, nothing is fetched, no script is used."""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import jinja2
from markupsafe import Markup

TEMPLATES = Path(__file__).with_name("templates")
_ID = re.compile(r'\bid="([^"]+)"')
_REFERENCE = re.compile(r"url\(#([^)]+)\)")
_OUTER = re.compile(r"<svg\b[^>]*>(.*)</svg>\s*$", re.DOTALL)
_VIEW = re.compile(r'viewBox="([^"]+)"')


def environment() -> jinja2.Environment:
    """The templates' environment; a name that a template misspells is an error, not an empty place."""
    return jinja2.Environment(
        loader=jinja2.FileSystemLoader(TEMPLATES),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )


def render(template: str, **values: Any) -> str:
    return environment().get_template(template).render(**values)


def style(*names: str) -> Markup:
    """Style sheets that stand in the templates folder, to be put into the page."""
    return Markup("\n".join((TEMPLATES / name).read_text(encoding="utf-8") for name in names))


def symbol(path: Path, name: str) -> Markup:
    """One of our own pictures as an SVG symbol with the id `name`; its inner ids get the name in front.

    Raises OSError when the picture is missing, ValueError when it is no SVG.
    """
    text = path.read_text(encoding="utf-8")
    outer, view = _OUTER.search(text), _VIEW.search(text)
    if outer is None or view is None:
        raise ValueError(f"{path} is not an SVG with a viewBox")
    inner = _ID.sub(rf'id="{name}-\1"', outer[1])
    inner = _REFERENCE.sub(rf"url(#{name}-\1)", inner)
    return Markup(f'<symbol id="{name}" viewBox="{view[1]}">{inner.strip()}</symbol>')


def symbols(art: Path, folder: str, names: Iterable[str], prefix: str) -> Markup:
    """The symbols of the pictures `names` in art/`folder`, each once; one that is missing is left out."""
    made: list[Markup] = []
    for name in dict.fromkeys(names):
        path = art / folder / f"{name}.svg"
        if path.is_file():
            made.append(symbol(path, f"{prefix}-{name}"))
    return Markup("").join(made)
