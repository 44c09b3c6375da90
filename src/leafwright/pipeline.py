"""The pipeline, top to bottom: survey, doorway, leaf, proof, shop, site.

`plan` runs the stages in order and returns what each made, or why it was held. Given the plan
before, a stage whose inputs have not changed is taken from it. What the gaps must allow for but
only the proof knows (sag and lean of the nose) is found in a first pass and used in a second; the
change that a third would make is reported.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import astuple, dataclass, replace
from datetime import date
from functools import partial
from typing import Literal

from leafwright.chain import Quantity
from leafwright.doorway import Allowances, AsMade, Doorway, LeafPlace, allowances, doorway
from leafwright.gathered import all_checks, all_defaults, all_stops, mitre_range, quantities
from leafwright.job.model import Job, LeafTable
from leafwright.job.steel import Steel, steel
from leafwright.job.tape import tape_of
from leafwright.leaf import Leaf, design_leaf
from leafwright.mount import LeafMount, Mounting, mounted, mounting_of
from leafwright.not_yet import NOT_YET
from leafwright.outfit import pack_run
from leafwright.proof import LeafProof, in_force, prove
from leafwright.proof.sag import Sag, sag
from leafwright.records import Check, Held, Metres, Stop
from leafwright.runner import Inputs, Runner
from leafwright.shop.cut_list import CutList, cut_list
from leafwright.shop.cut_order import CutOrder, cut_order
from leafwright.shop.gate_posts import gate_posts
from leafwright.shop.holes.records import Holes
from leafwright.shop.holes.schedule import holes_of_job
from leafwright.shop.pack import Pack
from leafwright.shop.saws import tools_of
from leafwright.shop.seams import Seams, job_seams
from leafwright.shop.sold import TUBE_PRICE
from leafwright.shop.stock import Stock, stock
from leafwright.site.made import Made, as_designed, design_of, made_of, welded_hands
from leafwright.site.records import Site
from leafwright.site.whole import site_stage
from leafwright.survey import Survey, survey
from leafwright.survey.examine import Examined, examined

Stage = Literal["survey", "doorway", "leaf", "proof", "shop", "site"]
STAGES: tuple[Stage, ...] = ("survey", "doorway", "leaf", "proof", "shop", "site")


@dataclass(frozen=True, slots=True)
class Plan:
    """What every stage made of a job, or why it was held.

    ``remaining`` is how much the allowances would still change in another pass [m]. ``inputs``
    is what each stage was made from, so that the next plan can reuse it.
    """

    job: Job
    survey: Survey | Held
    examined: Examined | Held
    doorway: Doorway | Held
    leaves: tuple[Leaf | Held, ...]
    proofs: tuple[LeafProof | Held, ...]
    mounts: tuple[LeafMount | Held, ...]
    holes: Holes | Held
    cuts: CutList | Held
    order: CutOrder | Held
    stock: Stock | Held
    seams: Seams | Held
    pack: Pack | Held
    site: Site | Held
    not_yet: tuple[tuple[str, Held], ...]
    checks: tuple[Check, ...]
    stops: tuple[Stop, ...]
    defaults: tuple[Quantity, ...]
    remaining: Metres
    inputs: Inputs

    @property
    def for_cutting(self) -> bool:
        """Whether steel may be cut from this plan: nothing stops it and every stage was run."""
        return not (self.stops or isinstance(self.cuts, Held) or isinstance(self.site, Held))


def plan(
    job: Job, *, upto: Stage = "site", previous: Plan | None = None, on: date | None = None
) -> Plan:
    """Return the plan of a job.

    Args:
        job: the job file's content.
        upto: the last stage to run; later ones are held. The site stage searches for a way in
            under the head, which takes longer than all before it together.
        previous: an earlier plan, to reuse what has not changed.
        on: the day to hold answers' expiry dates against; None takes those as run out.
    """
    runner = Runner(previous.inputs if previous else {})
    not_asked = Held(f"only run up to {upto}", ())
    last = STAGES.index(upto)
    material = runner.run("steel", lambda: steel(job), job.section, job.grade)
    found = runner.run(
        "survey", lambda: survey(job), job.reading, job.mark, job.opening, job.job.system
    )
    tape = tape_of(job)
    looked: Examined | Held
    if isinstance(found, Held):
        looked = found
    else:
        surveyed = found
        looked = runner.run(
            "examined",
            lambda: examined(job, surveyed, tape=tape),
            surveyed,
            job.reading,
            job.mark,
            job.opening,
            (tape.system, tape.per),
        )
    room: Doorway | Held = not_asked
    leaves: tuple[Leaf | Held, ...] = ()
    proofs: tuple[LeafProof | Held, ...] = ()
    mounts: tuple[LeafMount | Held, ...] = ()
    drilled: Holes | Held = not_asked
    cuts: CutList | Held = not_asked
    order: CutOrder | Held = not_asked
    there: Site | Held = not_asked
    bought: Stock | Held = not_asked
    seams: Seams | Held = not_asked
    taken: Pack | Held = not_asked
    remaining = 0.0
    as_made = Made(None, ())
    if last >= 1:
        room, remaining, as_made = _doorway(job, found, material, runner)
    if last >= 2 and isinstance(room, Doorway):
        leaves = _leaves(job, room, material, runner, "")
    if last >= 3 and isinstance(room, Doorway):
        now = in_force(job, on)
        proofs = _proofs(now, room, leaves, material, runner)
        mounts = _mounts(now, room, leaves, proofs, material, runner)
        drill = partial(holes_of_job, job, room, leaves, proofs, material)
        around: tuple[object, ...] = (job.leaf, _holding(job), job.job.seen_from)
        drilled = runner.run("holes", drill, room, leaves, proofs, material, *around)
    if last >= 4:
        cuts, order = _cuts(job, room, leaves, material, runner)
        if isinstance(cuts, Held):
            bought = cuts
        else:
            buy = partial(stock, job, cuts, material)
            tube_price = {k: v for k, v in job.price.items() if k == TUBE_PRICE}
            around = (job.stock, job.stick, job.offcut, tube_price)
            shown = (tape.system, tape.per, job.job.currency)
            bought = runner.run("stock", buy, cuts, *around, material, shown)
        weld = partial(job_seams, job, room, leaves, proofs, material, drilled)
        welded = (job.leaf, job.basis, job.job)
        seams = runner.run("seams", weld, room, leaves, proofs, drilled, welded)
    if last >= 5:
        there = site_stage(job, found, room, leaves, material, runner)
    if last >= 4:
        parts = (room, leaves, seams, drilled, cuts, bought)
        taken = pack_run(runner, job, parts, there)
    if isinstance(room, Held) and room is not not_asked:
        leaves = proofs = mounts = (room,)
        drilled = room
    checks = all_checks(
        *(job, found, room, proofs, mounts, drilled, cuts, bought, there, on),
        pack=taken,
        asked=as_made.asked,
    )
    return Plan(
        job=job,
        survey=found,
        examined=looked,
        doorway=room,
        leaves=leaves,
        proofs=proofs,
        mounts=mounts,
        holes=drilled,
        cuts=cuts,
        order=order,
        stock=bought,
        seams=seams,
        pack=taken,
        site=there,
        not_yet=NOT_YET,
        checks=checks,
        stops=(
            *as_made.stops,
            *all_stops(
                found, looked, room, leaves, checks, there, leaves_asked=last >= 2, pack=taken
            ),
        ),
        defaults=all_defaults(
            found, room, leaves, bought, proofs, mounts, drilled, there, order, job, pack=taken
        ),
        remaining=remaining,
        inputs=runner.inputs,
    )


def _table_of(job: Job, place: LeafPlace) -> LeafTable:
    return next(table for table in job.leaf if table.hand == place.hand)


def _leaves(
    job: Job, room: Doorway, material: Steel, runner: Runner, pass_name: str
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


def _doorway(
    job: Job, found: Survey | Held, material: Steel, runner: Runner
) -> tuple[Doorway | Held, float, Made]:
    """Return the doorway, what another pass would change, and the leaves that are made.

    Where one is welded the doorway is first solved as it was designed, and then anew with that
    leaf as it came out.
    """
    none = Made(None, ())
    if not welded_hands(job):
        return (*_doorway_in_two_passes(job, found, material, runner), none)
    before, tape = as_designed(job), tape_of(job)
    first, change = _doorway_in_two_passes(before, found, material, runner, "as designed ")
    asked: tuple[Check, ...] = ()
    if before is not job and isinstance(first, Doorway):
        typed, other = _doorway_in_two_passes(job, found, material, runner, "as typed ")
        if isinstance(typed, Doorway):
            design = design_of(job, first, typed, tape=tape)
            first, change = (first, change) if design.typed_since else (typed, other)
            asked = () if design.asked is None else (design.asked,)
    if isinstance(first, Held):
        return first, change, none
    designed = first
    by = (job.fit_up, tape.system, tape.per)
    made = runner.run("as made", lambda: made_of(job, designed, tape=tape), designed, *by)
    room, change = _doorway_in_two_passes(job, found, material, runner, made=made.leaves)
    return room, change, replace(made, asked=asked)


def _doorway_in_two_passes(
    job: Job,
    found: Survey | Held,
    material: Steel,
    runner: Runner,
    name: str = "",
    made: AsMade | None = None,
) -> tuple[Doorway | Held, float]:
    """Return the doorway with sag and lean allowed for, and what another pass would change."""
    if isinstance(found, Held):
        return found, 0.0
    surveyed = found
    allow = allowances(0.0, 0.0, "first pass: none yet")
    room: Doorway | Held = Held("not run")
    used = Sag(0.0, 0.0)
    change = 0.0
    for number in (f"{name}first pass ", name):
        now = allow

        def make(now: Allowances = now) -> Doorway | Held:
            return doorway(job, surveyed, material, now, made)

        room = runner.run(
            f"{number}doorway",
            make,
            surveyed,
            material,
            job.doorway,
            job.leaf,
            job.opening.head,
            _of_the_building(job),
            job.job.system,
            used.nose_drop,
            used.nose_shift,
            made,
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


def _of_the_building(job: Job) -> tuple[float | None, ...]:
    """Return what of the building the gaps follow: how hot it gets, how far it comes down."""
    typed = (job.building.greatest_temperature, job.building.beam_drop)
    return tuple(None if one is None else one.si for one in typed)


def _sags(job: Job, room: Doorway, material: Steel, runner: Runner, number: str) -> list[Sag]:
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
    job: Job, room: Doorway, leaves: Sequence[Leaf | Held], material: Steel, runner: Runner
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
            return prove(job, place, table, leaf, material, clearance=clearance, gaps=room.gaps)

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
                (job.wind, job.building, job.opening, job.doorway, len(job.leaf)),
                tuple(answer.about for answer in job.answer),
                tuple((gap.key, gap.value) for gap in room.gaps),
            )
        )
    return tuple(proofs)


def _mounts(
    job: Job,
    room: Doorway,
    leaves: Sequence[Leaf | Held],
    proofs: Sequence[LeafProof | Held],
    material: Steel,
    runner: Runner,
) -> tuple[LeafMount | Held, ...]:
    mounts: list[LeafMount | Held] = []
    tape = tape_of(job)
    for place, leaf, proof in zip(room.leaves, leaves, proofs, strict=True):
        if isinstance(leaf, Held):
            mounts.append(leaf)
            continue
        if isinstance(proof, Held):
            mounts.append(proof)
            continue
        mounting = mounting_of(job, room, place, leaf, proof, material, tape)

        def make(mounting: Mounting = mounting) -> LeafMount:
            return mounted(mounting)

        mounts.append(
            runner.run(
                f"mount {place.key}",
                make,
                room,
                leaf,
                proof,
                mounting.table,
                material,
                _holding(job),
            )
        )
    return tuple(mounts)


def _holding(job: Job) -> tuple[object, ...]:
    """Return what of a job, beside its leaves, decides how they are held."""
    held = (job.basis, job.loads, job.limits, job.building, job.post, job.wind)
    tape = tape_of(job)
    return (*held, job.doorway, job.opening, job.job.system, tape.system, tape.per)


def _cuts(
    job: Job,
    room: Doorway | Held,
    leaves: Sequence[Leaf | Held],
    material: Steel,
    runner: Runner,
) -> tuple[CutList | Held, CutOrder | Held]:
    for held in (room, *leaves):
        if isinstance(held, Held):
            return held, held
    assert isinstance(room, Doorway)
    doorway, made = room, tuple(leaf for leaf in leaves if isinstance(leaf, Leaf))
    mitre, saws, tape = mitre_range(job).value, tools_of(job), tape_of(job)
    return runner.run(
        "cuts",
        lambda: (
            cut_list(
                made,
                doorway,
                material,
                mitre_range=mitre,
                tools=saws,
                standing=gate_posts(job),
            ),
            cut_order(job, made, doorway, tape),
        ),
        *(made, room, material, mitre, tape.per, job.job.system, tuple(map(astuple, saws))),
        tuple(table.scribe_braces for table in job.leaf),
        job.post,
    )


def plan_quantities(made: Plan) -> tuple[Quantity, ...]:
    """Return every derived quantity of a plan and all it rests on, sorted by key."""
    held: dict[str, Quantity] = {}
    for part in (
        made.doorway,
        made.leaves,
        made.holes,
        made.cuts,
        made.order,
        made.stock,
        made.defaults,
    ):
        for quantity in quantities(part):
            held.setdefault(quantity.key, quantity)
    return tuple(held[key] for key in sorted(held))
