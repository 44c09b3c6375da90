"""What to buy: every section's pieces nested into the sticks there are, at least cost."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from leafwright import units
from leafwright.chain import Quantity
from leafwright.handbook.catalogue import CatalogueSection
from leafwright.job.defaults import chosen
from leafwright.job.model import Job
from leafwright.job.steel import Steel
from leafwright.job.tape import tape_of
from leafwright.records import Check, Held, Kilograms, Metres, Number, Source, Verdict
from leafwright.shop.cut_list import CutEnd, CutItem, CutList
from leafwright.shop.nest import SQUARE, End, Nest, Piece, Rules, nest
from leafwright.shop.sawn import laid_kerf
from leafwright.shop.sold import USUAL_LENGTHS, Paid, Sold, paid, sold

SAWN = Source("the saw's kerf and the sticks' trims", "arithmetic")

#: A piece of this name in its key wants a straight stick: what shows, and what hangs the leaf.
STRAIGHT = "stile"
#: Shapes that may be turned over and end for end and are the same.
TURNED = ("rectangular tube", "round tube", "round bar", "flat bar")
#: Steepest end that is counted with the cut it takes along the stick [rad].
STEEPEST = math.radians(85.0)


@dataclass(frozen=True, slots=True)
class StickUse:
    """One kind of stick and how many of it are taken; ``mass`` and ``price`` are of one.

    ``place`` names it as the layouts' sticks do, ``label`` to the maker. ``price`` is in the
    job's currency, None where that is not known.
    """

    place: str
    kind: Literal["new", "offcut"]
    label: str
    length: Metres
    count: int
    mass: Kilograms
    price: Number | None
    supplier: str
    there: int | None


@dataclass(frozen=True, slots=True)
class SectionStock:
    """One section's sticks, with the pieces cut from each; ``mass`` is what is bought.

    ``counted`` is what is kept least: money, or the length bought where some stick has no price;
    then ``unpriced`` names it. ``cost`` and ``bound`` are in that unit (currency, or m): no way to
    cut the pieces from these sticks costs less than the bound. ``sticks`` is the buying list.
    """

    section: CatalogueSection
    nest: Nest | Held
    mass: Kilograms
    counted: Literal["money", "length"] = "length"
    cost: Number = 0.0
    bound: Number = 0.0
    unpriced: tuple[str, ...] = ()
    sticks: tuple[StickUse, ...] = ()

    @property
    def proven(self) -> bool:
        """Whether it is the least, the bound met."""
        return isinstance(self.nest, Nest) and self.nest.proven

    def label(self, place: str) -> str:
        """Return what a layout's stick is called."""
        return next((use.label for use in self.sticks if use.place == place), place)


@dataclass(frozen=True, slots=True)
class Stock:
    """All sections' sticks, with the saw's rules that they were laid out by."""

    kerf: Quantity
    end_trim: Quantity
    lengths: tuple[Metres, ...]
    lengths_by_default: bool
    sections: tuple[SectionStock, ...]
    checks: tuple[Check, ...]
    currency: str = ""
    shares_cuts: bool = True

    @property
    def cost(self) -> float | None:
        """What all of it costs, None where some section has no price."""
        if any(one.counted != "money" for one in self.sections if isinstance(one.nest, Nest)):
            return None
        return sum(one.cost for one in self.sections)


@dataclass(frozen=True, slots=True)
class Wanted:
    """One section's pieces, and the sticks that there are for them."""

    section: CatalogueSection
    pieces: tuple[Piece, ...]
    kinds: tuple[Sold, ...]


