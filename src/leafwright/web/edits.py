"""What changes a job: fields, readings, ticks, undo, history, the whole file."""

from __future__ import annotations

import re
import time
import tomllib
from collections.abc import Callable
from dataclasses import replace
from typing import Any
from urllib.parse import quote

from fastapi import APIRouter, Request
from starlette.datastructures import FormData
from starlette.responses import HTMLResponse, Response

from leafwright.job.errors import JobError, place_in_words
from leafwright.job.file import read_job
from leafwright.job.store import Conflict, Saved, StoreError
from leafwright.job.store.values import with_values
from leafwright.web import files
from leafwright.web.api import problem_words
from leafwright.web.assets import rendered
from leafwright.web.fields import (
    Edit,
    edits_of,
    errors_by_field,
    name_of,
    typed_fields,
    written,
)
from leafwright.web.measured import reading_name, reading_table
from leafwright.web.pages import Look, job_page, look_of
from leafwright.web.site import Site, by_form, is_live, live_answer, moved, page, tick_entry, word

_VERSION = re.compile(r"[0-9a-f]{16}")
Work = Callable[[str, Request, FormData], Response]


class Editor:
    """Answers forms: a page's script gets the new page in JSON, any other browser is sent on."""

    def __init__(self, site: Site):
        """Work on the site's store."""
        self.site = site

    def _look(self, form: FormData) -> Look:
        return look_of(word(form, "stage", 20), dict(form))

    def _done(self, request: Request, slug: str, look: Look) -> Response:
        """Return the page as it now is."""
        if is_live(request):
            saved = self.site.store.read(slug)
            # Where the proof is not looked at, the drawing need not wait for it.
            soon = look.stage in ("", "measure", "shape")
            planned = self.site.plans.soon(saved) if soon else self.site.plans.of(saved)
            told = list(planned.changes)
            html = job_page(self.site, planned, look)
            return live_answer(html, saved, changes=told, more=not planned.whole)
        query = "&".join(f"{k}={_quoted(v)}" for k, v in look.asked.items())
        tail = f"?{query}#part" if "part" in look.asked else f"?{query}" if query else ""
        return moved(f"/job/{slug}/{look.stage}".rstrip("/") + tail)

    def _refused(self, request: Request, slug: str, look: Look) -> Response:
        """Return the page with what was typed still in it, and what is wrong beside it."""
        planned = self.site.planned(slug)
        html = job_page(self.site, planned, look)
        if is_live(request):
            errors = dict(look.errors)
            said = list(look.said)
            return live_answer(html, planned.saved, errors=errors, said=said, status=422)
        return HTMLResponse(html, 422)

    def _saved(self, request: Request, look: Look, result: Saved | Conflict) -> Response:
        if isinstance(result, Conflict):
            return self._conflict(request, look, result)
        return self._done(request, result.slug, look)

    def _conflict(self, request: Request, look: Look, met: Conflict) -> Response:
        """Return the page that shows both sides of a conflict; both are kept."""
        rows = [
            {
                "place": place_in_words(key.where),
                "name": name_of(key.where),
                "before": written(key.before),
                "theirs": written(key.theirs),
                "mine": written(key.mine),
                "plain": not isinstance(key.mine, dict | list),
            }
            for key in met.keys
        ]
        planned = self.site.plans.of(met.current)
        html = rendered(
            "conflict.html",
            slug=met.slug,
            name=planned.name,
            version=met.current.version,
            stage=look.stage,
            asked=look.asked,
            rows=rows,
            kept=met.kept,
        )
        if is_live(request):
            return live_answer(html, met.current, conflict=True, status=409)
        return HTMLResponse(html, 409)

    def _base(self, slug: str, form: FormData) -> tuple[str, str]:
        """Return the version that a form was filled from, with its text."""
        base = word(form, "base", 40)
        # Planned where it never was, so that after the save it can be told what changed.
        if not self.site.plans.knows(slug):
            self.site.planned(slug)
        text = self.site.text_of(slug, base) if _VERSION.fullmatch(base) else None
        if text is None:
            raise StoreError(
                "This page was made from a version of the job that is not known any more. "
                "Nothing was changed; reload the page and type it again."
            )
        return base, text

    def fields(self, slug: str, request: Request, form: FormData) -> Response:
        """Save the fields of a form, those that were changed."""
        look = self._look(form)
        typed = typed_fields(form.multi_items())
        base, text = self._base(slug, form)
        look = replace(look, typed=typed)
        try:
            data = tomllib.loads(text)
        except tomllib.TOMLDecodeError:
            words = "The job file cannot be read as it stands; put it right first."
            return self._refused(request, slug, replace(look, said=(words,)))
        edits = edits_of(typed, data)
        if not edits:
            return self._done(request, slug, replace(look, typed={}))
        note = ", ".join(place_in_words(where) for where, _ in edits)[:120]
        return self._save(request, slug, look, base, text, edits, note)

    def _save(
        self,
        request: Request,
        slug: str,
        look: Look,
        base: str,
        text: str,
        edits: list[Edit],
        note: str,
    ) -> Response:
        """Save values where the job can be read with them, or say at each field what is wrong."""
        try:
            read_job(with_values(slug, text, edits))
        except JobError as error:
            at, elsewhere = errors_by_field(error.problems, edits)
            said = tuple(elsewhere[:5])
            return self._refused(request, slug, replace(look, errors=at, said=said))
        result = self.site.store.set_values(slug, edits, base=base, note=note)
        return self._saved(request, replace(look, typed={}), result)

    def add_reading(self, slug: str, request: Request, form: FormData) -> Response:
        """Add a reading behind the last one."""
        look = self._look(form)
        base, text = self._base(slug, form)
        kind, at, typed = word(form, "kind", 30), word(form, "at", 40), word(form, "is", 60)
        look = replace(look, typed={"kind": kind, "at": at, "is": typed})
        table = reading_table(kind, at, typed)
        if table is None or not typed:
            words = "choose what was read, and type the reading"
            return self._refused(request, slug, replace(look, errors={"new": words}))
        by = word(form, "by", 20)
        if by:
            table["by"] = by
        try:
            number = len(tomllib.loads(text).get("reading", []))
            edits: list[Edit] = [(("reading", number), table)]
            read_job(with_values(slug, text, edits))
        except JobError as error:
            words = ". ".join(f"{p.found}. {p.would_do}" for p in error.problems[:2])
            return self._refused(request, slug, replace(look, errors={"new": words}))
        note = f"{reading_name(table)} added"
        result = self.site.store.set_values(slug, edits, base=base, note=note)
        return self._saved(request, replace(look, typed={}), result)

    def remove_reading(self, slug: str, request: Request, form: FormData) -> Response:
        """Take one reading out."""
        look = self._look(form)
        base, text = self._base(slug, form)
        edits: list[Edit] = [(("reading", _number(form)), None)]
        try:
            read_job(with_values(slug, text, edits))
        except JobError as error:
            words = tuple(f"It cannot be taken out: {p.found}." for p in error.problems[:2])
            return self._refused(request, slug, replace(look, said=words))
        result = self.site.store.set_values(slug, edits, base=base, note="a reading taken out")
        return self._saved(request, look, result)

    def tick(self, slug: str, request: Request, form: FormData) -> Response:
        """Keep in the log that a piece is cut, or is not after all."""
        look = self._look(form)
        about, entry, hash = word(form, "about", 120), word(form, "entry", 40), word(form, "hash")
        done = form.get("done") == "1"
        if not about.startswith("cut/") or not re.fullmatch(r"[A-Za-z0-9_-]{8,40}", entry):
            raise StoreError("This tick names no piece; reload the page.")
        self.site.store.append(
            slug, [tick_entry(f"{entry}-{about}", about, done=done, hash=hash, now=time.time())]
        )
        return self._done(request, slug, look)

    def undo(self, slug: str, request: Request, form: FormData) -> Response:
        """Go one version back."""
        result = self.site.store.undo(slug, base=word(form, "base", 40))
        return self._saved(request, self._look(form), result)

    def redo(self, slug: str, request: Request, form: FormData) -> Response:
        """Go one version forward again."""
        result = self.site.store.redo(slug, base=word(form, "base", 40))
        return self._saved(request, self._look(form), result)

    def restore(self, slug: str, request: Request, form: FormData) -> Response:
        """Make an earlier version the newest."""
        result = self.site.store.restore(slug, _number(form), base=word(form, "base", 40))
        return self._saved(request, Look(), result)

    def name_version(self, slug: str, request: Request, form: FormData) -> Response:
        """Give a version a name."""
        self.site.store.name_version(slug, _number(form), word(form, "name", 80))
        return moved(f"/job/{slug}/history")

    def file(self, slug: str, request: Request, form: FormData) -> Response:
        """Save the whole job file as it was typed."""
        value = form.get("text")
        text = value.replace("\r\n", "\n") if isinstance(value, str) else ""
        base, _ = self._base(slug, form)
        planned = self.site.planned(slug)
        try:
            read_job(text)
        except JobError as error:
            values: dict[str, Any] = {"slug": slug, "name": planned.name, "version": base}
            problems = [problem_words(p) for p in error.problems]
            return page("file.html", 422, text=text, problems=problems, **values)
        result = self.site.store.save(slug, text, base=base, note="the whole file")
        return self._saved(request, Look(), result)

    def duplicate(self, slug: str, request: Request, form: FormData) -> Response:
        """Make a copy of a job under another name."""
        saved = self.site.store.duplicate(slug, _name(form))
        return moved(f"/job/{saved.slug}")

    def rename(self, slug: str, request: Request, form: FormData) -> Response:
        """Give a job another name; its history stays with it."""
        saved = self.site.store.rename(slug, _name(form))
        return moved(f"/job/{saved.slug}")

    def remove(self, slug: str, request: Request, form: FormData) -> Response:
        """Put a job aside; nothing of it is erased."""
        where = self.site.store.remove(slug)
        return page(
            "said.html",
            good=True,
            words=f"The job was put aside, whole, in {where.parent.name}/{where.name}.",
        )

    def packet(self, slug: str, request: Request, form: FormData) -> Response:
        """Begin to make the packet."""
        planned = self.site.planned(slug)
        if planned.plan is None:
            raise StoreError("The job file cannot be read; put it right first.")
        made = planned.plan
        work = self.site.works.begin("packet", lambda told: files.packet_pdf(made, told))
        if work is None:
            raise StoreError("Two packets are being made already; wait for one, or stop it.")
        return moved(f"/job/{slug}/work/{work.id}")

    def stop(self, slug: str, request: Request, form: FormData) -> Response:
        """Stop work that is going on."""
        work = self.site.works.find(word(form, "work", 40))
        if work is not None:
            work.stop.set()
        return moved(f"/job/{slug}/take-away")


