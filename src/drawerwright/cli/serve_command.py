"""`drawerwright serve`: the app in the browser."""

from __future__ import annotations

import argparse
from pathlib import Path

from drawerwright.cli.exits import DONE
from drawerwright.cli.number_arguments import port

NAME = "serve"
SUMMARY = "open the app in the browser, for the desk and the router table"
EXAMPLE = "drawerwright serve --open"
DEFAULT_PORT = 8744


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Arguments of the command."""
    parser.add_argument(
        "--port",
        type=port,
        default=DEFAULT_PORT,
        help="port to listen on; 0 picks a free one (default: %(default)s)",
    )
    parser.add_argument("--open", action="store_true", help="also open the browser")
    parser.add_argument(
        "--data",
        type=Path,
        metavar="DIR",
        help="folder for jobs and shop data (default: your user data folder)",
    )
    parser.add_argument(
        "--lan",
        action="store_true",
        help="let paired devices on the local network in; prints an address and a one-time pairing code",
    )
    parser.add_argument(
        "--lan-host", metavar="ADDRESS", help="with --lan: this machine's address, if the guess is wrong"
    )


def run(args: argparse.Namespace) -> int:
    """Serve until interrupted."""
    from drawerwright.store import data_folder
    from drawerwright.web.serving import serve

    serve(
        args.data or data_folder(),
        port=args.port,
        is_lan=args.lan or args.lan_host is not None,
        lan_host=args.lan_host,
        opens_browser=args.open,
    )
    return DONE
