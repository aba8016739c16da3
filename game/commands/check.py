"""`tenlamps check`: tell every fault of level files, or that there is none."""

from __future__ import annotations

import argparse
from pathlib import Path

from game import paths
from game.commands import common
from game.core import levels


def add(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    parser = subparsers.add_parser("check", help="check level files and tell every fault")
    parser.add_argument("files", nargs="*", type=Path, metavar="FILE", help="level files (else all that the app uses)")
    common.home_option(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    if args.files:
        shipped = sorted(paths.data("levels").glob("*.toml"))
        given = {p.resolve() for p in args.files}
        found = levels.load_files([*(p for p in shipped if p.resolve() not in given), *args.files])
    else:
        found = common.load_levels(common.home_of(args))
    for fault in found.faults:
        print(fault)
    if found.faults:
        many = len(found.faults)
        print(f"{many} fault{'s' * (many > 1)} found; a faulty file is left out, the others play.")
        return 1
    steps, skills = len(found.steps), len(found.skills)
    print(f"All good: {skills} skills, {steps} steps.")
    return 0
