"""Which sticks of a section there are: what is sold, by whom for how much, and what is racked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from leafwright import units
from leafwright.handbook.catalogue import CatalogueSection
from leafwright.job.model import Job
from leafwright.job.steel import Steel
from leafwright.job.tape import tape_of
from leafwright.records import Kilograms, Metres
from leafwright.shop.nest import Stick
from leafwright.units import Rate

#: Lengths that steel is commonly sold in, where the job names none [m]; common practice, no source.
USUAL_LENGTHS = {"feet-inch": (20 * 0.3048, 24 * 0.3048), "metric": (6.0,)}

#: The price of the job that sticks have, where they have none of their own.
TUBE_PRICE = "frame_tube"

#: Costs are compared in hundredths of the currency.
CENTS = 100


@dataclass(frozen=True, slots=True)
class Sold:
    """One kind of stick that may be taken: a length that is sold, or an offcut on the rack.

    ``place`` names it in the job file, ``label`` to the maker. ``price`` is what one costs in the
    job's currency, None where that is not known; ``priced`` is how that was typed. ``there`` is
    how many there are, None for as many as are wanted.
    """

    place: str
    kind: Literal["new", "offcut"]
    label: str
    length: Metres
    mass: Kilograms
    supplier: str
    price: float | None
    priced: str
    there: int | None
    straight: bool


@dataclass(frozen=True, slots=True)
class Paid:
    """What a nest's cost is counted in: money, or the length bought where a price is missing.

    ``per_unit`` is the money for one unit of the nest's own cost: where every stick costs the
    same by its length, that is metres, so that no cent of rounding decides.
    """

    unit: Literal["money", "length"]
    per_unit: float
    sticks: tuple[Stick, ...]
    unpriced: tuple[str, ...]


def sold(job: Job, section: CatalogueSection, steel: Steel) -> tuple[Sold, ...]:
    """Return the sticks of a section: ``[[stick]]`` where it has any, else ``[stock]`` lengths.

    Offcuts follow. An offcut costs nothing unless it says what it is worth.
    """
    tape = tape_of(job)
    usual = job.price.get(TUBE_PRICE)
    if usual is not None and usual.per not in ("kg", "m"):
        usual = None

    def named(length: float) -> str:
        return units.show_length(length, tape)

    own = [
        (i, one)
        for i, one in enumerate(job.stick, start=1)
        if one.section is None or steel.section(one.section).designation == section.designation
    ]
    found = []
    if own:
        for i, one in own:
            rate = one.price or usual
            found.append(
                Sold(
                    f"stick {i}",
                    "new",
                    named(one.length.si) + (f" from {one.supplier}" if one.supplier else ""),
                    one.length.si,
                    one.length.si * section.mass_per_metre,
                    one.supplier,
                    _price(rate, one.length.si, section),
                    rate.text if rate else "",
                    one.count,
                    True,
                )
            )
    else:
        lengths = tuple(t.si for t in job.stock.lengths) or USUAL_LENGTHS[job.job.system]
        for i, length in enumerate(lengths, start=1):
            found.append(
                Sold(
                    f"stock {i}",
                    "new",
                    named(length),
                    length,
                    length * section.mass_per_metre,
                    "",
                    _price(usual, length, section),
                    usual.text if usual else "",
                    None,
                    True,
                )
            )
    for i, offcut in enumerate(job.offcut, start=1):
        if steel.section(offcut.section).designation != section.designation:
            continue
        worth = _price(offcut.price, offcut.length.si, section) if offcut.price else 0.0
        found.append(
            Sold(
                f"offcut {i}",
                "offcut",
                f"{named(offcut.length.si)} offcut",
                offcut.length.si,
                offcut.length.si * section.mass_per_metre,
                "",
                worth,
                offcut.price.text if offcut.price else "",
                offcut.count,
                offcut.straight,
            )
        )
    return tuple(found)


def _price(rate: Rate | None, length: float, section: CatalogueSection) -> float | None:
    """Return what one stick costs: each, by its length, or by its mass."""
    if rate is None:
        return None
    by = {"each": 1.0, "m": length, "kg": length * section.mass_per_metre}
    return rate.si * by[rate.per]


def paid(kinds: Sequence[Sold]) -> Paid:
    """Return the sticks as the nest takes them, and what its cost is counted in.

    Where a stick that is sold has no price, length bought is what is kept least: money and length
    cannot be added.
    """
    unpriced = tuple(one.label for one in kinds if one.price is None)
    new = [one for one in kinds if one.kind == "new"]
    rates = [one.price / one.length for one in new if one.price is not None]
    free = all(one.price == 0.0 for one in kinds if one.kind == "offcut")
    if unpriced:
        costs = [one.length if one.kind == "new" else 0.0 for one in kinds]
        return Paid("length", 1.0, _sticks(kinds, costs), unpriced)
    if free and rates and max(rates) - min(rates) <= 1e-9 * max(rates) and max(rates) > 0:
        costs = [one.length if one.kind == "new" else 0.0 for one in kinds]
        return Paid("money", rates[0], _sticks(kinds, costs), ())
    prices = [round((one.price or 0.0) * CENTS) / CENTS for one in kinds]
    return Paid("money", 1.0, _sticks(kinds, prices), ())


def _sticks(kinds: Sequence[Sold], costs: Sequence[float]) -> tuple[Stick, ...]:
    return tuple(
        Stick(one.kind, one.place, one.length, cost, one.there, one.straight)
        for one, cost in zip(kinds, costs, strict=True)
    )
