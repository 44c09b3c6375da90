"""A job's pages: the day with the drawing beside it, one stage of it open; history and files."""

from __future__ import annotations

import secrets
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Any
from urllib.parse import urlencode

from fastapi import APIRouter, Request
from markupsafe import Markup
from starlette.responses import HTMLResponse, Response

from leafwright.job.model import DistanceReading
from leafwright.job.store import LogEntry, StoreError
from leafwright.leaf import Leaf
from leafwright.pipeline import Plan
from leafwright.records import Held
from leafwright.say import BY_HAND, JIG, LIES, default_line, sentence, words_of
from leafwright.say_cutting import order_told
from leafwright.say_loads import loads_words
from leafwright.shop.cut_order import CutOrder
from leafwright.survey.examine import Examined
from leafwright.web import files
from leafwright.web.api import problem_words
from leafwright.web.assets import rendered
from leafwright.web.bought import CutCard, card_picture, cut_cards
from leafwright.web.built import build_values
from leafwright.web.calculated import calculated_values, link_picture, worked_lines
from leafwright.web.doubted import doubt_panel, room_lines
from leafwright.web.entries import leaf_of
from leafwright.web.fields import Field, Sheet, new_name, section_names
from leafwright.web.forms import Form, table_fields
from leafwright.web.handed import hand_values
from leafwright.web.holed import hole_picture, holed_values
from leafwright.web.leaf_forms import differing
from leafwright.web.left import tallies, things
from leafwright.web.measured import KINDS, ReadingRow, opening_picture, reading_rows
from leafwright.web.ordered import order_values
from leafwright.web.packed import pack_values
from leafwright.web.pictures import doorway_picture
from leafwright.web.planned import Planned, leaf_name
from leafwright.web.proven import bracing_rows, check_groups, loaded_leaf, situations
from leafwright.web.shown import (
    STAGES,
    day,
    missing,
    part_of,
    sizes,
    survey_line,
    survey_test,
    weights,
)
from leafwright.web.site import MissingError, Site, from_the_shelf
from leafwright.web.sticked import section_rows, what_if_values
from leafwright.web.stood import hang_values
from leafwright.web.swung import swing_values
from leafwright.web.to_read import is_to_read, reading_picture, to_read
from leafwright.web.under import (
    Under,
    answer_form,
    links,
    picked_from,
    site_form,
    under_page,
)
from leafwright.web.welded import hold_line, seams_values

#: What may stand behind the ? of a stage's address, and be carried through an edit.
ASKED = (
    "part",
    "leaf",
    "case",
    "card",
    "mount",
    "answer",
    "check",
    "group",
    "angle",
    "way",
    "pose",
    "step",
    "when",
    "stick",
    "who",
)

#: How long the page of work that is going on waits for its end [s].
MOST_ASKED = 1.0

#: Stages that need every stage of the plan before they can be shown.
WHOLE = ("build", "hang", "hand-over")


@dataclass(frozen=True, slots=True)
class Look:
    """What a page is to show: its stage, what was touched, and what was typed and refused.

    ``left`` says that the page asked from is not there any more; ``spot`` is where on the page a
    browser without script comes back to.

    ``under`` is the address of the page under the stage, where it is one; ``form`` is the form
    that was sent, where many on the page put in the same things.
    """

    stage: str = ""
    under: str = ""
    asked: Mapping[str, str] = field(default_factory=dict)
    typed: Mapping[str, str] = field(default_factory=dict)
    errors: Mapping[str, str] = field(default_factory=dict)
    said: tuple[str, ...] = ()
    form: str = ""
    spot: str = ""
    left: bool = False

    @property
    def needs_all(self) -> bool:
        """Whether the page shows what only a whole plan has."""
        return self.stage in WHOLE or self.path in (
            "shape/swing",
            "prove/calculation",
            "buy/pack",
        )

    @property
    def path(self) -> str:
        """The stage with the page under it, as it stands in the address."""
        return f"{self.stage}/{self.under}" if self.under else self.stage


def look_of(path: str, values: Mapping[str, Any]) -> Look:
    """Return what an address or a form asks to see."""
    asked = {name: str(values[name])[:120] for name in ASKED if values.get(name)}
    stage, _, under = path.partition("/")
    return Look(stage, under, asked) if stage in dict(STAGES) else Look("", "", asked)


