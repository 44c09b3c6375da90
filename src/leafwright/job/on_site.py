"""What stands in a leaf's way, how it is stood up, and what is read of it built and hung."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from leafwright.job.readings import Hand, ReadingTable, Table, Taken
from leafwright.job.typed import Angle, Gap, Length, Number, Place, Rest, Size, Whole


class Obstacle(Table):
    """``[[obstacle]]``: a box that a leaf must miss, between two opposite corners of it.

    Each corner is ``[x, y, z]`` from the bottom left corner of the opening: to the right, up, and
    toward the viewer.
    """

    name: str = Field(min_length=1, max_length=40)
    from_: Place = Field(alias="from")
    to: Place
    note: str = Field(default="", max_length=200)


class Site(Table):
    """``[site]``: how the leaves are brought and stood up."""

    lift: Literal["by hand", "hoist", "lift truck", "unknown"] = "unknown"
    people: Whole | None = Field(default=None, ge=1, le=20)
    hand_height: Size | None = None
    floor_friction: Number | None = Field(default=None, gt=0, le=2)
    kick_out: Size | None = None
    approach: Literal["toward side", "away side"] | None = None
    keep: Literal["plumb axis", "even gaps", "split gaps"] | None = None


class FitUpReading(ReadingTable):
    """What readings of a leaf that lies or stands being built share."""

    leaf: Hand | None = None
    stage: Literal["tacked", "welded"] = "tacked"


class FitUpDistance(FitUpReading):
    """A distance between two places on the leaf's outline, as a side or a diagonal."""

    kind: Literal["distance"]
    is_: Size = Field(alias="is")
    from_: str = Field(alias="from")
    to: str


class FitUpString(FitUpReading):
    """How far an edge lies, at a place, from a string between that edge's corners."""

    kind: Literal["string"]
    is_: Gap = Field(alias="is")
    at: str
    toward: Literal["inward", "outward"]


class FitUpHeight(FitUpReading):
    """Height above (+) one level plane: of a place on the outline, or one ``x`` and ``y`` away.

    ``x`` is out from the hinge edge and ``y`` up from the leaf's bottom, as it will hang.
    """

    kind: Literal["height"]
    at: str | None = None
    x: Length | None = None
    y: Length | None = None


FitUp = Annotated[FitUpDistance | FitUpString | FitUpHeight, Field(discriminator="kind")]


class HungGap(ReadingTable):
    """A gap around a hung leaf.

    ``at`` is up from the leaf's bottom at heel and closing edge, out from the hinge edge at top
    and floor; ``angle`` is how far it is open, 0 where it is left out, and ``swing`` to which
    side.
    """

    kind: Literal["gap"]
    is_: Gap = Field(alias="is")
    leaf: Hand | None = None
    where: Literal["heel", "closing", "top", "floor"]
    at: Gap
    angle: Angle | None = None
    swing: Literal["toward", "away"] | None = None


class HungPlumb(ReadingTable):
    """How far the pivot axis leans, over a height."""

    kind: Literal["plumb"]
    is_: Gap = Field(alias="is")
    leaf: Hand | None = None
    direction: Literal["in the wall", "through the wall"]
    over: Size
    toward: Literal["left", "right", "viewer", "away"]


class HungDrift(Taken):
    """Where a leaf comes to rest that is let go at an angle, or that it stays."""

    kind: Literal["drift"]
    sd: Angle | None = None
    leaf: Hand | None = None
    angle: Angle
    swing: Literal["toward", "away"] | None = None
    rests: Rest


class HungPlate(ReadingTable):
    """How much higher one edge of a pivot plate lies than the edge across from it."""

    kind: Literal["plate"]
    is_: Gap = Field(alias="is")
    leaf: Hand | None = None
    plate: Literal["bottom", "top"]
    direction: Literal["in the wall", "through the wall"]
    up: Literal["left", "right", "viewer", "away"]


class HungDiagonals(ReadingTable):
    """How much longer one diagonal of the hung leaf is than the other, corner to corner.

    ``longer`` is the one that starts at that corner, at the leaf's bottom.
    """

    kind: Literal["diagonals"]
    is_: Gap = Field(alias="is")
    leaf: Hand | None = None
    longer: Literal["hinge bottom", "closing bottom"]


Hung = Annotated[
    HungGap | HungPlumb | HungDrift | HungPlate | HungDiagonals, Field(discriminator="kind")
]
