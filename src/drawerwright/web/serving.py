"""Starting and stopping the web server."""

from __future__ import annotations

import asyncio
import contextlib
import gc
import ipaddress
import logging
import socket
import sys
from functools import cache
from pathlib import Path

import uvicorn
from starlette.applications import Starlette
from starlette.routing import BaseRoute

from drawerwright.basics.errors import InvalidValueError
from drawerwright.web.pages.routes import ROUTES
from drawerwright.web.reader.rendering import STATIC_FOLDER
from drawerwright.web.server.app import create_app, with_reader
from drawerwright.web.server.connections import FewLines, PatientProtocol
from drawerwright.web.server.pairing import CODE_SECONDS, spaced
from drawerwright.web.server.shop import Shop

LOOPBACK = "127.0.0.1"
STOP_SECONDS = 2
MISSING_SCRIPTS = (
    "the pages' scripts are missing from this source tree: run `make frontend` once, "
    "or install the package with pip"
)


def lan_ip() -> str:
    """This machine's address in the local network, as its own routing table has it; nothing is sent.

    Raises:
        InvalidValueError: the machine is in no network.
    """
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            # Connecting a datagram socket only picks the route; the address is from the range that RFC 5737
            # keeps for documentation.
            probe.connect(("192.0.2.1", 9))
            address = str(probe.getsockname()[0])
        except OSError:
            raise InvalidValueError("--lan needs a network, but this machine is on none") from None
    return address


def checked_host(given: str) -> str:
    """An address of this machine that others are told.

    Raises:
        InvalidValueError: it is none that a device on the network could come to, or not this machine's.
    """
    try:
        address = ipaddress.IPv4Address(given)
        if not (address.is_unspecified or address.is_multicast):
            with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as probe:
                probe.bind((given, 0))
            return given
    except ipaddress.AddressValueError:
        pass
    except OSError as error:
        raise InvalidValueError(
            f"--lan-host {given} is not an address of this machine ({error.strerror}): give the one that it has in "
            "the network of the devices"
        ) from None
    raise InvalidValueError(
        f"--lan-host must be this machine's address in the network, such as 192.168.1.20, not {given[:60]!r}"
    )


def app_of(shop: Shop) -> Starlette:
    """The whole app for one open data file."""
    return create_app(shop, _routes())


@cache
def _routes() -> tuple[BaseRoute, ...]:
    return tuple(map(with_reader, ROUTES))


def has_scripts() -> bool:
    """Whether the scripts are there that the pages take from other projects."""
    return (STATIC_FOLDER / "vendor" / "htmx.min.js").is_file()


def serve(
    folder: Path,
    *,
    port: int,
    is_lan: bool = False,
    lan_host: str | None = None,
    opens_browser: bool = False,
) -> None:
    """Serve the app until interrupted. Port 0 takes a free one.

    Raises:
        InvalidValueError: the port is taken, the data cannot be used, or the pages' scripts are missing.
    """
    if not has_scripts():
        raise InvalidValueError(MISSING_SCRIPTS)
    if lan_host is not None:
        lan_host = checked_host(lan_host)
    listener = _listen("0.0.0.0" if is_lan else LOOPBACK, port)
    port = listener.getsockname()[1]
    desk_address = f"http://{LOOPBACK}:{port}/"
    try:
        shop = Shop(folder, f"http://{lan_host or lan_ip()}:{port}" if is_lan else None)
    except BaseException:
        listener.close()
        raise
    print(f"Drawerwright is running at {desk_address}  (Ctrl-C to stop)", flush=True)
    if shop.lan_address is not None:
        print_pairing(shop, shop.lan_address)
    if opens_browser:
        import threading
        import webbrowser

        threading.Timer(0.3, webbrowser.open, [desk_address]).start()
    config = uvicorn.Config(
        app_of(shop),
        http=PatientProtocol,
        log_level="warning",
        access_log=False,
        lifespan="off",
        ws="none",
        server_header=False,
        proxy_headers=False,
        timeout_graceful_shutdown=STOP_SECONDS,
    )
    logging.getLogger("uvicorn.error").addFilter(FewLines())
    gc.freeze()  # what is loaded by now stays; looking through it again and again would hold answers up
    with contextlib.suppress(KeyboardInterrupt):
        asyncio.run(_Server(config, shop).serve(sockets=[listener]))
    shop.close()


class _Server(uvicorn.Server):
    """Ends the open event streams first, so that stopping does not wait for them."""

    def __init__(self, config: uvicorn.Config, shop: Shop) -> None:
        super().__init__(config)
        self._shop = shop

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        self._shop.hub.close()
        await super().shutdown(sockets)


def _listen(host: str, port: int) -> socket.socket:
    # With the protocol named, asyncio sends small answers at once (TCP_NODELAY); without it each waits for 40 ms.
    listener = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listener.bind((host, port))
    except OSError as error:
        listener.close()
        raise InvalidValueError(
            f"cannot listen on port {port}: {error.strerror}; choose another with --port, or 0 for any free one"
        ) from None
    listener.listen(128)
    listener.set_inheritable(True)
    return listener


def print_pairing(shop: Shop, lan_address: str) -> None:
    """Print a fresh pairing code, and a QR code that leads to the form with the code filled in."""
    import segno

    code = shop.codes.issue()
    print(f"For a phone on the same network: {lan_address}/pair", flush=True)
    print(f"Pairing code (works once, within {CODE_SECONDS / 60:.0f} minutes): {spaced(code)}", flush=True)
    if sys.stdout.isatty():
        segno.make(f"{lan_address}/pair?code={code}").terminal(compact=True)
