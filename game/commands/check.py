"""`tenlamps check`: tell every fault of level files, or that there is none."""

from __future__ import annotations

import argparse
from pathlib import Path

from game import paths
from game.commands import common
from game.core import levels
from game.core.errors import Trouble
from game.teacher import output


def add(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    parser = subparsers.add_parser("check", help="check level files and tell every fault")
    parser.add_argument("files", nargs="*", type=Path, metavar="FILE", help="level files (else all that the app uses)")
    common.home_option(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    if args.files:
        for path in args.files:
            if not path.is_file():
                what = "is a folder" if path.is_dir() else "is not there"
                raise Trouble(f"{path} {what}; name level files, or none to check all that the app uses.")
        shipped = sorted(paths.data("levels").glob("*.toml"))
        given = {p.resolve() for p in args.files}
        found = levels.load_files([*(p for p in shipped if p.resolve() not in given), *args.files])
    else:
        home = common.home_of(args)
        if args.home is not None:
            output.data_folder(home)
        found = common.load_levels(home)
    for fault in found.faults:
        print(fault)
    if found.faults:
        many = len(found.faults)
        print(f"{many} fault{'s' * (many > 1)} found; a faulty file is left out, the others play.")
        return 1
    steps, skills = len(found.steps), len(found.skills)
    print(f"All good: {skills} skills, {steps} steps.")
    return 0
