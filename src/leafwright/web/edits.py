"""What changes a job: fields, readings, ticks, undo, history, the whole file."""

from __future__ import annotations

import copy
import re
import time
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
from leafwright.job.toml_data import toml_data
from leafwright.web import files
from leafwright.web.api import problem_words
from leafwright.web.assets import rendered
from leafwright.web.entries import TAKEN, taken_name
from leafwright.web.fields import (
    Edit,
    edits_of,
    errors_by_field,
    errors_of_new,
    field_id,
    name_of,
    new_entry,
    new_fields,
    new_name,
    place_of,
    taken_out,
    typed_fields,
    words_on_page,
    written,
)
from leafwright.web.forms import PRICE_KEY
from leafwright.web.measured import added_errors, reading_name, reading_table
from leafwright.web.packed import ABOUT
from leafwright.web.pages import Look, job_page, look_of
from leafwright.web.schema import value_at
from leafwright.web.site import (
    Site,
    by_form,
    is_live,
    live_answer,
    log_entry,
    moved,
    page,
    tick_entry,
    word,
)
from leafwright.web.ticks import tick_id
from leafwright.web.to_read import as_read

_VERSION = re.compile(r"[0-9a-f]{16}")
Work = Callable[[str, Request, FormData], Response]

#: How long a packet is waited for before the page that says how far it is [s].
MOST_WAITED = 2.0


