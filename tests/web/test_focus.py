"""A redraw takes nothing from under the hands: the focus, what is typed, and one word aloud."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from tests.web.conftest import AT_THE_BENCH, ON_A_PHONE, Watched
from tests.web.running import Running

#: What a screen reader is given to say, in order; the place that it listens to is asked for.
HEARD = """() => {
  const place = document.getElementById('heard');
  place.textContent = '';
  const first = !window.told;
  window.told = [];
  if (!first) return;
  const heard = () => { if (place.textContent) window.told.push(place.textContent); };
  new MutationObserver(heard).observe(place, { childList: true });
}"""
FOCUSED = "document.activeElement.outerHTML.slice(0, 120)"


def typed(page: Page, label: str, text: str, key: str = "Tab") -> None:
    """Type into a field and leave it by a key, then wait until the edit was told aloud."""
    page.evaluate(HEARD)
    page.get_by_label(label, exact=True).first.fill(text)
    page.get_by_label(label, exact=True).first.press(key)
    expect(page.locator("#heard")).not_to_be_empty()


@AT_THE_BENCH
def test_the_focus_stays_where_the_maker_went_on_to(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/shape", wait_until="networkidle")
    typed(page, "Meeting gap", "3/8 in")
    expect(page.get_by_role("button", name="Keys for Meeting gap").first).to_be_focused()
    at = page.evaluate("scrollY")
    typed(page, "Meeting gap", "1/2 in", key="Enter")
    expect(page.get_by_label("Meeting gap", exact=True).first).to_be_focused()
    assert page.evaluate("scrollY") == at
    undo = page.get_by_role("button", name="Undo")
    undo.focus()
    for gap in ("3/8 in", "1/4 in"):
        page.keyboard.press("Enter")
        expect(page.get_by_label("Meeting gap", exact=True).first).to_have_value(gap)
        expect(undo).to_be_focused()


@AT_THE_BENCH
def test_an_edit_is_told_aloud_once(watched: Watched, running: Running, boathouse: str) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/shape", wait_until="networkidle")
    typed(page, "Meeting gap", "3/8 in")
    page.wait_for_load_state("networkidle")
    page.wait_for_timeout(300)
    (told,) = page.evaluate("window.told")
    assert told.startswith("The last edit: Left leaf, width: ") and len(told) < 140
    typed(page, "Meeting gap", "about a thumb")
    (told,) = page.evaluate("window.told")
    assert told.startswith("Not saved. Meeting gap: ") and "Forms that would do" in told
    # What was left is not gone back to by itself.
    assert "Keys for Meeting gap" in page.evaluate(FOCUSED)
    # There is no other place that would say it too.
    assert page.locator("main :is([role=status], [role=alert], [aria-live])").count() == 0


@ON_A_PHONE
def test_what_opens_is_closed_by_escape_and_leads_back(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/shape", wait_until="networkidle")
    part = page.locator("#part")
    size = page.locator(".sizes a").nth(3)
    size.focus()
    page.keyboard.press("Enter")
    expect(part).to_be_focused()
    page.keyboard.press("Escape")
    expect(part).to_be_empty()
    expect(size).to_be_focused()
    piece = page.locator("#drawing [data-part='left/brace-1']")
    piece.focus()
    page.keyboard.press("Enter")
    expect(part).to_contain_text("A-B1")
    part.get_by_role("link", name="Close").focus()
    page.keyboard.press("Enter")
    expect(part).to_be_empty()
    expect(piece).to_be_focused()
    keys = page.get_by_role("button", name="Keys for Meeting gap")
    keys.focus()
    page.keyboard.press("Enter")
    board = page.get_by_role("group", name="Keys for the reading")
    expect(keys).to_have_attribute("aria-expanded", "true")
    board.get_by_role("button", name="7", exact=True).focus()
    page.keyboard.press("Escape")
    expect(board).to_have_count(0)
    expect(keys).to_be_focused()
    expect(keys).to_have_attribute("aria-expanded", "false")


@ON_A_PHONE
def test_steps_are_gone_through_without_losing_the_button(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/hang", wait_until="networkidle")
    page.get_by_role("link", name="Next", exact=True).focus()
    count = int(page.locator(".steps .now").inner_text().rpartition(" ")[2])
    for pose in range(2, count + 1):
        page.keyboard.press("Enter")
        expect(page.locator("#drawing figcaption")).to_contain_text(f"Pose {pose} of")
    # At the last pose there is no next one: what stands beside it has the focus.
    expect(page.get_by_role("link", name="Before", exact=True)).to_be_focused()
    page.goto(f"{running.url}/job/{boathouse}/build/order", wait_until="networkidle")
    page.get_by_role("link", name="Next step").focus()
    for step in (2, 3):
        page.keyboard.press("Enter")
        expect(page.locator("#opened")).to_contain_text(f"Step {step} of")
        expect(page.get_by_role("link", name="Next step")).to_be_focused()


@ON_A_PHONE
def test_what_is_taken_out_leaves_the_focus_beside_it(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/measure", wait_until="networkidle")
    fold = page.locator("#more-2 > summary")
    fold.focus()
    page.keyboard.press("Enter")
    gone = page.locator("#reading-2 label").first.inner_text()
    page.get_by_role("button", name=f"Take it out: {gone}").focus()
    page.keyboard.press("Enter")
    expect(page.locator("#reading-2 label").first).not_to_have_text(gone)
    expect(fold).to_be_focused()


@ON_A_PHONE
def test_a_name_half_typed_outlives_a_redraw(
    watched: Watched, running: Running, boathouse: str
) -> None:
    page = watched.page
    page.goto(f"{running.url}/job/{boathouse}/build", wait_until="networkidle")
    who = page.get_by_label("Who reads")
    who.press_sequentially("Sa")
    base = running.store.read(boathouse)
    running.store.set_values(boathouse, [(("doorway", "meeting_gap"), "3/8 in")], base=base.version)
    expect(page.locator("#notice")).to_contain_text("changed elsewhere", timeout=12_000)
    expect(who).to_have_value("Sa")
    expect(who).to_be_focused()
