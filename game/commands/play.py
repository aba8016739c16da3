"""`tenlamps` (or `tenlamps play`): open the window and play."""

from __future__ import annotations

import argparse
from pathlib import Path

from game.commands import common
from game.core.errors import Trouble

SMALLEST = (640, 400)


def add(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    parser = subparsers.add_parser("play", help="play (this is what tenlamps does without a word)")
    options(parser)


def options(parser: argparse.ArgumentParser) -> None:
    common.home_option(parser)
    parser.add_argument("--full-screen", action="store_true", help="start in full screen (F11 changes it)")
    parser.add_argument("--size", default="1280x800", metavar="WxH", help="size of the window in pixels")
    parser.add_argument("--seed", type=int, metavar="N", help="the same choices each time, for trying things out")
    parser.add_argument(
        "--pace", type=float, default=1.0, metavar="X", help="how fast time runs in the app, for trying things out"
    )
    parser.add_argument("--journal", type=Path, metavar="FILE", help="write down what is shown and said, line by line")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    from game import app  # pygame is loaded only when the game is played
    from game.commands.office import office

    if not 0 < args.pace <= 100:
        raise Trouble(f"--pace is {args.pace}; use a number over 0, up to 100.")
    return app.play(
        app.PlayOptions(
            home=common.home_of(args),
            seed=args.seed,
            pace=args.pace,
            journal=args.journal,
            full_screen=args.full_screen,
            size=_size(args.size),
            office=office(),
        )
    )


def _size(text: str) -> tuple[int, int]:
    width, _, height = text.lower().partition("x")
    if not (width.isdigit() and height.isdigit()) or int(width) < SMALLEST[0] or int(height) < SMALLEST[1]:
        raise Trouble(f"--size is {text}; use width x height from {SMALLEST[0]}x{SMALLEST[1]} up, like 1280x800.")
    return int(width), int(height)
