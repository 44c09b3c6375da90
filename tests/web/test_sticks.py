"""Sticks on the page: what they cost, their marks, and what if, without script."""

from __future__ import annotations

from starlette.testclient import TestClient

from leafwright.job.store import Store
from tests.web.running import example


def test_sticks_with_costs_and_marks_and_the_ones_to_pick_straight(
    client: TestClient, store: Store
) -> None:
    slug = store.new("Boathouse", example("boathouse")).slug
    page = client.get(f"/job/{slug}/buy").text
    assert "the least that these pieces can cost from these sticks, proven" in page
    assert "Marks from the hooked end" in page
    assert "pick it straight" in page
    assert 'aria-label="A-HS, 13' in page


def test_what_if_is_asked_by_a_plain_form_and_answered_on_the_page(
    client: TestClient, store: Store
) -> None:
    slug = store.new("Boathouse", example("boathouse")).slug
    page = client.get(f"/job/{slug}/buy").text
    assert '<option value="short">one stick does not come</option>' in page
    answered = client.get(f"/job/{slug}/buy", params={"stick": "rack"}).text
    assert "only what is on the rack" in answered
    assert "wait" in answered
    # A question of what is not sold is no question.
    other = client.get(f"/job/{slug}/buy", params={"stick": "out:99 ft"})
    assert other.status_code == 200
    assert "99 ft is not to be had" not in other.text
    assert "What would do" not in other.text
