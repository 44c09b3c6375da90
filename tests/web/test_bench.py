"""What a maker at the bench's screen, and at the printer beside it, must be able to rely on."""

from __future__ import annotations

from playwright.sync_api import expect

from tests.web.conftest import AT_THE_BENCH, Watched
from tests.web.running import Running


@AT_THE_BENCH
def test_a_page_that_is_left_open_comes_to_the_whole_plan_by_itself(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/measure")
    expect(page.locator("#day")).not_to_contain_text("being worked out", timeout=60_000)
    expect(page.locator("#stops")).not_to_contain_text("Not for cutting")