class Editor:
    """Answers forms: a page's script gets the new page in JSON, any other browser is sent on."""

    def __init__(self, site: Site):
        """Work on the site's store."""
        self.site = site

    def _look(self, form: FormData) -> Look:
        return look_of(word(form, "stage", 60), dict(form))

    def _done(self, request: Request, slug: str, look: Look) -> Response:
        """Return the page as it now is."""
        query = "&".join(f"{k}={quote(v, safe='')}" for k, v in look.asked.items())
        query = f"?{query}" if query else ""
        where = f"/job/{slug}/{look.path}".rstrip("/") + query
        if is_live(request):
            left = {"where": where} if look.left else {}
            return self._live(slug, look, errors=dict(look.errors), **left)
        spot = "#part" if "part" in look.asked else "#under" if look.under else ""
        spot = f"#{look.spot or look.form}" if look.spot or look.form else spot
        return moved(where + spot)

    def _live(self, slug: str, look: Look, **more: Any) -> Response:
        """Return what a page's script reads; what is not looked at here is not waited for."""
        saved = self.site.store.read(slug)
        if look.needs_all:
            planned = self.site.plans.of(saved)
        elif look.stage in ("prove", "buy"):
            planned = self.site.plans.soon(saved, upto="shop")
        else:
            planned = self.site.plans.soon(saved)
        told = list(planned.changes)
        html = job_page(self.site, planned, look)
        return live_answer(html, saved, changes=told, more=not planned.whole, **more)

    def _refused(self, request: Request, slug: str, look: Look) -> Response:
        """Return the page with what was typed still in it, and what is wrong beside it."""
        if is_live(request):
            said = list(look.said)
            return self._live(slug, look, errors=dict(look.errors), said=said, status=422)
        return HTMLResponse(job_page(self.site, self.site.planned(slug), look), 422)

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
            path=look.path,
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
            data = toml_data(text)
        except ValueError:
            words = "The job file cannot be read as it stands; put it right first."
            return self._refused(request, slug, replace(look, said=(words,)))
        edits = as_read(typed, data, edits_of(typed, data))
        if not edits:
            return self._done(request, slug, replace(look, typed={}))
        note = ", ".join(place_in_words(where) for where, _ in edits)[:120]
        # A browser without script comes back to the field that was changed.
        within = "part-" if "part" in look.asked else ""
        look = replace(look, spot=f"{within}{field_id(name_of(edits[0][0]))}")
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
        """Save values where the job can be read with them, or say at each field what is wrong.

        Of fields that a page's script sends, those that can be saved are, without the others.
        """
        errors: dict[str, str] = {}
        while True:
            try:
                changed = with_values(slug, text, edits)
                read_job(changed)
                break
            except JobError as error:
                at, elsewhere = errors_by_field(error.problems, edits)
                errors |= at
                rest = [edit for edit in edits if name_of(edit[0]) not in at]
                if not is_live(request) or not rest or len(rest) == len(edits):
                    look = replace(look, errors=errors, said=tuple(elsewhere[:5]))
                    return self._refused(request, slug, look)
                edits = rest
        result = self.site.store.save(slug, changed, base=base, note=note)
        typed = {name: text for name, text in look.typed.items() if name in errors}
        return self._saved(request, replace(look, typed=typed, errors=errors), result)

    def add_reading(self, slug: str, request: Request, form: FormData) -> Response:
        """Add a reading behind the last one."""
        look = self._look(form)
        base, text = self._base(slug, form)
        kind, at, typed = word(form, "kind", 30), word(form, "at", 40), word(form, "is", 60)
        toward = word(form, "toward", 40)
        look = replace(look, typed={"kind": kind, "at": at, "is": typed, "toward": toward})
        table = reading_table(kind, at, typed, toward)
        if table is None or not typed:
            words = "choose what was read, and type the reading"
            return self._refused(request, slug, replace(look, errors={"new": words}))
        by = word(form, "by", 20)
        if by:
            table["by"] = by
        try:
            number = len(toml_data(text).get("reading", []))
            edits: list[Edit] = [(("reading", number), table)]
            look = replace(look, spot=f"reading-{number}")
            read_job(with_values(slug, text, edits))
        except JobError as error:
            errors = added_errors(error.problems, kind)
            return self._refused(request, slug, replace(look, errors=errors))
        note = f"{reading_name(table)} added"
        result = self.site.store.set_values(slug, edits, base=base, note=note)
        return self._saved(request, replace(look, typed={}), result)

    def put_in(self, slug: str, request: Request, form: FormData) -> Response:
        """Put in an entry of a list, or a table, as one form holds it whole."""
        look = self._look(form)
        base, text = self._base(slug, form)
        look = replace(look, typed=new_fields(form.multi_items()), form=word(form, "form", 80))
        where = place_of(word(form, "place", 120))
        made = new_entry(where, look.typed, toml_data(text))
        if made is None:
            raise StoreError("This form names no place in the job; reload the page.")
        put_at, put = made
        is_taken = where in TAKEN and isinstance(put, dict)
        if is_taken and isinstance(put, dict):
            # Who reads it, and when, is said once for all of a page.
            put.setdefault("on", self.site.plans.today())
            if look.asked.get("who"):
                put.setdefault("who", look.asked["who"])
        if where == ("price",) and not PRICE_KEY.fullmatch(str(put_at[-1])):
            words = "a name of one word, as frame_tube or shop, is needed"
            errors = {new_name(where, "name"): words}
            return self._refused(request, slug, replace(look, errors=errors))
        try:
            changed = with_values(slug, text, [made])
            read_job(changed)
        except JobError as error:
            at, elsewhere = errors_of_new(error.problems, where, put_at, look.typed)
            if where == ("price",):
                at = {new_name(where, "rate"): words for words in at.values()}
            said = tuple(elsewhere[:5])
            return self._refused(request, slug, replace(look, errors=at, said=said))
        note = f"{place_in_words(put_at)} put in"[:120]
        result = self.site.store.save(slug, changed, base=base, note=note)
        if is_taken and isinstance(put, dict) and isinstance(result, Saved):
            told = {key: written(value) for key, value in put.items()}
            about = f"{where[0]}/{taken_name(put)}"
            self._log(slug, base, "reading", about, told, str(put.get("who", "")))
        return self._saved(request, replace(look, typed={}), result)

    def _log(
        self, slug: str, base: str, kind: str, about: str, told: dict[str, Any], who: str = ""
    ) -> None:
        """Keep something in the log; sent twice from one version of the job it is there once."""
        entry = log_entry(base, kind, about, told, who=who, now=time.time())
        # What was logged already stands; its moment is the first one's.
        if all(kept.id != entry.id for kept in self.site.store.log(slug)):
            self.site.store.append(slug, [entry])

    def set_aside(self, slug: str, request: Request, form: FormData) -> Response:
        """Set a reading aside, for a reason; it stays in the file and does not count."""
        look = self._look(form)
        base, text = self._base(slug, form)
        where, reason = place_of(word(form, "place", 120)), word(form, "reason", 400)
        table = value_at(toml_data(text), where)
        if len(where) != 2 or where[:1] not in (("reading",), *TAKEN) or table is None:
            raise StoreError("This names no reading; reload the page.")
        if not reason:
            words = "Say why it is set aside; then it is set aside."
            at = {f"reason.{where[1]}": words}
            beside = look.path == "measure"
            look = replace(look, errors=at) if beside else replace(look, said=(words,))
            return self._refused(request, slug, look)
        told = {"set_aside": reason, "is": written(table.get("is"))}
        answer = self._at_once(
            slug, request, form, (base, text), [((*where, "set_aside"), reason)], "set aside"
        )
        if answer.status_code < 400:
            name = reading_name(table) if where[0] == "reading" else taken_name(table)
            self._log(slug, base, "answer", f"{where[0]}/{name}", told)
        return answer

    def keep(self, slug: str, request: Request, form: FormData) -> Response:
        """Keep in the log that a reading in doubt counts all the same, or is open again."""
        base, text = self._base(slug, form)
        about, kept = word(form, "about", 120), form.get("kept") == "1"
        where = place_of(word(form, "place", 120))
        table = value_at(toml_data(text), where)
        if not about.startswith("reading/") or where[:1] != ("reading",) or table is None:
            raise StoreError("This names no reading; reload the page.")
        told = {"kept": kept, "is": written(table.get("is"))}
        entry = log_entry(
            word(form, "entry", 40) or base, "answer", about, told, who="", now=time.time()
        )
        if all(one.id != entry.id for one in self.site.store.log(slug)):
            self.site.store.append(slug, [entry])
        return self._done(request, slug, self._look(form))

    def take_out(self, slug: str, request: Request, form: FormData) -> Response:
        """Take out what stands at a place: an entry of a list, a table, or one value."""
        base, text = self._base(slug, form)
        where = place_of(word(form, "place", 120))
        if value_at(toml_data(text), where) is None:
            raise StoreError("What was to be taken out is not there; reload the page.")
        edits = taken_out(where, toml_data(text))
        return self._at_once(slug, request, form, (base, text), edits, "taken out")

    def own(self, slug: str, request: Request, form: FormData) -> Response:
        """Give a leaf its own copy of what all leaves share, to be made different."""
        base, text = self._base(slug, form)
        where = place_of(word(form, "place", 120))
        shared = value_at(toml_data(text), ("each_leaf", *where[2:]))
        if len(where) != 3 or where[0] != "leaf" or not isinstance(shared, list):
            raise StoreError("This names nothing that leaves share; reload the page.")
        edits: list[Edit] = [(where, copy.deepcopy(shared))]
        return self._at_once(slug, request, form, (base, text), edits, "made different")

    def _at_once(
        self,
        slug: str,
        request: Request,
        form: FormData,
        start: tuple[str, str],
        edits: list[Edit],
        done: str,
    ) -> Response:
        """Make the edits that a button stands for, or say why they cannot be made."""
        look = self._look(form)
        base, text = start
        try:
            changed = with_values(slug, text, edits)
            read_job(changed)
        except JobError as error:
            told = dict.fromkeys(words_on_page(p) for p in error.problems)
            words = tuple(f"It was not done. {each}" for each in list(told)[:3])
            return self._refused(request, slug, replace(look, said=words))
        where, value = edits[0]
        note = f"{place_in_words(where)} {done}"[:120]
        if where[0] == "reading" and look.path == "measure":
            look = replace(look, spot=f"reading-{where[1]}")
        if "reading/" in look.under and value is None and len(where) == 2:
            look = replace(look, under="", left=True)
        result = self.site.store.save(slug, changed, base=base, note=note)
        return self._saved(request, look, result)

    def tick(self, slug: str, request: Request, form: FormData) -> Response:
        """Keep in the log that a piece is cut, a seam welded, a thing packed, or is not."""
        look = self._look(form)
        about, entry, hash = word(form, "about", 120), word(form, "entry", 40), word(form, "hash")
        done = form.get("done") == "1"
        named = about.startswith(("cut/", "hole/", "seam/", ABOUT))
        if not named or not re.fullmatch(r"[A-Za-z0-9_-]{8,40}", entry):
            raise StoreError("This tick names no piece, hole, seam or thing; reload the page.")
        self.site.store.append(
            slug, [tick_entry(f"{entry}-{about}", about, done=done, hash=hash, now=time.time())]
        )
        return self._done(request, slug, replace(look, form=tick_id(about)))

    def undo(self, slug: str, request: Request, form: FormData) -> Response:
        """Go one version back."""
        result = self.site.store.undo(slug, base=word(form, "base", 40))
        return self._saved(request, replace(self._look(form), spot="undo"), result)

    def redo(self, slug: str, request: Request, form: FormData) -> Response:
        """Go one version forward again."""
        result = self.site.store.redo(slug, base=word(form, "base", 40))
        return self._saved(request, replace(self._look(form), spot="undo"), result)

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
            history="",
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
        # Most are made within this: then the page that follows need not be looked at again.
        work.ended.wait(MOST_WAITED)
        return moved(f"/job/{slug}/work/{work.id}")

    def stop(self, slug: str, request: Request, form: FormData) -> Response:
        """Stop work that is going on."""
        work = self.site.works.find(word(form, "work", 40))
        if work is not None:
            work.stop.set()
        return moved(f"/job/{slug}/take-away")


def _number(form: FormData) -> int:
    number = word(form, "number", 9)
    if not number.isdecimal():
        raise StoreError("This names no version; reload the page.")
    return int(number)


def _name(form: FormData) -> str:
    name = word(form, "name", 81)
    if not name or len(name) > 80:
        raise StoreError("Give the job a name of 1 to 80 letters.")
    return name


def router(site: Site) -> APIRouter:
    """Return the routes that change a job."""
    routes = APIRouter(include_in_schema=False)
    editor = Editor(site)
    works: dict[str, Work] = {
        "edit": editor.fields,
        "add-reading": editor.add_reading,
        "put-in": editor.put_in,
        "take-out": editor.take_out,
        "set-aside": editor.set_aside,
        "keep": editor.keep,
        "own": editor.own,
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
