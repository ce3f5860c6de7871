"""`drawerwright movement`: the moisture of wood in some air, and how far it moves."""

from __future__ import annotations

import argparse

from drawerwright.cli.exits import DONE
from drawerwright.cli.length_arguments import add_units, json_in_mm, length
from drawerwright.cli.number_arguments import degrees, percent

NAME = "movement"
SUMMARY = "work out what moisture wood comes to in some air, and how far that moves a size"
EXAMPLE = 'drawerwright movement --species "sugar maple" --size 102 --from-mc 8 --to-mc 11'


def add_arguments(parser: argparse.ArgumentParser) -> None:
    add_units(parser)
    parser.add_argument(
        "--emc",
        action="store_true",
        help="only the moisture that wood comes to in air of this temperature and humidity",
    )
    parser.add_argument(
        "--temperature", type=degrees, metavar="DEGREES", help="air temperature in °C, or as 70F"
    )
    parser.add_argument("--humidity", type=percent, metavar="PERCENT", help="relative humidity of the air")
    parser.add_argument("--species", help='of solid wood, for instance "maple, sugar"')
    parser.add_argument("--panel", help="instead of a species: a kind of plywood, moving in its plane")
    parser.add_argument(
        "--cut",
        help="tangential (flat-sawn, the default) or radial (quarter-sawn)",
    )
    parser.add_argument("--size", type=length, help="the size that moves, across the grain")
    parser.add_argument("--from-mc", type=percent, metavar="PERCENT", help="moisture of the wood now")
    parser.add_argument("--to-mc", type=percent, metavar="PERCENT", help="the moisture it comes to")
    parser.add_argument(
        "--climate",
        metavar="NAME",
        help="instead of both: from the dry to the damp end of a usual climate",
    )
    parser.add_argument("--json", action="store_true", help="print JSON, lengths in mm")


def run(args: argparse.Namespace) -> int:
    from drawerwright.basics.errors import InvalidValueError
    from drawerwright.basics.lengths import LengthStyle
    from drawerwright.job.moving_wood import moisture_in_air, moistures_of_climate, move

    if args.emc:
        if None in (args.temperature, args.humidity):
            raise InvalidValueError("--emc needs --temperature and --humidity")
        air = moisture_in_air(args.temperature, args.humidity)
        print(json_in_mm(air.data, temperature="°C", moisture="%") if args.json else air.text)
        return DONE
    if args.size is None:
        raise InvalidValueError("give --size and what moves, or --emc with --temperature and --humidity")
    moistures = args.from_mc, args.to_mc
    if args.climate is not None:
        if moistures != (None, None):
            raise InvalidValueError("give --climate, or --from-mc and --to-mc, not both")
        moistures = moistures_of_climate(args.climate)
    if None in moistures:
        raise InvalidValueError("give --from-mc and --to-mc, or --climate")
    before, after = moistures
    moved = move(args.size, before, after, species=args.species, cut=args.cut, panel=args.panel)
    print(json_in_mm(moved.data, moisture="%") if args.json else moved.text(LengthStyle(args.units)))
    return DONE
