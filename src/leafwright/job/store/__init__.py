"""A shelf of jobs on disk: every save kept, edits merged per key, the log only ever added to."""

from leafwright.job.store.records import (
    Conflict,
    ConflictKey,
    LogEntry,
    Saved,
    StoreError,
    Version,
)
from leafwright.job.store.shelf import Store

__all__ = ["Conflict", "ConflictKey", "LogEntry", "Saved", "Store", "StoreError", "Version"]
