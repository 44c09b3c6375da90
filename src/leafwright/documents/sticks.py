"""The sticks of a plan in the maker's words: what to buy, what to cut where, what if one is out.

The terminal, the page and the paper all tell them from here.
"""

from __future__ import annotations

from dataclasses import dataclass

from leafwright import units
from leafwright.documents.records import Heading, NestDocument
from leafwright.documents.report import VERSION, shown_of
from leafwright.job.steel import steel
from leafwright.pipeline import Plan
from leafwright.records import Held
from leafwright.say import Words
from leafwright.shop.cut_list import CutItem, CutList
from leafwright.shop.nest import Layout, Nest
from leafwright.shop.stock import SectionStock, StickUse, Stock
from leafwright.shop.what_if import Asked, Case, WhatIf, what_if

STRAIGHT_RULE = (
    "Stiles want the straightest sticks. They come from new sticks, or from offcuts that are said "
    "to be straight, and of all nests that cost as little from the fewest sticks. Before the first "
    "cut sight along each stick marked for them, or stretch a string along it; swap a bent one."
)

#: A drop shorter than this goes to dust or the bin unseen [m].
NO_DROP = 0.001
#: A piece may be made to fit by so small a change of the drawing [m]; common practice, no source.
SMALL_CHANGE = 0.15


def nest_document(made: Plan, asked: Asked | None = None) -> NestDocument:
    """Return the sticks of a plan, and what comes of a question about them.

    Raises:
        ValueError: the question cannot be; it says what would do.
    """
    job = made.job
    answer: WhatIf | None = None
    if asked is not None and isinstance(made.stock, Stock) and isinstance(made.cuts, CutList):
        answer = what_if(asked, job, made.cuts, steel(job), made.stock)
    return NestDocument(
        Heading(VERSION, job.job.name, job.job.seen_from, job.job.revision),
        job.job.currency,
        made.stock.cost if isinstance(made.stock, Stock) else None,
        made.stock,
        answer,
        STRAIGHT_RULE,
        made.stock.checks if isinstance(made.stock, Stock) else (),
        made.stops,
        shown_of(tuple(q for q in made.defaults if q.key.startswith("shop/"))),
    )


def steel_name(one: SectionStock | Case) -> str:
    """Return what a section is called, with its grade."""
    return f"{one.section.designation}, {one.section.grade.name}"


def money(amount: float, currency: str) -> str:
    """Return an amount of money, no line break inside it."""
    return units.show_money(amount, currency).replace(" ", "\u00a0")


def counted(one: SectionStock, amount: float, words: Words, currency: str) -> str:
    """Return a cost in what the section's cost is counted in: money, or length bought."""
    return money(amount, currency) if one.counted == "money" else f"{words.length(amount)} of it"


def buy_words(one: SectionStock) -> str:
    """Return how many of which sticks are bought, and how many offcuts are used."""
    bought = [f"{use.count} × {use.label}" for use in one.sticks if use.kind == "new"]
    racked = [f"{use.count} × {use.label}" for use in one.sticks if use.kind == "offcut"]
    buy = f"buy {' + '.join(bought)}" if bought else "buy nothing"
    return f"{buy}, use {' + '.join(racked)}" if racked else buy


def least_words(one: SectionStock, words: Words, currency: str) -> str:
    """Return what it costs and whether that is the least; only what is proven is called so."""
    what = counted(one, one.cost, words, currency)
    if one.proven:
        shares = isinstance(one.nest, Nest) and one.nest.shared_cuts > 0
        also = ", shared cuts allowed for" if shares else ""
        if one.counted == "money":
            return f"{what}, the least that these pieces can cost from these sticks, proven{also}"
        return f"{what}, the least that can be bought for these pieces, proven{also}"
    least = counted(one, one.bound, words, currency)
    gap = counted(one, one.cost - one.bound, words, currency)
    return f"{what}, not proven to be the least: none can do with under {least}, a gap of {gap}"


def unpriced_words(one: SectionStock) -> str:
    """Return which sticks have no price, so that length is counted; "" where all have."""
    if one.counted == "money" or not one.unpriced:
        return ""
    return (
        f"No price is known for {', '.join(one.unpriced)}, so the length bought is counted; give "
        "frame_tube under [price], or a price with each [[stick]]."
    )


def use_words(use: StickUse, words: Words, currency: str) -> tuple[str, str, str, str]:
    """Return one line of the buying list: how many, which, what all of them weigh and cost."""
    cost = money(use.count * use.price, currency) if use.price is not None else "no price"
    return str(use.count), use.label, words.mass(use.count * use.mass), cost


@dataclass(frozen=True, slots=True)
class PieceTold:
    """One piece on its stick: where its long points are from the hooked end, and what to mind."""

    mark: str
    length: str
    begins: str
    ends: str
    note: str


@dataclass(frozen=True, slots=True)
class StickTold:
    """One stick as it is cut: ``straight`` is whether it must be picked so."""

    number: int
    label: str
    straight: bool
    pieces: tuple[PieceTold, ...]
    drop: str
    shared: int