def stock(
    job: Job,
    cuts: CutList,
    steel: Steel,
    *,
    changed: Callable[[CatalogueSection, tuple[Sold, ...]], tuple[Sold, ...]] | None = None,
) -> Stock:
    """Return the sticks to buy and what to cut from each, least cost first.

    Args:
        job: lengths sold, prices, kerf, end trim and offcuts.
        cuts: the pieces.
        steel: sections of the job, to match sticks and offcuts with.
        changed: what becomes of the sticks there are of a section, for a question of what if.
    """
    system = job.job.system
    ends = [end.cuts for item in cuts.items for end in (item.start, item.end)]
    given = chosen(job.stock.kerf, "kerf", "shop/kerf", "kerf", system=system)
    kerf = laid_kerf(given, ends, cuts.tools)
    trim = chosen(job.stock.end_trim, "end trim", "shop/end trim", "end trim", system=system)
    rules = rules_of(job, kerf.value, trim.value)
    done, checks = [], []
    used: dict[str, int] = {}
    for wanted in wanted_of(job, cuts, steel):
        kinds = changed(wanted.section, wanted.kinds) if changed else wanted.kinds
        # What two grades of one section might both take is taken by the first.
        kinds = tuple(
            one
            if one.there is None
            else replace(one, there=max(0, one.there - used.get(one.place, 0)))
            for one in kinds
        )
        one = laid(wanted.section, wanted.pieces, kinds, rules, job)
        for use in one.sticks:
            used[use.place] = used.get(use.place, 0) + use.count
        done.append(one)
        checks.append(_check(wanted.section, wanted.pieces, kinds, one.nest, rules))
    return Stock(
        kerf,
        trim,
        tuple(t.si for t in job.stock.lengths) or USUAL_LENGTHS[system],
        not job.stock.lengths and not job.stick,
        tuple(done),
        tuple(checks),
        job.job.currency,
        job.stock.share_cuts,
    )


def rules_of(job: Job, kerf: Metres, trim: Metres) -> Rules:
    """Return the saw's rules of a job."""
    return Rules(kerf, trim, trim, job.stock.share_cuts)


def wanted_of(job: Job, cuts: CutList, steel: Steel) -> tuple[Wanted, ...]:
    """Return each section's pieces with the sticks that there are for them."""
    sections: dict[tuple[str, str], CatalogueSection] = {}
    pieces: dict[tuple[str, str], list[Piece]] = {}
    for item in cuts.items:
        name = (item.section.designation, item.section.grade.name)
        sections[name] = item.section
        pieces.setdefault(name, []).extend(pieces_of(item))
    return tuple(
        Wanted(section, tuple(pieces[name]), sold(job, section, steel))
        for name, section in sections.items()
    )


def pieces_of(item: CutItem) -> tuple[Piece, ...]:
    """Return the pieces of one line of the cut list, each by its mark."""
    turned = item.section.shape in TURNED
    start, end = (_end(e, item.section.width, turned=turned) for e in (item.start, item.end))
    return tuple(
        Piece(mark, item.length.value, start, end, STRAIGHT in key)
        for key, mark in zip(item.keys, item.marks, strict=True)
    )


def _end(cut: CutEnd, width: float, *, turned: bool) -> End:
    """Return an end as the nest takes it.

    What the saw makes in one pass takes the kerf aslant, and may share its cut. Any other end is
    parted square at its long point first and cut to its marks afterwards.
    """
    low, high = cut.offsets[0][1], cut.offsets[-1][1]
    whole = len(cut.offsets) == 2 and abs(cut.offsets[-1][0] - cut.offsets[0][0] - width) < 1e-9
    if not (cut.sawn and whole) or max(cut.angles, default=0.0) > STEEPEST:
        return SQUARE
    return End(max(cut.angles), abs(high - low), turned and low != high, low <= high)


def laid(
    section: CatalogueSection,
    pieces: Sequence[Piece],
    kinds: Sequence[Sold],
    rules: Rules,
    job: Job,
) -> SectionStock:
    """Return one section's pieces laid out on the sticks there are."""
    counted = paid(kinds)
    answer = nest(pieces, counted.sticks, rules)
    if isinstance(answer, Held):
        return SectionStock(section, _in_words(answer, pieces, kinds, rules, job), 0.0)
    return SectionStock(
        section,
        answer,
        answer.bought_length * section.mass_per_metre,
        counted.unit,
        answer.cost * counted.per_unit,
        answer.bound * counted.per_unit,
        counted.unpriced,
        _uses(answer, kinds, counted),
    )