def _number(form: FormData) -> int:
    number = word(form, "number", 9)
    if not number.isdigit():
        raise StoreError("This names no version; reload the page.")
    return int(number)


def _name(form: FormData) -> str:
    name = word(form, "name", 81)
    if not name or len(name) > 80:
        raise StoreError("Give the job a name of 1 to 80 letters.")
    return name


def _quoted(text: str) -> str:
    return quote(text, safe="")


def router(site: Site) -> APIRouter:
    """Return the routes that change a job."""
    routes = APIRouter(include_in_schema=False)
    editor = Editor(site)
    works: dict[str, Work] = {
        "edit": editor.fields,
        "add-reading": editor.add_reading,
        "remove-reading": editor.remove_reading,
        "tick": editor.tick,
        "undo": editor.undo,
        "redo": editor.redo,
        "restore": editor.restore,
        "name-version": editor.name_version,
        "file": editor.file,
        "duplicate": editor.duplicate,
        "rename": editor.rename,
        "remove": editor.remove,
        "packet": editor.packet,
        "stop": editor.stop,
    }

    def endpoint(work: Work) -> Callable[[Request, FormData], Response]:
        return lambda request, form: work(request.path_params["slug"], request, form)

    for name, work in works.items():
        routes.add_api_route(f"/job/{{slug}}/{name}", by_form(endpoint(work)), methods=["POST"])
    return routes
