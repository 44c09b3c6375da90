"""From a wrong reading to a hung leaf, on a phone and at the bench, in the system's Chromium."""

from __future__ import annotations

import re
import tomllib
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.web.conftest import AT_THE_BENCH, ON_A_PHONE, Watched
from tests.web.running import Running, example

SQUARE = (("3", "4'-10 15/16"), ("5", "4'-10 15/16"), ("6", "13'-9"), ("7", "13'-9"))


def data_of(running: Running, slug: str) -> dict[str, Any]:
    return tomllib.loads(running.store.read(slug).text)


def read(page: Page, form: str, text: str) -> None:
    """Type a reading into its form and press its button, then see the form free again."""
    field = page.locator(f"#{form} input[data-keys]").first
    field.fill(text)
    page.locator(f"#{form} button", has_text="Keep it").click()
    expect(page.locator(f"#spot-{form} .reads")).to_contain_text(text)
    expect(page.locator(f"#{form} input[data-keys]").first).to_have_value("")


@pytest.fixture
def doubtful(running: Running) -> str:
    """The boathouse with its right side read 2 in too high: its slug."""
    text = example("boathouse").replace("14'-2 15/16", "14'-4 15/16")
    return running.store.new("Boathouse", text).slug


@ON_A_PHONE
def test_a_wrong_reading_is_named_and_set_aside_by_one_press(
    watched: Watched, running: Running, doubtful: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{doubtful}/measure")
    expect(page.locator("#stops")).to_contain_text("Not for cutting.")
    page.get_by_role("link", name="Look at what is in doubt, and decide").click()
    suspect = page.get_by_role("article", name="the right height")
    expect(suspect).to_contain_text("about 2 in long against the rest")
    expect(suspect.get_by_role("cell", name="14'-2 15/16\"").first).to_be_visible()
    suspect.get_by_role("button", name="Set it aside").click()
    expect(page.locator("#doubt")).to_have_count(0)
    expect(page.locator("#stops")).not_to_contain_text("Not for cutting.")
    expect(page.locator("#reading-4")).to_contain_text("set aside: ")
    aside = data_of(running, doubtful)["reading"][4]["set_aside"]
    assert aside.startswith("2 in more than all the others say")
    page.get_by_role("button", name="It counts again: height of the right side").click()
    expect(page.locator("#doubt")).to_be_visible()
    page.get_by_role("button", name="It is right as read: the right height").click()
    expect(page.locator("#doubt")).to_contain_text("You kept it on ")


@ON_A_PHONE
def test_the_measurement_that_decides_is_added_where_it_is_asked(
    watched: Watched, running: Running
) -> None:
    slug = running.store.new("Kiln", example("kiln-shed")).slug
    page = watched.page
    page.goto(f"{running.url}/job/{slug}/measure")
    form = page.locator("#further-0")
    expect(page.locator("#doubt")).to_contain_text("This would decide it best")
    form.get_by_label("Reading", exact=True).fill("999 mm")
    form.get_by_role("button", name="Add this reading").click()
    expect(page.locator("#doubt")).to_contain_text("A reading is in doubt")
    assert data_of(running, slug)["reading"][-1]["is"] == "999 mm"


@AT_THE_BENCH
def test_the_leaves_are_turned_by_a_slider(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/shape")
    page.get_by_role("link", name="How the leaves turn, and where each gap goes").click()
    caption = page.locator("#drawing figcaption")
    expect(caption).to_contain_text("open 45° toward you")
    before = page.locator("#at-angle").inner_text()
    slider = page.get_by_label("Turn the leaves")
    slider.focus()
    for _ in range(3):
        slider.press("ArrowRight")
    expect(caption).to_contain_text("open 48° toward you")
    expect(page.locator("#at-angle")).not_to_have_text(before)
    expect(page.get_by_label("Turn the leaves")).to_be_focused()
    page.get_by_label("Opened", exact=True).select_option("away")
    expect(caption).to_contain_text("open 48° away from you")
    expect(page).to_have_url(re.compile(r"angle=48&way=away"))
    page.locator("summary", has_text="Heel gap of the left leaf").click()
    expect(page.locator("details.spent[open]")).to_contain_text("how unsure the readings are")


@ON_A_PHONE
def test_a_fit_up_with_big_keys_gives_the_corner_to_push(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/build")
    page.get_by_label("Who reads").fill("Sam")
    page.get_by_label("Who reads").press("Tab")
    expect(page).to_have_url(re.compile("who=Sam"))
    for number, text in SQUARE:
        read(page, f"pad-{number}", text)
    page.get_by_role("button", name="Keys for Diagonal, bottom hinge to top closing").click()
    keys = page.get_by_role("group", name="Keys for the reading")
    for key in ("1", "4", "feet", "7", "3/8", "done"):
        keys.get_by_role("button", name=key, exact=True).click()
    # What asks one thing is kept by its keys: there is nothing more to press.
    expect(page.locator("#spot-pad-1")).to_contain_text("14'-7 3/8")
    expect(page.locator("#pad-1 input[data-keys]")).to_have_value("")
    read(page, "pad-2", "14'-7")
    verdict = page.locator("#verdict")
    expect(verdict).to_contain_text("push the top closing corner toward the bottom hinge corner")
    expect(page.locator("#day")).to_contain_text("left tacked: 1 to push")
    kept = data_of(running, boathouse)["fit_up"]
    assert [r["who"] for r in kept] == ["Sam"] * 6 and all("on" in r for r in kept)
    running.stop()
    running.start()
    page.reload()
    expect(page.locator("#verdict")).to_contain_text("push the top closing corner")
    assert [e.kind for e in running.store.log(boathouse)] == ["reading"] * 6


@AT_THE_BENCH
def test_gaps_of_a_hung_leaf_give_moves(watched: Watched, running: Running, boathouse: str) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/hand-over?leaf=right")
    for number, text in (("1", "1-7/16 in"), ("2", "1-7/16 in"), ("3", "1/8 in"), ("4", "1/8 in")):
        read(page, f"gap-{number}", text)
    verdict = page.locator("#verdict")
    # The right leaf hangs too far from its jamb, which is on its right.
    expect(verdict).to_contain_text("Slide the bottom plate right")
    expect(page.locator("#foretold li")).to_have_count(4)
    expect(page.locator("#day")).to_contain_text("right: 2 to move")
    page.get_by_role("link", name=re.compile("Heel gap.*change it")).first.click()
    expect(page).to_have_url(re.compile("/hand-over/reading/0"))
    page.get_by_role("button", name=re.compile("^Take it out")).click()
    expect(page.locator("#foretold li")).to_have_count(3)
    expect(page).to_have_url(re.compile(r"/hand-over\?leaf=right"))


@ON_A_PHONE
def test_the_way_in_is_stepped_through(watched: Watched, running: Running, boathouse: str) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/hang")
    page.get_by_role("link", name=re.compile("^1 flat")).click()
    caption = page.locator("#drawing figcaption")
    expect(caption).to_contain_text("Pose 1 of")
    before = page.locator("#drawing svg").inner_html()
    page.get_by_role("link", name="Next", exact=True).click()
    expect(caption).to_contain_text("Pose 2 of")
    assert page.locator("#drawing svg").inner_html() != before


def test_build_and_hang_are_whole_without_script(
    browser: Browser, running: Running, boathouse: str
) -> None:
    context = browser.new_context(java_script_enabled=False, viewport={"width": 390, "height": 844})
    page = context.new_page()
    page.goto(f"{running.url}/job/{boathouse}/build")
    page.get_by_label("Who reads").fill("Sam")
    page.get_by_role("button", name="Keep this name").click()
    page.locator("#pad-1 input[data-keys]").fill("14'-7 3/8")
    page.locator("#pad-1 button", has_text="Keep it").click()
    expect(page.locator("#spot-pad-1 .reads")).to_contain_text("Sam")
    page.goto(f"{running.url}/job/{boathouse}/hang")
    page.get_by_role("link", name="Next", exact=True).click()
    expect(page.locator("#drawing svg")).to_be_visible()
    page.goto(f"{running.url}/job/{boathouse}/shape/swing")
    page.get_by_label("Degrees open").fill("70")
    page.get_by_role("button", name="Turn", exact=True).click()
    expect(page.locator("#drawing figcaption")).to_contain_text("open 70°")
    expect(page.get_by_label("Turn the leaves")).to_be_hidden()
    page.goto(f"{running.url}/job/{boathouse}/hand-over")
    page.locator("#let-go-1 input:not([type=hidden])").fill("stays")
    page.locator("#let-go-1 button", has_text="Keep it").click()
    expect(page.locator("#spot-let-go-1 .reads")).to_contain_text("stays")
    context.close()
