"""What lies deeper than a first page: a leaf, infill, marks, answers and mounts, at work."""

from __future__ import annotations

import re
import tomllib
from typing import Any

from playwright.sync_api import Locator, Page, expect

from tests.web.conftest import AT_THE_BENCH, ON_A_PHONE, Watched
from tests.web.running import Running


def data_of(running: Running, slug: str) -> dict[str, Any]:
    return tomllib.loads(running.store.read(slug).text)


def group(page: Page, id: str) -> Locator:
    """Return a group of forms, unfolded."""
    found = page.locator(f"#group-{id}")
    if found.get_attribute("open") is None:
        found.locator("summary").first.click()
    return found


def put(page: Page, title: str) -> Locator:
    """Return the form of something new, unfolded."""
    fold = page.locator("details.put", has=page.locator("summary", has_text=title)).first
    if fold.get_attribute("open") is None:
        fold.locator("summary").click()
    return fold


@AT_THE_BENCH
def test_the_right_leaf_is_made_different(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/shape")
    page.get_by_role("link", name="Right leaf: frame, braces, infill, mount").click()
    expect(page.get_by_role("heading", name="Right leaf")).to_be_visible()
    section = page.get_by_label("Section of the frame", exact=True)
    expect(section).to_have_value("")
    section.fill("HSS 3 x 3 x 3/16")
    section.press("Tab")
    expect(page.locator("#notice")).to_contain_text("The last edit:")
    group(page, "leaf-1-brace").get_by_role("button", name="Make it different here").click()
    braces = group(page, "leaf-1-brace")
    braces.get_by_label("Pattern", exact=True).first.select_option("X")
    expect(page.locator("#drawing [data-part^='right/brace-1']")).to_have_count(3)
    expect(page.locator("#drawing [data-part^='left/brace-1']")).to_have_count(1)
    own = data_of(running, boathouse)["leaf"]
    assert own[0] == {"hand": "left"}
    assert own[1]["frame"] == "HSS 3 x 3 x 3/16" and own[1]["brace"][0]["pattern"] == "X"
    braces.get_by_role("button", name="Back to what is shared: braces").click()
    expect(page.locator("#drawing [data-part^='right/brace-1']")).to_have_count(1)
    page.get_by_role("button", name="Undo").click()
    expect(page.locator("#drawing [data-part^='right/brace-1']")).to_have_count(3)
    page.get_by_role("link", name="Both leaves").click()
    expect(page.locator("#under")).to_contain_text("The right leaf has its own: frame, brace.")


@ON_A_PHONE
def test_an_infill_is_changed_and_the_weight_follows(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/shape/leaf/both")
    told = page.locator("#under > p", has_text="hung")
    before = told.inner_text()
    infill = group(page, "each_leaf-infill")
    field = infill.get_by_label("Thickness", exact=True).first
    field.fill("1-1/2 in")
    field.press("Tab")
    expect(told).not_to_have_text(before)
    heavier = told.inner_text()
    new = put(page, "Put in an infill")
    new.get_by_label("What", exact=True).select_option("sheet")
    new.get_by_label("On which face", exact=True).select_option("face")
    new.get_by_label("Thickness", exact=True).fill("a bit")
    new.get_by_role("button", name="Put it in").click()
    expect(new.locator(".error")).to_contain_text("Forms that would do")
    expect(new.get_by_label("Thickness", exact=True)).to_have_value("a bit")
    new.get_by_label("Thickness", exact=True).fill("14 ga")
    new.get_by_role("button", name="Put it in").click()
    expect(told).not_to_have_text(heavier)
    expect(page.get_by_role("heading", name="sheet on the face")).to_be_visible()
    expect(put(page, "Put in an infill").get_by_label("Thickness", exact=True)).to_have_value("")
    page.get_by_role("button", name="Take it out: sheet on the face").click()
    expect(told).to_have_text(heavier)
    assert len(data_of(running, boathouse)["each_leaf"]["infill"]) == 1


@ON_A_PHONE
def test_a_mark_of_ones_own_is_read_to(watched: Watched, running: Running, boathouse: str) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/measure")
    page.get_by_role("link", name="Own marks, and any other reading").click()
    mark = put(page, "Put in a mark of your own")
    mark.get_by_label("Name of the mark", exact=True).fill("nail")
    mark.get_by_label("About how far right", exact=True).fill("2 ft")
    mark.get_by_label("About how far up", exact=True).fill("6 ft")
    mark.get_by_role("button", name="Put it in").click()
    expect(page.get_by_role("heading", name="nail")).to_be_visible()
    for start, is_ in (("BL", "6'-4"), ("BR", "10'-5")):
        reading = put(page, "A distance between two marks")
        reading.get_by_label("From the mark", exact=True).fill(start)
        reading.get_by_label("To the mark", exact=True).fill("nail")
        reading.get_by_label("Reading", exact=True).fill(is_)
        reading.get_by_role("button", name="Put the reading in").click()
        # The form is free again for the next reading.
        expect(reading.get_by_label("To the mark", exact=True)).to_have_value("")
    expect(page.locator("#drawing svg")).to_contain_text("nail")
    expect(page.locator("#drawing svg")).to_contain_text("6'-4")
    kept = data_of(running, boathouse)
    assert [r["to"] for r in kept["reading"][20:]] == ["nail", "nail"]
    page.get_by_role("link", name="Back to Measure").click()
    expect(page.get_by_label("bottom left to nail", exact=True)).to_have_value("6'-4")


@ON_A_PHONE
def test_what_is_typed_of_something_new_outlives_a_reload(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/buy/stock")
    new = put(page, "Put in an offcut")
    new.get_by_label("Length", exact=True).press_sequentially("6'-4")
    page.reload()
    again = put(page, "Put in an offcut")
    expect(again.get_by_label("Length", exact=True)).to_have_value("6'-4")
    again.get_by_label("Section", exact=True).fill("HSS 2-1/2 x 2-1/2 x 3/16")
    again.get_by_role("button", name="Put it in").click()
    expect(again.get_by_label("Length", exact=True)).to_have_value("")
    assert data_of(running, boathouse)["offcut"][-1]["length"] == "6'-4"
    page.reload()
    expect(put(page, "Put in an offcut").get_by_label("Length", exact=True)).to_have_value("")


@ON_A_PHONE
def test_an_answer_closes_a_question(watched: Watched, running: Running, boathouse: str) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/prove")
    asked = page.locator(".check.ask", has_text="The floor slab")
    asked.get_by_role("link", name="Answer this").click()
    form = page.locator("#answer")
    expect(form).to_be_focused()
    form.get_by_label("What the answer is", exact=True).fill(
        "no tendons within a yard of either pivot"
    )
    form.get_by_label("Who says so", exact=True).fill("an engineer")
    form.get_by_role("button", name="Keep the answer").click()
    expect(form.locator(".error").first).to_contain_text("This is needed")
    expect(form.get_by_label("Who says so", exact=True)).to_have_value("an engineer")
    form.get_by_label("In which document", exact=True).fill("scan report 12")
    form.get_by_label("Dated", exact=True).fill("2026-05-01")
    form.get_by_role("button", name="Keep the answer").click()
    expect(page.locator(".check.ask", has_text="The floor slab")).to_have_count(0)
    page.get_by_role("link", name="Answers given: 1").click()
    expect(page.locator("#under")).to_contain_text("In force, without an end.")
    page.get_by_role("button", name=re.compile("Take it out: The floor slab")).click()
    expect(page.locator("#under")).to_contain_text("None yet.")


@ON_A_PHONE
def test_a_mount_is_changed_to_another_kind(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/shape/leaf/both")
    mount = group(page, "leaf-mount")
    mount.get_by_label("It turns on a", exact=True).select_option("barrel hinge")
    change = page.locator("#put-each_leaf-mount-barrel-hinge")
    expect(change.get_by_label("Pin: diameter", exact=True)).to_have_value("1.4990 in")
    change.get_by_role("button", name="Change to a barrel hinge").click()
    expect(change.locator(".error").first).to_contain_text("This is needed")
    change.get_by_label("From the post to the leaf", exact=True).fill("3 in")
    change.get_by_label("Hinges at", exact=True).fill("8 in; 150 in")
    change.get_by_role("button", name="Change to a barrel hinge").click()
    expect(page.get_by_role("heading", name="Barrel hinge", exact=True)).to_be_visible()
    expect(change).to_have_count(0)
    heights = mount.get_by_label("Hinges at", exact=True)
    heights.fill("8 in; 80 in; 150 in")
    heights.press("Tab")
    expect(heights).not_to_have_attribute("data-typed", "1")
    kept = data_of(running, boathouse)["each_leaf"]["mount"]
    assert kept["heights"] == ["8 in", "80 in", "150 in"] and "ball_diameter" not in kept
