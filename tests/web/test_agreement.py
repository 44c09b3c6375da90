"""The sizes on the page are those of the JSON, rounded to the tape by the tests' own sums."""

from __future__ import annotations

import html
import re
from fractions import Fraction

import pytest
from starlette.testclient import TestClient

from leafwright import plan, read_job
from leafwright.job.store import Store
from leafwright.web.shown import sizes
from tests.web.running import example

SHOWN = re.compile(r"(?P<feet>\d+)'-|(?P<part>\d+/\d+)\"|(?P<inch>\d+)(?= \d+/|\")")


def metres(shown: str) -> tuple[float, float]:
    """Return a length as a tape shows it, and half of the tape's step [m]."""
    words = shown.replace("\xa0", " ").partition(" ±")[0]
    if words.endswith("mm"):
        return float(words.removesuffix(" mm")) / 1000.0, 0.0005
    inches = Fraction(0)
    for found in SHOWN.finditer(words):
        inches += 12 * int(found["feet"] or 0) + Fraction(found["part"] or found["inch"] or 0)
    return float(inches) * 0.0254 * (-1 if words.startswith("-") else 1), 0.0254 / 32.0


@pytest.mark.parametrize("name", ["boathouse", "kiln-shed", "yard-gate"])
def test_the_sizes_on_the_page_are_those_of_the_json(
    client: TestClient, store: Store, name: str
) -> None:
    store.new(name, example(name))
    told = {q["key"]: q for q in client.get(f"/api/jobs/{name}/plan").json()["quantities"]}
    page = html.unescape(client.get(f"/job/{name}/shape").text)
    rows = sizes(plan(read_job(example(name))))
    assert len(rows) > 8
    for row in rows:
        assert row.value in page, row
        shown, half = metres(row.value)
        assert abs(shown - told[row.key]["value"]) <= half + 1e-9, row
