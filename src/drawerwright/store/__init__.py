"""What the shop keeps: jobs with every revision, cutters, machines, stock, trial cuts, progress, devices."""

from drawerwright.store.database import Database, data_folder
from drawerwright.store.device_table import Device, Devices
from drawerwright.store.job_table import (
    ConflictError,
    JobRecord,
    JobSummary,
    JobTable,
    Revision,
    UnknownJobError,
)
from drawerwright.store.kept import ChangedMeanwhileError, UnknownRecordError
from drawerwright.store.moving import History, SavedText
from drawerwright.store.progress_table import Progress, ProgressTable
from drawerwright.store.shelf_table import Shelf, ShelfEntry, ShelfKind, StaleEntryError, UnknownEntryError

__all__ = [
    "ChangedMeanwhileError",
    "ConflictError",
    "Database",
    "Device",
    "Devices",
    "History",
    "JobRecord",
    "JobSummary",
    "JobTable",
    "Progress",
    "ProgressTable",
    "Revision",
    "SavedText",
    "Shelf",
    "ShelfEntry",
    "ShelfKind",
    "StaleEntryError",
    "UnknownEntryError",
    "UnknownJobError",
    "UnknownRecordError",
    "data_folder",
]
