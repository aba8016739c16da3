"""`tenlamps judge`: ink in, verdicts out, one JSON line each."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Iterable, Iterator
from dataclasses import asdict
from multiprocessing import Pool
from pathlib import Path
from typing import Any

from game import paths
from game.commands import common
from game.core.errors import Trouble
from game.core.writing.formation import Ruling
from game.core.writing.judge import Judge, Verdict, load_judge

ABOUT = """Each line of FILE is one sample:
{"asked": "3", "hand": "right", "strokes": [[[x, y, milliseconds], ...], ...]}, y pointing down. "asked" may be null;
"hand" is right if it is missing; "ruling": {"top": y, "base": y} may tell where the lines lie."""
OWN_FORMS = "forms.toml"
WORKERS = 2
CHUNK = 64
ALONE = 200
"""So few lines are judged sooner than a second worker starts."""


def add(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    parser = subparsers.add_parser(
        "judge",
        help="judge handwriting in a file of ink",
        description=ABOUT,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("file", metavar="FILE", help="JSON lines of ink, or - for standard input")
    parser.add_argument("--workers", type=int, default=WORKERS, metavar="N", help=f"processes (else {WORKERS})")
    common.home_option(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Exit 0 when every line could be judged, 1 when some could not, 2 when the file cannot be read."""
    try:
        text = sys.stdin.buffer.read() if args.file == "-" else Path(args.file).read_bytes()
        load_judge(*_folders(args))
    except OSError as error:
        raise Trouble(f"{args.file} cannot be read ({error.strerror}); give a file of JSON lines.") from error
    except ValueError as error:
        raise Trouble(f"{str(error).splitlines()[0]}; mend it, or take it away.") from error
    problems = 0
    for found in _verdicts(text.splitlines(), *_folders(args), max(1, args.workers)):
        problems += "problem" in found
        print(json.dumps(found, ensure_ascii=False))
    if problems:
        common.warn([f'{problems} line{"s" * (problems > 1)} could not be judged; see "problem" in the verdicts.'])
    return 1 if problems else 0


def _folders(args: argparse.Namespace) -> tuple[Path, Path]:
    return paths.data("levels") / "forms", common.home_of(args) / OWN_FORMS


def _verdicts(lines: list[bytes], folder: Path, own: Path, workers: int) -> Iterator[dict[str, Any]]:
    jobs = [(number, line, folder, own) for number, line in enumerate(lines, start=1) if line.strip()]
    if workers == 1 or len(jobs) < ALONE:
        yield from map(_one, jobs)
        return
    with Pool(workers) as pool:
        yield from pool.imap(_one, jobs, chunksize=CHUNK)


def _one(job: tuple[int, bytes, Path, Path]) -> dict[str, Any]:
    number, line, folder, own = job
    try:
        return _as_json(_judged(load_judge(folder, own), line))
    except (ValueError, TypeError, KeyError, RecursionError) as error:
        return {"line": number, "problem": f"line {number}: {error}"}


def _judged(judge: Judge, line: bytes) -> Verdict:
    sample = json.loads(line.decode("utf-8"))
    if not isinstance(sample, dict) or "strokes" not in sample:
        raise ValueError('not a sample; give {"asked": ..., "hand": ..., "strokes": [...]}')
    strokes, lines = sample["strokes"], sample.get("ruling")
    if not isinstance(strokes, list) or not all(isinstance(stroke, list) for stroke in strokes):
        raise ValueError("strokes must be a list of lists of [x, y, milliseconds]")
    ruling = None if lines is None else _ruling(lines)
    return judge.judge(strokes, sample.get("asked"), sample.get("hand", "right"), ruling)


def _ruling(lines: object) -> Ruling:
    if not isinstance(lines, dict) or not all(isinstance(lines.get(key), int | float) for key in ("top", "base")):
        raise ValueError(f'ruling {lines!r}: give {{"top": y, "base": y}}')
    places: Iterable[Any] = lines.get("places", ())
    return Ruling(float(lines["top"]), float(lines["base"]), tuple((float(a), float(b)) for a, b in places))


def _as_json(verdict: Verdict) -> dict[str, Any]:
    found = asdict(verdict)
    found["slip"] = verdict.slip
    found["parts"] = [_as_json(part) for part in verdict.parts]
    return {key: _rounded(value) for key, value in found.items()}


def _rounded(value: Any) -> Any:
    if isinstance(value, float):
        return round(value, 4)
    if isinstance(value, list | tuple):
        return [_rounded(part) for part in value]
    if isinstance(value, dict):
        return {key: _rounded(part) for key, part in value.items()}
    return value