def sticks_told(one: SectionStock, words: Words) -> tuple[StickTold, ...]:
    """Return the sticks of a section, each with its pieces in cutting order."""
    if isinstance(one.nest, Held):
        return ()
    return tuple(
        StickTold(
            number,
            one.label(layout.stick.name),
            wants_straight(layout),
            _pieces_told(layout, words),
            words.length(layout.drop) if layout.drop > NO_DROP else "none",
            sum(cut.shared for cut in layout.cuts),
        )
        for number, layout in enumerate(one.nest.layouts, start=1)
    )


def wants_straight(layout: Layout) -> bool:
    """Return whether a stick must be picked straight: some piece of it wants one."""
    return any(cut.straight for cut in layout.cuts)


def _pieces_told(layout: Layout, words: Words) -> tuple[PieceTold, ...]:
    told = []
    for n, cut in enumerate(layout.cuts):
        notes = []
        if cut.shared:
            notes.append(f"one cut with {layout.cuts[n - 1].key}")
        if cut.over:
            notes.append("turned over")
        if cut.reversed:
            notes.append("end for end")
        told.append(
            PieceTold(
                cut.key,
                words.length(cut.length),
                words.length(cut.start),
                words.length(cut.start + cut.length),
                ", ".join(notes),
            )
        )
    return tuple(told)


def items_by_mark(cuts: CutList) -> dict[str, CutItem]:
    """Return the line of the cut list that each mark stands on."""
    return {mark: item for item in cuts.items for mark in item.marks}


# ---------------------------------------------------------------- what if


@dataclass(frozen=True, slots=True)
class CaseTold:
    """What comes of one section without some sticks; each sentence for itself."""

    title: str
    instead: tuple[str, ...]
    waits: tuple[str, ...]
    splices: tuple[str, ...]


def asked_words(asked: Asked) -> str:
    """Return a question about the sticks."""
    if asked.kind == "without":
        return f"What if {asked.what} is not to be had?"
    if asked.kind == "rack only":
        return "What if nothing can be bought, and there is only the rack?"
    return (
        f"What if {'one stick does' if asked.count == 1 else f'{asked.count} sticks do'} not come?"
    )


def no_case_words(asked: Asked) -> str:
    """Return what is said where a question touches no section."""
    return "Nothing of the plan comes from there: nothing changes." if asked else ""


def case_told(case: Case, words: Words, currency: str) -> CaseTold:
    """Return what comes of one section without some sticks."""
    return CaseTold(
        f"{steel_name(case)}: {case.missing}",
        tuple(_instead(case, words, currency)),
        tuple(_waits(case, words)),
        tuple(_splice_words(case, words)),
    )


def _instead(case: Case, words: Words, currency: str) -> list[str]:
    other = case.instead
    if isinstance(other, Held):
        if not case.waits:
            return ["All of it can be cut from what is there."]
        needs = f" It needs {'; '.join(other.needs)}." if other.needs else ""
        return [f"Nothing else that is sold would do: {other.why}.{needs}"]
    later = "To buy later for what waits" if case.missing.startswith("only") else "What would do"
    said = [f"{later}: {buy_words(other)}: {least_words(other, words, currency)}."]
    if case.more is not None:
        if abs(case.more) < 1e-9:
            said.append("That costs no more than the plan.")
        else:
            way = "more" if case.more > 0 else "less"
            said.append(f"That is {counted(other, abs(case.more), words, currency)} {way}.")
    return said


def _waits(case: Case, words: Words) -> list[str]:
    if not case.waits:
        cut = "without any of these" if case.missing.startswith("without") else "all the same"
        return [f"Nothing waits: every piece can be cut {cut}."]
    named = ", ".join(f"{p.key} ({words.length(p.length)})" for p in case.waits)
    total = sum(p.length for p in case.waits)
    some = isinstance(case.now, Nest) and case.now.layouts
    rest = "All others can be cut from what is there" if some else "None can be cut yet"
    count = len(case.waits)
    said = [
        f"{count} {'piece waits' if count == 1 else 'pieces wait'}, {words.length(total)} in all: "
        f"{named}. {rest}."
    ]
    if case.gap > 0:
        said.append(f"At best {words.length(case.gap)} less would wait: that is not proven.")
    nearest = min(p.length for p in case.waits) - case.longest_left
    if case.longest_left > 0:
        left = words.length(case.longest_left)
        tail = (
            f", {words.length(nearest)} short of the nearest that waits: a drawing changed by that "
            "much would do without a stick"
            if 0 < nearest <= SMALL_CHANGE
            else ""
        )
        said.append(f"The longest length then left over is {left}{tail}.")
    return said


def _splice_words(case: Case, words: Words) -> list[str]:
    said = []
    for splice in case.splices:
        first, second = (
            f"{words.length(part)} from {source}"
            for part, source in zip(splice.parts, splice.of, strict=True)
        )
        said.append(f"{splice.key} could be spliced: {first}, and {second}.")
    if said:
        said.append(
            "Ask before splicing: where a splice may lie, its sleeve or plate and its weld are to "
            "be designed for the force there."
        )
    stiles = [p.key for p in case.waits if p.straight]
    if stiles:
        said.append(f"No splice is offered for a stile: {', '.join(stiles)}.")
    return said
