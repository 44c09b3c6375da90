"""What the pack stage hands on: supplies, power, tools, what to buy, crooked sticks."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from leafwright.chain import Quantity
from leafwright.records import (
    Check,
    CubicMetres,
    Held,
    Kilograms,
    Metres,
    Number,
    Source,
    Unit,
    Working,
)

Seconds = Annotated[float, Unit("s")]
Amperes = Annotated[float, Unit("A")]
Volts = Annotated[float, Unit("V")]
MetresPerSecond = Annotated[float, Unit("m/s")]
CubicMetresPerSecond = Annotated[float, Unit("m3/s")]

#: Who sells what is bought.
Group = Literal["steel", "plate", "bar", "bolts", "post", "infill", "finish", "welding"]


@dataclass(frozen=True, slots=True)
class SiteNeeds:
    """What the site stage says that must be packed for.

    ``packers`` are the thicknesses laid under each point of each pad [m], thickest first;
    ``hanging`` the way that each leaf gets onto its pins, by its key; ``lift`` how it is lifted.
    """

    packers: tuple[tuple[Metres, ...], ...] = ()
    hanging: tuple[tuple[str, str], ...] = ()
    lift: str = "unknown"


@dataclass(frozen=True, slots=True)
class SeamSum:
    """All seams of one kind, size and place of work: how many, how long, the metal as drawn.

    ``size`` is a fillet's leg, a groove's throat or a plug's hole [m], None where it is not given;
    ``unknown`` of them have no size or length, and no metal here.
    """

    kind: str
    size: Metres | None
    done_at: str
    count: int
    length: Metres
    mass: Kilograms
    unknown: int


@dataclass(frozen=True, slots=True)
class WeldUse:
    """What welding all seams takes; every pair is the least and the most to be expected.

    ``process`` is by the letters of AWS A3.0. ``deposit`` is in the seams as drawn, ``bought`` the
    wire or rods to buy, spare in it. ``arc`` is how long the arc burns, ``welding`` the time at
    the seams with all that is not arc, ``whole`` with fitting up and tacking too; each is held
    where nothing tells how fast metal is laid. ``gas`` is None where the process takes none.
    """

    process: str
    place: Literal["site", "shop"]
    seams: tuple[SeamSum, ...]
    length: Metres
    deposit: Kilograms
    metal: tuple[Kilograms, Kilograms]
    bought: Kilograms
    diameter: Metres
    wire: tuple[Metres, Metres] | None
    wall: Metres
    amps: Amperes
    volts: Volts
    feed: MetresPerSecond | None
    arc: tuple[Seconds, Seconds] | Held
    welding: tuple[Seconds, Seconds] | Held
    whole: tuple[Seconds, Seconds] | Held
    flow: CubicMetresPerSecond | None
    gas: tuple[CubicMetres, CubicMetres] | Held | None
    working: tuple[Working, ...]
    source: Source
    not_counted: str


@dataclass(frozen=True, slots=True)
class Outlet:
    """What is at the end of the cord when the welder runs.

    ``drawn`` is what the welder takes, ``left`` the volts it gets, ``reach`` the current at the
    arc and the wall that the circuit is good for in one pass.
    """

    drawn: Amperes
    drop: Volts | None
    left: Volts | None
    share: Number | None
    reach: Amperes
    reach_wall: Metres


@dataclass(frozen=True, slots=True)
class PackItem:
    """One thing to pack.

    ``key`` is what it is, once in a whole list; ``count`` how many to take with ``spare`` of them
    spare, 0 where it is not counted; ``why`` what it is for; ``goes_with`` is what must fit it.
    """

    key: str
    what: str
    size: str
    count: int
    spare: int
    why: tuple[str, ...]
    goes_with: str = ""


@dataclass(frozen=True, slots=True)
class Operation:
    """One operation of the work, with what must be there for it, and what can hurt in it."""

    key: str
    name: str
    items: tuple[PackItem, ...]
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class BuyLine:
    """One line of the buying list.

    ``group`` is who sells it; ``count`` how many, 0 for what is bought by its amount; ``mass`` of
    all of it, None where it is not known; ``cost`` by the job's own price, None without one. By
    the day or the hour it is ``hired``: ``price`` is then known, and ``cost`` is not.
    """

    key: str
    group: Group
    what: str
    size: str
    count: int
    mass: Kilograms | None
    cost: Number | None
    price: str
    why: str
    hired: bool = False
    supplier: str = ""


@dataclass(frozen=True, slots=True)
class Buying:
    """All that is bought, with its mass for the truck; ``unpriced`` names what has no price.

    ``rack`` is what is taken from the maker's own rack and not bought; ``asked`` what is needed
    too and cannot be counted, with what the job has to say for it.
    """

    lines: tuple[BuyLine, ...]
    rack: tuple[str, ...]
    mass: Kilograms
    unweighed: tuple[str, ...]
    cost: Number | None
    currency: str
    unpriced: tuple[str, ...]
    hired: tuple[str, ...] = ()
    asked: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Crooked:
    """How far one long stile may be out of true as sold, and what that takes from its gap [m].

    ``out`` is how far from straight over its ``length``, ``twist`` how far a corner may stand up
    at its far end, ``gap`` the gap that its edge makes, ``left`` what is left of it by the bow.
    """

    key: str
    mark: str
    role: str
    length: Metres
    out: Metres
    twist: Metres
    corner: Metres
    gap_name: str
    gap: Metres | None
    left: Metres | None
    source: Source
    working: tuple[Working, ...]


@dataclass(frozen=True, slots=True)
class Pack:
    """What to buy and what to take along.

    ``checks`` are those of power and of welding onto thick plate.
    """

    weld: WeldUse | Held
    outlet: Outlet | Held
    operations: tuple[Operation, ...]
    buying: Buying
    crooked: tuple[Crooked, ...]
    checks: tuple[Check, ...]
    defaults: tuple[Quantity, ...]
