"""The pages under a stage: all that may be said of a leaf, the building, the shop, one reading."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from leafwright.handbook.catalogue import load_catalogue
from leafwright.job.marks import CORNERS, LEAF_CORNERS
from leafwright.job.model import (
    Answer,
    Basis,
    Building,
    CutWith,
    GradeTable,
    Header,
    Limits,
    Loads,
    Mark,
    Obstacle,
    Offcut,
    OpeningTable,
    Saw,
    SectionTable,
    StickTable,
    StockTable,
    Welding,
)
from leafwright.job.model import Job as JobModel
from leafwright.job.model import Site as SiteTable
from leafwright.job.positions import Path
from leafwright.pipeline import Plan
from leafwright.say import sentence
from leafwright.web.entries import taken_name
from leafwright.web.fields import Sheet, new_name
from leafwright.web.forms import (
    Form,
    Group,
    add_form,
    list_group,
    price_group,
    table_fields,
    table_forms,
    take_out,
)
from leafwright.web.leaf_forms import leaf_keys, leaf_page
from leafwright.web.measured import reading_name
from leafwright.web.schema import kind_of, model_of_kind, slots, value_at
from leafwright.web.trade import ENTRIES, LISTS

Link = tuple[str, str]

#: The list of the job file whose readings have their pages under each stage.
READINGS = {"measure": "reading", "build": "fit_up", "hand-over": "hung"}


@dataclass(frozen=True, slots=True)
class Under:
    """A page under a stage: ``tabs`` lead to those beside it, but for the one that is open.

    ``body`` is the template of what stands before its forms.
    """

    title: str
    told: tuple[str, ...]
    groups: tuple[Group, ...]
    tabs: tuple[Link, ...] = ()
    body: str = ""


def under_page(
    sheet: Sheet, made: Plan, stage: str, under: str, asked: Mapping[str, str]
) -> Under | None:
    """Return a page under a stage by its address, or None where there is none."""
    if stage == "shape" and under.startswith("leaf/"):
        return _leaf(sheet, made, under.removeprefix("leaf/"), asked)
    if stage in READINGS and under.startswith("reading/"):
        return _reading(sheet, READINGS[stage], under.removeprefix("reading/"))
    if (stage, under) == ("measure", "obstacles"):
        return _obstacles(sheet)
    if (stage, under) == ("shape", "swing"):
        return Under("How the leaves turn", (), (), body="swing.html")
    if (stage, under) == ("measure", "marks"):
        return _marks(sheet)
    if (stage, under) == ("shape", "job"):
        return _job(sheet)
    if (stage, under) == ("prove", "building"):
        return _building(sheet)
    if (stage, under) == ("prove", "calculation"):
        return Under("The calculation, link by link", (), (), body="calculation.html")
    if (stage, under) == ("build", "seams"):
        return Under("Seams", (), (), body="seams.html")
    if (stage, under) == ("prove", "loads"):
        return _loads(sheet)
    if (stage, under) == ("prove", "answers"):
        return _answers(sheet, made)
    if (stage, under) == ("build", "order"):
        return Under("Order of welding", (), (), body="order.html")
    if (stage, under) == ("buy", "holes"):
        return Under("Holes and plates", (), (), body="holes.html")
    if (stage, under) == ("buy", "pack"):
        return _pack(sheet)
    if (stage, under) == ("buy", "stock"):
        return _stock(sheet)
    if (stage, under) == ("buy", "prices"):
        return Under("Prices", (), (price_group(sheet),))
    if (stage, under) == ("buy", "steel"):
        return _steel(sheet)
    return None


def links(data: Mapping[str, Any], stage: str) -> tuple[Link, ...]:
    """Return the pages under a stage: address below the stage, and words."""
    if stage == "measure":
        count = len(data.get("obstacle", []))
        return (
            ("marks", "Own marks, and any other reading"),
            ("obstacles", f"Obstacles that a leaf must miss: {count}"),
        )
    if stage == "shape":
        leaves = tuple(
            (f"leaf/{key}", f"{name}: frame, braces, infill, mount")
            for key, name in leaf_keys(data)
        )
        swing = ("swing", "How the leaves turn, and where each gap goes")
        return (swing, *leaves, ("job", "The job, its sheets and the opening"))
    if stage == "prove":
        count = len(data.get("answer", []))
        return (
            ("calculation", "The calculation, link by link, with every formula"),
            ("building", "The building"),
            ("loads", "Loads, limits, code and wind"),
            ("answers", f"Answers given: {count}"),
        )
    if stage == "build":
        return (
            ("seams", "Seams: the map, a tick for each, what is left"),
            ("order", "Order of welding, step by step"),
        )
    if stage == "buy":
        return (
            ("holes", "Holes and plates: every hole, with its tool"),
            ("pack", "What to buy and what to pack, with power and welding"),
            ("stock", "Stock, offcuts, saw and power"),
            ("prices", "Prices"),
            ("steel", "Sizes and steels of your own"),
        )
    return ()


def _leaf(sheet: Sheet, made: Plan, key: str, asked: Mapping[str, str]) -> Under | None:
    found = leaf_page(sheet, made, key, asked)
    if found is None:
        return None
    title, told, groups = found
    keys = leaf_keys(sheet.data)
    tabs = tuple((f"leaf/{k}" if k != key else "", name) for k, name in keys)
    return Under(title, tuple(told), tuple(groups), tabs if len(tabs) > 1 else ())


# ---------------------------------------------------------------- readings and marks


def _reading(sheet: Sheet, name: str, number: str) -> Under | None:
    readings = sheet.data.get(name, [])
    if not number.isdigit() or not number.isascii() or int(number[:6]) >= len(readings):
        return None
    at: Path = (name, int(number[:6]))
    table = value_at(sheet.data, at)
    model = model_of_kind(slots(JobModel)[name], str(table.get("kind")))
    if model is None:
        return None
    called = reading_name(table) if name == "reading" else taken_name(table)
    buttons = [take_out(at, called)]
    told: tuple[str, ...] = ()
    if table.get("set_aside"):
        told = (f"It is set aside, because {table['set_aside']}.",)
        buttons.insert(0, take_out((*at, "set_aside"), called, "It counts again"))
    form = Form("reading-form", "", table_fields(sheet, model, at), buttons=tuple(buttons))
    group = Group("reading", "All that may be said of it", "", (form,), opened=True)
    return Under(sentence(called), told, (group,))


def _obstacles(sheet: Sheet) -> Under:
    group = list_group(
        sheet,
        Obstacle,
        ("obstacle",),
        "Obstacles",
        told="Each is a box between two opposite corners, from the bottom left corner of the "
        "opening: how far right, how far up, how far toward you. Left, down and away are minus.",
        opened=True,
    )
    return Under("Obstacles that a leaf must miss", (), (group,))


def site_form(sheet: Sheet) -> Form:
    """Return the fields of how the leaves are brought and stood up."""
    return Form("site-form", "", table_fields(sheet, SiteTable, ("site",)))


def _marks(sheet: Sheet) -> Under:
    own = list_group(
        sheet,
        Mark,
        ("mark",),
        "Marks of your own",
        told="A point that is neither a corner nor on a side: a beam's end, a nail, a column. Say "
        "about where it is; the readings settle it.",
        opened=True,
    )
    adds = tuple(
        add_form(
            sheet,
            model,
            ("reading",),
            ENTRIES.get(model.__name__, kind_of(model)).capitalize(),
            without=("set_aside",),
            button="Put the reading in",
        )
        for model in slots(JobModel)["reading"].models
    )
    told = "Between any two marks: corners, L@84in or R@mid on a side, or a mark of your own."
    return Under(
        "Own marks, and any other reading",
        (),
        (own, Group("any-reading", "Put in a reading", told, (), adds, opened=True)),
    )


# ---------------------------------------------------------------- the job, the building, the shop


def _job(sheet: Sheet) -> Under:
    job = Form("job-form", "", table_fields(sheet, Header, ("job",)))
    opening = Form("opening-form", "", table_fields(sheet, OpeningTable, ("opening",)))
    more = Form(
        "doorway-form",
        "",
        table_fields(
            sheet,
            slots(JobModel)["doorway"].models[0],
            ("doorway",),
            keys=("greatest_bottom_gap", "opens_to"),
        ),
    )
    return Under(
        "The job, its sheets and the opening",
        (),
        (
            Group("job", "The job and its sheets", "", (job,), opened=True),
            Group("opening", "The opening", "", (opening, more), opened=True),
        ),
    )


def _building(sheet: Sheet) -> Under:
    building = Form("building-form", "", table_fields(sheet, Building, ("building",)))
    anchors, put_anchors = table_forms(
        sheet, slots(Building)["anchor"].models[0], ("building", "anchor")
    )
    post, put_post = table_forms(sheet, slots(JobModel)["post"].models[0], ("post",))
    return Under(
        "The building",
        ("Unknown is an answer: it will be asked.",),
        (
            Group("building", "The building", "", (building,), opened=True),
            Group("anchors", "Anchors", "", anchors, put_anchors, opened=True),
            Group("post", "Post of a gate", "", post, put_post, opened=True),
        ),
    )


def _loads(sheet: Sheet) -> Under:
    wind, put_wind = table_forms(sheet, slots(JobModel)["wind"].models[0], ("wind",))
    loads = Form("loads-form", "", table_fields(sheet, Loads, ("loads",)))
    limits = Form("limits-form", "", table_fields(sheet, Limits, ("limits",)))
    basis = Form("basis-form", "", table_fields(sheet, Basis, ("basis",)))
    return Under(
        "Loads, limits, code and wind",
        (),
        (
            Group("loads", "Loads beside its own weight", "", (loads,), opened=True),
            Group("limits", "How far it may move", "", (limits,), opened=True),
            Group("basis", "The code that the proof follows", "", (basis,), opened=True),
            Group("wind", "Wind", "", wind, put_wind, opened=True),
        ),
    )


def _stock(sheet: Sheet) -> Under:
    stock = Form("stock-form", "", table_fields(sheet, StockTable, ("stock",)))
    saw = Form("saw-form", "", table_fields(sheet, Saw, ("saw",)))
    power, put_power = table_forms(sheet, slots(JobModel)["power"].models[0], ("power",))
    return Under(
        "Stock, offcuts, saw and power",
        (),
        (
            Group("stock", "How steel is sold, and the saw", "", (stock, saw), opened=True),
            list_group(sheet, CutWith, ("cut_with",), "What steel is cut with", opened=True),
            list_group(sheet, StickTable, ("stick",), "Sticks, by price and supplier", opened=True),
            list_group(sheet, Offcut, ("offcut",), "Offcuts on the rack", opened=True),
            Group("power", "Power on site", "", power, put_power, opened=True),
            Group("weld", "How it is welded", "", (_weld_form(sheet),), opened=True),
        ),
    )


def _pack(sheet: Sheet) -> Under:
    power, put_power = table_forms(sheet, slots(JobModel)["power"].models[0], ("power",))
    return Under(
        "Buy and pack",
        (),
        (
            Group("weld", "How it is welded", "", (_weld_form(sheet),)),
            Group("power", "Power on site", "", power, put_power),
        ),
        body="pack.html",
    )


def _weld_form(sheet: Sheet) -> Form:
    """Return the form of how the seams are welded."""
    return Form("weld-form", "", table_fields(sheet, Welding, ("weld",)))


def _steel(sheet: Sheet) -> Under:
    return Under(
        "Sizes and steels of your own",
        ("What the catalogue has not; give it here, then name it where it is asked for.",),
        (
            list_group(sheet, SectionTable, ("section",), "Sizes", opened=True),
            list_group(sheet, GradeTable, ("grade",), "Steels", opened=True),
        ),
    )


# ---------------------------------------------------------------- answers


def _answers(sheet: Sheet, made: Plan) -> Under:
    checks = {check.key: check for check in made.checks}
    forms = []
    for number, answer in enumerate(sheet.data.get("answer", [])):
        at: Path = ("answer", number)
        about = str(answer.get("about", ""))
        check = checks.get(about)
        if check is None:
            told = "Nothing asks this any more."
        elif check.basis == "answered":
            until = answer.get("until")
            told = f"In force until {until}." if until else "In force, without an end."
        else:
            told = "It has run out: it is asked again."
        name = sentence(f"{check.subject}: {check.question}?") if check else about
        keys = tuple(key for key in slots(Answer) if key != "about")
        fields = table_fields(sheet, Answer, at, keys=keys)
        forms.append(
            Form(f"at-answer-{number}", name, fields, told=told, buttons=(take_out(at, name),))
        )
    told = "" if forms else "None yet. Each question on the page before this one can be answered."
    return Under(
        "Answers given", (), (Group("answers", "Answers", told, tuple(forms), opened=True),)
    )


def answer_form(sheet: Sheet, about: str) -> Form:
    """Return the form by which a question of the proof is answered."""
    return add_form(
        sheet,
        Answer,
        ("answer",),
        "Answer this",
        without=("about",),
        hidden=((new_name(("answer",), "about"), about),),
        told="By whoever may answer it: an engineer, an official, a maker's data sheet.",
        button="Keep the answer",
    )


@cache
def _grades() -> tuple[str, ...]:
    """Return the names of the catalogue's steels."""
    return tuple(grade.name for grade in load_catalogue().grades)


def picked_from(data: Mapping[str, Any]) -> dict[str, tuple[str, ...]]:
    """Return the lists that fields of a page may be picked from, by the fields' kinds."""
    marks = [str(mark.get("name", "")) for mark in data.get("mark", [])]
    grades = [str(grade.get("name", "")) for grade in data.get("grade", [])]
    grades += _grades()
    edges = ("hinge@mid", "closing@mid", "bottom@mid", "top@mid")
    return {
        **LISTS,
        "mark": (*CORNERS, "L@mid", "R@mid", *marks),
        "leaf-mark": (*LEAF_CORNERS, *edges),
        "grade": tuple(grades),
    }
