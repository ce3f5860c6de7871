"""`drawerwright sheets`: published cutting instances through the sheet planner."""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Callable
from functools import partial
from typing import Any

from drawerwright.cli.exits import BAD_INPUT, DONE, OWN_FAULT, first_of, interruptible
from drawerwright.cli.number_arguments import seconds
from drawerwright.cli.progress_line import ProgressLines
from drawerwright.job.search_time import USUAL_SECONDS

NAME = "sheets"
SUMMARY = "solve published cutting problems: fewest or cheapest sheets, with a bound"
EXAMPLE = "drawerwright sheets instance.json --check"
LARGEST_FILE_BYTES = 50_000_000
"""The largest published collections take a few megabytes."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="INSTANCE.json", help="one instance, or a list of them (see --all)")
    parser.add_argument("--all", action="store_true", help="the file holds a list: solve each")
    parser.add_argument("--json", action="store_true", help="print JSON (lengths in mm)")
    parser.add_argument(
        "--time-limit",
        type=seconds,
        default=USUAL_SECONDS,
        metavar="S",
        help="seconds per instance; then print the best so far with its bound (default: %(default)g)",
    )
    parser.add_argument(
        "--check", action="store_true", help="have the independent referee check every answer"
    )


def run(args: argparse.Namespace) -> int:
    import json

    began = time.monotonic()
    code = DONE
    answers = []
    with interruptible() as was_interrupted:
        for instance in _instances(args):
            answer, own_code = _answer(instance, args, began, was_interrupted)
            answers.append(answer)
            code = first_of(code, own_code)
            began = time.monotonic()
    if args.json:
        print(json.dumps(answers if args.all else answers[0], allow_nan=False))
    return code


def _instances(args: argparse.Namespace) -> list[dict[str, Any]]:
    """What the file holds."""
    from pathlib import Path

    from drawerwright.basics.errors import InvalidValueError
    from drawerwright.job.file.given_files import given_json

    data = given_json(Path(args.file), LARGEST_FILE_BYTES)
    if args.all != isinstance(data, list):
        raise InvalidValueError(
            f"{args.file} holds a list of instances: add --all to solve them"
            if isinstance(data, list)
            else f"{args.file} holds one instance: drop --all"
        )
    instances = data if args.all else [data]
    if not all(isinstance(instance, dict) for instance in instances):
        raise InvalidValueError(f"{args.file}: an instance is an object with sheet and items")
    return instances


def _answer(
    instance: dict[str, Any], args: argparse.Namespace, began: float, was_interrupted: Callable[[], bool]
) -> tuple[dict[str, Any], int]:
    """What is found for one instance, and the exit code that goes with it."""
    from drawerwright.basics.errors import DrawerwrightError, InvalidValueError
    from drawerwright.sheets.published.instance import solve_instance

    name = str(instance.get("name", "instance"))
    lines = ProgressLines()
    try:
        result = solve_instance(
            instance,
            time_limit=args.time_limit,
            began=began,
            progress=partial(lines.search, name),
            cancelled=lines.asking(was_interrupted),
        )
    except DrawerwrightError as error:
        if isinstance(error, InvalidValueError):
            error = InvalidValueError(f"{args.file}: {error}")
        if not args.all:
            raise error from None
        print(error, file=sys.stderr)
        return {"name": instance.get("name"), "error": str(error)}, BAD_INPUT
    answer, code = result.as_json(), DONE
    if args.check:
        from drawerwright.sheets.referee.published_patterns import check_patterns

        answer["violations"] = check_patterns(instance, result.value, result.patterns)
        code = OWN_FAULT if answer["violations"] else DONE
    if not args.json:
        verdict = "proven" if result.proven else f"at least {result.lower_bound:g}"
        print(f"{result.name}: {result.value:g} ({verdict}) in {result.seconds:.2f} s")
        for violation in answer.get("violations", ()):
            print(f"  {violation}")
    return answer, code
