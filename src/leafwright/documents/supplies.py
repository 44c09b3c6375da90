"""What to buy and what to take along, in rows of words: terminal, page and sheets tell it alike.

Nothing is computed here but the rounding of what is shown.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from leafwright import units
from leafwright.pipeline import Plan
from leafwright.records import Held
from leafwright.say import Words, sentence, words_of
from leafwright.shop.pack import (
    BuyLine,
    Crooked,
    Operation,
    Outlet,
    Pack,
    PackItem,
    SeamSum,
    WeldUse,
)
from leafwright.shop.pack.use import PROCESSES
from leafwright.shop.seams.frame_seams import size_words

_INCH, _FOOT, _POUND = 0.0254, 0.3048, 0.45359237

#: The groups of the buying list, by who sells them.
GROUPS = {
    "steel": "Steel, by the stick",
    "plate": "Plate",
    "bar": "Bar, sleeves, balls and hinges",
    "bolts": "Bolts, anchors, screws, fittings",
    "post": "In the ground",
    "infill": "Infill",
    "finish": "Finish",
    "welding": "Welding supplies",
}
_SIZES = {
    "fillet": "leg",
    "flare-bevel": "beside a round corner, throat",
    "square groove": "throat",
    "bevel groove": "throat",
    "plug": "hole",
}
#: What must be said wherever the straightness of new tube is told.
SORT = (
    "Sight along every stick. Put the straightest aside for stiles; a bowed one is cut up for "
    "rails and braces, hollow side in."
)
#: What is said with the welding supplies.
A_START = (
    "Ranges by common practice, no source; the machine's own chart, and a trial seam broken and "
    "looked at, rule."
)


@dataclass(frozen=True, slots=True)
class BuyRow:
    """One line of the buying list in words; amounts are of all of it, no count by amount."""

    count: str
    what: str
    size: str
    mass: str
    cost: str
    why: str

    @property
    def named(self) -> str:
        """Return how many of what, of which size, as it is said over a counter."""
        times = f"{self.count} × " if self.count else ""
        return times + (f"{self.what}, {self.size}" if self.size else self.what)


@dataclass(frozen=True, slots=True)
class PackRow:
    """One thing to pack: how many, with how many spare, what it is for and what must fit it."""

    count: str
    what: str
    size: str
    spare: str
    why: str
    goes_with: str


@dataclass(frozen=True, slots=True)
class Told:
    """A plan's pack in words."""

    pack: Pack
    words: Words

    @property
    def inch(self) -> bool:
        """Whether it is told in inches and pounds."""
        return self.words.system == "feet-inch"

    # ------------------------------------------------------------ welding

    def welding(self) -> tuple[tuple[str, str], ...]:
        """Return what welding takes: names with values."""
        use = self.pack.weld
        if isinstance(use, Held):
            return ()
        wire = "rods" if use.process in ("SMAW", "GTAW") else "wire"
        rows = [
            ("By", f"{use.process}, {PROCESSES[use.process]}, {_where(use)}"),
            ("Seams, all together", self.long(use.length)),
            ("Metal in them as drawn", self.light(use.deposit)),
            (sentence(f"{wire} they take"), self._range(use.metal, self.light)),
            (f"Buy, a quarter spare: {self.across(use.diameter)} {wire}", self.light(use.bought)),
        ]
        if use.wire is not None:
            rows.append(("Wire, by its length", self._range(use.wire, self.long)))
        at_arc = f"{use.amps:.0f} A, {use.volts:.1f} V"
        if use.feed is not None:
            at_arc += f", wire at {self.feed(use.feed)}"
        rows.append((f"Set, to begin with, for a wall of {self.fine(use.wall)}", at_arc))
        if isinstance(use.arc, Held):
            rows.append(("Time and gas", f"not told: {use.arc.why}"))
        else:
            rows.append(("Arc burning", self._range(use.arc, _time)))
        if not isinstance(use.welding, Held) and not isinstance(use.whole, Held):
            rows.append(("At the seams", self._range(use.welding, _time)))
            rows.append(("With fitting up and tacks", self._range(use.whole, _time)))
        if isinstance(use.gas, tuple) and use.flow is not None:
            rows.append((f"Gas, at {self.flow(use.flow)}", self._range(use.gas, self.gas)))
        return tuple(rows)

    def seams(self) -> tuple[tuple[str, str, str, str], ...]:
        """Return the seams by kind and size: what, how many, how long, their metal."""
        use = self.pack.weld
        if isinstance(use, Held):
            return ()
        return tuple(
            (
                f"{sentence(s.kind)}, {self._sized(s)}",
                str(s.count),
                self.words.length(s.length) if s.length > 0.0 else "–",
                self.light(s.mass) if s.mass > 0.0 else "?",
            )
            for s in use.seams
        )

    def _sized(self, one: SeamSum) -> str:
        size = "size not given"
        if one.size is not None:
            size = f"{_SIZES.get(one.kind, 'size')} {size_words(one.size, self.words.tape)}"
        return f"{size}, as it hangs" if one.done_at == "field" else size

    def not_counted(self) -> str:
        """Return what the welding supplies leave out, and how sure they are."""
        use = self.pack.weld
        left = "" if isinstance(use, Held) else f"Not counted: {use.not_counted}. "
        return left + A_START

    def outlet(self) -> tuple[tuple[str, str], ...] | str:
        """Return what is at the end of the cord, or why that is not told."""
        at = self.pack.outlet
        if isinstance(at, Held):
            needs = f" It needs {'; '.join(at.needs)}." if at.needs else ""
            return f"Not worked out: {at.why}.{needs}"
        return self._outlet(at)

    def _outlet(self, at: Outlet) -> tuple[tuple[str, str], ...]:
        rows = [("The welder draws", f"{at.drawn:.1f} A")]
        if at.drop is not None and at.left is not None and at.share is not None:
            lost = f"{at.drop:.1f} V, {100 * at.share:.1f} %"
            rows += [("The cord takes", lost), ("Left at its end", f"{at.left:.0f} V")]
        else:
            rows.append(("The cord takes", "not known: say cord and cord_length in [power]"))
        reach = f"{at.reach:.0f} A: a wall of {self.fine(at.reach_wall)} in one pass"
        rows.append(("At 80 % of the breaker there is at the arc", reach))
        return tuple(rows)

    # ------------------------------------------------------------ packing

    def packing(self, operation: Operation) -> tuple[PackRow, ...]:
        """Return what must be there for an operation."""
        return tuple(pack_row(item) for item in operation.items)

    # ------------------------------------------------------------ buying

    def bought(self) -> tuple[tuple[str, tuple[BuyRow, ...]], ...]:
        """Return the buying list by who sells it."""
        groups = []
        for key, name in GROUPS.items():
            rows = tuple(self._buy(x) for x in self.pack.buying.lines if x.group == key)
            if rows:
                groups.append((name, rows))
        return tuple(groups)

    def _buy(self, line: BuyLine) -> BuyRow:
        cost = line.price if line.hired else ""
        if line.cost is not None:
            cost = units.show_money(line.cost, self.pack.buying.currency)
        count = str(line.count) if line.count else ""
        mass = "" if line.mass is None else self.light(line.mass)
        return BuyRow(count, line.what, line.size, mass, cost, line.why)

    def totals(self) -> tuple[tuple[str, str], ...]:
        """Return the mass for the truck, and the cost of what has a price."""
        buying = self.pack.buying
        rows = [("For the truck, without bolts, concrete and tools", self.words.mass(buying.mass))]
        if buying.cost is not None:
            money = units.show_money(buying.cost, buying.currency)
            rows.append(("What has a price, together; no labour in it", money))
        return tuple(rows)

    def unpriced(self) -> str:
        """Return what has no price in the job, in a sentence, or nothing."""
        names = self.pack.buying.unpriced
        return f"Without a price: {'; '.join(names)}." if names else ""

    def hired(self) -> str:
        """Return what is paid for by the day or the hour, in a sentence, or nothing."""
        names = self.pack.buying.hired
        return f"By the day or the hour, not in the sum: {'; '.join(names)}." if names else ""

    def beside(self) -> tuple[str, ...]:
        """Return what is said beside the list: from the rack, without a price, hired, not in it."""
        asked = self.pack.buying.asked
        not_in = f"Not in this list: {'; '.join(asked)}." if asked else ""
        every = (self.rack(), self.unpriced(), self.hired(), not_in)
        return tuple(said for said in every if said)

    def rack(self) -> str:
        """Return what comes from the maker's own rack, in a sentence, or nothing."""
        names = self.pack.buying.rack
        return f"From your own rack: {'; '.join(names)}." if names else ""

    # ------------------------------------------------------------ straightness

    def crooked(self) -> tuple[str, ...]:
        """Return how far each stile may be out of true as sold, those alike in one sentence."""
        alike: dict[str, list[Crooked]] = {}
        for one in self.pack.crooked:
            alike.setdefault(self._crooked(one), []).append(one)
        return tuple(
            f"{', '.join(one.mark for one in group)} ({group[0].role}"
            f"{'s' if len(group) > 1 else ''}, {self.words.length(group[0].length)}): {told}"
            for told, group in alike.items()
        )

    def _crooked(self, one: Crooked) -> str:
        bow, twist = self.fine(one.out), self.fine(one.twist)
        told = (
            f"a tube to {one.source.document} may be {bow} out of straight over that length, a "
            f"corner may stand up {twist} by twist, and its corners may be as round as "
            f"{self.fine(one.corner)}. "
        )
        if one.gap is None or one.left is None:
            return told + f"That comes off the {one.gap_name}."
        if one.left <= 0.0:
            return told + (
                f"The {one.gap_name} is {self.fine(one.gap)}: such a stile closes it. Take a "
                "straighter one, or pull it straight as it is fitted up."
            )
        return told + (
            f"Of the {one.gap_name} of {self.fine(one.gap)} it would leave {self.fine(one.left)}."
        )

    # ------------------------------------------------------------ sizes

    def fine(self, metres: float) -> str:
        """Return a small size: thousandths of an inch, or tenths of a millimetre."""
        return f"{metres / _INCH:.3f} in" if self.inch else f"{metres * 1e3:.1f} mm"

    def across(self, metres: float) -> str:
        """Return a wire's diameter."""
        return f"{metres / _INCH:.3f} in" if self.inch else f"{metres * 1e3:g} mm"

    def long(self, metres: float) -> str:
        """Return a long length that nobody measures out: feet or metres."""
        return f"{metres / _FOOT:,.0f} ft" if self.inch else f"{metres:,.1f} m"

    def light(self, kilograms: float) -> str:
        """Return a mass to a tenth of a pound or kilogram, a small one finer."""
        value = kilograms / _POUND if self.inch else kilograms
        places = 2 if value < 1.0 else 1 if value < 100.0 else 0
        return f"{value:,.{places}f} {'lb' if self.inch else 'kg'}"

    def feed(self, speed: float) -> str:
        """Return a wire's feed."""
        return f"{speed / _INCH * 60:.0f} in/min" if self.inch else f"{speed * 60:.1f} m/min"

    def flow(self, flow: float) -> str:
        """Return a flow of gas."""
        return f"{flow / _FOOT**3 * 3600:.0f} ft³/h" if self.inch else f"{flow * 6e4:.0f} l/min"

    def gas(self, volume: float) -> str:
        """Return an amount of gas."""
        return f"{volume / _FOOT**3:.0f} ft³" if self.inch else f"{volume * 1e3:.0f} l"

    def _range(self, pair: tuple[float, float], show: Callable[[float], str]) -> str:
        low, high = show(pair[0]), show(pair[1])
        if low == high:
            return low
        number, _, unit = low.rpartition(" ")
        return f"{number} to {high}" if high.endswith(f" {unit}") else f"{low} to {high}"


def told_of(made: Plan) -> Told | None:
    """Return a plan's pack in words, or None where it is held."""
    return Told(made.pack, words_of(made.job)) if isinstance(made.pack, Pack) else None


def pack_row(item: PackItem) -> PackRow:
    """Return one thing to pack in words."""
    return PackRow(
        str(item.count),
        item.what,
        item.size,
        f" ({item.spare} spare)" if item.spare else "",
        "; ".join(item.why),
        f"with {item.goes_with}" if item.goes_with else "",
    )


def _where(use: WeldUse) -> str:
    return "in the shop" if use.place == "shop" else "from the outlet on site"


def _time(seconds: float) -> str:
    return f"{seconds / 60:.0f} min" if seconds < 5400 else f"{seconds / 3600:.1f} h"
