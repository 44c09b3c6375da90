"""What a maker at the bench's screen, and at the printer beside it, must be able to rely on."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from tests.web.conftest import AT_THE_BENCH, Watched
from tests.web.running import Running, example


@AT_THE_BENCH
def test_a_page_that_is_left_open_comes_to_the_whole_plan_by_itself(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/measure")
    expect(page.locator("#day")).not_to_contain_text("being worked out", timeout=60_000)
    expect(page.locator("#stops")).not_to_contain_text("Not for cutting")


#: The worst contrast of a drawing's words with what is behind them: ratios as of WCAG 2.2, 1.4.3.
WORST_WORDS = """() => {
  const bright = (colour) => {
    const [r, g, b] = colour.match(/[0-9.]+/g).map((n) => n / 255)
      .map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const sheet = getComputedStyle(document.documentElement).getPropertyValue('--sheet');
  const probe = document.body.appendChild(document.createElement('i'));
  probe.style.color = sheet;
  const behind = bright(getComputedStyle(probe).color);
  const words = [...document.querySelectorAll('svg text')];
  const ratios = words.map((t) => {
    const [a, b] = [bright(getComputedStyle(t).fill), behind].sort((x, y) => y - x);
    return [(a + 0.05) / (b + 0.05), t.textContent];
  });
  return ratios.sort((x, y) => x[0] - y[0])[0];
}"""


@AT_THE_BENCH
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_words_in_drawings_are_read_in_the_light_and_the_dark(
    watched: Watched, running: Running, boathouse: str, scheme: str
) -> None:
    page = watched.page
    page.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
    for path in ("measure", "shape/swing", "prove", "buy", "build", "build/seams", "hang"):
        page.goto(f"{running.url}/job/{boathouse}/{path}")
        ratio, words = page.evaluate(WORST_WORDS)
        assert ratio >= 4.5, (path, words)


def printed(page: Page) -> str:
    """Return the words that a page prints."""
    page.emulate_media(media="print")
    return page.locator("body").inner_text()


@AT_THE_BENCH
def test_a_print_holds_the_work_and_no_control_of_the_page(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/buy?card=1")
    card = printed(page)
    assert "Card 1 of 6" in card and "not cut yet" in card
    # A card is cut from: the other cards and the other stages are not on its sheet.
    assert "Cut cards" not in card and "Hand over" not in card
    page.goto(f"{running.url}/job/{boathouse}/hang")
    hang = printed(page)
    assert "Keep everybody" in hang and "19 people" in hang
    for control in (
        "Undo",
        "Right leaf",
        "Next",
        "nothing read of hung leaves",
        "What is left to weld",
    ):
        assert control not in hang
    page.goto(f"{running.url}/job/{boathouse}")
    assert "Hand over" in printed(page)


@AT_THE_BENCH
def test_a_part_stands_beside_the_drawing_that_it_was_touched_on(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/shape")
    page.locator("svg .piece[data-part='left/brace-1']").click(force=True)
    expect(page.locator("#part")).to_contain_text("brace, left leaf")
    drawing, part = page.locator("#drawing").bounding_box(), page.locator("#part").bounding_box()
    assert drawing is not None and part is not None
    assert part["x"] >= drawing["x"] + drawing["width"]
    assert -1.0 <= drawing["y"] < 400.0 and -1.0 <= part["y"] < 400.0


@AT_THE_BENCH
def test_all_that_stops_the_saw_is_told_on_the_first_page(
    watched: Watched, running: Running
) -> None:
    page = watched.page
    slug = running.store.new("Yard gate", example("yard-gate")).slug
    page.goto(f"{running.url}/job/{slug}/buy")
    stops = page.locator("#stops .stop")
    expect(stops).to_have_count(5)
    expect(stops.first).to_be_visible()
    expect(stops.last).not_to_be_visible()
    page.goto(f"{running.url}/job/{slug}")
    expect(stops.last).to_be_visible()
    page.get_by_role("link", name="Look at what is in doubt, and decide").click()
    expect(page.locator("#doubt")).to_be_in_viewport()


@AT_THE_BENCH
def test_the_proof_begins_with_what_needs_the_maker(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/prove")
    page.get_by_role("link", name=re.compile("to ask$")).click()
    expect(page.locator("#checks-ask > summary")).to_be_in_viewport()
    first = page.locator(".check").first.bounding_box()
    moves = page.locator("#loaded").bounding_box()
    assert first is not None and moves is not None and first["y"] < moves["y"]
