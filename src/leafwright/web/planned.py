"""Plans kept ready: each job's newest, made from the one before, and what changed between."""

from __future__ import annotations

import contextlib
import threading
from collections import OrderedDict
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from leafwright.doorway import Doorway
from leafwright.fault import place_of_fault
from leafwright.job.errors import JobError, Problem
from leafwright.job.file import read_job
from leafwright.job.model import Job
from leafwright.job.store import Saved
from leafwright.job.tape import tape_of
from leafwright.job.toml_data import toml_data
from leafwright.leaf import Leaf
from leafwright.pipeline import STAGES, Plan, Stage, plan
from leafwright.proof import LeafProof
from leafwright.records import Held, Stop, Verdict
from leafwright.say import VERDICTS, Words, brace_words, sentence, words_of
from leafwright.shop.cut_list import CutList
from leafwright.shop.nest import Nest
from leafwright.shop.stock import Stock
from leafwright.site.hung import Hung
from leafwright.site.made import refit_words
from leafwright.site.records import Site
from leafwright.site.tilt_in import PosePath, TiltIn
from leafwright.survey import Survey

#: The last stage of a whole plan: what it finds may keep steel from being cut.
LAST: Stage = "site"

#: What the keys of stops begin with that every plan is made up to.
_EARLY = ("survey/", "doorway/", "held/")

#: Of so many jobs what was begun and not gone on with is kept.
MOST_BEGUN = 24


#: So many may be working out, or waiting for, the plan of one job, and of all: the threads that
#: answer are forty, and some are for everything else.
MOST_AT_ONE, MOST_AT_IT = 8, 28

_BUSY = (
    "This job is still being worked out, and takes long. What was saved is saved; it is asked "
    "again by itself."
)


class BusyError(Exception):
    """A job's plan is being worked out for others, too long or too many to wait for."""


@dataclass(frozen=True, slots=True)
class Planned:
    """One version of a job with its plan, or with what keeps it from being read.

    ``changes`` says what is different from the version that was planned before it. ``upto`` is the
    last stage that was worked out; what comes after it follows. ``later`` are the stops of the
    version before from stages that are not worked out again yet: they hold until then.
    """

    saved: Saved
    data: dict[str, Any]
    plan: Plan | None
    problems: tuple[Problem, ...]
    changes: tuple[str, ...] = ()
    upto: Stage = LAST
    later: tuple[Stop, ...] = ()

    @property
    def whole(self) -> bool:
        """Whether every stage was worked out."""
        return self.upto == LAST

    @property
    def proved(self) -> bool:
        """Whether the proof and the cut list were worked out."""
        return STAGES.index(self.upto) >= STAGES.index("shop")

    @property
    def stops(self) -> tuple[Stop, ...]:
        """What keeps steel from being cut, as far as it is known."""
        found = self.plan.stops if self.plan is not None else ()
        return tuple({stop.key: stop for stop in (*self.later, *found)}.values())

    @property
    def refit(self) -> tuple[str, ...]:
        """What a leaf that is made changed of the other, in sentences."""
        if self.plan is None or isinstance(self.plan.doorway, Held):
            return ()
        said = refit_words(self.plan.doorway, tape=tape_of(self.plan.job))
        return tuple(f"{sentence(words)}." for words in said)

    @property
    def for_cutting(self) -> bool:
        """Whether steel may be cut: nothing stops it, and every stage was worked out."""
        return self.whole and self.plan is not None and self.plan.for_cutting

    @property
    def name(self) -> str:
        """What the job is called, or its folder's name where the file cannot be read."""
        return self.plan.job.job.name if self.plan else self.saved.slug


