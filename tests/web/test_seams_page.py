"""Seams on the page: the map, ticks kept in the log, what is left, the hold before standing."""

from __future__ import annotations

import re
from html import unescape

from starlette.testclient import TestClient

from leafwright.job.store import Store
from tests.web.running import example


def text_of(page: str) -> str:
    return unescape(re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", page)))


def hidden(page: str, about: str) -> dict[str, str]:
    """Return what the form of a seam's tick sends."""
    form = next(f for f in page.split("<form ") if f'value="{about}"' in f)
    pairs = re.findall(r'name="([^"]+)" value="([^"]*)"', form)
    return {name: unescape(value) for name, value in pairs}


def test_a_seam_is_ticked_is_left_out_of_what_is_left_and_comes_back(
    client: TestClient, store: Store
) -> None:
    slug = store.new("Kiln", example("kiln-shed")).slug
    address = f"/job/{slug}/build/seams"
    page = client.get(address).text
    assert "59 of 59 seams are not ticked yet: 55 on pad and bench" in text_of(page)
    assert page.count('<button class="tick open"') == 59
    assert page.count("<svg") > 13
    form = hidden(page, "seam/leaf/bottom rail/hinge/face")
    ticked = client.post(f"/job/{slug}/tick", data=form, follow_redirects=True).text
    assert ticked.count('<button class="tick done"') == 1
    entry = store.log(slug)[-1]
    assert (entry.kind, entry.about) == ("tick", "seam/leaf/bottom rail/hinge/face")
    left = client.get(f"{address}?when=left").text
    assert left.count('<button class="tick') == 58
    assert "Bottom hinge corner: 1–10 9 left" in text_of(left)
    # A larger tube makes it another seam: the tick is not lost, and not believed.
    text = store.read(slug).text.replace('frame = "SHS 40 x 40 x 3"', 'frame = "SHS 50 x 50 x 3"')
    store.save(slug, text, base=store.read(slug).version)
    assert "changed since it was ticked, look again" in text_of(client.get(address).text)


def test_the_leaf_is_not_stood_while_seams_are_left(client: TestClient, store: Store) -> None:
    slug = store.new("Gate", example("yard-gate")).slug
    build = client.get(f"/job/{slug}/build").text
    assert f'href="/job/{slug}/build/seams#under"' in build
    hang = text_of(client.get(f"/job/{slug}/hang?leaf=right").text)
    assert "Hold point. Right leaf: 34 of 34 seams are not ticked yet" in hang
    assert "not to be stood up while a seam is left" in hang
    seams = text_of(client.get(f"/job/{slug}/build/seams?leaf=right").text)
    assert "B-M8" in seams
    assert "Its welding symbols, by AWS A2.4:2020" in seams
    assert "it runs through: nothing stands before its end." in seams


def test_a_tick_that_names_nothing_is_refused(client: TestClient, store: Store) -> None:
    slug = store.new("Kiln", example("kiln-shed")).slug
    form = {"about": "post/left", "entry": "0123456789", "hash": "x", "done": "1"}
    answer = client.post(f"/job/{slug}/tick", data=form)
    assert answer.status_code == 409
    assert "names no piece, hole, seam" in answer.text
