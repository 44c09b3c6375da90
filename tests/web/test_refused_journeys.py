"""What was typed while a save was refused is sent again, or stays in sight until it is saved."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, Route, expect

from tests.web.conftest import ON_A_PHONE, Watched
from tests.web.running import Running

FULL = '<main><p class="told">The disk is full: this was not saved.</p></main>'


def refuse(page: Page, times: int, status: int, body: str, kind: str = "text/html") -> None:
    """Refuse the next so many edits, then let them through."""
    left = [times]

    def answer(route: Route) -> None:
        left[0] -= 1
        if left[0] < 0:
            route.continue_()
        else:
            route.fulfill(status=status, content_type=kind, body=body)

    page.route("**/edit", answer)


def typed(page: Page, label: str, value: str) -> None:
    field = page.get_by_label(label, exact=True).first
    field.fill(value)
    field.press("Tab")


@ON_A_PHONE
@pytest.mark.parametrize(
    ("status", "body"),
    [(507, FULL), (429, "Too many requests at once; wait a few seconds.\n")],
    ids=["full disk", "too many"],
)
def test_what_a_full_disk_or_a_busy_server_refused_is_sent_again(
    watched: Watched, running: Running, boathouse: str, status: int, body: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/shape")
    refuse(page, 2, status, body, "text/html" if status == 507 else "text/plain")
    typed(page, "Meeting gap", "7/16 in")
    expect(page.locator("#offline")).to_contain_text("Not saved yet.")
    expect(page.locator("#offline")).to_be_hidden(timeout=10_000)
    expect(page.locator("#notice")).to_contain_text("The last edit:")
    assert 'meeting_gap = "7/16 in"' in running.store.read(boathouse).text


@ON_A_PHONE
def test_what_was_refused_for_good_stays_in_sight_when_something_else_is_saved(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/shape")
    refuse(page, 1, 500, '<main><p class="told">This is a fault of Leafwright.</p></main>')
    typed(page, "Meeting gap", "7/16 in")
    expect(page.locator("#offline")).to_contain_text("This is a fault")
    typed(page, "Top gap", "5/8 in")
    expect(page.locator("#notice")).to_contain_text("The last edit:")
    expect(page.locator(".field.wrong").first).to_contain_text("Not saved. This is a fault")
    expect(page.get_by_label("Meeting gap", exact=True)).to_have_value("7/16 in")
    kept = running.store.read(boathouse).text
    assert 'top_gap = "5/8 in"' in kept and 'meeting_gap = "7/16 in"' not in kept
    page.reload()
    # The page tells the edit before too: what is typed is saved when it is the maker's no more.
    expect(page.locator("html.live")).to_be_attached()
    expect(page.locator("[data-typed]")).to_have_count(0)
    assert 'meeting_gap = "7/16 in"' in running.store.read(boathouse).text
