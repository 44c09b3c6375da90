"""A phone in one gloved hand: the smallest screen, its thumb, and what a glance at it must show."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from tests.web.running import Running, example

WIDE, HIGH = 360, 740


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    """The smallest phone that is looked at."""
    context = browser.new_context(
        viewport={"width": WIDE, "height": HIGH}, has_touch=True, is_mobile=True
    )
    context.set_default_timeout(15_000)
    yield context.new_page()
    context.close()


def settled(page: Page) -> None:
    """Wait until what follows the first answer is there."""
    expect(page.locator("#day")).not_to_contain_text("being worked out again", timeout=20_000)
    page.wait_for_load_state("networkidle")


def top_of(of: Locator) -> float:
    """Return how far down the screen something begins [px]."""
    box = of.bounding_box()
    assert box is not None
    return box["y"]


def press(page: Page, *keys: str) -> None:
    board = page.get_by_role("group", name="Keys for the reading")
    for key in keys:
        board.get_by_role("button", name=key, exact=True).tap()


def test_the_keys_stand_whole_on_the_screen_and_show_what_is_typed(
    page: Page, running: Running, boathouse: str
) -> None:
    page.goto(f"{running.url}/job/{boathouse}/measure")
    settled(page)
    page.get_by_role("button", name="Keys for width at the head").tap()
    board = page.get_by_role("group", name="Keys for the reading")
    for key in board.get_by_role("button").all():
        box = key.bounding_box()
        assert box is not None and box["y"] >= 0 and box["y"] + box["height"] <= HIGH
    field = page.get_by_label("width at the head", exact=True)
    assert 0 <= top_of(field) < top_of(board)
    expect(board.locator("output")).to_have_text("10'-7 5/16")
    # A fraction sets the old one right; a figure begins the reading anew.
    press(page, "3/8")
    expect(board.locator("output")).to_have_text("10'-7 3/8")
    press(page, "rub out", "rub out", "rub out", "5/16", "next reading")
    expect(board.locator("output")).to_have_text("14'-2 3/4")
    press(page, "1", "4", "feet", "2", "11/16", "done")
    expect(page.get_by_label("height of the left side", exact=True)).to_have_value("14'-2 11/16")
    expect(page.locator("#notice")).to_contain_text("The last edit:")
    text = running.store.read(boathouse).text
    assert "14'-2 11/16" in text and "10'-7 5/16" in text


def test_what_comes_in_above_does_not_move_what_is_in_the_hand(
    page: Page, running: Running, boathouse: str
) -> None:
    page.goto(f"{running.url}/job/{boathouse}/measure")
    settled(page)
    page.get_by_role("button", name="Keys for width at the head").tap()
    press(page, "1", "0", "feet", "9", "5/16", "next reading")
    field = page.get_by_label("height of the left side", exact=True)
    before = top_of(field)
    # The bad reading puts a stop and the whole question of what is wrong over the list.
    expect(page.locator("#doubt")).to_have_count(1)
    assert abs(top_of(field) - before) < 3
    press(page, "done")
    for state in ("drilled", "not drilled yet"):
        page.goto(f"{running.url}/job/{boathouse}/buy/holes?group=1#opened")
        settled(page)
        tick = page.get_by_role("button", name="Hole 4")
        tick.scroll_into_view_if_needed()
        before = top_of(tick)
        tick.tap()
        expect(tick).to_contain_text(state)
        assert abs(top_of(tick) - before) < 3


def test_a_stage_that_is_chosen_is_what_the_thumb_finds(page: Page, running: Running) -> None:
    gate = running.store.new("Yard gate", example("yard-gate")).slug
    page.goto(f"{running.url}/job/{gate}/shape")
    settled(page)
    # Several things stop the saw: on a stage the first is told, the others are one touch away.
    assert top_of(page.locator("#drawing")) < 0.6 * HIGH
    page.locator("#more-stops summary").tap()
    expect(page.get_by_text("make one narrower")).to_be_visible()
    for stage in ("Build", "Hang", "Prove"):
        page.locator("#day").get_by_role("link", name=stage).first.tap()
        settled(page)
        knot = page.locator(".knot.now")
        expect(knot).to_contain_text(stage)
        assert 0 <= top_of(knot) < HIGH / 4
        undo = page.get_by_role("button", name="Undo")
        assert 0 < top_of(undo) < HIGH - 44
    page.get_by_role("link", name="Drawing", exact=True).tap()
    expect(page.locator("#drawing svg")).to_be_in_viewport(ratio=0.9)


def test_no_number_of_what_is_in_doubt_is_cut_off(page: Page, running: Running) -> None:
    for name in ("yard-gate", "kiln-shed"):
        slug = running.store.new(name, example(name)).slug
        page.goto(f"{running.url}/job/{slug}/measure")
        settled(page)
        page.evaluate("document.querySelectorAll('details').forEach((d) => { d.open = true; })")
        cut = page.evaluate(
            "[...document.querySelectorAll('.scroll')]"
            ".filter((e) => e.scrollWidth > e.clientWidth + 1).map((e) => e.ariaLabel)"
        )
        assert cut == []


def test_a_new_job_asks_for_its_readings_and_makes_nothing_of_those_nobody_took(
    page: Page, running: Running
) -> None:
    page.goto(running.url)
    page.get_by_label("What is it called?").fill("Granary")
    page.get_by_role("button", name="Begin", exact=True).tap()
    page.wait_for_url("**/measure**")
    settled(page)
    slug = page.url.split("/job/")[1].split("/")[0]
    expect(page.locator("#stops")).to_contain_text("Nothing of the opening is read yet")
    # What the file to start from holds as an example is nowhere shown as if it had been read.
    expect(page.locator("#work")).not_to_contain_text("10'-0")
    expect(page.locator("#drawing svg")).to_be_visible()
    asked = page.locator("#to-read input[data-keys]")
    assert [field.input_value() for field in asked.all()] == [""] * 15
    page.goto(f"{running.url}/job/{slug}/buy")
    expect(page.locator("#work")).to_contain_text("There is no cut list")
    page.goto(f"{running.url}/job/{slug}/measure")
    settled(page)
    # The first is as the example has it to the letter: it was read all the same.
    page.get_by_role("button", name="Keys for width at the floor").tap()
    for feet, inches in (("10", "0"), ("10", "0"), ("10", "0")):
        press(page, *feet, "feet", *inches, "next reading")
    for feet in ("12", "12"):
        press(page, *feet, "feet", "0", "1/16", "next reading")
    press(page, "1", "5", "feet", "7", "1/2", "next reading")
    press(page, "1", "5", "feet", "7", "1/2", "next reading")
    press(page, "0", "done")
    expect(page.locator("#to-read li")).to_have_count(7)
    data = running.store.read(slug).text
    assert data.count('"not read yet"') == 7
    expect(page.locator("#day")).to_contain_text("7 still to read")
    expect(page.locator("#drawing")).to_contain_text("TL")
    expect(page.locator("#work")).not_to_contain_text("9'-0")
    # A reading that is taken out of what is read is gone, and undo brings it back.
    page.locator("#undo").get_by_role("button", name="Undo").tap()
    expect(page.locator("#to-read li")).to_have_count(8)


def test_a_number_of_the_picture_leads_to_its_row(
    page: Page, running: Running, boathouse: str
) -> None:
    page.goto(f"{running.url}/job/{boathouse}/build")
    settled(page)
    page.locator("#drawing").get_by_role("link", name="7: Height at the closing edge").tap()
    expect(page.locator("#spot-pad-7")).to_be_in_viewport()
    assert 0 <= top_of(page.locator("#spot-pad-7")) < HIGH / 2


def test_what_is_opened_of_the_holes_is_not_behind_the_list_of_parts(
    page: Page, running: Running, boathouse: str
) -> None:
    page.goto(f"{running.url}/job/{boathouse}/buy/holes")
    settled(page)
    page.get_by_role("link", name="A-FP, floor plate, left leaf").tap()
    settled(page)
    assert 0 <= top_of(page.locator("#opened-title")) < HIGH / 2
    # The part before is told right over it, and the whole list is one touch away.
    page.locator("#hole-parts > summary").tap()
    expect(page.get_by_role("link", name="B-HS, hanging stile, right leaf")).to_be_visible()


def test_the_checks_of_a_kind_are_one_touch_away(
    page: Page, running: Running, boathouse: str
) -> None:
    page.goto(f"{running.url}/job/{boathouse}/prove")
    settled(page)
    page.get_by_role("link", name="to ask").tap()
    expect(page.locator("#checks-ask > summary")).to_be_in_viewport()
    assert top_of(page.locator("#checks-ask")) < HIGH / 2