def job_page(site: Site, planned: Planned, look: Look, *, strict: bool = False) -> str:
    """Return a job's page as HTML.

    A page under a stage that is not there any more gives way to its stage, unless ``strict``.

    Raises:
        MissingError: there is no such page under the stage.
    """
    slug = planned.saved.slug
    made = planned.plan
    sheet = Sheet(planned.data, made, typed=look.typed, errors=look.errors, form=look.form)
    under: Under | None = None
    if look.under and made is not None:
        under = under_page(sheet, made, look.stage, look.under, look.asked)
        if under is None and strict:
            raise MissingError("There is no such page of a job.")
        if under is None:
            look = replace(look, under="")
    here = f"/job/{slug}/{look.path}" if look.stage else f"/job/{slug}"
    values: dict[str, Any] = {
        "slug": slug,
        "name": planned.name,
        "version": planned.saved.version,
        "stage": look.stage,
        "stage_name": dict(STAGES).get(look.stage, ""),
        "path": look.path,
        "asked": look.asked,
        "query": urlencode(look.asked),
        "here": here,
        "said": look.said,
        "errors": look.errors,
        "changes": planned.changes,
        "state": site.state(planned.saved),
    }
    if made is None:
        problems = [problem_words(p) for p in planned.problems]
        values |= {"problems": problems, "readable": bool(planned.data)}
        return rendered("broken.html", text=planned.saved.text, **values)
    log = site.store.log(slug)
    cards = cut_cards(made, log)
    part = None
    if look.path == "prove/calculation":
        values |= calculated_values(made, look.asked)
    if "part" in look.asked:
        part = part_of(made, look.asked["part"], sheet)
    metric = made.job.job.system == "metric"
    values |= {
        "revision": made.job.job.revision,
        "seen_from": made.job.job.seen_from,
        "stops": planned.stops,
        "refit": planned.refit,
        "for_cutting": planned.for_cutting,
        "whole": planned.whole,
        "day": day(planned, made, tallies(things(made, log))),
        "part": part,
        "is_pair": len(made.job.leaf) > 1,
        "missing": missing(made, look.stage),
        "keys": "mm" if metric else "feet-inch",
        "sections": section_names(metric),
        "entry": secrets.token_hex(8),
    }
    rows = reading_rows(made, planned.data) if look.stage == "measure" else ()
    values |= _drawing(made, look, rows, here)
    values |= {"under": under, "card": None, "links": links(planned.data, look.stage)}
    values |= {"lists": picked_from(planned.data), "also_inside": False}
    if look.path == "buy/holes":
        values |= holed_values(made, look.asked, log) | {"sticks": ()}
    elif look.path == "shape/swing":
        values |= swing_values(made, look.asked)
    elif look.path == "build/order":
        values |= order_values(made, look.asked, log)
        if values["order"] is not None:
            step = values["order"]
            values |= {"drawing": step.picture, "caption": step.caption, "also_inside": True}
    elif look.path == "build/seams":
        values |= seams_values(made, log, look.asked)
    elif under is not None:
        sold = look.stage == "buy" and look.path != "buy/pack"
        values["sticks"] = section_rows(made, here) if sold else ()
        if look.path == "buy/pack":
            values |= pack_values(made, log)
    else:
        values |= _stage_values(made, planned, look, sheet, cards, rows, log, here)
    if values["drawing"] is None and look.stage != "measure":
        page = here if look.stage else f"{here}/shape"
        values["drawing"] = doorway_picture(made, chosen=look.asked.get("part", ""), page=page)
    return rendered("job.html", **values)


def _drawing(made: Plan, look: Look, rows: tuple[ReadingRow, ...], here: str) -> dict[str, Any]:
    """Return the drawing of a stage with the words under it."""
    chosen = look.asked.get("part", "")
    loaded = None
    svg: Markup | None = None
    caption = f"Seen from the {made.job.job.seen_from}. Touch a part for its numbers."
    if look.stage == "measure":
        shown = opening_picture(made, rows, chosen=chosen, page=here)
        if shown is not None:
            svg, factor = shown
            out = f"Out of true drawn {factor} × as large." if factor > 1 else "Drawn as it is."
            caption = f"Seen from the {made.job.job.seen_from}. {out}"
            if isinstance(made.examined, Examined) and not isinstance(made.examined.largest, Held):
                caption += " Dash and dot: the largest rectangle that fits."
        elif any(is_to_read(row.table) for row in rows):
            svg = reading_picture(rows)
            caption = f"Seen from the {made.job.job.seen_from}: what to read. Its size is not known"
            caption += " yet, so it is drawn as any opening."
    elif look.path == "prove/calculation" and (drawn := link_picture(made, look.asked)):
        svg, caption = drawn
    elif look.path == "buy/holes" and (holed := hole_picture(made, look.asked)):
        svg, caption = holed
    elif look.stage == "prove":
        keys = [leaf.key for leaf in made.leaves if isinstance(leaf, Leaf)]
        leaf = look.asked.get("leaf", "")
        case = look.asked.get("case", "")
        leaf = leaf if leaf in keys else (keys[0] if keys else "")
        names = dict(situations(made))
        case = case if case in names else "standing"
        loaded = loaded_leaf(made, leaf, case, here)
        if loaded is not None:
            svg = loaded.picture
            caption = f"{sentence(leaf_name(leaf))}, {names[case]}."
            if loaded.factor:
                caption += f" Dashed outline: how it moves, drawn {loaded.factor} × as large."
            caption += " Solid brace, arrows in: pressed (−). Dashed, arrows out: pulled (+)."
    return {"drawing": svg, "caption": caption, "loaded": loaded}


