"""Devices that may use the app from elsewhere in the shop's network.

A device holds a random token in a cookie; the file holds its SHA-256 only, so that a copied data file opens
nothing.
"""

from __future__ import annotations

import hashlib
import secrets
from dataclasses import dataclass

from drawerwright.store.database import Database, now

TOKEN_BYTES = 32


@dataclass(frozen=True, slots=True)
class Device:
    """A paired device."""

    id: int
    name: str
    paired_at: str
    may_manage: bool
    """Whether it may delete jobs and revoke devices, as the desk may."""


class Devices:
    """All paired devices of a data file."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def list(self) -> tuple[Device, ...]:
        """Every paired device, the oldest pairing first."""
        with self._database.reading() as connection:
            rows = connection.execute(
                "SELECT id, name, paired_at, may_manage FROM device ORDER BY id"
            ).fetchall()
        return tuple(_device(row) for row in rows)

    def pair(self, name: str) -> str:
        """Remember a new device and return its token, which is never shown again."""
        token = secrets.token_urlsafe(TOKEN_BYTES)
        with self._database.writing() as connection:
            connection.execute(
                "INSERT INTO device (name, token_hash, paired_at, seen_at) VALUES (?, ?, ?, ?)",
                (name, _hash(token), now(), now()),
            )
        return token

    def find(self, token: str) -> Device | None:
        """The device that holds `token`, or None."""
        with self._database.reading() as connection:
            row = connection.execute(
                "SELECT id, name, paired_at, may_manage FROM device WHERE token_hash = ?", (_hash(token),)
            ).fetchone()
        return None if row is None else _device(row)

    def let_manage(self, device_id: int, *, may: bool) -> None:
        """Let a device delete jobs and revoke devices, or no longer."""
        with self._database.writing() as connection:
            connection.execute("UPDATE device SET may_manage = ? WHERE id = ?", (int(may), device_id))

    def revoke(self, device_id: int) -> None:
        """Forget a device; its token opens nothing any more."""
        with self._database.writing() as connection:
            connection.execute("DELETE FROM device WHERE id = ?", (device_id,))


def _device(row: tuple[int, str, str, int]) -> Device:
    number, name, paired_at, may_manage = row
    return Device(number, name, paired_at, bool(may_manage))


def _hash(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()
