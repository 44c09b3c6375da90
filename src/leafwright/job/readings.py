"""What is read of an opening: every kind of ``[[reading]]``."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from leafwright.job.typed import Day, Gap, Length, Size

Hand = Literal["left", "right"]


class Table(BaseModel):
    """A table of the job file: frozen, and strict about its keys."""

    model_config = ConfigDict(
        frozen=True, extra="forbid", arbitrary_types_allowed=True, str_max_length=200
    )


Instrument = Literal["tape", "long tape", "laser", "level", "plumb line", "rule"]


#: Why a reading is set aside that only says what is to be read: nobody has read it.
NOT_READ = "not read yet"


class Taken(Table):
    """How, when and by whom something was read."""

    sd: Size | None = None
    by: Instrument | None = None
    on: Day | None = None
    who: str = Field(default="", max_length=60)
    set_aside: str = Field(default="", max_length=200)
    note: str = Field(default="", max_length=200)


class ReadingTable(Taken):
    """What all kinds of reading share."""

    is_: Length = Field(alias="is")


class DistanceReading(ReadingTable):
    """A taped or lasered distance between two marks."""

    kind: Literal["distance"]
    is_: Size = Field(alias="is")
    from_: str = Field(alias="from")
    to: str


class LevelReading(ReadingTable):
    """Height of a mark above (+) or below (−) a laser plane."""

    kind: Literal["level"]
    at: str
    plane: str = "laser"


class RiseReading(ReadingTable):
    """How much higher (+) one mark is than another."""

    kind: Literal["rise"]
    from_: str = Field(alias="from")
    to: str


class PlumbReading(ReadingTable):
    """How far one mark stands sideways from the plumb line through another."""

    kind: Literal["plumb"]
    from_: str = Field(alias="from")
    to: str
    toward: Literal["left", "right", "inward", "outward"]


class OffsetReading(ReadingTable):
    """How far a mark lies off the straight line, or the string, between two others."""

    kind: Literal["offset"]
    at: str
    from_: str = Field(alias="from")
    to: str
    toward: Literal["left", "right", "inward", "outward"]


class FloorReading(ReadingTable):
    """Height of the floor above (+) a mark, out along a leaf's swing or at a place on plan.

    On plan ``x`` is to the right of the bottom left corner and ``z`` toward the viewer.
    """

    kind: Literal["floor"]
    leaf: Hand | None = None
    out: Gap | None = None
    x: Length | None = None
    z: Length | None = None
    above: str = "BL"


class HeadReading(ReadingTable):
    """Height of the head above (+) a mark, ``x`` to the right of the bottom left corner."""

    kind: Literal["head"]
    x: Length
    above: str = "TL"


class DepthReading(ReadingTable):
    """How deep the reveal is at a mark."""

    kind: Literal["depth"]
    is_: Size = Field(alias="is")
    at: str


Reading = Annotated[
    DistanceReading
    | LevelReading
    | RiseReading
    | PlumbReading
    | OffsetReading
    | FloorReading
    | HeadReading
    | DepthReading,
    Field(discriminator="kind"),
]
