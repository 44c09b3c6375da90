"""What the proof asks for: told by the names of the page's fields, with the way to them."""

from __future__ import annotations

import html
import re

import pytest
from starlette.testclient import TestClient

from leafwright.job.store import Store
from leafwright.job.template import starting_file
from leafwright.web.in_fields import in_fields, written_at
from leafwright.web.trade import ASKS
from tests.web.running import example

KEYS = {key for _, key in ASKS if "_" in key}


@pytest.mark.parametrize("name", ["boathouse", "kiln-shed", "yard-gate", "new"])
def test_no_check_asks_for_a_key_of_the_file(client: TestClient, store: Store, name: str) -> None:
    text = starting_file("New", system="feet-inch", leaves="pair") if name == "new" else None
    slug = store.new(name, text or example(name)).slug
    client.get(f"/job/{slug}/hang")
    page = html.unescape(client.get(f"/job/{slug}/prove").text)
    asked = re.findall(r'<p class="change">(.*?)</p>', page)
    assert asked
    for words in asked:
        assert not re.search(r"\[\[?[a-z]", words), words
        assert not KEYS & set(re.findall(r"[a-z]+(?:_[a-z]+)+", words)), words
    # Each way to a field leads to a page that has it.
    ways = set(re.findall(rf'href="(/job/{slug}/[^"]+)"[^>]*>To write it', page))
    assert ways
    for way in ways:
        answer = client.get(way.partition("#")[0])
        assert answer.status_code == 200
        assert f'id="{way.partition("#")[2]}"' in answer.text, way


def test_a_key_is_told_by_the_name_of_its_field_and_its_page() -> None:
    asked = 'say public = "no" in [building], or write pin_weld in the mount or in an [[answer]]'
    assert in_fields(asked) == (
        "say “Do others than your own people use it”: no in “The building”, or write “Pin to "
        "plate: leg of the fillet” in the mount or in an answer"
    )
    pair = {"each_leaf": {}, "leaf": [{"hand": "left"}, {"hand": "right"}]}
    assert written_at(asked, "left/pin", pair) == (
        ("prove/building#under", "The building"),
        ("shape/leaf/both#under", "Both leaves"),
    )
    own = {"leaf": [{"hand": "left"}, {"hand": "right"}]}
    assert written_at("give pin_weld", "right/pin", own) == (
        ("shape/leaf/right#under", "Right leaf"),
    )
    # What is no key of the file stays as it is.
    assert in_fields("hold that against s_min") == "hold that against s_min"
    assert written_at("a thicker stile", "left/stile", own) == ()
