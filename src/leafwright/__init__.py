"""Leafwright: designs, proves and cuts very large swing doors and gates of welded tube.

    from leafwright import load_job, plan

    made = plan(load_job("examples/boathouse.toml").job)

Everything here is loaded when it is first used, so that importing the package costs nothing.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from leafwright.documents.report import plan_json
    from leafwright.job.errors import JobError
    from leafwright.job.file import JobFile, load_job, read_job
    from leafwright.pipeline import Plan, plan

__all__ = ["JobError", "JobFile", "Plan", "load_job", "plan", "plan_json", "read_job"]

_HOMES = {
    "JobError": "leafwright.job.errors",
    "JobFile": "leafwright.job.file",
    "Plan": "leafwright.pipeline",
    "load_job": "leafwright.job.file",
    "plan": "leafwright.pipeline",
    "plan_json": "leafwright.documents.report",
    "read_job": "leafwright.job.file",
}


def __getattr__(name: str) -> Any:
    """Load a public name from where it is defined."""
    if name not in _HOMES:
        raise AttributeError(f"leafwright has no {name!r}; it has {', '.join(__all__)}")
    from importlib import import_module

    value = getattr(import_module(_HOMES[name]), name)
    globals()[name] = value
    return value
