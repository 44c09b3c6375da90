"""A plan made from an earlier one is the plan made anew, whatever was changed in between.

Random edits, each of which leaves a job that can be read: a value made another, a line taken out,
or a line or table put in that the starting file shows. As the page does it, some are first planned
only as far as the leaf, and the whole is then made from that and from the plan before.
"""

from __future__ import annotations

import copy
import dataclasses
import itertools
import random
import re
import tomllib
from collections.abc import Iterator
from datetime import date, timedelta
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import tomlkit

from leafwright import plan, plan_json, read_job
from leafwright.documents.records import document_json
from leafwright.job.errors import JobError
from leafwright.job.model import Job
from leafwright.job.template import starting_file
from leafwright.pipeline import Plan
from leafwright.web.api import DOCUMENT_OF
from leafwright.web.pictures import doorway_picture
from leafwright.web.schema import model_at, slots, value_at
from tests.sizes import cases

EXAMPLES = Path(__file__).parents[1] / "examples"
NAMES = ("yard-gate", "kiln-shed", "boathouse")
#: So many cases are tried in one test, so that workers share them.
SHARES = 5
EDITS = 2
Where = tuple[str | int, ...]


@cache
def planned(name: str) -> Plan:
    return plan(read_job((EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")))


@cache
def everything(system: str) -> dict[str, Any]:
    """Return a job's data with every line that the starting file shows."""
    text = starting_file(
        "all of it", system="metric" if system == "metric" else "feet-inch", leaves="pair"
    )
    return tomllib.loads(re.sub(r"(?m)^#(?=[A-Za-z\[])", "", text))


def places(data: Any, where: Where = ()) -> Iterator[Where]:
    for part, value in data.items() if isinstance(data, dict) else enumerate(data):
        if (*where, part) != ("leafwright",):
            yield (*where, part)
        if isinstance(value, dict | list):
            yield from places(value, (*where, part))


def another(value: Any, where: Where, data: dict[str, Any], rng: random.Random) -> Any:
    """Return another value that may stand where one does."""
    model = model_at(where[:-1], data) if isinstance(where[-1], str) else None
    slot = slots(model).get(str(where[-1])) if model else None
    if slot is not None and slot.choices:
        return rng.choice(slot.choices)
    if isinstance(value, bool):
        return not value
    if isinstance(value, int | float):
        return value + rng.choice([1, 2]) if isinstance(value, int) else value * 1.1
    if isinstance(value, date):
        return value + timedelta(days=rng.choice([-400, 400]))
    numbers = list(re.finditer(r"\d+/\d+|\d+(?:\.\d+)?", value))
    if not numbers:
        return f"{value} too"
    one = rng.choice(numbers)
    new = rng.choice(["1/8", "3/8", "5/16"]) if "/" in one[0] else f"{float(one[0]) + 1:g}"
    return value[: one.start()] + new + value[one.end() :]


def put(data: dict[str, Any], where: Where, value: Any) -> None:
    """Put a value in at a place of data, with the tables around it where they are missing."""
    here: Any = data
    for part, following in itertools.pairwise(where):
        if isinstance(here, dict):
            here = here.setdefault(part, [] if isinstance(following, int) else {})
        else:
            here = here[int(part)]
    if isinstance(here, list) and where[-1] == len(here):
        here.append(value)
    else:
        here[where[-1]] = value


def edited(data: dict[str, Any], rng: random.Random) -> tuple[dict[str, Any], Job, Where]:
    """Return data with one edit at random, the job it is, and where it was made."""
    while True:
        made = copy.deepcopy(data)
        kind = rng.random()
        where = rng.choice(list(places(data)))
        value = value_at(data, where)
        try:
            if kind < 0.15:
                around = value_at(made, where[:-1])
                del around[where[-1]]
            elif kind < 0.45 and not isinstance(value, dict | list):
                put(made, where, another(value, where, data, rng))
            else:
                whole = everything(data["job"]["system"])
                where = rng.choice(list(places(whole)))
                put(made, where, copy.deepcopy(value_at(whole, where)))
            return made, read_job(tomlkit.dumps(made)), where
        except (JobError, LookupError, TypeError):
            continue


def told(made: Plan, *, whole: bool) -> dict[str, Any]:
    """Return what is told of a plan: all that it holds, its drawing, and its documents."""
    documents = DOCUMENT_OF.items() if whole else ()
    parts = {name: document_json(document(made)) for name, document in documents}
    return {"plan": plan_json(made), "drawing": doorway_picture(made, chosen="", page="/"), **parts}


@pytest.mark.parametrize("share", range(SHARES))
def test_a_plan_made_from_an_earlier_one_is_the_plan_made_anew(share: int) -> None:
    for seed in range(share, cases(25, 500), SHARES):
        rng = random.Random(seed)
        name = NAMES[seed % len(NAMES)]
        before, at = planned(name), []
        data = tomllib.loads((EXAMPLES / f"{name}.toml").read_text(encoding="utf-8"))
        on = rng.choice([None, date(2026, 12, 1)])
        for _ in range(EDITS):
            data, job, where = edited(data, rng)
            at.append(where)
            ahead = before
            if rng.random() < 0.5:
                begun = plan(job, upto=rng.choice(["leaf", "shop"]), previous=before, on=on)
                ahead = dataclasses.replace(begun, inputs={**before.inputs, **begun.inputs})
                if len(at) < EDITS:
                    # The next edit comes before the whole was made of this one.
                    before = ahead
                    continue
            before = plan(job, previous=ahead, on=on)
        whole = seed < SHARES
        made, anew = (told(p, whole=whole) for p in (before, plan(job, on=on)))
        assert [key for key in anew if made[key] != anew[key]] == [], (seed, name, at)
