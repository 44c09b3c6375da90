"""The JSON interface: the same jobs, plans and logs that the page shows, in SI."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import asdict
from typing import Any

from fastapi import APIRouter, HTTPException, Response
from pydantic import BaseModel, ConfigDict, Field

from leafwright.documents.calculation import calculation
from leafwright.documents.of_plan import (
    align_document,
    cuts_document,
    drift_document,
    fit_up_document,
    holes_document,
    pack_document,
    seams_document,
    site_document,
    stand_document,
    survey_document,
    swing_document,
)
from leafwright.documents.records import DOCUMENTS, Document, document_json, document_schema
from leafwright.documents.report import job_schema, plan_json, plan_schema
from leafwright.documents.sticks import nest_document
from leafwright.documents.weld_order import weld_order_document
from leafwright.job.errors import JobError, Problem, place_in_words
from leafwright.job.file import read_job
from leafwright.job.store import Conflict, Saved
from leafwright.pipeline import Plan
from leafwright.web.bought import cut_cards
from leafwright.web.left import things
from leafwright.web.planned import Planned
from leafwright.web.site import Site, tick_entry

VERSION = "1.0"
LONGEST_JOB = 2_000_000

#: How each document is made of a plan; the seams want the job's log beside it.
DOCUMENT_OF: dict[str, Callable[[Plan], Document]] = {
    "prove": calculation,
    "holes": holes_document,
    "cuts": cuts_document,
    "nest": nest_document,
    "pack": pack_document,
    "survey": survey_document,
    "site": site_document,
    "swing": swing_document,
    "stand": stand_document,
    "drift": drift_document,
    "fit-up": fit_up_document,
    "weld-order": weld_order_document,
    "align": align_document,
    "seams": seams_document,
}


class _Form(BaseModel):
    model_config = ConfigDict(extra="forbid")


class NewJob(_Form):
    """A job to be kept: its name, and its text in TOML."""

    name: str = Field(min_length=1, max_length=80)
    text: str = Field(min_length=1, max_length=LONGEST_JOB)


class NewText(_Form):
    """A job's new text, and the version that it was edited from."""

    text: str = Field(min_length=1, max_length=LONGEST_JOB)
    base: str = Field(pattern="^[0-9a-f]{16}$")


class NewTick(_Form):
    """A thing that is done, or not any more; ``about`` and ``hash`` are as GET ticks has them."""

    id: str = Field(pattern="^[A-Za-z0-9_-]{8,40}$")
    about: str = Field(min_length=1, max_length=120)
    done: bool
    hash: str = Field(pattern="^[0-9a-f]{16}$")


class JobOut(BaseModel):
    """One version of a job."""

    slug: str
    name: str
    version: str
    modified: float
    text: str


class JobLine(BaseModel):
    """A job in the list of jobs."""

    slug: str
    version: str
    modified: float


class Said(BaseModel):
    """Why something was not done."""

    detail: str


class TickOut(BaseModel):
    """A thing that may be ticked; a tick of it says its ``about`` and its ``hash``.

    ``kind`` is cut, hole, seam or pack; ``state`` is open, done, or changed since it was ticked.
    """

    kind: str
    about: str
    name: str
    hash: str
    state: str
    at: str


class Cut(BaseModel):
    """A line of the cut list with its ticks, as keys of pieces to open, done or changed."""

    number: int
    marks: str
    length: str
    hash: str
    ticks: dict[str, str]


_FAULTS: dict[int | str, dict[str, Any]] = {
    400: {"model": Said, "description": "the request cannot be read"},
    404: {"model": Said, "description": "there is no such job"},
    409: {"model": Said, "description": "someone else changed the same place, or nothing to do"},
    413: {"description": "too large"},
    422: {"model": Said, "description": "the job cannot be read, or the request is not valid"},
}


