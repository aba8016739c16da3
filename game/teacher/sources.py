"""What may be brought in: a home practice file, a data folder, a plain log. Each becomes a folder's worth of files."""

from __future__ import annotations

import hashlib
import json
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from game.core import log, roster, settings
from game.core.errors import Trouble
from game.teacher import ink

EXTENSION = ".lane"
KIND = "Ten Lamps home practice"
VERSION = 1
MANIFEST = "manifest.json"
MEMBERS = (log.FILE_NAME, ink.FILE_NAME, roster.FILE_NAME, settings.FILE_NAME)
MOST_BYTES = 1 << 30
MOST_MANIFEST = 1 << 16
PIECE = 1 << 20
_TORN = "is torn or was changed; have it made again where it comes from. Nothing was changed here."


@dataclass(frozen=True, slots=True)
class Source:
    """Where to read from; a path that is None is not part of the source. `name` is for the grown-up."""

    name: str
    attempts: Path | None
    ink: Path | None = None
    folder: Path | None = None
    pack: bool = False


@contextmanager
def opened(paths: list[Path]) -> Iterator[list[Source]]:
    """All sources, checked. Raises Trouble with one sentence for the first that cannot be brought in."""
    with ExitStack() as stack:
        yield [_source(path, stack) for path in paths]


def _source(path: Path, stack: ExitStack) -> Source:
    try:
        if path.is_dir():
            return _folder(path)
        with path.open("rb") as handle:
            start = handle.read(4096)
    except FileNotFoundError:
        raise Trouble(f"There is no file or folder {path}; check the name. Nothing was changed.") from None
    except OSError as error:
        raise Trouble(f"{path} cannot be read ({error.strerror}); copy it anew. Nothing was changed.") from error
    if start.startswith(b"PK"):
        folder = Path(stack.enter_context(TemporaryDirectory(prefix="tenlamps-")))
        unpack(path, folder)
        return Source(path.name, folder / log.FILE_NAME, folder / ink.FILE_NAME, folder, pack=True)
    first = start.decode("utf-8-sig", errors="replace").partition("\n")[0]
    if "attempt_id" in first and "skill" in first:
        return Source(path.name, path)
    raise Trouble(f"{path} is no home practice ({EXTENSION}), no data folder and no attempts.csv. Nothing was changed.")


def _folder(path: Path) -> Source:
    attempts, ink_path = path / log.FILE_NAME, path / ink.FILE_NAME
    if not attempts.exists() and not (path / roster.FILE_NAME).exists():
        raise Trouble(f"{path} holds no {log.FILE_NAME}; name a data folder. Nothing was changed.")
    return Source(path.name, attempts, ink_path, path)


def unpack(path: Path, folder: Path) -> None:
    """Write the members of a home practice file into `folder`, each checked. Raises Trouble; `path` is only read."""
    try:
        with zipfile.ZipFile(path) as packed:
            files = _manifest(packed, path)
            names = [info.filename for info in packed.infolist()]
            if sorted(names) != sorted([MANIFEST, *files]) or not set(files) <= set(MEMBERS):
                raise Trouble(f"{path} {_TORN}")
            for name, told in files.items():
                _unpack_one(packed, name, told, folder / name, path)
    except OSError as error:
        raise Trouble(f"{path} cannot be read ({error.strerror}); copy it anew. Nothing was changed.") from error
    except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError, ValueError) as error:
        raise Trouble(f"{path} {_TORN}") from error


def _manifest(packed: zipfile.ZipFile, path: Path) -> dict[str, dict[str, Any]]:
    other = Trouble(f"{path} is no home practice of Ten Lamps; choose a file that ends in {EXTENSION}.")
    if MANIFEST not in packed.namelist():
        raise other
    if packed.getinfo(MANIFEST).file_size > MOST_MANIFEST:
        raise Trouble(f"{path} {_TORN}")
    held = json.loads(packed.read(MANIFEST))
    if not isinstance(held, dict) or held.get("kind") != KIND:
        raise other
    version, files = held.get("version"), held.get("files")
    if not isinstance(version, int) or isinstance(version, bool) or not isinstance(files, dict):
        raise Trouble(f"{path} {_TORN}")
    if version > VERSION:
        raise Trouble(f"{path} was made by a newer Ten Lamps; bring this one up to date first. Nothing was changed.")
    if sum(told["bytes"] for told in files.values() if isinstance(told, dict) and "bytes" in told) > MOST_BYTES:
        raise Trouble(
            f"{path} would be over {MOST_BYTES >> 20} MB unpacked, more than practice can be. Nothing was changed."
        )
    return files


def _unpack_one(packed: zipfile.ZipFile, name: str, told: object, to: Path, path: Path) -> None:
    if not isinstance(told, dict) or packed.getinfo(name).file_size != told.get("bytes"):
        raise Trouble(f"{path} {_TORN}")
    check, left = hashlib.sha256(), int(told["bytes"])
    with packed.open(name) as held, to.open("wb") as out:
        while piece := held.read(PIECE):
            left -= len(piece)
            if left < 0:
                raise Trouble(f"{path} {_TORN}")
            check.update(piece)
            out.write(piece)
    if left or check.hexdigest() != told.get("sha256"):
        raise Trouble(f"{path} {_TORN}")