class Plans:
    """The newest plan of the jobs looked at last; at most ``most`` are kept."""

    #: How long one waits for a plan that another has begun [s].
    longest_wait = 30.0

    def __init__(self, today: Callable[[], date], *, most: int = 8):
        """Keep plans as of ``today()``; answers run out by it."""
        self._today = today
        self._most = most
        self._kept: OrderedDict[str, Planned] = OrderedDict()
        self._days: dict[str, date] = {}
        self._begun: OrderedDict[str, tuple[str, Plan]] = OrderedDict()
        self._looked: OrderedDict[str, str] = OrderedDict()
        self._locks: dict[str, threading.Lock] = {}
        self._at_it: list[str] = []
        self._lock = threading.Lock()

    def of(self, saved: Saved) -> Planned:
        """Return the plan of a saved job, made anew only where it changed."""
        with self._held(saved.slug):
            today = self._today()
            before = self._known(saved.slug)
            if before is not None and before.saved.version == saved.version:
                if self._days.get(saved.slug) == today:
                    return before
            made = self._made(saved, before, today)
            with self._lock:
                self._begun.pop(saved.slug, None)
            with self._lock:
                self._kept[saved.slug] = made
                self._kept.move_to_end(saved.slug)
                self._days[saved.slug] = today
                while len(self._kept) > self._most:
                    gone, _ = self._kept.popitem(last=False)
                    self._days.pop(gone, None)
            return made

    def soon(self, saved: Saved, *, upto: Stage = "leaf") -> Planned:
        """Return the plan of a saved job as far as a page needs it, to be shown at once.

        What is worked out here is taken over when `of` makes the whole plan.
        """
        with self._held(saved.slug):
            before = self._known(saved.slug)
            job, _ = read(saved)
            if before is None or before.plan is None or job is None:
                known = None
            elif before.saved.version == saved.version:
                known = before
            elif (made := _begun(job, upto, before.plan, self._today())) is None:
                known = None
            else:
                inputs = {**before.plan.inputs, **made.inputs}
                self._keep_begun(saved, replace(made, inputs=inputs))
                told = changes(before.plan, made, upto=upto)
                later = tuple(s for s in before.stops if not s.key.startswith(_EARLY))
                return Planned(saved, toml_data(saved.text), made, (), told, upto, later)
        return known or self.of(saved)

    def first(self, saved: Saved) -> Planned:
        """Return a job's plan to be shown at once where none of it is known yet: as far as the
        cut list.

        Where some version of it is known this is the whole plan, as `of` returns it.
        """
        with self._held(saved.slug):
            if self._known(saved.slug) is None:
                job, _ = read(saved)
                begun = self._begun.get(saved.slug)
                if job is not None:
                    ahead = begun[1] if begun and begun[0] == saved.version else None
                    made = _begun(job, "shop", ahead, self._today())
                    if made is not None:
                        self._keep_begun(saved, made)
                        return Planned(saved, toml_data(saved.text), made, (), (), "shop")
        return self.of(saved)

    def looked_at(self, saved: Saved) -> Planned:
        """Return a job's plan for a page: at the first look at a version what can be shown at once,
        as `first` returns it, and from the second look on the whole, as `of` does.

        The page of the first look says that the rest follows, and asks again by itself.
        """
        with self._lock:
            again = self._looked.get(saved.slug) == saved.version
            self._looked[saved.slug] = saved.version
            self._looked.move_to_end(saved.slug)
            while len(self._looked) > MOST_BEGUN:
                self._looked.popitem(last=False)
        return self.of(saved) if again else self.first(saved)

    def _keep_begun(self, saved: Saved, made: Plan) -> None:
        with self._lock:
            self._begun[saved.slug] = (saved.version, made)
            self._begun.move_to_end(saved.slug)
            while len(self._begun) > MOST_BEGUN:
                self._begun.popitem(last=False)

    def today(self) -> date:
        """Return the day that plans are made as of."""
        return self._today()

    def knows(self, slug: str) -> bool:
        """Return whether some version of a job is kept planned."""
        return self._known(slug) is not None

    @contextlib.contextmanager
    def _held(self, slug: str) -> Iterator[None]:
        """Hold a job's plan to oneself; who would wait too long, or with too many, is told so.

        One job that takes long keeps neither the other jobs nor the server from working.

        Raises:
            BusyError: it is being worked out for somebody else.
        """
        with self._lock:
            lock = self._locks.setdefault(slug, threading.Lock())
            mine, all_of_them = self._at_it.count(slug), len(self._at_it)
            if mine >= MOST_AT_ONE or all_of_them >= MOST_AT_IT:
                raise BusyError(_BUSY)
            self._at_it.append(slug)
        try:
            if not lock.acquire(timeout=self.longest_wait):
                raise BusyError(_BUSY)
            try:
                yield
            finally:
                lock.release()
        finally:
            with self._lock:
                self._at_it.remove(slug)

    def _known(self, slug: str) -> Planned | None:
        with self._lock:
            return self._kept.get(slug)

    def _made(self, saved: Saved, before: Planned | None, today: date) -> Planned:
        job, problems = read(saved)
        if job is None:
            return Planned(saved, {}, None, problems)
        earlier = before.plan if before else None
        begun = self._begun.get(saved.slug)
        ahead = begun[1] if begun and begun[0] == saved.version else earlier
        try:
            made = plan(job, upto=LAST, previous=ahead, on=today)
        except Exception as error:
            # Whatever it is, the maker gets at the file and its history to put it right.
            return Planned(saved, toml_data(saved.text), None, (_fault(error),))
        told = changes(earlier, made) if earlier else ()
        if before and before.saved.version == saved.version:
            told = before.changes
        return Planned(saved, toml_data(saved.text), made, (), told)


def _begun(job: Job, upto: Stage, previous: Plan | None, today: date) -> Plan | None:
    """Return a job's plan up to a stage, or None where that fails: then `Plans.of` says so."""
    try:
        return plan(job, upto=upto, previous=previous, on=today)
    except Exception:
        return None


