"""The order of welding on the page: one step at a time, its weld on the leaf as it lies."""

from __future__ import annotations

import re
from html import unescape

from starlette.testclient import TestClient

from leafwright.documents.weld_order import weld_order_document
from leafwright.job.file import read_job
from leafwright.job.store import Store
from leafwright.pipeline import plan
from leafwright.records import Held
from tests.web.running import example


def step_now(page: str) -> str:
    found = re.search(r'<p class="big">(.*?)</p>', page, re.S)
    assert found is not None
    return unescape(found[1])


def test_a_step_at_a_time_with_the_way_on_and_back(client: TestClient, store: Store) -> None:
    slug = store.new("Boathouse", example("boathouse")).slug
    document = weld_order_document(plan(read_job(example("boathouse"))))
    assert not isinstance(document.leaves, Held)
    right = document.leaves[1]
    assert f"/job/{slug}/build/order" in client.get(f"/job/{slug}/build").text
    at = f"/job/{slug}/build/order?leaf=right"
    first = client.get(at).text
    assert step_now(first) == f"{right.steps[0].words}."
    assert "Step before" not in first
    number = next(i for i, step in enumerate(right.steps, 1) if step.up == "back" and step.seam)
    page = client.get(f"{at}&step={number}").text
    assert step_now(page) == f"{right.steps[number - 1].words}."
    assert "back up" in page
    assert f"step={number + 1}#opened" in page
    assert f"step={number - 1}#opened" in page
    # The seam that the step welds is ticked there, and knows it on the map of the seams too.
    about = f"seam/{right.steps[number - 1].seam}"
    hash = page.split(f'value="{about}"><input type="hidden" name="hash" value="')[1][:16]
    sent = {"about": about, "hash": hash, "entry": "0123456789", "done": "1"}
    asked_of = {"stage": "build/order", "leaf": "right", "step": str(number)}
    answer = client.post(f"/job/{slug}/tick", data=sent | asked_of)
    assert answer.headers["location"].startswith(f"{at}&step={number}#tick-seam-right-")
    assert (
        f"{right.steps[number - 1].mark}</strong> welded" in client.get(f"{at}&step={number}").text
    )
    seams = client.get(f"/job/{slug}/build/seams?leaf=right").text
    assert seams.count('<button class="tick done"') == 1
    # What is asked beyond the last step, or is no number, is answered with a step that is there.
    for asked, words in (("9999", right.steps[-1].words), ("x7", right.steps[0].words)):
        answer = client.get(f"{at}&step={asked}")
        assert answer.status_code == 200
        assert step_now(answer.text) == f"{words}."
    for line in (*right.found, *right.cautions):
        assert line in unescape(page)


def test_an_opening_that_says_nothing_has_no_order(client: TestClient, store: Store) -> None:
    text = example("boathouse").replace('leaf_height = "', 'leaf_height = "99')
    slug = store.new("Too high", text).slug
    answer = client.get(f"/job/{slug}/build/order")
    assert answer.status_code == 200