def _uses(answer: Nest, kinds: Sequence[Sold], counted: Paid) -> tuple[StickUse, ...]:
    taken: dict[str, int] = {}
    for layout in answer.layouts:
        taken[layout.stick.name] = taken.get(layout.stick.name, 0) + 1
    return tuple(
        StickUse(
            one.place,
            one.kind,
            one.label,
            one.length,
            taken[one.place],
            one.mass,
            one.price if counted.unit == "money" or one.price is not None else None,
            one.supplier,
            one.there,
        )
        for one in kinds
        if one.place in taken
    )


def _off(end: End, trim: Metres, kerf: Metres) -> Metres:
    """Return what a trim costs a stick: its own length and the cut that makes the piece's end."""
    return trim + kerf / math.cos(end.angle) if trim > 0 else 0.0


def room_for(piece: Piece, rules: Rules) -> Metres:
    """Return the least stick that one piece comes out of [m]."""
    return (
        piece.length
        + _off(piece.start, rules.trim_start, rules.kerf)
        + _off(piece.end, rules.trim_end, rules.kerf)
    )


def _in_words(
    held: Held, pieces: Sequence[Piece], kinds: Sequence[Sold], rules: Rules, job: Job
) -> Held:
    """Return why pieces are not laid out, with lengths as the maker's tape shows them."""
    there = [one for one in kinds if one.there != 0]
    if not there:
        return Held("there is no stick of it to cut from", ("a stick of it",))
    tape = tape_of(job)
    longest = max(there, key=lambda one: one.length)
    over = [piece for piece in pieces if room_for(piece, rules) > longest.length + 1e-9]
    if not over:
        names = ", ".join(dict.fromkeys(piece.key for piece in pieces if piece.straight))
        if held.why.startswith("no straight stick"):
            why = f"no straight stick is long enough for {names}; an offcut is not taken for one"
            return Held(why, ("a new stick, or an offcut that is said to be straight",))
        left = [need.split("'")[1] for need in held.needs if need.count("'") >= 2]
        short = f": {', '.join(left)} left over at the least" if left else ""
        return Held(f"the sticks there are do not hold all pieces{short}", ("more sticks of it",))
    named = ", ".join(f"{p.key} ({units.show_length(p.length, tape)})" for p in over[:6])
    more = f" and {len(over) - 6} more" if len(over) > 6 else ""
    need = max(room_for(piece, rules) for piece in over)
    least = units.show_length(math.ceil(need / float(tape.step) - 1e-9) * float(tape.step), tape)
    return Held(
        f"longer than any stick: {named}{more}; the longest there is, {longest.label}, loses its "
        "mill ends",
        (f"a stick of at least {least}, or a decision where it is spliced",),
    )


def _check(
    section: CatalogueSection,
    pieces: Sequence[Piece],
    kinds: Sequence[Sold],
    answer: Nest | Held,
    rules: Rules,
) -> Check:
    """Return whether a section's pieces can be cut from the sticks there are [m]."""
    longest = max(pieces, key=lambda piece: room_for(piece, rules))
    off = room_for(longest, rules) - longest.length
    has = max((one.length for one in kinds if one.there != 0), default=0.0) - off
    short = isinstance(answer, Held)
    change = f"add a longer stick to [stock] for {longest.key}, or decide where it is spliced"
    if isinstance(answer, Held) and longest.length <= has:
        change = answer.why
    return Check(
        key=f"shop/{section.designation}, {section.grade.name}",
        subject=f"sticks of {section.designation}",
        question=f"do they yield every piece; the longest is {longest.key}",
        verdict=Verdict.SHORT if short else Verdict.OK,
        source=SAWN,
        unit="m",
        demand=longest.length,
        available=max(has, 0.0),
        ratio=longest.length / has if has > 0 else None,
        change=change if short else "",
    )
