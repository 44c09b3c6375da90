"""A live page shows nothing but the truth: what it shows is what a fresh load of it would show."""

from __future__ import annotations

import tomllib
from typing import Any

from playwright.sync_api import Page, Route, expect

from leafwright.job.store import Saved
from tests.web.conftest import AT_THE_BENCH, ON_A_PHONE, Watched
from tests.web.fresh import looks, stale, typed
from tests.web.running import Running

GAP = "field-f-doorway-meeting-gap"


def data_of(running: Running, slug: str) -> dict[str, Any]:
    return tomllib.loads(running.store.read(slug).text)


def slowed(page: Page, milliseconds: int) -> None:
    """Have the answer to every form come late."""

    def late(route: Route) -> None:
        if route.request.method != "POST":
            route.continue_()
            return
        answer = route.fetch()
        page.wait_for_timeout(milliseconds)
        route.fulfill(response=answer)

    page.route("**/job/**", late)


def unfolded(page: Page) -> None:
    page.evaluate("document.querySelectorAll('main details').forEach((d) => { d.open = true; })")


@AT_THE_BENCH
def test_a_button_that_is_pressed_twice_does_it_once(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/measure", wait_until="networkidle")
    before = data_of(running, boathouse)["reading"]
    slowed(page, 300)
    unfolded(page)
    page.locator("#reading-4 form[action$='/take-out'] button").dblclick()
    expect(page.locator(".readings > li")).to_have_count(len(before) - 1)
    new = page.locator(".add")
    new.get_by_label("What was read").select_option("width-at")
    new.get_by_label("How high up, how far out, or how far right", exact=True).fill("3 ft")
    reading = new.get_by_label("Reading", exact=True)
    reading.fill("10'-6 7/8")
    new.get_by_role("button", name="Add it").dblclick()
    # What is typed before the answer comes is the next reading: it stays.
    reading.fill("10'-5")
    expect(page.get_by_label("width at 3 ft up", exact=True)).to_have_value("10'-6 7/8")
    assert stale(page, ("new-is",)) == []
    expect(reading).to_have_value("10'-5")
    after = data_of(running, boathouse)["reading"]
    assert after[:-1] == [*before[:4], *before[5:]]


@AT_THE_BENCH
def test_what_is_typed_goes_to_what_it_was_typed_for(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/measure", wait_until="networkidle")
    before = data_of(running, boathouse)["reading"]
    slowed(page, 300)
    typed(page, "field-f-reading-0-is", "10'-6 5/8")
    typed(page, "field-f-reading-9-note", "read twice")
    page.evaluate("document.querySelector('#reading-2 form[action$=take-out] button').click()")
    expect(page.locator(".readings > li")).to_have_count(len(before) - 1, timeout=10_000)
    assert stale(page) == []
    after = data_of(running, boathouse)["reading"]
    assert {**before[9], "note": "read twice"} in after
    assert [r for r in after if "note" in r and r not in before] == [after[8]]


@AT_THE_BENCH
def test_what_was_refused_stays_said_and_the_rest_is_saved(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/shape", wait_until="networkidle")
    slowed(page, 200)
    field = page.locator(f"#{GAP}")
    around = page.locator(".field", has=field)
    typed(page, "field-f-doorway-leaf-height", "13'-8")
    # These two are sent together.
    typed(page, GAP, "a thumb")
    typed(page, "field-f-doorway-top-gap", "3/8 in")
    expect(around).to_contain_text("a thumb")
    assert stale(page, (GAP,)) == []
    kept = data_of(running, boathouse)["doorway"]
    assert (kept["leaf_height"], kept["top_gap"]) == ("13'-8", "3/8 in")
    # Another edit, and one made elsewhere, leave the word where the text is.
    typed(page, "field-f-doorway-running-clearance", "1/4 in")
    assert stale(page, (GAP,)) == []
    other = running.store.set_values(
        boathouse,
        [(("doorway", "top_gap"), "1/2 in")],
        base=running.store.read(boathouse).version,
    )
    assert isinstance(other, Saved)
    looks(page)
    expect(page.locator("#field-f-doorway-top-gap")).to_have_value("1/2 in")
    expect(around.locator(".error")).to_contain_text("a thumb")
    expect(field).to_have_value("a thumb")
    expect(field).to_have_attribute("aria-invalid", "true")
    typed(page, GAP, "3/8 in")
    expect(around.locator(".error")).to_have_count(0)
    assert stale(page) == []
    assert data_of(running, boathouse)["doorway"]["meeting_gap"] == "3/8 in"


@AT_THE_BENCH
def test_what_was_refused_is_saved_when_what_it_lacked_is_there(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/shape", wait_until="networkidle")
    typed(page, "field-f-each-leaf-frame", "shop tube")
    expect(page.locator(".wrong .error")).to_contain_text("shop tube")
    saved = running.store.read(boathouse)
    size = 'name = "shop tube"\nshape = "rectangular tube"\nwidth = "2 in"\nheight = "2 in"\n'
    text = f'{saved.text}\n[[section]]\n{size}wall = "1/8 in"\ngrade = "A36"\n'
    running.store.save(boathouse, text, base=saved.version)
    looks(page)
    expect(page.locator(".wrong")).to_have_count(0)
    assert stale(page) == []
    assert data_of(running, boathouse)["each_leaf"]["frame"] == "shop tube"


@ON_A_PHONE
def test_a_tick_made_on_another_screen_is_shown(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/buy?card=1", wait_until="networkidle")
    other = page.context.new_page()
    other.goto(page.url)
    other.locator("button.tick").first.click()
    expect(other.locator("button.tick").first).to_have_attribute("aria-pressed", "true")
    other.close()
    looks(page)
    expect(page.locator("button.tick").first).to_have_attribute("aria-pressed", "true")
    assert stale(page) == []


@AT_THE_BENCH
def test_what_stands_beside_the_stage_follows_too(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/shape/job", wait_until="networkidle")
    typed(page, "field-f-job-name", "Other doors")
    expect(page.get_by_role("heading", level=1)).to_have_text("Other doors")
    typed(page, "field-f-job-system", "metric")
    assert stale(page) == []
    assert "Other doors" in page.title()


@AT_THE_BENCH
def test_a_file_broken_by_hand_and_mended_is_shown_again(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/shape", wait_until="networkidle")
    file = running.shelf / boathouse / "job.toml"
    sound = file.read_text(encoding="utf-8")
    file.write_text(f"{sound}\n[half", encoding="utf-8")
    looks(page)
    expect(page.locator("main")).to_contain_text("The job file cannot be read")
    file.write_text(sound.replace('gap = "1/4 in"', 'gap = "5/8 in"', 1), encoding="utf-8")
    looks(page)
    expect(page.locator(f"#{GAP}")).to_have_value("5/8 in")
    assert stale(page) == []
    # It is as live as it was.
    typed(page, GAP, "3/8 in")
    assert stale(page) == []
    assert data_of(running, boathouse)["doorway"]["meeting_gap"] == "3/8 in"


@AT_THE_BENCH
def test_what_could_not_be_written_is_said_until_it_is(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/shape", wait_until="networkidle")
    # A full disk is asked again by itself; a disk that fails is not.
    full = "<main><p class=told>The disk could not be written.</p></main>"
    page.route(
        "**/edit",
        lambda route: route.fulfill(status=500, content_type="text/html", body=full),
        times=1,
    )
    typed(page, GAP, "3/8 in")
    expect(page.locator("#offline")).to_contain_text("The disk could not be written")
    looks(page)
    page.wait_for_load_state("networkidle")
    expect(page.locator("#offline")).to_contain_text("The disk could not be written")
    around = page.locator(".field", has=page.locator(f"#{GAP}"))
    expect(around).to_contain_text("Not saved.")
    typed(page, GAP, "7/16 in")
    expect(around).not_to_contain_text("Not saved.")
    expect(page.locator("#offline")).to_be_hidden()
    assert stale(page) == []


@AT_THE_BENCH
def test_typed_over_what_another_changed_both_are_shown(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/shape", wait_until="networkidle")
    field = page.locator(f"#{GAP}")
    field.fill("5/16 in")
    base = running.store.read(boathouse).version
    running.store.set_values(boathouse, [(("doorway", "meeting_gap"), "3/8 in")], base=base)
    looks(page)
    expect(page.locator("#notice")).to_contain_text("changed elsewhere")
    expect(field).to_have_value("5/16 in")
    field.press("Tab")
    expect(page.get_by_role("heading", name="Two edits of the same place")).to_be_visible()
    assert data_of(running, boathouse)["doorway"]["meeting_gap"] == "3/8 in"


@AT_THE_BENCH
def test_a_part_touched_while_an_edit_is_on_its_way_is_shown_with_it(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/shape", wait_until="networkidle")

    def late(route: Route) -> None:
        answer = route.fetch()
        page.wait_for_timeout(600)
        route.fulfill(response=answer)

    page.route("**/shape?part=**", late)
    page.locator("#drawing [data-part='left/brace-1']").click()
    typed(page, GAP, "3/8 in")
    expect(page.locator("#part")).to_contain_text("A-B1")
    assert "part=left%2Fbrace-1" in page.url
    assert stale(page) == []


@AT_THE_BENCH
def test_undo_takes_back_the_last_edit_though_it_is_still_on_its_way(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/shape", wait_until="networkidle")
    slowed(page, 200)
    for text in ("3/8 in", "7/16 in", "1/2 in"):
        typed(page, GAP, text)
    page.get_by_role("button", name="Undo").click()
    expect(page.locator(f"#{GAP}")).to_have_value("3/8 in")
    assert stale(page) == []
    for text in (*(f"{n}/16 in" for n in range(3, 12)), "11/32 in"):
        typed(page, GAP, text)
    expect(page.locator("#notice")).to_contain_text("The last edit:")
    assert stale(page) == []
    assert data_of(running, boathouse)["doorway"]["meeting_gap"] == "11/32 in"


@AT_THE_BENCH
def test_the_next_key_is_for_what_the_last_one_led_to(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/measure", wait_until="networkidle")
    field = page.get_by_label("width at the floor", exact=True)
    field.fill("10'-9 5/16")
    field.press("Tab")
    keys = page.get_by_role("button", name="Keys for width at the floor")
    expect(keys).to_be_focused()
    page.evaluate("document.activeElement.scrollIntoView({ block: 'center' })")
    height = page.evaluate("document.activeElement.getBoundingClientRect().top")
    expect(page.locator("#stops")).to_contain_text("Not for cutting.")
    assert stale(page) == []
    expect(keys).to_be_focused()
    # The stops are told above it; it stays under the eye.
    assert abs(page.evaluate("document.activeElement.getBoundingClientRect().top") - height) < 3


@AT_THE_BENCH
def test_what_is_typed_before_the_script_has_come_is_saved(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    scripts: list[Route] = []
    page.route("**/live.js", lambda route: scripts.append(route))
    page.goto(f"{running.url}/job/{boathouse}/shape", wait_until="commit")
    height, top = (page.locator(f"#field-f-doorway-{n}") for n in ("leaf-height", "top-gap"))
    height.fill("13'-8")
    height.press("Tab")
    top.fill("3/8 in")
    for script in scripts:
        script.continue_()
    expect(page.locator("html.live")).to_be_attached()
    top.press("Tab")
    assert stale(page) == []
    kept = data_of(running, boathouse)["doorway"]
    assert (kept["leaf_height"], kept["top_gap"]) == ("13'-8", "3/8 in")
