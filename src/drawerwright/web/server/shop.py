"""What every page needs at hand: the data file's tables, the news, the pairing codes, the renderer."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from starlette.requests import Request

from drawerwright.store import (
    Database,
    Devices,
    History,
    JobTable,
    PictureTable,
    ProgressTable,
    RackTable,
    SavedText,
    Shelf,
)
from drawerwright.store.records import StoreError
from drawerwright.web.fields.field import shown_absent, shown_doubt
from drawerwright.web.reader.rendering import Renderer
from drawerwright.web.server.events import Hub
from drawerwright.web.server.first_look import FirstLooks
from drawerwright.web.server.pairing import PairingCodes
from drawerwright.web.server.security import device_token
from drawerwright.web.work.background import WorkDesk
from drawerwright.web.work.paper_desk import PaperDesk
from drawerwright.web.work.plan_desk import PlanDesk

if TYPE_CHECKING:
    from drawerwright.job.planning.what_if import WhatIf
    from drawerwright.job.planning.which_joint import JointComparison
    from drawerwright.job.planning.within_stock import WithinStock


@cache
def _renderer() -> Renderer:
    """The templates know nothing of a shop, so each is compiled once, however many data files are opened."""
    return Renderer({"doubt": shown_doubt, "absent": shown_absent})


class Shop:
    """One open data file and what serves it."""

    def __init__(self, folder: Path, lan_address: str | None = None) -> None:
        """Open the data in `folder`; `lan_address` is `http://HOST:PORT` where other devices may come."""
        self.database = Database(folder, _move_cut)
        self.jobs = JobTable(self.database)
        self.shelf = Shelf(self.database)
        self.progress = ProgressTable(self.database)
        self.rack = RackTable(self.database)
        self.pictures = PictureTable(self.database)
        self.devices = Devices(self.database)
        self.codes = PairingCodes()
        self.hub = Hub()
        self.plans = PlanDesk()
        self.papers = PaperDesk()
        self.what_ifs: WorkDesk[WhatIf] = WorkDesk("what if")
        self.joints: WorkDesk[JointComparison] = WorkDesk("which joint")
        self.within_stock: WorkDesk[WithinStock] = WorkDesk("within stock")
        self.renderer = _renderer()
        self.first_looks = FirstLooks()
        self.lan_address = lan_address
        self._let_in: set[str] = set()

    def close(self) -> None:
        """End all work and close the data file."""
        self.plans.close()
        self.papers.close()
        self.what_ifs.close()
        self.joints.close()
        self.within_stock.close()
        self.database.close()

    def is_paired(self, token: str) -> bool:
        """Whether a device token is known."""
        if not token:
            return False
        try:
            is_known = self.devices.find(token) is not None
        except StoreError:  # as it was when the file could last be read
            return token in self._let_in
        (self._let_in.add if is_known else self._let_in.discard)(token)
        return is_known

    def may_manage(self, request: Request) -> bool:
        """Whether who asks may delete jobs and revoke devices: the desk, and whom it lets."""
        if request.state.is_desk:
            return True
        device = self.devices.find(device_token(request.headers))
        return device is not None and device.may_manage


def _move_cut(cut: SavedText, history: History) -> str:
    """Only a data file of an earlier version needs this, and with it all that reads a job."""
    from drawerwright.job.test_cuts.kept_cuts import moved_to_key

    return moved_to_key(cut, history)


def shop_of(request: Request) -> Shop:
    """The shop that a request came to."""
    shop: Shop = request.app.state.shop
    return shop
