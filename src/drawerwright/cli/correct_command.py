"""`drawerwright correct`: what test cuts say, and what to change."""

from __future__ import annotations

import argparse
import json
from dataclasses import replace
from pathlib import Path

from drawerwright.cli.exits import DONE
from drawerwright.cli.length_arguments import length

NAME = "correct"
SUMMARY = "read test cuts: how the machine was actually set, what to dial in next, and how sure that is"
EXAMPLE = "drawerwright correct examples/test-cut.yaml"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("trial", type=Path, metavar="TRIAL.yaml", help="the trial file")
    parser.add_argument(
        "--least-play", type=length, help="least play that counts as a fit (instead of the file's)"
    )
    parser.add_argument(
        "--most-play", type=length, help="most play that counts as a fit (instead of the file's)"
    )
    parser.add_argument("--json", action="store_true", help="print JSON, lengths in mm")


def run(args: argparse.Namespace) -> int:
    from drawerwright.job.test_cuts.correcting import correct_trial, correction_data, correction_text
    from drawerwright.job.test_cuts.plain_trial import PlainTrial
    from drawerwright.job.test_cuts.trial_reading import open_trial

    trial = open_trial(args.trial)
    if isinstance(trial, PlainTrial):
        print(json.dumps(trial.data(), indent=1) if args.json else trial.text())
        return DONE
    given = {"least_play": args.least_play, "most_play": args.most_play}
    unit = trial.style.typed_unit
    plays = {name: play.value(unit) for name, play in given.items() if play is not None}
    fit = replace(trial.wanted.fit, **plays)
    trial = replace(trial, wanted=replace(trial.wanted, fit=fit))
    correction = correct_trial(trial)
    if args.json:
        print(json.dumps(correction_data(trial, correction), indent=1))
    else:
        print(correction_text(trial, correction))
    return DONE
