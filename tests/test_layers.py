"""Who may import whom: the core runs on the standard library alone, the teacher's side never loads pygame."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
GAME = ROOT / "game"


def modules_in(folder: Path) -> list[str]:
    return sorted(
        ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")
        for path in folder.rglob("*.py")
    )


def loaded_after_import(modules: list[str]) -> set[str]:
    code = f"import sys; before = set(sys.modules)\nfor m in {modules!r}: __import__(m)\nprint(*sys.modules)"
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, cwd=ROOT, check=True)
    return {name.partition(".")[0] for name in out.stdout.split()}


def test_the_core_loads_the_standard_library_alone():
    loaded = loaded_after_import(modules_in(GAME / "core"))
    foreign = {n for n in loaded if n not in sys.stdlib_module_names and not n.startswith(("_", "game"))}
    # a virtual environment's own start-up hooks are no import of ours
    assert foreign - {"sitecustomize", "distutils-precedence", "editable", "pkg_resources"} == set()


def test_the_teachers_side_never_loads_pygame():
    assert "pygame" not in loaded_after_import(modules_in(GAME / "teacher"))


def imports_of(path: Path) -> set[str]:
    """All dotted names that a module imports, wherever in the file."""
    names: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names.update(alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            names.add(node.module)
            names.update(f"{node.module}.{alias.name}" for alias in node.names)
    return names


@pytest.mark.parametrize(
    ("part", "never"),
    [
        ("core", ("pygame", "game.ui", "game.teacher", "game.app", "game.paths", "game.commands")),
        ("ui", ("game.teacher", "game.commands", "game.__main__")),
        ("teacher", ("pygame", "game.ui", "game.app", "game.commands")),
        ("ui/scenes", ("game.ui.scenes",)),
    ],
)
def test_imports_run_one_way(part: str, never: tuple[str, ...]):
    allowed_in_scenes = {"game.ui.scenes.task", "game.ui.scenes"}
    faults = [
        f"{path.relative_to(ROOT)} imports {name}"
        for path in (GAME / part).rglob("*.py")
        for name in imports_of(path)
        if name.startswith(never) and not (part == "ui/scenes" and name.startswith(tuple(allowed_in_scenes)))
    ]
    assert faults == []


def test_importing_the_core_opens_no_file_of_its_own():
    code = (
        "import sys\n"
        "opened = []\n"
        "sys.addaudithook(lambda e, a: opened.append(str(a[0])) if e == 'open' else None)\n"
        f"for m in {modules_in(GAME / 'core')!r}: __import__(m)\n"
        "print(*[o for o in opened if not o.endswith(('.py', '.pyc')) and '__pycache__' not in o], sep='\\n')"
    )
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, cwd=ROOT, check=True)
    ours = [
        line for line in out.stdout.split("\n") if any(p in line for p in ("levels", "art", "sounds", ".toml", ".csv"))
    ]
    assert [line for line in ours if str(ROOT) in line and not line.startswith(sys.prefix)] == []
