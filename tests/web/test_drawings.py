"""Every drawing of the page, in every job: its words are read, not guessed at."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from itertools import pairwise
from typing import Any

import pytest
from starlette.testclient import TestClient

from leafwright.job.store import Store
from leafwright.job.template import starting_file
from leafwright.paper.inspect import defects
from leafwright.paper.scene import Circle, Point, Polyline, Scene, Text
from leafwright.paper.svg import svg_text
from leafwright.web import create_app, pictures
from tests.web.running import example

JOBS = {
    "boathouse": example("boathouse"),
    "yard-gate": example("yard-gate"),
    "kiln-shed": example("kiln-shed"),
    "a new pair, metric": starting_file("New", system="metric", leaves="pair"),
    "a new leaf, feet and inches": starting_file("New", system="feet-inch", leaves="single"),
}
PAGES = (
    "/measure",
    "/shape",
    *(f"/shape/swing?way={way}&angle={n}" for way in ("toward", "away") for n in (20, 90)),
    "/prove",
    "/prove?case=person",
    "/buy",
    "/buy/holes",
    "/build",
    "/build/seams",
    "/build/order",
    "/build/order?step=20",
    "/hang",
    "/hang?pose=4",
    "/hand-over",
)
#: Links on those pages that lead to other drawings.
MORE = re.compile(r'href="/job/[^/"]+(/[^"#]*\?(?:card|group|leaf|pose)=[^"#]*)')


@pytest.fixture(scope="module", params=list(JOBS))
def scenes(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[list[tuple[str, Scene]]]:
    """Every scene that the pages of a job show, with the page that shows it."""
    drawn: list[tuple[str, Scene]] = []
    now = ""
    to_svg = svg_text

    def kept(scene: Scene, **more: Any) -> str:
        drawn.append((now, scene))
        return to_svg(scene, **more)

    store = Store(tmp_path_factory.mktemp("drawings"))
    slug = store.new("Doors", JOBS[request.param]).slug
    client = TestClient(
        create_app(store, today=lambda: date(2026, 4, 2)),
        base_url="http://127.0.0.1:8420",
        client=("127.0.0.1", 50000),
    )
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(pictures, "svg_text", kept)
        client.get(f"/job/{slug}")
        todo = list(PAGES)
        for now in todo:
            answer = client.get(f"/job/{slug}{now}")
            assert answer.status_code == 200
            if "?" not in now:
                found = (link.replace("&amp;", "&") for link in MORE.findall(answer.text))
                todo += [link for link in dict.fromkeys(found) if link not in todo]
    assert len(drawn) > 30
    yield drawn


def _inside(at: Point, corners: tuple[Point, ...]) -> bool:
    """Return whether a point lies in a convex outline."""
    sides = [
        (b[0] - a[0]) * (at[1] - a[1]) - (b[1] - a[1]) * (at[0] - a[0])
        for a, b in pairwise((*corners, corners[0]))
    ]
    return all(s >= 0.0 for s in sides) or all(s <= 0.0 for s in sides)


def _on_a_label(scene: Scene, text: Text) -> bool:
    """Return whether words stand on a white ring or pill of their own, over what is under it."""
    for item in scene.all_items:
        if isinstance(item, Circle) and item.fill == "white":
            x, y = item.centre
            if (text.at[0] - x) ** 2 + (text.at[1] - y) ** 2 < 1.0:
                return True
        if isinstance(item, Polyline) and item.fill == "white" and len(item.points) == 6:
            if _inside(text.at, item.points):
                return True
    return False


def test_words_lie_on_no_words_and_on_no_heavy_line(scenes: list[tuple[str, Scene]]) -> None:
    found = []
    for page, scene in scenes:
        bare = tuple(
            item
            for item in scene.items
            if not (isinstance(item, Text) and _on_a_label(scene, item))
        )
        found += [(page, said) for said in defects(replace(scene, items=bare))]
    assert found == []


def test_a_white_box_behind_words_rubs_out_no_steel(scenes: list[tuple[str, Scene]]) -> None:
    found = []
    for page, scene in scenes:
        if not page.startswith(("/shape/swing", "/buy/holes")):
            continue
        bare = tuple(
            replace(item, knockout=False) if isinstance(item, Text) else item
            for item in scene.items
        )
        found += [
            (page, said)
            for said in defects(replace(scene, items=bare))
            if "crossed by a heavy line" in said
        ]
    assert found == []