def _stage_values(
    made: Plan,
    planned: Planned,
    look: Look,
    sheet: Sheet,
    cards: tuple[CutCard, ...],
    rows: tuple[ReadingRow, ...],
    log: Sequence[LogEntry],
    here: str,
) -> dict[str, Any]:
    """Return what one stage shows beside the drawing."""
    words = words_of(made.job)
    if look.stage == "measure":
        readings = [
            (
                row,
                sheet.field(("reading", row.number, "is"), row.words, "reading"),
                table_fields(
                    sheet,
                    DistanceReading,
                    ("reading", row.number),
                    keys=("by", "note"),
                ),
            )
            for row in rows
            if not is_to_read(row.table)
        ]
        return {
            "to_read": to_read(sheet, rows),
            "survey_line": survey_line(made),
            "survey_test": survey_test(made),
            "doubt": doubt_panel(made, sheet, log),
            "rooms": room_lines(made),
            "readings": readings,
            "kinds": [(key, name) for key, (name, _) in KINDS.items()],
            "new_error": look.errors.get("new", ""),
            "typed": look.typed,
        }
    if look.stage == "shape":
        held = made.doorway.why if isinstance(made.doorway, Held) else ""
        return {
            "held": held,
            "sizes": sizes(made),
            "weights": weights(made),
            "groups": [
                ("The doorway", sheet.doorway()),
                ("Jamb posts and transom", [*sheet.filler("jamb"), *sheet.filler("transom")]),
                *_leaf_groups(planned, sheet),
            ],
            "differing": differing(planned.data) if "each_leaf" in planned.data else [],
            "defaults": [default_line(q, words) for q in made.defaults],
        }
    if look.stage == "prove":
        loaded_key = look.asked.get("leaf") or next(
            (leaf.key for leaf in made.leaves if isinstance(leaf, Leaf)), ""
        )
        return {
            "checks": check_groups(made, planned.data),
            "leaves": [
                (leaf.key, sentence(leaf_name(leaf.key)))
                for leaf in made.leaves
                if isinstance(leaf, Leaf)
            ],
            "situations": situations(made),
            "leaf_now": loaded_key,
            "loads": loads_words(made),
            "case_now": look.asked.get("case", "standing"),
            "bracings": bracing_rows(made, loaded_key),
            "answering": _answering(made, look, sheet),
            "worked": worked_lines(made, look.asked.get("check", "")),
        }
    if look.stage == "buy":
        number = look.asked.get("card", "")
        card = next((c for c in cards if str(c.number) == number), None)
        return {
            "held": made.cuts.why if isinstance(made.cuts, Held) else "",
            "sticks": section_rows(made, here),
            "what_if": what_if_values(made, look.asked),
            "order": order_told(
                [leaf for leaf in made.leaves if isinstance(leaf, Leaf)], made.order, words
            )
            if isinstance(made.order, CutOrder)
            else None,
            "cards": cards,
            "card": card,
            "lies": LIES,
            "by_hand": BY_HAND,
            "jig": JIG if card and card.jig else "",
            "card_picture": card_picture(made, card) if card else None,
        }
    if look.stage == "build":
        return build_values(made, sheet, look.asked)
    if look.stage == "hang":
        hold = hold_line(made, log, leaf_of(made, look.asked.get("leaf", "")))
        return hang_values(made, look.asked) | {"site_form": site_form(sheet), "hold": hold}
    if look.stage == "hand-over":
        return hand_values(made, sheet, look.asked)
    return {}


def _leaf_groups(planned: Planned, sheet: Sheet) -> list[tuple[str, list[Field]]]:
    """Return what is changed most often of the leaves; two that share nothing have their pages."""
    if "each_leaf" not in planned.data and len(planned.data["leaf"]) > 1:
        return []
    return [("Frame of the leaves", sheet.frame()), ("Bracing", sheet.bracing())]


def _answering(made: Plan, look: Look, sheet: Sheet) -> tuple[str, Form] | None:
    """Return which open question is being answered, with the form for it."""
    about = look.asked.get("answer", "") or look.typed.get(new_name(("answer",), "about"), "")
    if any(c.key == about and c.basis == "unknown" for c in made.checks):
        return about, answer_form(sheet, about)
    return None


