"""What a job file says of the air that drawers stand in, and of how far bottoms may sag."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from drawerwright.job.file.entry_types import Entries, PositiveLength, Told
from drawerwright.strength.sag_limit import USUAL_SAG
from drawerwright.wood.moisture import COLDEST, FIBRE_SATURATION, HOTTEST

Moisture = Annotated[float, Field(gt=0, le=FIBRE_SATURATION), Told("number", unit="%")]
"""Moisture of wood, as a share of its dry mass."""


class AirEntry(Entries):
    temperature: Annotated[float, Field(ge=COLDEST, le=HOTTEST), Told("number", unit="°C")]
    """Temperature."""
    humidity: Annotated[float, Field(ge=0, le=100), Told("number", unit="%")]
    """Relative humidity."""


class ClimateEntry(Entries):
    """The air at both ends of a year."""

    dry: AirEntry
    """At the dry end."""
    damp: AirEntry
    """At the damp end."""


class SagEntry(Entries):
    """How far bottoms may sag."""

    span_over: Annotated[float, Field(gt=0), Told("number")] = USUAL_SAG.span_over
    """A bottom may sag by its span divided by this (common practice, no source)."""
    most: PositiveLength = USUAL_SAG.most
    """But never by more than this (common practice, no source)."""
