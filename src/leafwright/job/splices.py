"""The splice table of a leaf: a member that is made of two pieces."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from leafwright.job.shared import Table
from leafwright.job.typed import Size


class Splice(Table):
    """``splice``: a member of a leaf that is made of two pieces, and how they are joined."""

    member: str = Field(min_length=1, max_length=40)
    at: Size
    by: Literal["inner sleeve", "plates"] = "inner sleeve"
    reach: Size | None = None
