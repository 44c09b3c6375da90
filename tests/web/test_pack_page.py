"""Buying and packing on the page: the lists, power, and a tick for each thing packed."""

from __future__ import annotations

import re
from html import unescape

import pytest
from starlette.testclient import TestClient

from leafwright.job.file import read_job
from leafwright.job.store import Store
from leafwright.pipeline import plan
from leafwright.shop.pack import Pack
from tests.web.running import example

TICK = re.compile(r'<form method="post" action="/job/[^"]+/tick"[^>]*>(.*?)</form>', re.DOTALL)


def fields(form: str) -> dict[str, str]:
    found = re.findall(r'<input type="hidden" name="([^"]*)" value="([^"]*)"', form)
    return {unescape(name): unescape(value) for name, value in found}


@pytest.mark.parametrize("name", ["boathouse", "kiln-shed", "yard-gate"])
def test_everything_to_buy_and_pack_is_on_the_page(
    name: str, client: TestClient, store: Store
) -> None:
    slug = store.new(name, example(name)).slug
    page = unescape(client.get(f"/job/{slug}/buy/pack").text)
    pack = plan(read_job(example(name))).pack
    assert isinstance(pack, Pack)
    for line in pack.buying.lines:
        times = f"{line.count} × " if line.count else ""
        assert f"{times}{line.what}" + (f", {line.size}" if line.size else "") in page
    assert all(asked in page for asked in pack.buying.asked)
    things = [item for operation in pack.operations for item in operation.items]
    assert len(TICK.findall(page)) == len(things)
    for operation in pack.operations:
        assert all(caution in page for caution in operation.cautions)
    assert f'href="/job/{slug}/buy/pack#under"' in client.get(f"/job/{slug}/buy").text


def test_a_tick_holds_until_what_was_packed_changes(client: TestClient, store: Store) -> None:
    slug = store.new("Boathouse", example("boathouse")).slug
    page = client.get(f"/job/{slug}/buy/pack").text
    form = next(f for f in map(fields, TICK.findall(page)) if f["about"] == "pack/clamps")
    answer = client.post(f"/job/{slug}/tick", data=form)
    assert answer.status_code == 303
    page = client.get(f"/job/{slug}/buy/pack").text
    assert len(re.findall(r'class="tick done"', page)) == 1
    # Another thing's tick is as it was; a piece that is cut is not ticked by it.
    assert 'class="tick changed"' not in page
    version = re.search(r'name="base" value="([^"]+)"', page)
    assert version is not None
    changed = example("boathouse").replace('mid_rail = [{ at = "half" }]', "mid_rail = []")
    assert changed != example("boathouse")
    store.save(slug, changed, base=version[1], note="no mid rail")
    page = client.get(f"/job/{slug}/buy/pack").text
    assert len(re.findall(r'class="tick changed"', page)) == 1
