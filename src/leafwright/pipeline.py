"""The pipeline, top to bottom: survey, doorway, leaf, proof, shop.

`plan` runs the stages in order and returns what each made, or why it was held. Given the plan
before, a stage whose inputs have not changed is taken from it. What the gaps must allow for but
only the proof knows (sag and lean of the nose) is found in a first pass and used in a second; the
change that a third would make is reported.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, fields, is_dataclass
from datetime import date
from typing import Any, Literal, TypeVar

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.doorway import Allowances, Doorway, LeafPlace, allowances, doorway
from leafwright.job.defaults import chosen
from leafwright.job.model import Job, LeafTable
from leafwright.job.steel import Steel, steel
from leafwright.leaf import Leaf, design_leaf
from leafwright.proof import LeafProof, asks, prove
from leafwright.proof.sag import Sag, sag
from leafwright.records import Check, Held, Metres, Stop, Verdict
from leafwright.shop.cut_list import CutList, cut_list
from leafwright.shop.stock import Stock, stock
from leafwright.survey import Survey, survey

Stage = Literal["survey", "doorway", "leaf", "proof", "shop"]
STAGES: tuple[Stage, ...] = ("survey", "doorway", "leaf", "proof", "shop")

#: What the whole job needs and this version does not do yet, each said in every plan.
NOT_YET: tuple[tuple[str, Held], ...] = (
    (
        "swing",
        Held(
            "the sweep of the leaves over the mapped floor is not worked out yet",
            ("a mock-up or a string at full size before the pivots are fixed",),
        ),
    ),
    (
        "pivots",
        Held(
            "pins, plates, welds, bolts and anchors are not proved yet",
            ("an engineer, with the reactions printed here",),
        ),
    ),
    (
        "infill",
        Held(
            "infill is weighed, but its bending and fixings are not proved yet",
            ("the sheet maker's data",),
        ),
    ),
    ("wind", Held("wind is not proved yet", ("an engineer, where a leaf stands in wind",))),
    ("seams", Held("seams are not listed or proved yet", ("a welder's own map",))),
    (
        "posts",
        Held(
            "posts, footings and beams are neither proved nor is their give in the sag",
            ("an engineer, with the reactions printed here",),
        ),
    ),
    (
        "temperature",
        Held(
            "growth by heat and cold is in no gap",
            ("the gaps of a day like the one of the survey",),
        ),
    ),
    (
        "site",
        Held(
            "standing, hanging and aligning are not worked out yet",
            ("a lift plan by a person who is competent to make one",),
        ),
    ),
    ("price", Held("the price is not worked out yet", ("the maker's own reckoning",))),
)

_T = TypeVar("_T")


@dataclass(frozen=True, slots=True)
class Plan:
    """What every stage made of a job, or why it was held.

    ``remaining`` is how much the allowances would still change in another pass [m]. ``inputs``
    is what each stage was made from, so that the next plan can reuse it.
    """

    job: Job
    survey: Survey | Held
    doorway: Doorway | Held
    leaves: tuple[Leaf | Held, ...]
    proofs: tuple[LeafProof | Held, ...]
    cuts: CutList | Held
    stock: Stock | Held
    not_yet: tuple[tuple[str, Held], ...]
    checks: tuple[Check, ...]
    stops: tuple[Stop, ...]
    defaults: tuple[Quantity, ...]
    remaining: Metres
    inputs: dict[str, tuple[tuple[object, ...], object]]

    @property
    def for_cutting(self) -> bool:
        """Whether steel may be cut from this plan: nothing stops it and every part is there."""
        return not self.stops and not isinstance(self.cuts, Held)


def _same(before: object, now: object) -> bool:
    """Return whether an input is the same: stage records by identity, choices by value."""
    if before is now:
        return True
    if is_dataclass(before) or is_dataclass(now):
        return False
    if isinstance(before, tuple) and isinstance(now, tuple) and len(before) == len(now):
        return all(_same(b, n) for b, n in zip(before, now, strict=True))
    return bool(before == now)


class _Runner:
    """Runs stages once each, taking from the plan before what has not changed."""

    def __init__(self, previous: Plan | None) -> None:
        self.before = previous.inputs if previous else {}
        self.inputs: dict[str, tuple[tuple[object, ...], object]] = {}

    def run(self, name: str, make: Callable[[], _T], *inputs: object) -> _T:
        """Return what a stage makes of these inputs, made anew only where they changed."""
        known = self.before.get(name)
        if known is not None and _same(known[0], inputs):
            made: Any = known[1]
        else:
            made = make()
        self.inputs[name] = (inputs, made)
        result: _T = made
        return result


def plan(
    job: Job, *, upto: Stage = "shop", previous: Plan | None = None, on: date | None = None
) -> Plan:
    """Return the plan of a job.

    Args:
        job: the job file's content.
        upto: the last stage to run; later ones are held.
        previous: an earlier plan, to reuse what has not changed.
        on: the day to hold answers' expiry dates against; None takes those as run out.
    """
    runner = _Runner(previous)
    not_asked = Held(f"only run up to {upto}", ())
    last = STAGES.index(upto)
    material = runner.run("steel", lambda: steel(job), job.section, job.grade)
    found = runner.run(
        "survey", lambda: survey(job), job.reading, job.mark, job.opening, job.job.system
    )
    room: Doorway | Held = not_asked
    leaves: tuple[Leaf | Held, ...] = ()
    proofs: tuple[LeafProof | Held, ...] = ()
    cuts: CutList | Held = not_asked
    bought: Stock | Held = not_asked
    remaining = 0.0
    if last >= 1:
        room, remaining = _doorway_in_two_passes(job, found, material, runner)
    if last >= 2 and isinstance(room, Doorway):
        leaves = _leaves(job, room, material, runner, "")
    if last >= 3 and isinstance(room, Doorway):
        proofs = _proofs(job, room, leaves, material, runner)
    if last >= 4:
        cuts = _cuts(job, room, leaves, material, runner)
        if isinstance(cuts, Held):
            bought = cuts
        else:
            made = cuts
            bought = runner.run(
                "stock",
                lambda: stock(job, made, material),
                made,
                job.stock,
                job.offcut,
                material,
                job.job.system,
            )
    if isinstance(room, Held) and room is not not_asked:
        leaves = proofs = (room,)
    checks = _checks(job, found, room, proofs, bought, on)
    return Plan(
        job=job,
        survey=found,
        doorway=room,
        leaves=leaves,
        proofs=proofs,
        cuts=cuts,
        stock=bought,
        not_yet=NOT_YET,
        checks=checks,
        stops=_stops(found, room, leaves, checks, leaves_asked=last >= 2),
        defaults=_defaults(found, room, leaves, bought, proofs, job),
        remaining=remaining,
        inputs=runner.inputs,
    )


def _stops(
    found: Survey | Held,
    room: Doorway | Held,
    leaves: Sequence[Leaf | Held],
    checks: Sequence[Check],
    *,
    leaves_asked: bool,
) -> tuple[Stop, ...]:
    """Return everything that keeps steel from being cut until the maker has decided.

    That is a set of readings that disagree, a stage that could not be done, and every check that
    came out short; members that are too weak are one stop together.
    """
    stops = list(found.stops) if isinstance(found, Survey) else [_held_stop("opening", found)]
    if isinstance(room, Held) and leaves_asked and not isinstance(found, Held):
        stops.append(_held_stop("doorway", room))
    elif leaves_asked:
        stops += [_held_stop("leaf", leaf) for leaf in leaves if isinstance(leaf, Held)]
    known = {stop.key for stop in stops}
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


def _table_of(job: Job, place: LeafPlace) -> LeafTable:
    return next(table for table in job.leaf if table.hand == place.hand)


def _leaves(
    job: Job, room: Doorway, material: Steel, runner: _Runner, pass_name: str
) -> tuple[Leaf | Held, ...]:
    pair = len(job.leaf) == 2

    def make(place: LeafPlace, table: LeafTable) -> Callable[[], Leaf | Held]:
        return lambda: design_leaf(place, table, material, system=job.job.system, pair=pair)

    return tuple(
        runner.run(
            f"{pass_name}leaf {place.key}",
            make(place, table),
            place,
            table,
            material,
            job.job.system,
            pair,
        )
        for place in room.leaves
        for table in [_table_of(job, place)]
    )


def _doorway_in_two_passes(
    job: Job, found: Survey | Held, material: Steel, runner: _Runner
) -> tuple[Doorway | Held, float]:
    """Return the doorway with sag and lean allowed for, and what another pass would change."""
    if isinstance(found, Held):
        return found, 0.0
    surveyed = found
    allow = allowances(0.0, 0.0, "first pass: none yet")
    room: Doorway | Held = Held("not run")
    used = Sag(0.0, 0.0)
    change = 0.0
    for number in ("first pass ", ""):
        now = allow

        def make(now: Allowances = now) -> Doorway | Held:
            return doorway(job, surveyed, material, now)

        room = runner.run(
            f"{number}doorway",
            make,
            surveyed,
            material,
            job.doorway,
            job.leaf,
            job.opening.head,
            job.job.system,
            used.nose_drop,
            used.nose_shift,
        )
        if isinstance(room, Held):
            return room, 0.0
        sags = _sags(job, room, material, runner, number)
        greatest = Sag(
            max((s.nose_drop for s in sags), default=0.0),
            max((s.nose_shift for s in sags), default=0.0),
        )
        change = max(
            abs(greatest.nose_drop - used.nose_drop), abs(greatest.nose_shift - used.nose_shift)
        )
        used = greatest
        allow = allowances(used.nose_drop, used.nose_shift, "the frame, standing, first pass")
    return room, change


def _sags(job: Job, room: Doorway, material: Steel, runner: _Runner, number: str) -> list[Sag]:
    made = _leaves(job, room, material, runner, number)
    sags = []
    for place, leaf in zip(room.leaves, made, strict=True):
        if isinstance(leaf, Held):
            continue
        table = _table_of(job, place)

        def make(
            place: LeafPlace = place, table: LeafTable = table, leaf: Leaf = leaf
        ) -> Sag | Held:
            return sag(place, table, leaf)

        found = runner.run(f"{number}sag {place.key}", make, leaf, table)
        if isinstance(found, Sag):
            sags.append(found)
    return sags


def _proofs(
    job: Job, room: Doorway, leaves: Sequence[Leaf | Held], material: Steel, runner: _Runner
) -> tuple[LeafProof | Held, ...]:
    clearance = next(g for g in room.gaps if g.key == "doorway/floor clearance")
    proofs: list[LeafProof | Held] = []
    for place, leaf in zip(room.leaves, leaves, strict=True):
        if isinstance(leaf, Held):
            proofs.append(leaf)
            continue
        table = _table_of(job, place)

        def make(
            place: LeafPlace = place, table: LeafTable = table, leaf: Leaf = leaf
        ) -> LeafProof | Held:
            return prove(job, place, table, leaf, material, clearance=clearance)

        proofs.append(
            runner.run(
                f"proof {place.key}",
                make,
                leaf,
                table,
                job.basis,
                job.loads,
                job.limits,
                job.job.system,
                clearance.value,
            )
        )
    return tuple(proofs)


def _cuts(
    job: Job,
    room: Doorway | Held,
    leaves: Sequence[Leaf | Held],
    material: Steel,
    runner: _Runner,
) -> CutList | Held:
    if isinstance(room, Held):
        return room
    for leaf in leaves:
        if isinstance(leaf, Held):
            return leaf
    made = tuple(leaf for leaf in leaves if isinstance(leaf, Leaf))
    mitre = _mitre_range(job)
    return runner.run(
        "cuts",
        lambda: cut_list(made, room, material, mitre_range=mitre.value),
        made,
        room,
        material,
        mitre.value,
    )


def _mitre_range(job: Job) -> Quantity:
    return chosen(
        job.saw.mitre_range,
        "saw mitre range",
        "shop/mitre range",
        "saw's mitre range",
        system=job.job.system,
    )


_ORDER = {Verdict.SHORT: 0, Verdict.TIGHT: 1, Verdict.ASK: 2, Verdict.OK: 3}


def _checks(
    job: Job,
    found: Survey | Held,
    room: Doorway | Held,
    proofs: Sequence[LeafProof | Held],
    bought: Stock | Held,
    on: date | None,
) -> tuple[Check, ...]:
    """Return every check of the plan, those that need the maker first."""
    checks: list[Check] = []
    if isinstance(found, Survey):
        checks += found.checks
    if isinstance(room, Doorway):
        checks += room.checks
    for proof in proofs:
        if isinstance(proof, LeafProof):
            checks += proof.checks
    if isinstance(bought, Stock):
        checks += bought.checks
    checks += asks(job, on)
    return tuple(sorted(checks, key=lambda c: (_ORDER[c.verdict], -(c.ratio or 0.0))))


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


def plan_quantities(made: Plan) -> tuple[Quantity, ...]:
    """Return every derived quantity of a plan and all it rests on, sorted by key."""
    held: dict[str, Quantity] = {}
    for part in (made.doorway, made.leaves, made.cuts, made.stock, made.defaults):
        for quantity in quantities(part):
            held.setdefault(quantity.key, quantity)
    return tuple(held[key] for key in sorted(held))


def _defaults(
    found: Survey | Held,
    room: Doorway | Held,
    leaves: Sequence[Leaf | Held],
    bought: Stock | Held,
    proofs: Sequence[LeafProof | Held],
    job: Job,
) -> tuple[Quantity, ...]:
    """Return every default that the plan relied on, each once."""
    used: dict[str, Quantity] = {}
    if isinstance(found, Survey):
        used |= {q.key: q for q in found.defaults}
    tops: list[object] = [room, tuple(leaves), bought, _mitre_range(job)]
    tops += [p.wishes for p in proofs if isinstance(p, LeafProof)]
    for top in tops:
        for quantity in quantities(top):
            if quantity.kind == "default" and not quantity.key.startswith(("assumed/", "survey/")):
                used.setdefault(quantity.key, quantity)
    return tuple(used[key] for key in sorted(used))
