"""A pack list as it is filled, what it is filled from, and the words for its amounts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Final

from leafwright.job.model import Job, LeafTable
from leafwright.leaf import Leaf
from leafwright.shop.cut_list import CutList
from leafwright.shop.holes.records import Holes
from leafwright.shop.pack.records import (
    Buying,
    Operation,
    Outlet,
    PackItem,
    SiteNeeds,
    WeldUse,
)
from leafwright.units import Tape, show_length

_INCH: Final = 0.0254


@dataclass(slots=True)
class Bag:
    """Operations as they are filled: a thing that is there already only gains another reason."""

    order: list[str] = field(default_factory=list)
    names: dict[str, str] = field(default_factory=dict)
    cautions: dict[str, list[str]] = field(default_factory=dict)
    things: dict[str, tuple[str, PackItem]] = field(default_factory=dict)
    now: str = ""

    def begin(self, key: str, name: str, *cautions: str) -> None:
        """Begin an operation."""
        self.now = key
        self.order.append(key)
        self.names[key] = name
        self.cautions[key] = list(cautions)

    def put(
        self,
        what: str,
        why: str,
        *,
        size: str = "",
        count: int = 1,
        spare: int = 0,
        fits: str = "",
    ) -> None:
        """Pack a thing: ``count`` with ``spare`` of them spare."""
        key = f"{what}, {size}" if size else what
        known = self.things.get(key)
        if known is None:
            self.things[key] = (self.now, PackItem(key, what, size, count, spare, (why,), fits))
            return
        place, item = known
        reasons = item.why if why in item.why else (*item.why, why)
        more = count > item.count
        self.things[key] = (
            place,
            replace(
                item,
                count=max(count, item.count),
                spare=spare if more else item.spare,
                why=reasons,
            ),
        )

    def packed(self) -> tuple[Operation, ...]:
        """Return the operations in order, those with nothing of their own left out."""
        return tuple(
            Operation(
                key,
                self.names[key],
                tuple(item for place, item in self.things.values() if place == key),
                tuple(self.cautions[key]),
            )
            for key in self.order
            if any(place == key for place, _ in self.things.values()) or self.cautions[key]
        )


@dataclass(frozen=True, slots=True)
class Work:
    """All that the operations are made from."""

    job: Job
    tables: Sequence[LeafTable]
    leaves: Sequence[Leaf]
    cuts: CutList
    holes: Holes | None
    use: WeldUse | None
    outlet: Outlet | None
    needs: SiteNeeds
    tape: Tape
    bought: Buying

    @property
    def inch(self) -> bool:
        """Whether sizes are in inches."""
        return self.tape.system != "mm"


def put_bought(bag: Bag, work: Work, *keys: str) -> bool:
    """Pack what was bought under keys that begin so, and return whether there was any."""
    mine = [line for line in work.bought.lines if line.key.startswith(keys)]
    for line in mine:
        bag.put(line.what, line.why, size=line.size, count=line.count or 1)
    return bool(mine)


def marks_words(marks: Sequence[str]) -> str:
    """Return marks as a list, a long one cut short by how many there are."""
    unique = list(dict.fromkeys(marks))
    if len(unique) > 8:
        return f"{', '.join(unique[:6])} and {len(unique) - 6} more"
    return ", ".join(unique)


def disc_words(work: Work) -> str:
    """Return the size of a hand grinder's disc."""
    return "4-1/2 in" if work.inch else "125 mm"


def area_words(area: float, work: Work) -> str:
    """Return an area of steel cut through [m2]."""
    return f"{area / _INCH**2:.0f} in²" if work.inch else f"{area * 1e4:.0f} cm²"


def mass_words(mass: float, work: Work) -> str:
    """Return a leaf's mass [kg] to a pound or a kilogram."""
    return f"{mass / 0.45359237:.0f} lb" if work.inch else f"{mass:.0f} kg"


def thin_words(thickness: float, work: Work) -> str:
    """Return a packer's thickness as it is called: to 1/32 in, or a tenth of a millimetre."""
    if not work.inch:
        return f"{thickness * 1e3:g} mm"
    return show_length(thickness, replace(work.tape, per=32))