def router(site: Site) -> APIRouter:
    """Return the routes of a job's pages and files."""
    routes = APIRouter(include_in_schema=False)

    @routes.get("/job/{slug}")
    def whole(slug: str, request: Request) -> Response:
        look = look_of("", request.query_params)
        return HTMLResponse(job_page(site, site.looked_at(slug), look))

    @routes.get("/job/{slug}/version")
    def version(slug: str) -> dict[str, str]:
        saved = site.store.read(slug)
        return {"version": saved.version, "state": site.state(saved)}

    @routes.get("/job/{slug}/history")
    def history(slug: str) -> Response:
        rows = [
            (v, datetime.fromtimestamp(v.at).astimezone().strftime("%Y-%m-%d %H:%M:%S"))
            for v in reversed(site.store.versions(slug))
        ]
        try:
            planned = site.planned(slug)
        except StoreError as error:
            # The file is gone, or is no text: from here an earlier version is had back.
            planned = Planned(site.store.lying(slug), {}, None, ())
            return _plain(
                "history.html", planned, rows=rows, wrong=from_the_shelf(site.store, error)
            )
        return _plain("history.html", planned, rows=rows, wrong="")

    @routes.get("/job/{slug}/file")
    def file(slug: str) -> Response:
        planned = site.planned(slug)
        problems = [problem_words(p) for p in planned.problems]
        return _plain("file.html", planned, text=planned.saved.text, problems=problems)

    @routes.get("/job/{slug}/take-away")
    def take_away(slug: str) -> Response:
        planned = site.planned(slug)
        leaves = files.leaf_names(planned.plan) if planned.plan else ()
        return _plain("take_away.html", planned, leaves=leaves)

    @routes.get("/job/{slug}/work/{work}")
    def going(slug: str, work: str) -> Response:
        planned = site.planned(slug)
        found = site.works.find(work)
        if found is None:
            raise MissingError("This work is not known any more; begin it again.")
        # Who asks again waits a little with it, so that nobody has to ask often.
        found.ended.wait(MOST_ASKED)
        return _plain("work.html", planned, work=found)

    @routes.get("/job/{slug}/work/{work}/packet.pdf")
    def done(slug: str, work: str) -> Response:
        found = site.works.find(work)
        if found is None or found.state != "done":
            raise MissingError("This packet is not there; begin it again.")
        return _download(found.result, "application/pdf", f"{slug}-packet.pdf")

    @routes.get("/job/{slug}/plan.json")
    def plan_json(slug: str) -> Response:
        return _download(files.plan_file(_made(slug)), "application/json", f"{slug}-plan.json")

    @routes.get("/job/{slug}/job.toml")
    def job_file(slug: str) -> Response:
        text = site.store.read(slug).text.encode()
        return _download(text, "application/toml", f"{slug}.toml")

    @routes.get("/job/{slug}/job.zip")
    def job_zip(slug: str) -> Response:
        return _download(site.store.export(slug), "application/zip", f"{slug}.zip")

    @routes.get("/job/{slug}/dxf/{leaf}")
    def dxf(slug: str, leaf: str) -> Response:
        drawn = files.leaf_dxf(_made(slug), leaf)
        if drawn is None:
            raise MissingError("There is no such leaf in this job.")
        return _download(drawn, "image/vnd.dxf", f"{slug}-{leaf}.dxf")

    # Last, because it takes any word for a stage.
    @routes.get("/job/{slug}/{path:path}")
    def staged(slug: str, path: str, request: Request) -> Response:
        look = look_of(path, request.query_params)
        if not look.stage or path.endswith("/"):
            raise MissingError("There is no such page of a job.")
        planned = site.planned(slug) if look.needs_all else site.looked_at(slug)
        return HTMLResponse(job_page(site, planned, look, strict=True))

    def _made(slug: str) -> Plan:
        planned = site.planned(slug)
        if planned.plan is None:
            raise MissingError("The job file cannot be read; put it right first.")
        return planned.plan

    return routes


def _plain(template: str, planned: Planned, **values: Any) -> HTMLResponse:
    html = rendered(
        template,
        slug=planned.saved.slug,
        name=planned.name,
        version=planned.saved.version,
        **values,
    )
    return HTMLResponse(html)


def _download(content: bytes, kind: str, name: str) -> Response:
    safe = "".join(c if c.isascii() and (c.isalnum() or c in "-_.") else "-" for c in name)
    return Response(
        content,
        media_type=kind,
        headers={"Content-Disposition": f'attachment; filename="{safe}"'},
    )
