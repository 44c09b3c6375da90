"""The shelf: all jobs, a new one, an imported one; and the door for another device."""

from __future__ import annotations

import queue
import threading
import time
from collections import Counter, OrderedDict
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import PurePath

import segno
from fastapi import APIRouter, Request
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData, UploadFile
from starlette.responses import Response

from leafwright.job.store import Saved, StoreError
from leafwright.job.template import starting_file
from leafwright.paper.sheet import scene_of
from leafwright.paper.sheets.common import desk
from leafwright.paper.sheets.opening import picture
from leafwright.paper.svg import svg_text
from leafwright.pipeline import Plan
from leafwright.records import Held
from leafwright.say import count_of
from leafwright.web.door import COOKIE, KNOWN_FOR
from leafwright.web.pictures import screen_scale
from leafwright.web.site import MissingError, Site, by_form, from_the_shelf, moved, page, word

#: A list longer than this shows the state of the newest jobs only.
MOST_WORKED = 12

#: So long a list waits for jobs that are not worked out yet [s], and so many are at a time.
LONGEST_WAIT, MOST_GOING = 8.0, 4


@dataclass(frozen=True, slots=True)
class JobCard:
    """A job in the list: ``state`` says how it stands, as far as it was worked out."""

    slug: str
    name: str
    state: str
    seal: str
    changed: str
    pictured: bool


class Cards:
    """How each version of each job stands, kept so that the list is quick."""

    def __init__(self, site: Site):
        """Begin with none."""
        self._site = site
        self._kept: OrderedDict[tuple[str, str], JobCard] = OrderedDict()
        self._going: dict[tuple[str, str], queue.Queue[JobCard | None]] = {}
        self._lock = threading.Lock()

    def of(self, saved: Saved, *, until: float) -> JobCard:
        """Return a job's card; one that is not known yet is waited for until a moment [s]."""
        key = (saved.slug, saved.version)
        if key in self._kept:
            return self._kept[key]
        changed = datetime.fromtimestamp(saved.modified).astimezone().strftime("%Y-%m-%d %H:%M")
        unknown = JobCard(saved.slug, saved.slug, "open it to see", "none", changed, False)
        left = until - time.monotonic()
        if left <= 0:
            return unknown
        with self._lock:
            going = self._going.get(key)
            if going is None and len(self._going) < MOST_GOING:
                going = self._going[key] = queue.Queue(1)
                work = (key, saved, changed, going)
                threading.Thread(target=self._work, args=work, daemon=True).start()
        if going is None:
            return unknown
        try:
            made = going.get(timeout=left)
        except queue.Empty:
            return replace(unknown, state="still being worked out; open it to see")
        # Whoever else waits for it has it too.
        going.put(made)
        return made or unknown

    def _work(
        self,
        key: tuple[str, str],
        saved: Saved,
        changed: str,
        going: queue.Queue[JobCard | None],
    ) -> None:
        made = None
        try:
            made = self._made(key, saved, changed)
        except Exception:
            # What is wrong is said where the job is opened.
            made = None
        finally:
            going.put(made)
            with self._lock:
                self._going.pop(key, None)

    def _made(self, key: tuple[str, str], saved: Saved, changed: str) -> JobCard:
        planned = self._site.plans.first(saved)
        if planned.plan is None:
            told = f"{len(planned.problems)} things in the file to put right"
            card = JobCard(saved.slug, planned.name, told, "todo", changed, False)
        else:
            state, told = _state(planned.plan, whole=planned.whole)
            pictured = not isinstance(planned.plan.survey, Held)
            card = JobCard(saved.slug, planned.name, told, state, changed, pictured)
        if not planned.whole and planned.plan is not None:
            return card
        self._kept[key] = card
        while len(self._kept) > 200:
            self._kept.popitem(last=False)
        return card


def _state(made: Plan, *, whole: bool) -> tuple[str, str]:
    if made.stops:
        return "todo", f"stopped: {made.stops[0].why}"
    if isinstance(made.doorway, Held):
        return "todo", f"no leaf fits yet: {made.doorway.why}"
    told = count_of(made.checks)
    if not whole:
        return "look", f"{told}, so far; open it to see whether it can be hung"
    return ("look" if not told.startswith("0 short") else "ok"), told


def _told_apart(cards: list[JobCard]) -> list[JobCard]:
    """Return the cards, those of one name with the folder that each is in."""
    times = Counter(card.name for card in cards)
    return [
        replace(card, name=f"{card.name}, in {card.slug}") if times[card.name] > 1 else card
        for card in cards
    ]


