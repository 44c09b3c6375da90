"""What all stages say together: every check, what stops the saw, and the defaults relied on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import fields, is_dataclass
from datetime import date

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.doorway import Doorway
from leafwright.job.defaults import chosen
from leafwright.job.model import Job
from leafwright.leaf import Leaf
from leafwright.mount import LeafMount
from leafwright.proof import LeafProof, answered, asks
from leafwright.records import Check, Held, Stop, Verdict
from leafwright.shop.cut_list import CutList
from leafwright.shop.cut_order import CutOrder
from leafwright.shop.holes.records import Holes
from leafwright.shop.pack import Pack
from leafwright.shop.stock import Stock
from leafwright.site.records import Site
from leafwright.survey import Survey
from leafwright.survey.examine import Examined, stops_examined

_ORDER = {Verdict.SHORT: 0, Verdict.TIGHT: 1, Verdict.ASK: 2, Verdict.OK: 3}


def all_checks(
    job: Job,
    found: Survey | Held,
    room: Doorway | Held,
    proofs: Sequence[LeafProof | Held],
    mounts: Sequence[LeafMount | Held],
    drilled: Holes | Held,
    cuts: CutList | Held,
    bought: Stock | Held,
    there: Site | Held,
    on: date | None,
    *,
    pack: Pack | Held,
    asked: tuple[Check, ...] = (),
) -> tuple[Check, ...]:
    """Return every check of the plan, those that need the maker first."""
    checks: list[Check] = [*asked]
    if isinstance(found, Survey):
        checks += found.checks
    if isinstance(room, Doorway):
        checks += room.checks
    for proof in proofs:
        if isinstance(proof, LeafProof):
            checks += proof.checks
    for mount in mounts:
        if isinstance(mount, LeafMount):
            checks += mount.checks
    if isinstance(cuts, CutList):
        checks += cuts.checks
    if isinstance(drilled, Holes):
        checks += drilled.checks
    if isinstance(bought, Stock):
        checks += bought.checks
    if isinstance(pack, Pack):
        checks += pack.checks
    if isinstance(there, Site):
        checks += there.checks
    checks += asks(job)
    told = answered(checks, job.answer, on)
    return tuple(sorted(told, key=lambda c: (_ORDER[c.verdict], -(c.ratio or 0.0))))


def all_stops(
    found: Survey | Held,
    looked: Examined | Held,
    room: Doorway | Held,
    leaves: Sequence[Leaf | Held],
    checks: Sequence[Check],
    there: Site | Held,
    *,
    leaves_asked: bool,
    pack: Pack | Held,
) -> tuple[Stop, ...]:
    """Return everything that keeps steel from being cut until the maker has decided.

    That is a set of readings that disagree, a stage that could not be done, and every check that
    came out short; members that are too weak are one stop together. Of the site stage only a leaf
    that does not turn, or cannot be got in, is one: what is read of a leaf that is built already
    does not keep the other one from being cut. Nor does an outlet that is too small.
    """
    stops = [_held_stop("opening", found)] if isinstance(found, Held) else list(found.stops)
    if isinstance(found, Survey) and isinstance(looked, Examined):
        stops = list(stops_examined(found.stops, looked))
    if isinstance(room, Held) and leaves_asked and not isinstance(found, Held):
        stops.append(_held_stop("doorway", room))
    elif leaves_asked:
        stops += [_held_stop("leaf", leaf) for leaf in leaves if isinstance(leaf, Held)]
    later: set[str] = set()
    if isinstance(there, Site):
        stops += there.stops
        later = {check.key for check in there.checks}
    if isinstance(pack, Pack):
        later |= {check.key for check in pack.checks}
    known = later | {stop.key for stop in stops}
    weak = []
    for check in checks:
        if check.verdict is not Verdict.SHORT or check.key in known:
            continue
        if check.source.document.startswith("ANSI/AISC"):
            weak.append(check)
            continue
        stops.append(
            Stop(check.key, f"{check.subject}: {check.question}? No, it is short", check.change)
        )
    if weak:
        named = ", ".join(dict.fromkeys(check.subject for check in weak))
        why = f"not strong enough: {named}"
        stops.append(Stop("proof/members", why, f"{weak[0].change}; see the checks"))
    return tuple(dict.fromkeys(stops))


def _held_stop(stage: str, held: Held) -> Stop:
    return Stop(f"held/{stage}", held.why, f"it needs {'; '.join(held.needs)}")


def mitre_range(job: Job) -> Quantity:
    """Return how far the saw swings each way from square [rad]."""
    return chosen(
        job.saw.mitre_range,
        "saw mitre range",
        "shop/mitre range",
        "saw's mitre range",
        system=job.job.system,
    )


def quantities(value: object) -> Iterator[Quantity]:
    """Yield every derived quantity held anywhere in a record, each once by key."""
    seen: dict[str, Quantity] = {}
    _gather(value, seen)
    for quantity in list(seen.values()):
        for below in chain.walked(quantity):
            seen.setdefault(below.key, below)
    yield from seen.values()


def _gather(value: object, seen: dict[str, Quantity]) -> None:
    if isinstance(value, Quantity):
        seen.setdefault(value.key, value)
    elif isinstance(value, tuple):
        for part in value:
            _gather(part, seen)
    elif is_dataclass(value) and not isinstance(value, type):
        for part_field in fields(value):
            _gather(getattr(value, part_field.name), seen)


def all_defaults(
    found: Survey | Held,
    room: Doorway | Held,
    leaves: Sequence[Leaf | Held],
    bought: Stock | Held,
    proofs: Sequence[LeafProof | Held],
    mounts: Sequence[LeafMount | Held],
    drilled: Holes | Held,
    there: Site | Held,
    order: CutOrder | Held,
    job: Job,
    *,
    pack: Pack | Held,
) -> tuple[Quantity, ...]:
    """Return every default that the plan relied on, each once."""
    name = "tight from"
    tight = chosen(None, name, "checks/tight from", name, system=job.job.system)
    used: dict[str, Quantity] = {tight.key: tight}
    if isinstance(found, Survey):
        used |= {q.key: q for q in found.defaults}
    tops: list[object] = [room, tuple(leaves), bought, mitre_range(job), order]
    tops += [p.wishes for p in proofs if isinstance(p, LeafProof)]
    tops += [m.defaults for m in mounts if isinstance(m, LeafMount)]
    tops += [drilled.defaults] if isinstance(drilled, Holes) else []
    if isinstance(pack, Pack):
        tops.append(pack.defaults)
    if isinstance(there, Site):
        tops.append(there.defaults)
    for top in tops:
        for quantity in quantities(top):
            if quantity.kind == "default" and not quantity.key.startswith(("assumed/", "survey/")):
                used.setdefault(quantity.key, quantity)
    return tuple(used[key] for key in sorted(used))
