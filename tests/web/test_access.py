"""Every page, and what it becomes, is whole for those who cannot see, point, or read small type.

WCAG 2.2 AA is what is held to; the pages are found by following the links, so new ones are held
to it too.
"""

from __future__ import annotations

import re
from collections import Counter

import pytest
from playwright.sync_api import Browser
from starlette.testclient import TestClient

from leafwright.job.store import Store
from leafwright.job.template import starting_file
from leafwright.web import create_app
from tests.web.conftest import AT_THE_BENCH, ON_A_PHONE, SCREENS, Watched
from tests.web.looked import faults
from tests.web.running import Running, example
from tests.web.walked import kind_of, pages_of

SHARES = 6


def client_of(store: Store) -> TestClient:
    return TestClient(
        create_app(store),
        base_url="http://127.0.0.1:8420",
        client=("127.0.0.1", 50000),
        follow_redirects=False,
    )


@pytest.fixture(scope="session")
def gate(running: Running) -> tuple[str, list[str]]:
    """A job that is not for cutting, with an address of each kind of its pages."""
    slug = running.store.new("Yard gate", example("yard-gate")).slug
    return slug, pages_of(client_of(running.store), slug)


@pytest.mark.parametrize("share", range(SHARES))
def test_every_page_is_whole_for_all(
    browser: Browser, running: Running, gate: tuple[str, list[str]], share: int
) -> None:
    """In shares, so that no worker is left with all of it; every second page at the bench."""
    for name, (width, height) in SCREENS.items():
        context = browser.new_context(
            viewport={"width": width, "height": height}, has_touch=name == "phone"
        )
        seen = Watched(context.new_page(), running.url)
        here = gate[1][share::SHARES]
        for address in here[::2] if name == "phone" else here[1::2]:
            seen.page.goto(running.url + address)
            assert faults(seen.page) == [], address
        context.close()
        assert seen.errors == []
        assert seen.foreign == []


def test_the_walk_finds_every_page_that_a_job_has(gate: tuple[str, list[str]]) -> None:
    slug, found = gate
    kinds = {kind_of(address)[0].removeprefix("/job").lstrip("/") for address in found}
    # The walk is no shorter than this: pages under each stage, and those beside them.
    assert kinds >= {
        "measure/marks",
        "measure/reading/number",
        "shape/leaf/side",
        "shape/swing",
        "prove/calculation",
        "buy/holes",
        "buy/pack",
        "build/order",
        "build/seams",
        "hang",
        "hand-over",
        "history",
        "file",
        "take-away",
        "figures/one",
    }
    assert len(found) > 40
    assert all(f"/job/{slug}" in address for address in found if address.startswith("/job"))


def test_each_page_has_a_title_of_its_own(gate: tuple[str, list[str]], running: Running) -> None:
    client = client_of(running.store)
    titles = []
    for address in gate[1]:
        page = client.get(address).text
        title = re.search(r"<title>([^<]*)</title>", page)
        assert title is not None and title[1].endswith("Leafwright")
        if address.startswith("/job/"):
            assert "Yard gate" in title[1]
        if "?" not in address:
            titles.append(title[1])
    assert [title for title, count in Counter(titles).items() if count > 1] == []


@ON_A_PHONE
def test_a_new_job_is_whole_for_all_before_anything_is_read(
    watched: Watched, running: Running
) -> None:
    text = starting_file("Nothing yet", system="feet-inch", leaves="pair")
    slug = running.store.new("Nothing yet", text).slug
    for stage in ("measure", "shape", "buy", "hang", "hand-over"):
        watched.page.goto(f"{running.url}/job/{slug}/{stage}")
        assert faults(watched.page) == [], stage


@AT_THE_BENCH
def test_what_goes_wrong_is_whole_for_all(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/shape")
    field = page.get_by_label("Meeting gap", exact=True)
    field.fill("about a thumb")
    field.press("Tab")
    page.locator(".wrong .error").wait_for()
    assert faults(page) == []
    page.goto(f"{running.url}/figures/sling-tension?not=this")
    assert faults(page) == []
    page.goto(f"{running.url}/job/{boathouse}/nothing-of-this-name")
    assert faults(page) == []
    good = running.store.read(boathouse)
    running.store.save(boathouse, good.text.replace('"pair"', '"pare"'), base=good.version)
    page.goto(f"{running.url}/job/{boathouse}")
    assert page.locator(".problems li").count() > 0
    assert faults(page) == []