def router(site: Site) -> APIRouter:
    """Return the routes of the shelf and of the door."""
    routes = APIRouter(include_in_schema=False)
    cards = Cards(site)

    def shelf(status: int = 200, at: str = "", error: str = "", **typed: str) -> Response:
        """Return the list; ``error`` is what is wrong with the field ``at``."""
        saved = sorted(site.store.jobs(), key=lambda s: -s.modified)
        until = time.monotonic() + LONGEST_WAIT
        shown = _told_apart(
            [cards.of(s, until=until if n < MOST_WORKED else 0.0) for n, s in enumerate(saved)]
        )
        lan = site.door is not None
        wrong = {at: error} if error else {}
        return page("shelf.html", status, jobs=shown, wrong=wrong, typed=typed, lan=lan)

    @routes.get("/")
    def jobs() -> Response:
        return shelf()

    def new(request: Request, form: FormData) -> Response:
        name = word(form, "name", 81)
        system = "metric" if form.get("system") == "metric" else "feet-inch"
        leaves = "single" if form.get("leaves") == "single" else "pair"
        typed = {"name": name, "system": system, "leaves": leaves}
        if not name or len(name) > 80:
            return shelf(422, "name", "Give the job a name of 1 to 80 letters.", **typed)
        try:
            text = starting_file(
                name,
                system="metric" if system == "metric" else "feet-inch",
                leaves="single" if leaves == "single" else "pair",
                to_read=True,
            )
            saved = site.store.new(name, text)
        except (StoreError, ValueError) as error:
            return shelf(422, "name", from_the_shelf(site.store, error), **typed)
        return moved(f"/job/{saved.slug}/measure")

    async def import_(request: Request) -> Response:
        async with request.form(max_files=1, max_fields=10) as form:
            upload = form.get("file")
            if not isinstance(upload, UploadFile) or not upload.filename:
                words = "Choose a job file or a job's zip."
                return await run_in_threadpool(shelf, 422, "file", words)
            name = PurePath(upload.filename.replace("\\", "/")).name[:100] or "job"
            data = await upload.read()
        try:
            saved = await run_in_threadpool(site.store.import_, data, name)
        except StoreError as error:
            words = from_the_shelf(site.store, error)
            return await run_in_threadpool(shelf, 422, "file", words)
        return moved(f"/job/{saved.slug}")

    @routes.get("/job/{slug}/picture.svg")
    def thumbnail(slug: str) -> Response:
        planned = site.plans.first(site.store.read(slug))
        found = planned.plan.survey if planned.plan else None
        if planned.plan is None or found is None or isinstance(found, Held):
            raise MissingError("There is no picture of this job yet.")
        drawing = picture(desk(planned.plan), found)
        scene = scene_of(drawing, screen_scale(drawing, 50.0, 60.0), margin_mm=1.0)
        svg = svg_text(scene, title=planned.name, description="the doorway")
        return Response(svg, media_type="image/svg+xml")

    @routes.get("/enter")
    def enter() -> Response:
        return page("enter.html", error="")

    def entered(request: Request, form: FormData) -> Response:
        if site.door is None:
            return moved("/")
        if not site.door.opens(word(form, "code", 40)):
            words = "That is not the code, or it was used already; each lets one device in."
            return page("enter.html", 403, error=words)
        answer = moved("/")
        answer.set_cookie(
            COOKIE, site.door.session(), max_age=KNOWN_FOR, httponly=True, samesite="lax"
        )
        return answer

    @routes.get("/phone")
    def phone() -> Response:
        return page("phone.html", addresses=site.addresses, lan=site.door is not None)

    @routes.get("/phone.svg")
    def code() -> Response:
        if site.door is None or not site.addresses:
            raise MissingError("Other devices are not let in; start with: leafwright serve --lan")
        made = segno.make(f"{site.addresses[0]}/enter#{site.door.code}", error="m")
        svg = made.svg_inline(scale=6, border=3, dark="#000", light="#fff", omitsize=False)
        svg = svg.replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ', 1)
        return Response(svg, media_type="image/svg+xml")

    routes.add_api_route("/new", by_form(new), methods=["POST"])
    routes.add_api_route("/import", import_, methods=["POST"])
    routes.add_api_route("/enter", by_form(entered), methods=["POST"])
    return routes
