"""Holes and plates on the page: every part opens, a tick is kept and knows when a hole moved."""

from __future__ import annotations

import re
from html import unescape

import pytest
from starlette.testclient import TestClient

from leafwright.job.file import read_job
from leafwright.job.store import Store
from leafwright.pipeline import plan
from leafwright.records import Held
from tests.web.running import example


def text_of(page: str) -> str:
    return unescape(re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", page)))


@pytest.mark.parametrize("name", ["kiln-shed"])
def test_every_part_opens_with_all_its_holes(name: str, client: TestClient, store: Store) -> None:
    slug = store.new(name, example(name)).slug
    found = plan(read_job(example(name)), upto="shop").holes
    assert not isinstance(found, Held)
    last = len(found.parts) + len(found.plates)
    seen = 0
    for number in (1, last):
        answer = client.get(f"/job/{slug}/buy/holes?group={number}")
        assert answer.status_code == 200
        seen += answer.text.count('name="about" value="hole/')
        assert "<svg" in answer.text
    assert seen == len(found.parts[0].holes) + len(found.plates[-1].holes)
    assert "Holes and plates" in client.get(f"/job/{slug}/buy").text


def test_a_tick_is_kept_and_asks_to_look_again_where_the_hole_moved(
    client: TestClient, store: Store
) -> None:
    slug = store.new("Boathouse", example("boathouse")).slug
    where = f"/job/{slug}/buy/holes?group=1"
    page = client.get(where).text
    about, hash = re.findall(
        r'name="about" value="(hole/[^"]+access hole)"><input type="hidden" name="hash" '
        r'value="([0-9a-f]+)"',
        page,
    )[0]
    data = {
        "base": store.read(slug).version,
        "stage": "buy/holes",
        "group": "1",
        "about": about,
        "hash": hash,
        "entry": "abcdefgh12",
        "done": "1",
    }
    client.post(f"/job/{slug}/tick", data=data)
    ticked = client.get(where).text
    assert "1 of 10 drilled" in text_of(ticked) and "from the hook" in ticked
    # On to the next part without the way back through the list.
    assert re.search(r'rel="next" href="[^"]+\?group=2#opened"', ticked)
    longer = example("boathouse").replace(
        'bottom_pin_length = "5 in"', 'bottom_pin_length = "5.5 in"'
    )
    store.save(slug, longer, base=store.read(slug).version)
    told = text_of(client.get(where).text)
    assert "changed since it was ticked: look again" in told