def _fault(error: Exception) -> Problem:
    """Return what is said of a job at which the plan itself fails."""
    found = f"Leafwright fails at this job, by a fault of its own ({place_of_fault(error)})"
    would_do = (
        "go back to the version before in its history, or change what was typed last; please "
        "report it with the job file"
    )
    return Problem((), None, found, would_do)


def read(saved: Saved) -> tuple[Job | None, tuple[Problem, ...]]:
    """Return the job of a saved text, or what is wrong with it."""
    try:
        return read_job(saved.text, "job.toml"), ()
    except JobError as error:
        return None, error.problems


def changes(before: Plan, after: Plan, *, upto: Stage = LAST) -> tuple[str, ...]:
    """Return what an edit did to sizes, weights, sticks and checks, one sentence each.

    What comes after the stage that the later plan was worked out up to is left out.
    """
    whole, proved = upto == LAST, STAGES.index(upto) >= STAGES.index("shop")
    words = words_of(after.job)
    then, now = _figures(before, words), _figures(after, words)
    told = [
        f"{sentence(name)}: {then.get(name, 'not there')} → {now.get(name, 'not there')}"
        for name in dict.fromkeys([*then, *now] if whole else now)
        if then.get(name) != now.get(name)
    ]
    checks_then = {c.key: c.verdict for c in before.checks}
    for check in after.checks if proved else ():
        was = checks_then.get(check.key)
        new = check.verdict
        if was is not new and not (was is None and new is Verdict.OK):
            old = VERDICTS[was] if was else "not asked"
            told.append(f"{sentence(check.subject)}, {check.question}: {old} → {VERDICTS[new]}")
    stops_then = {s.key for s in before.stops}
    told += [f"Stop: {s.why}" for s in after.stops if s.key not in stops_then]
    if not whole:
        return (*told, "the site follows" if proved else "proof, cut list and site follow")
    stops_now = {s.key for s in after.stops}
    told += [f"No longer stopped by: {s.why}" for s in before.stops if s.key not in stops_now]
    return tuple(told) or ("Saved: no size changes by as much as the tape shows",)


def _figures(made: Plan, words: Words) -> dict[str, str]:
    """Return the figures whose change a maker wants told, by name."""
    found: dict[str, str] = {}
    if isinstance(made.survey, Survey):
        found["readings"] = made.survey.agreement
    if isinstance(made.doorway, Held):
        return found | {"leaves": f"held, because {made.doorway.why}"}
    room: Doorway = made.doorway
    for place in room.leaves:
        found[f"{leaf_name(place.key)}, width"] = words.length(place.width)
        found[f"{leaf_name(place.key)}, height"] = words.length(place.height)
    for gap in room.gaps:
        found[gap.name] = words.length(gap)
    found["clear opening"] = words.length(room.clear_opening)
    for leaf in made.leaves:
        if isinstance(leaf, Leaf):
            found[f"{leaf_name(leaf.key)}, hung"] = words.mass(leaf.hung_mass)
            found[f"{leaf_name(leaf.key)}, pieces"] = str(len(leaf.members))
    for proof in made.proofs:
        if isinstance(proof, LeafProof):
            for force in proof.brace_forces:
                if force.situation == "standing":
                    found[f"brace {force.mark}, standing"] = brace_words(force, words)
    if isinstance(made.cuts, CutList):
        found["cut list"] = f"{sum(len(i.marks) for i in made.cuts.items)} pieces"
    if isinstance(made.stock, Stock):
        for one in made.stock.sections:
            if isinstance(one.nest, Nest):
                found[f"sticks of {one.section.designation}"] = str(len(one.nest.layouts))
    if isinstance(made.site, Site):
        found |= _on_site(made.site)
    return found


def _on_site(there: Site) -> dict[str, str]:
    """Return how each leaf gets in, onto its pins, and what is to be moved of it, by name."""
    found: dict[str, str] = {}
    for one in there.leaves:
        name = leaf_name(one.key)
        if isinstance(one.tilt_in, TiltIn):
            goes = isinstance(one.tilt_in.best, PosePath)
            found[f"{name}, tilted in"] = (
                f"goes in from the {one.tilt_in.best.side} side" if goes else "no way in is found"
            )
        if not isinstance(one.hanging, Held):
            best = one.hanging.best
            found[f"{name}, onto its pins"] = best.key if best else "no way"
        for stage, shape in (("tacked", one.tacked), ("welded", one.welded)):
            if shape is not None and not isinstance(shape, Held):
                found[f"{name}, {stage}"] = f"{len(shape.pushes)} to push"
        if isinstance(one.hung, Hung):
            found[f"{name}, hung"] = f"{len(one.hung.moves)} to move"
    return found


def leaf_name(key: str) -> str:
    """Return how the page calls a leaf."""
    return "the leaf" if key == "leaf" else f"{key} leaf"
