"""What if a stick is not to be had: what else would do, what waits, and what could be spliced."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from leafwright import units
from leafwright.handbook.catalogue import CatalogueSection
from leafwright.job.model import Job
from leafwright.job.steel import Steel
from leafwright.records import Held, Metres, Number
from leafwright.shop.cut_list import CutList
from leafwright.shop.nest import Nest, Piece, Rules, Stick, nest
from leafwright.shop.sold import Sold
from leafwright.shop.stock import SectionStock, Stock, Wanted, laid, room_for, rules_of, wanted_of

#: The shorter part of a spliced piece is at least so long [m]; common practice, no source.
LEAST_PART = 0.3
#: A piece that waits costs its length, counted to a millimetre [m].
COUNTED = 0.001

Kind = Literal["without", "short", "rack only"]


@dataclass(frozen=True, slots=True)
class Asked:
    """A question: a length or a supplier to do without, so many sticks short, or the rack only."""

    kind: Kind
    what: str = ""
    count: int = 1


@dataclass(frozen=True, slots=True)
class Splice:
    """Two lengths that are left over, which make one piece that waits.

    ``parts`` are how long each half is cut [m], from the drops named in ``of``.
    """

    key: str
    parts: tuple[Metres, Metres]
    of: tuple[str, str]


@dataclass(frozen=True, slots=True)
class Case:
    """One section with some of its sticks not to be had.

    ``missing`` says which. ``instead`` is what would do: all pieces laid out on what else can be
    bought, or, with the rack only, those that wait laid out on what is to be bought later;
    ``more`` is what that costs beyond the plan, in the unit that it is counted in. ``now`` is
    what can be cut from what is there, and ``waits`` the pieces that cannot; of all ways to cut
    the least length waits, or at most ``gap`` more than the least [m]. ``longest_left`` is the
    longest drop or stick then left whole [m].
    """

    section: CatalogueSection
    missing: str
    instead: SectionStock | Held
    more: Number | None
    now: Nest | Held
    waits: tuple[Piece, ...]
    gap: Metres
    splices: tuple[Splice, ...]
    longest_left: Metres


@dataclass(frozen=True, slots=True)
class WhatIf:
    """A question about the sticks and what comes of it, section by section."""

    asked: Asked
    cases: tuple[Case, ...]


def what_if(asked: Asked, job: Job, cuts: CutList, steel: Steel, planned: Stock) -> WhatIf:
    """Return what comes of not having some sticks.

    Args:
        asked: what is not to be had.
        job: sticks, prices and the saw.
        cuts: the pieces.
        steel: sections of the job.
        planned: the sticks as planned, with all to be had.

    Raises:
        ValueError: nothing that is sold goes by that name, or the number cannot be; it says what
            would do.
    """
    rules = rules_of(job, planned.kerf.value, planned.end_trim.value)
    wanted = wanted_of(job, cuts, steel)
    by_name = {(one.section.designation, one.section.grade.name): one for one in planned.sections}
    cases: list[Case] = []
    if asked.kind == "without":
        _refuse_unknown(asked.what, wanted)
    if asked.kind == "short" and not 1 <= asked.count <= 1000:
        raise ValueError(f"{asked.count} sticks short cannot be: give a whole number from 1 up")
    for one in wanted:
        before = by_name[one.section.designation, one.section.grade.name]
        if asked.kind == "without":
            kept = tuple(k for k in one.kinds if not _named(k, asked.what))
            if kept != one.kinds:
                cases.append(_without(one, kept, before, asked.what, rules, job))
        elif asked.kind == "rack only":
            cases.append(_rack_only(one, rules, job))
        else:
            cases += _short(one, before, asked.count, rules, job)
    return WhatIf(asked, tuple(cases))


def _named(kind: Sold, what: str) -> bool:
    """Return whether a stick that is sold goes by a length, a supplier or its label."""
    if kind.kind != "new":
        return False
    if what.casefold().strip() in (kind.supplier.casefold(), kind.label.casefold()):
        return True
    try:
        return abs(units.read_length(what).si - kind.length) < 1e-6
    except units.UnitError:
        return False


def _refuse_unknown(what: str, wanted: Sequence[Wanted]) -> None:
    new = [kind for one in wanted for kind in one.kinds if kind.kind == "new"]
    if what.strip() and any(_named(kind, what) for kind in new):
        return
    known = dict.fromkeys(kind.label.split(" from ")[0] for kind in new)
    known |= dict.fromkeys(kind.supplier for kind in new if kind.supplier)
    raise ValueError(
        f"nothing that is sold goes by {what!r}; there are {', '.join(known) or 'no sticks'}"
    )


def _without(
    one: Wanted, kept: tuple[Sold, ...], before: SectionStock, what: str, rules: Rules, job: Job
) -> Case:
    instead: SectionStock | Held
    instead = (
        laid(one.section, one.pieces, kept, rules, job)
        if kept
        else Held("no other stick is sold", ("another length, or another supplier",))
    )
    if isinstance(instead, SectionStock) and isinstance(instead.nest, Held):
        now = _cut_now(one.pieces, [(k, k.there) for k in kept], rules)
        return _case(one, f"without {what}", instead.nest, None, now, rules)
    if isinstance(instead, Held):
        return _case(one, f"without {what}", instead, None, _cut_now(one.pieces, [], rules), rules)
    return _case(one, f"without {what}", instead, _more(instead, before), instead.nest, rules)


def _rack_only(one: Wanted, rules: Rules, job: Job) -> Case:
    rack = [(k, k.there) for k in one.kinds if k.kind == "offcut"]
    now = _cut_now(one.pieces, rack, rules)
    waits = _waiting(one.pieces, now)
    new = tuple(k for k in one.kinds if k.kind == "new")
    later: SectionStock | Held = (
        laid(one.section, waits, new, rules, job) if waits else Held("nothing waits", ())
    )
    return _case(one, "only what is on the rack", later, None, now, rules)


def _short(one: Wanted, before: SectionStock, count: int, rules: Rules, job: Job) -> list[Case]:
    cases = []
    taken = {use.place: use.count for use in before.sticks}
    for use in before.sticks:
        if use.kind != "new":
            continue
        gone = min(count, use.count)
        limits = {**taken, use.place: use.count - gone}
        there = [(k, limits.get(k.place, 0) if k.kind == "new" else k.there) for k in one.kinds]
        now = _cut_now(one.pieces, [(k, n) for k, n in there if n != 0], rules)
        others = tuple(
            replace(k, there=use.count - gone) if k.place == use.place else k for k in one.kinds
        )
        instead = laid(one.section, one.pieces, others, rules, job)
        cases.append(
            _case(
                one,
                f"{gone} × {use.label} short",
                instead if isinstance(instead.nest, Nest) else instead.nest,
                _more(instead, before),
                now,
                rules,
            )
        )
    return cases


def _more(after: SectionStock | Held, before: SectionStock) -> float | None:
    if isinstance(after, Held) or not isinstance(after.nest, Nest):
        return None
    if not isinstance(before.nest, Nest) or after.counted != before.counted:
        return None
    return after.cost - before.cost


def _cut_now(
    pieces: Sequence[Piece], there: Sequence[tuple[Sold, int | None]], rules: Rules
) -> Nest | Held:
    """Return pieces laid out on what is there, the rest each on a stick that is not: ``waits``.

    Such a stick costs the piece's length and what is there nothing, so that the least length
    waits. A piece that waits could share its stick with another only where that costs no less.
    """
    sticks = [
        Stick(k.kind, k.place, k.length, 0.0, n, k.straight) for k, n in there if n is None or n > 0
    ]
    kinds: dict[Metres, Metres] = {}
    for piece in pieces:
        room = room_for(piece, rules)
        kinds[room] = max(kinds.get(room, 0.0), piece.length)
    for i, (room, length) in enumerate(kinds.items(), start=1):
        cost = max(COUNTED, round(length / COUNTED) * COUNTED)
        sticks.append(Stick("new", f"waits {i}", room + 1e-8, cost))
    return nest(pieces, sticks, rules)


def _waiting(pieces: Sequence[Piece], now: Nest | Held) -> tuple[Piece, ...]:
    if isinstance(now, Held):
        return tuple(pieces)
    keys = {
        cut.key
        for layout in now.layouts
        if layout.stick.name.startswith("waits ")
        for cut in layout.cuts
    }
    return tuple(piece for piece in pieces if piece.key in keys)


def _case(
    one: Wanted,
    missing: str,
    instead: SectionStock | Held,
    more: float | None,
    now: Nest | Held,
    rules: Rules,
) -> Case:
    waits = _waiting(one.pieces, now)
    gap = now.gap if isinstance(now, Nest) and waits else 0.0
    real = now
    if isinstance(now, Nest):
        kept = tuple(x for x in now.layouts if not x.stick.name.startswith("waits "))
        real = replace(now, layouts=kept)
    drops = _drops(real, one.kinds)
    return Case(
        one.section,
        missing,
        instead,
        more,
        real,
        waits,
        gap,
        _splices(waits, drops, rules),
        max((length for _, length in drops), default=0.0),
    )


def _drops(now: Nest | Held, kinds: Sequence[Sold]) -> list[tuple[str, float]]:
    """Return what is left over once what can be cut is cut: drops, and offcuts not touched."""
    if isinstance(now, Held):
        return []
    label = {kind.place: kind.label for kind in kinds}
    used: dict[str, int] = {}
    drops = []
    for layout in now.layouts:
        used[layout.stick.name] = used.get(layout.stick.name, 0) + 1
        if layout.drop > 0:
            keys = ", ".join(cut.key for cut in layout.cuts)
            drops.append((f"the drop behind {keys}", layout.drop))
    for kind in kinds:
        if kind.kind == "offcut":
            left = (kind.there or 0) - used.get(kind.place, 0)
            drops += [(label[kind.place], kind.length)] * max(0, min(left, 10))
    return drops


def _splices(
    waits: Sequence[Piece], drops: Sequence[tuple[str, float]], rules: Rules
) -> tuple[Splice, ...]:
    """Return how pieces that wait could be made of two drops each, never a stile of any.

    Longest piece first, each from the two drops that leave least; a drop serves once.
    """
    left = list(drops)
    found = []
    for piece in sorted(waits, key=lambda p: -p.length):
        if piece.straight:
            continue
        best: tuple[float, int, int] | None = None
        for i in range(len(left)):
            for j in range(i + 1, len(left)):
                spare = left[i][1] + left[j][1] - piece.length - 2 * rules.kerf
                short = min(left[i][1], left[j][1]) - rules.kerf
                if spare >= 0 and short >= LEAST_PART and (best is None or spare < best[0]):
                    best = (spare, i, j)
        if best is None:
            continue
        _, i, j = best
        long, small = sorted((left[i], left[j]), key=lambda drop: -drop[1])
        first = min(long[1] - rules.kerf, piece.length - LEAST_PART)
        found.append(Splice(piece.key, (first, piece.length - first), (long[0], small[0])))
        for k in sorted((i, j), reverse=True):
            del left[k]
    return tuple(found)
