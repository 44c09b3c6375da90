"""A maker at work, on a phone and at the bench, in the system's Chromium."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, Page, Route, expect

from leafwright.job.store import Saved
from tests.web.conftest import ARGUMENTS, AT_THE_BENCH, ON_A_PHONE, Watched
from tests.web.running import Running

#: What is read of an opening that is nearly true.
SQUARE = {
    "width at the floor": "10'-0",
    "width at 72 in up": "10'-0",
    "width at the head": "10'-0 1/16",
    "height of the left side": "12'-0",
    "height of the right side": "12'-0",
    "diagonal, bottom left to top right": "15'-7 7/16",
    "diagonal, bottom right to top left": "15'-7 7/16",
    "left side, top off plumb outward": "0 in",
    "right side, top off plumb outward": "0 in",
}


def changed(page: Page, label: str, value: str) -> None:
    """Type into a field and leave it, as a maker does."""
    field = page.get_by_label(label, exact=True).first
    field.fill(value)
    field.press("Tab")


def opened(page: Page, group: str) -> None:
    """Unfold a group of fields."""
    summary = page.locator("summary", has_text=group).first
    if summary.locator("xpath=..").get_attribute("open") is None:
        summary.click()


@ON_A_PHONE
def test_from_nothing_to_a_packet(watched: Watched, running: Running, tmp_path: Path) -> None:
    page = watched.page
    page.goto(running.url)
    page.get_by_label("What is it called?").fill("Barn doors")
    page.get_by_role("button", name="Begin", exact=True).click()
    expect(page).to_have_url(re.compile(r"/job/barn-doors(-\d+)?/measure"))
    expect(page.locator("#drawing svg")).to_be_visible()
    for label, read in SQUARE.items():
        changed(page, label, read)
    expect(page.locator("#day")).to_contain_text("9 readings agree, 6 still to read")
    expect(page.locator("#stops")).to_be_empty()
    page.get_by_role("link", name="Take away").click()
    page.get_by_role("button", name="Make the packet (PDF)").click()
    with page.expect_download(timeout=60_000) as got:
        page.get_by_role("link", name="Take the packet").click(timeout=60_000)
    file = tmp_path / "packet.pdf"
    got.value.save_as(file)
    assert file.read_bytes().startswith(b"%PDF")


@AT_THE_BENCH
def test_readings_are_entered_and_each_says_how_it_agrees(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/measure")
    row = page.locator("#reading-2")
    expect(row).to_contain_text("agrees with the rest")
    changed(page, "width at the head", "10'-9 5/16")
    expect(page.locator("#stops")).to_contain_text("Not for cutting.")
    expect(row).to_have_class(re.compile("look|watch"))
    changed(page, "width at the head", "10'-7 5/16")
    expect(page.locator("#stops")).not_to_contain_text("Not for cutting.")
    new = page.locator(".add")
    new.get_by_label("What was read").select_option("width-at")
    new.get_by_label("How high up, how far out, or how far right", exact=True).fill("3 ft")
    new.get_by_label("Reading", exact=True).fill("10'-6 7/8")
    new.get_by_role("button", name="Add it").click()
    expect(page.get_by_label("width at 3 ft up", exact=True)).to_have_value("10'-6 7/8")
    expect(page.locator("#day")).to_contain_text("14 readings agree, 6 unchecked")


@ON_A_PHONE
def test_big_keys_write_feet_inches_and_sixteenths(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/measure")
    field = page.get_by_label("width at the floor", exact=True)
    page.get_by_role("button", name="Keys for width at the floor").click()
    keys = page.get_by_role("group", name="Keys for the reading")
    page.wait_for_load_state("networkidle")
    for box in (key.bounding_box() for key in keys.get_by_role("button").all()):
        assert box is not None and box["height"] >= 44 and box["width"] >= 44
    for _ in range(12):
        keys.get_by_role("button", name="rub out").click()
    for key in ("1", "0", "feet", "6", "11/16"):
        keys.get_by_role("button", name=key, exact=True).click()
    expect(field).to_have_value("10'-6 11/16")
    keys.get_by_role("button", name="5/8", exact=True).click()
    keys.get_by_role("button", name="done").click()
    expect(field).to_have_value("10'-6 5/8")
    expect(page.locator("#notice")).to_contain_text("The last edit:")
    assert "10'-6 5/8" in running.store.read(boathouse).text


@ON_A_PHONE
def test_open_keys_outlive_a_redraw(watched: Watched, running: Running, boathouse: str) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/measure")
    field = page.get_by_label("width at the floor", exact=True)
    page.get_by_role("button", name="Keys for width at the floor").click()
    keys = page.get_by_role("group", name="Keys for the reading")
    changed(page, "width at the head", "10'-9 5/16")
    expect(page.locator("#stops")).to_contain_text("Not for cutting.")
    for _ in range(12):
        keys.get_by_role("button", name="rub out").click()
    keys.get_by_role("button", name="7", exact=True).click()
    expect(field).to_have_value("7")


def middle(of: Locator) -> tuple[float, float]:
    box = of.bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + min(box["height"] / 2, 40.0)


@AT_THE_BENCH
def test_nothing_is_redrawn_under_a_finger(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/shape", wait_until="networkidle")
    before = page.locator("#notice").inner_text()
    page.mouse.move(*middle(page.locator("#day")))
    page.mouse.down()
    with page.expect_response(re.compile("/edit$")):
        page.evaluate(
            """() => {
              const field = document.getElementById('field-f-doorway-meeting-gap');
              field.value = '3/8 in';
              for (const kind of ['input', 'change'])
                field.dispatchEvent(new Event(kind, { bubbles: true }));
            }"""
        )
    page.wait_for_timeout(300)
    assert page.locator("#notice").inner_text() == before
    page.mouse.up()
    expect(page.locator("#notice")).to_contain_text("left leaf, width", ignore_case=True)


@AT_THE_BENCH
def test_an_edit_redraws_and_says_what_it_changed(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/shape")
    before = page.locator("#drawing").inner_html()
    changed(page, "Meeting gap", "3/8 in")
    expect(page.locator("#notice")).to_contain_text("left leaf, width", ignore_case=True)
    assert page.locator("#drawing").inner_html() != before
    opened(page, "Bracing")
    page.get_by_label("Braces in each panel").select_option("X")
    expect(page.locator("#drawing [data-part^='left/brace-1']")).to_have_count(3)
    opened(page, "Frame of the leaves")
    changed(page, "Section of the frame", "HSS 3 x 3 x 3/16")
    # What is bought of it is told once the whole plan is there.
    expect(page.locator("#notice")).to_contain_text("HSS 3 x 3 x 3/16", timeout=20_000)
    page.goto(f"{running.url}/job/{boathouse}/buy")
    expect(page.locator("#drawing")).to_contain_text("HSS 3 x 3 x 3/16")
    page.get_by_label("Suppose").select_option("short")
    expect(page.locator("#day")).to_contain_text("What would do")
    page.goto(f"{running.url}/job/{boathouse}/prove")
    expect(page.locator(".check").first).to_be_visible()


@ON_A_PHONE
def test_a_mistake_is_said_at_its_field_and_stays_as_typed(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/shape")
    changed(page, "Meeting gap", "about a thumb")
    field = page.get_by_label("Meeting gap", exact=True)
    expect(field).to_have_value("about a thumb")
    expect(field).to_have_attribute("aria-invalid", "true")
    expect(page.locator(".wrong .error")).to_contain_text("Forms that would do")


def test_touching_a_part_shows_its_numbers_and_lets_it_be_changed(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}")
    page.locator("#drawing [data-part='left/brace-1']").click()
    part = page.locator("#part")
    expect(part).to_contain_text("A-B1: brace, left leaf")
    part.locator("summary", has_text="Why?").click()
    expect(part).to_contain_text("fitted to all readings by least squares")
    part.get_by_label("Foot of the brace at").select_option("closing stile")
    expect(page.locator("#notice")).to_contain_text("The last edit:")
    assert 'foot = "closing stile"' in running.store.read(boathouse).text
    page.goto(f"{running.url}/job/{boathouse}/shape")
    tag = page.locator("#drawing [data-part='doorway/meeting gap']")
    tag.focus()
    page.keyboard.press("Enter")
    expect(part).to_contain_text("Meeting gap")
    part.get_by_role("link", name="Close").click()
    expect(part).to_be_empty()


@ON_A_PHONE
def test_ticks_outlive_a_restart(watched: Watched, running: Running, boathouse: str) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/buy")
    page.locator(".cards a").first.click()
    page.locator("button.tick").first.click()
    expect(page.locator("button.tick").first).to_have_attribute("aria-pressed", "true")
    # The page was drawn anew: the next key that is pressed is still for what was ticked.
    expect(page.locator("button.tick").first).to_be_focused()
    running.stop()
    running.start()
    page.reload()
    expect(page.locator("button.tick").first).to_have_attribute("aria-pressed", "true")
    page.get_by_role("link", name="Next").click()
    expect(page.locator(".card-count")).to_contain_text("Card 2 of")


@AT_THE_BENCH
def test_two_tabs_that_change_one_place_see_both(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    url = f"{running.url}/job/{boathouse}/shape"
    page.goto(url)
    page.evaluate("window.stop()")
    base = running.store.read(boathouse)
    # The other tab's save lands between this tab's page and its edit.
    field = page.get_by_label("Meeting gap", exact=True)
    field.fill("5/16 in")
    other = running.store.set_values(
        boathouse, [(("doorway", "meeting_gap"), "3/8 in")], base=base.version
    )
    assert isinstance(other, Saved)
    field.press("Tab")
    expect(page.get_by_role("heading", name="Two edits of the same place")).to_be_visible()
    expect(page.locator("main")).to_contain_text("3/8 in")
    expect(page.locator("main")).to_contain_text("5/16 in")
    assert 'meeting_gap = "3/8 in"' in running.store.read(boathouse).text
    page.get_by_role("button", name="Put mine in").click()
    expect(page).to_have_url(re.compile("/shape(#.*)?$"))
    assert 'meeting_gap = "5/16 in"' in running.store.read(boathouse).text


@ON_A_PHONE
def test_what_is_typed_outlives_a_lost_connection_and_a_restart(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/shape")
    running.stop()
    try:
        changed(page, "Meeting gap", "7/16 in")
        expect(page.locator("#offline")).to_contain_text("Not saved: no connection")
    finally:
        running.start()
    expect(page.locator("#offline")).to_be_hidden(timeout=10_000)
    expect(page.locator("#notice")).to_contain_text("The last edit:")
    assert 'meeting_gap = "7/16 in"' in running.store.read(boathouse).text


@AT_THE_BENCH
def test_what_was_typed_and_not_sent_is_there_after_a_reload(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/shape")
    page.get_by_label("Meeting gap", exact=True).press_sequentially("x")
    page.get_by_label("Meeting gap", exact=True).fill("9/32 in")
    page.reload()
    expect(page.get_by_label("Meeting gap", exact=True)).to_have_value("9/32 in")
    expect(page.locator("#notice")).to_contain_text("The last edit:")
    assert 'meeting_gap = "9/32 in"' in running.store.read(boathouse).text


@AT_THE_BENCH
def test_a_slow_answer_never_overwrites_a_newer_edit(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/shape")
    held: list[str] = []

    def slow(route: Route) -> None:
        answer = route.fetch()
        held.append("held")
        page.wait_for_timeout(700 if len(held) == 1 else 0)
        route.fulfill(response=answer)

    page.route("**/edit", slow)
    changed(page, "Meeting gap", "3/8 in")
    field = page.get_by_label("Meeting gap", exact=True)
    field.fill("1/2 in")
    field.press("Tab")
    expect(page.locator("#drawing [data-part='doorway/meeting gap']")).to_have_attribute(
        "aria-label", re.compile('1/2"$')
    )
    expect(field).to_have_value("1/2 in")
    assert 'meeting_gap = "1/2 in"' in running.store.read(boathouse).text


@AT_THE_BENCH
def test_a_file_changed_by_hand_is_noticed(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/shape")
    file = running.shelf / boathouse / "job.toml"
    if not file.exists():
        pytest.skip("the job is not kept in this file")
    file.write_text(file.read_text().replace('gap = "1/4 in"', 'gap = "5/8 in"', 1))
    expect(page.locator("#notice")).to_contain_text("changed elsewhere", timeout=12_000)
    expect(page.get_by_label("Meeting gap", exact=True)).to_have_value("5/8 in")


def test_the_page_is_whole_without_script(
    browser: Browser, running: Running, boathouse: str
) -> None:
    context = browser.new_context(java_script_enabled=False, viewport={"width": 390, "height": 844})
    page = context.new_page()
    page.goto(f"{running.url}/job/{boathouse}/shape")
    page.get_by_label("Meeting gap", exact=True).fill("3/8 in")
    page.locator("#group-1 button").click()
    expect(page.locator("#notice")).to_contain_text("The last edit:")
    page.goto(f"{running.url}/job/{boathouse}/shape?part=left/brace-1")
    expect(page.locator("#part")).to_contain_text("A-B1")
    page.goto(f"{running.url}/job/{boathouse}/buy?card=1")
    page.locator("button.tick").first.click()
    expect(page.locator("button.tick").first).to_have_attribute("aria-pressed", "true")
    expect(page).to_have_url(re.compile("#tick-cut-"))
    page.goto(f"{running.url}/job/{boathouse}/prove")
    page.get_by_label("How it is loaded").select_option("person")
    page.get_by_role("button", name="Show").click()
    expect(page.locator("#drawing figcaption, figcaption").first).to_contain_text("person")
    context.close()


def test_the_browser_is_told_to_ask_nobody() -> None:
    assert "--disable-background-networking" in ARGUMENTS
