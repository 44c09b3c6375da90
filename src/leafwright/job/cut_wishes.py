"""What is wished of a member's cuts: where a brace's end stands, where a member is spliced."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from leafwright.job.readings import Table
from leafwright.job.typed import Size, Thickness

#: What a brace's end stands on: both faces of the panel's corner, or one of them clear of it.
BraceEnd = Literal["corner", "stile", "rail"]


class Splice(Table):
    """``splice``: a member of a leaf that is made of two pieces, and how they are joined.

    ``section`` is the sleeve's; ``width`` and ``thickness`` are those of each plate; ``grade`` is
    the steel of either.
    """

    member: str = Field(min_length=1, max_length=40)
    at: Size
    by: Literal["inner sleeve", "plates"] = "inner sleeve"
    reach: Size | None = None
    section: str | None = None
    width: Size | None = None
    thickness: Thickness | None = None
    grade: str | None = None
