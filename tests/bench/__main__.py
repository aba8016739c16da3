"""`python -m tests.bench [NAME...] [--json FILE]`: each figure against a floor measured in the same run."""

from __future__ import annotations

import argparse
import importlib
import json
import os
import platform
import sys
from pathlib import Path

from tests.bench.report import Report

os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")
BENCHES = ("frames", "replay", "wheel", "writing", "teacher")
LONG = ("learning",)


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.bench", description=__doc__)
    parser.add_argument(
        "names", nargs="*", metavar="NAME", help=f"of {', '.join(BENCHES + LONG)} (else all but the long)"
    )
    parser.add_argument("--json", type=Path, metavar="FILE", help="write the figures there, too")
    args = parser.parse_args()
    unknown = [name for name in args.names if name not in BENCHES + LONG]
    if unknown:
        parser.error(f"there is no bench {unknown[0]}; use {', '.join(BENCHES + LONG)}")
    report = Report(f"Python {platform.python_version()} on {platform.machine()}")
    for name in args.names or BENCHES:
        report.section(name)
        importlib.import_module(f"tests.bench.{name}").run(report)
    if args.json:
        args.json.write_text(json.dumps(report.as_json(), indent=2) + "\n", encoding="utf-8")
    return report.summary()


if __name__ == "__main__":
    sys.exit(main())
