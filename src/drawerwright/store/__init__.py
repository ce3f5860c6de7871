"""What the shop keeps: jobs with every revision, cutters, machines, stock, trial cuts, progress, devices."""

from drawerwright.store.backups import back_up, restore
from drawerwright.store.database import Database, data_folder
from drawerwright.store.device_table import Device, Devices
from drawerwright.store.job_table import JobTable
from drawerwright.store.moving import History, SavedText
from drawerwright.store.picture_table import PictureTable
from drawerwright.store.progress_table import Progress, ProgressTable
from drawerwright.store.rack_table import RackTable
from drawerwright.store.records import (
    ChangedMeanwhileError,
    ConflictError,
    JobRecord,
    JobSummary,
    Revision,
    ShelfEntry,
    ShelfKind,
    StaleEntryError,
    UnknownEntryError,
    UnknownJobError,
    UnknownRecordError,
)
from drawerwright.store.shelf_table import Shelf
from drawerwright.store.soundness import DataHealth, data_health

__all__ = [
    "ChangedMeanwhileError",
    "ConflictError",
    "DataHealth",
    "Database",
    "Device",
    "Devices",
    "History",
    "JobRecord",
    "JobSummary",
    "JobTable",
    "PictureTable",
    "Progress",
    "ProgressTable",
    "RackTable",
    "Revision",
    "SavedText",
    "Shelf",
    "ShelfEntry",
    "ShelfKind",
    "StaleEntryError",
    "UnknownEntryError",
    "UnknownJobError",
    "UnknownRecordError",
    "back_up",
    "data_folder",
    "data_health",
    "restore",
]