def router(site: Site) -> APIRouter:
    """Return the routes of the JSON interface."""
    routes = APIRouter(prefix="/api", tags=["jobs"])

    @routes.get("/jobs")
    def jobs() -> list[JobLine]:
        """List the jobs."""
        return [
            JobLine(slug=s.slug, version=s.version, modified=s.modified) for s in site.store.jobs()
        ]

    @routes.post("/jobs", status_code=201, responses=_FAULTS)
    def new(job: NewJob) -> JobOut:
        """Keep a new job; nothing is overwritten."""
        _readable(job.text)
        return _out(site.plans.of(site.store.new(job.name, job.text)))

    @routes.get("/jobs/{slug}", responses=_FAULTS)
    def one(slug: str) -> JobOut:
        """Return a job's text and version."""
        return _out(site.planned(slug))

    @routes.put("/jobs/{slug}", responses=_FAULTS)
    def put(slug: str, new: NewText) -> JobOut:
        """Save a job's text; edits of other places since ``base`` are kept beside it."""
        site.store.read(slug)
        if site.text_of(slug, new.base) is None:
            raise HTTPException(409, f"version {new.base} is not known; read the job again")
        _readable(new.text)
        return _out(site.plans.of(_saved(site.store.save(slug, new.text, base=new.base))))

    @routes.get("/jobs/{slug}/plan", responses=_FAULTS)
    def made(slug: str) -> Any:
        """Return the whole plan by the schema at /api/schema/plan."""
        return plan_json(_plan(site, slug))

    @routes.get("/jobs/{slug}/documents/{what}", responses=_FAULTS)
    def document(slug: str, what: str) -> Any:
        """Return what the command line prints of one part, by the schema at /api/schema/{what}."""
        if what not in DOCUMENTS:
            named = ", ".join(DOCUMENTS)
            raise HTTPException(404, f"there is no document {what[:40]!r}; ask for {named}")
        made = _plan(site, slug)
        if what == "seams":
            return document_json(seams_document(made, site.store.log(slug)))
        return document_json(DOCUMENT_OF[what](made))

    @routes.get("/jobs/{slug}/cuts", responses=_FAULTS)
    def cuts(slug: str) -> list[Cut]:
        """Return the cut list with what is ticked."""
        return [
            Cut(
                number=c.number,
                marks=c.marks,
                length=c.length,
                hash=c.hash,
                ticks={t.about: t.state for t in c.ticks},
            )
            for c in cut_cards(_plan(site, slug), site.store.log(slug))
        ]

    @routes.get("/jobs/{slug}/ticks", responses=_FAULTS)
    def ticks(slug: str) -> list[TickOut]:
        """Return every piece, hole, seam and thing to pack, and whether it is ticked."""
        return [
            TickOut(**asdict(thing)) for thing in things(_plan(site, slug), site.store.log(slug))
        ]

    @routes.post("/jobs/{slug}/ticks", status_code=204, responses=_FAULTS)
    def tick(slug: str, new: NewTick) -> Response:
        """Keep a tick in the log; the same id twice counts once."""
        site.store.read(slug)
        entry = tick_entry(new.id, new.about, done=new.done, hash=new.hash, now=time.time())
        site.store.append(slug, [entry])
        return Response(status_code=204)

    @routes.get("/schema/{what}", responses=_FAULTS)
    def schema(what: str) -> Any:
        """Return the JSON schema of a ``plan``, of a ``job``, or of a document."""
        if what in DOCUMENTS:
            return document_schema(what)
        if what not in ("plan", "job"):
            named = ", ".join(("plan", "job", *DOCUMENTS))
            raise HTTPException(404, f"there is no schema of {what[:40]!r}; ask for {named}")
        return plan_schema() if what == "plan" else job_schema()

    return routes


def problem_words(problem: Problem) -> str:
    """Return a problem of a job file in one sentence with its line."""
    line = f"line {problem.line}, " if problem.line else ""
    told = f"{line}{place_in_words(problem.where)}: {problem.found}"
    return f"{told}; {problem.would_do}" if problem.would_do else told


def _plan(site: Site, slug: str) -> Plan:
    planned = site.planned(slug)
    if planned.plan is None:
        raise HTTPException(422, "; ".join(map(problem_words, planned.problems)))
    return planned.plan


def _readable(text: str) -> None:
    try:
        read_job(text)
    except JobError as error:
        raise HTTPException(422, "; ".join(map(problem_words, error.problems))) from None


def _saved(result: Saved | Conflict) -> Saved:
    if isinstance(result, Conflict):
        places = ", ".join(place_in_words(key.where) for key in result.keys)
        words = f"also changed elsewhere: {places}; yours is kept as {result.kept}"
        raise HTTPException(409, words)
    return result


def _out(planned: Planned) -> JobOut:
    s = planned.saved
    return JobOut(
        slug=s.slug, name=planned.name, version=s.version, modified=s.modified, text=s.text
    )
