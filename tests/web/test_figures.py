"""The figures' pages: found by trade and by word, typed, worked as the shell does, and printed."""

from __future__ import annotations

import gzip
import re
from html.parser import HTMLParser
from urllib.parse import urlencode

import pytest
from playwright.sync_api import Browser, expect
from starlette.testclient import TestClient

from leafwright.figures import Argument, Figure, FigureError, Worked, figure_named, figures, worked
from leafwright.job.store import Store
from leafwright.web import create_app
from leafwright.web.figure_forms import parts_of, told_apart, typed_in
from leafwright.web.lettered import formula, prose, symbol, title
from tests.web.conftest import AT_THE_BENCH, ON_A_PHONE, Watched
from tests.web.looked import faults
from tests.web.running import Running

NASTY = '"><script>alert(1)</script><img src=x>'
TUBE = {"F_y": "46 ksi", "Z": "2.5 in3", "S": "2.1 in3", "b_over_t": "20", "h_over_t": "20"}
WORKED = f"/figures/bending_rectangular_hss?{urlencode(TUBE)}"
WRONG = "/figures/bending_rectangular_hss?F_y=46+foo&Z=2.5+in3"
#: Two welds as lines, and a load beside them: keys that take several values each.
LINES = [
    ("lines", "0 in, 0 in to 0 in, 4 in"),
    ("lines", "2 in, 0 in to 2 in, 4 in"),
    *(("force", text) for text in ("0 lbf", "1200 lbf", "0 lbf")),
    *(("at", text) for text in ("1 in", "2 in", "3 in")),
]


class Read(HTMLParser):
    """A page taken apart: its words, its fields with what they hold, and what labels them."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.words: list[str] = []
        self.fields: list[tuple[str, str]] = []
        self.ids: list[str] = []
        self.wrong: list[str] = []
        self.tags: list[str] = []
        self.links: list[str] = []
        self.needs_label: list[str] = []
        self.labels: set[str] = set()
        self.described: set[str] = set()
        self._select = ""
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        said = {name: value or "" for name, value in attrs}
        self.tags.append(tag)
        if "id" in said:
            self.ids.append(said["id"])
        if tag in ("input", "select") and said.get("type") != "hidden":
            self.needs_label.append(said["id"])
            if "aria-invalid" in said:
                self.wrong.append(said["name"])
            self.described |= set(said.get("aria-describedby", "").split())
        if tag == "input":
            self.fields.append((said["name"], said.get("value", "")))
        if tag == "select":
            self._select = said["name"]
        if tag == "option" and self._select and "selected" in said:
            self.fields.append((self._select, said["value"]))
        if tag == "label":
            self.labels.add(said["for"])
        if tag == "a":
            self.links.append(said["href"])

    def handle_endtag(self, tag: str) -> None:
        if tag == "select":
            self._select = ""

    def handle_data(self, data: str) -> None:
        self.words.append(data)

    @property
    def text(self) -> str:
        return " ".join("".join(self.words).split())


def read(client: TestClient, path: str, status: int = 200) -> Read:
    answer = client.get(path)
    assert answer.status_code == status, path
    return Read(answer.text)


def typed_on_card(figure: Figure) -> dict[str, str]:
    """Return what a card's own forms would type, of what must be given."""
    return {a.key: a.forms[0] for a in figure.arguments if a.forms and not a.otherwise}


def tried(name: str, typed: dict[str, str]) -> Worked | None:
    try:
        return worked(name, typed)
    except FigureError:
        return None


def address(name: str, pairs: dict[str, str] | list[tuple[str, str]]) -> str:
    return f"/figures/{name}?{urlencode(pairs)}"


# ---------------------------------------------------------------- the list


def test_the_list_holds_every_figure_by_its_trade(client: TestClient) -> None:
    page = read(client, "/figures")
    assert {f"/figures/{figure.name}" for figure in figures()} <= set(page.links)
    for trade in {figure.subject for figure in figures()}:
        assert trade.replace(" ", "-") in page.ids
    assert f"{len(figures())} figures" in page.text


@pytest.mark.parametrize(
    ("find", "there", "gone"),
    [
        ("sling", "two_leg_sling", "column_stress"),
        ("FILLET weld", "aws.minimum_fillet", "two_leg_sling"),
        ("column_stress", "column_stress", "compression_round_hss"),
        ("E3-2 column", "column_stress", "two_leg_sling"),
    ],
)
def test_the_list_is_found_through_by_every_word(
    client: TestClient, find: str, there: str, gone: str
) -> None:
    page = read(client, f"/figures?{urlencode({'find': find})}")
    assert f"/figures/{there}" in page.links
    assert f"/figures/{gone}" not in page.links
    assert ("find", find) in page.fields


def test_the_list_is_quick_to_send(client: TestClient) -> None:
    assert len(gzip.compress(client.get("/figures").content, 5)) < 30_000


def test_nothing_found_says_what_would_do(client: TestClient) -> None:
    page = read(client, "/figures?find=zzzz")
    assert "Nothing is found by that. Try one word of it" in page.text
    assert "/figures" in page.links


def test_an_unknown_name_shows_the_nearest_and_the_list(client: TestClient) -> None:
    page = read(client, "/figures/colum_stress", 404)
    assert "There is no figure 'colum_stress' (the nearest known is column_stress)" in page.text
    assert "/figures/column_stress" in page.links


def test_jobs_lead_to_the_figures_and_back(client: TestClient, store: Store) -> None:
    assert "/figures" in read(client, "/").links
    assert "/" in read(client, "/figures").links
    client.post("/new", data={"name": "Gate"})
    assert "/figures" in read(client, "/job/gate/shape").links


def test_another_machine_is_let_in_first(store: Store) -> None:
    lan = "192.168.7.20"
    app = create_app(store, lan_secret=b"k" * 32, hosts=[lan])
    phone = TestClient(
        app, base_url=f"http://{lan}:8420", client=("192.168.7.31", 50000), follow_redirects=False
    )
    for path in ("/figures", WORKED):
        answer = phone.get(path)
        assert answer.status_code == 303 and answer.headers["location"] == "/enter"


# ---------------------------------------------------------------- the cards


def test_every_card_is_there_whole_and_without_script(client: TestClient) -> None:
    for figure in figures():
        page = read(client, f"/figures/{figure.name}")
        assert "script" not in page.tags and "style" not in page.tags, figure.name
        assert len(page.ids) == len(set(page.ids)), figure.name
        assert set(page.needs_label) <= page.labels, figure.name
        assert page.described <= set(page.ids), figure.name
        assert all(link.startswith(("/", "#")) for link in page.links), figure.name
        # Only letters are set otherwise, so words of the source stand as they are.
        said = re.findall(r"[A-Z][a-z]{4,}", figure.source)
        assert all(word in page.text for word in said), figure.name
        if figure.not_from_shell:
            assert figure.not_from_shell in page.text
            assert "form" not in page.tags
            continue
        names = {name.replace(".1.", ".") for name in _field_names(client, figure)}
        keys = {a.key.replace(".1.", ".") for a in figure.arguments}
        assert keys <= names, figure.name


def _field_names(client: TestClient, figure: Figure) -> set[str]:
    text = client.get(f"/figures/{figure.name}").text
    return set(re.findall(r'<(?:input|select) id="[^"]*" name="([^"]+)"', text))


def test_a_card_says_how_to_type_and_what_is_taken_for_what_is_left_out(
    client: TestClient,
) -> None:
    page = read(client, "/figures/bending_rectangular_hss")
    assert "specified minimum yield stress" in page.text
    assert "as in 50 ksi or 355 N/mm2" in page.text
    assert "left out: 29000 ksi (199948 MPa)" in page.text
    assert page.wrong == []
    chosen = client.get("/figures/lift_limit").text
    assert '<option value="" selected>left out: fair</option>' in chosen


def test_a_docstring_that_names_a_figure_leads_there(client: TestClient) -> None:
    links = read(client, "/figures/bending_rectangular_hss").links
    assert "/figures/lateral_torsional_rectangular_hss" in links


# ---------------------------------------------------------------- worked


def test_what_is_worked_is_what_the_shell_works(client: TestClient) -> None:
    count = 0
    for figure in figures():
        typed = typed_on_card(figure)
        made = tried(figure.name, typed)
        if made is None:
            continue
        count += 1
        text = read(client, address(figure.name, typed)).text
        for result in made.results:
            assert result.customary in text and result.metric in text, figure.name
        for step in made.steps:
            assert f"= {step.result}" in text, figure.name
        for caution in made.cautions:
            said = re.findall(r"[A-Z]?[a-z]{5,}", caution)
            assert all(word in text for word in said), figure.name
    assert count > 200


def test_the_sheet_shows_the_formula_the_numbers_and_both_families(client: TestClient) -> None:
    made = worked("bending_rectangular_hss", TUBE)
    page = read(client, f"{WORKED}&for=left+leaf%2C+top+rail")
    assert "sheet" in page.ids and page.wrong == []
    # ANSI/AISC 360-22, Eq. F7-1, by hand: 46 ksi x 2.5 in3 = 115 kip in = 9583 lb ft = 12.99 kN m.
    assert made.results[0].customary == "9583 lb·ft" and made.results[0].metric == "12.99 kN·m"
    assert "Mp = Fy·Z = 46 ksi·2.5 in³ = 115 kip·in" in page.text
    assert "46 ksi = 317.2 MPa" in page.text
    assert "ANSI/AISC 360-22, F7.1 to F7.3" in page.text
    assert "no HSS has such webs" in page.text
    assert "left leaf, top rail" in page.text
    assert set(TUBE.items()) <= set(page.fields)


def test_a_figure_that_needs_nothing_is_worked_at_once(client: TestClient) -> None:
    made = worked("phi_pryout", {})
    page = read(client, "/figures/phi_pryout")
    assert made.results[0].customary in page.text
    assert "sheet" in page.ids


def test_metric_is_worked_in_millimetres(client: TestClient) -> None:
    typed = TUBE | {"F_y": "355 MPa", "Z": "41000 mm3", "S": "34000 mm3"}
    page = read(client, address("bending_rectangular_hss", typed))
    assert "in millimetres, newtons and MPa" in page.text


# ---------------------------------------------------------------- what was wrong


def test_each_mistake_is_told_at_its_field_and_everything_typed_stays(client: TestClient) -> None:
    page = read(client, WRONG)
    assert "sheet" not in page.ids
    assert page.wrong == ["F_y", "S", "b_over_t", "h_over_t"]
    assert "4 fields below need another look" in page.text
    assert "the unit 'foo' is not known" in page.text
    assert {("F_y", "46 foo"), ("Z", "2.5 in3")} <= set(page.fields)


def test_what_the_rule_itself_refuses_is_told_above_and_everything_typed_stays(
    client: TestClient,
) -> None:
    figure = figure_named("rectangular_tube")
    typed = {a.key: "2 in" for a in figure.arguments if not a.otherwise}
    page = read(client, address("rectangular_tube", typed))
    assert "has no hole; give a thinner wall" in page.text
    assert set(typed.items()) <= set(page.fields)


def test_a_word_that_is_none_of_the_choices_stays_and_is_told(client: TestClient) -> None:
    page = read(client, "/figures/lift_limit?lift.coupling=glue")
    assert ("lift.coupling", "glue") in page.fields
    assert "lift.coupling" in page.wrong
    assert "one of good, fair, poor would do" in page.text


def test_a_key_that_the_figure_does_not_take_is_told(client: TestClient) -> None:
    page = read(client, f"{WORKED}&F_z=3")
    assert "'Fz' is nothing that bending rectangular hss takes" in page.text
    assert set(TUBE.items()) <= set(page.fields)


@pytest.mark.parametrize("key", ["F_y", "for", "nothing", "rows-shown"])
def test_markup_that_is_typed_never_becomes_markup(client: TestClient, key: str) -> None:
    for path in (
        f"{WORKED}&{urlencode({key: NASTY})}",
        address("line_forces", {"lines": NASTY, key: NASTY}),
        f"/figures?{urlencode({'find': NASTY})}",
        f"/figures/{NASTY.replace('/', '')}",
    ):
        text = client.get(path).text
        assert "<script>alert" not in text and "<img" not in text, path
    page = read(client, f"{WORKED}&{urlencode({'for': NASTY})}")
    assert ("for", NASTY) in page.fields and NASTY in "".join(page.words)


# ---------------------------------------------------------------- lists


def test_a_list_has_three_lines_and_more_where_they_are_asked_for(client: TestClient) -> None:
    def lines(path: str) -> int:
        return sum(name == "lines" for name, _ in read(client, path).fields)

    assert lines("/figures/line_forces") == 3
    more = read(client, f"{address('line_forces', LINES[:1])}&rows-shown=6")
    assert sum(name == "lines" for name, _ in more.fields) == 6
    assert LINES[0] in more.fields
    # Who asks for more lines has not finished, and is not told what is missing.
    assert more.wrong == []
    assert lines("/figures/line_forces?rows-shown=99") == 40
    full = [("lines", f"0 in, {n} in to 4 in, {n} in") for n in range(5)]
    assert lines(address("line_forces", full)) == 5


def test_lines_are_worked_as_the_shell_works_them_and_empty_ones_are_passed_over(
    client: TestClient,
) -> None:
    typed = {"lines": f"{LINES[0][1]}; {LINES[1][1]}"}
    typed |= {"force": "0 lbf; 1200 lbf; 0 lbf", "at": "1 in; 2 in; 3 in"}
    made = worked("line_forces", typed)
    gap = [LINES[0], ("lines", " "), *LINES[1:]]
    for pairs in (gap, list(typed.items())):
        page = read(client, address("line_forces", pairs))
        assert "sheet" in page.ids
        for result in made.results:
            assert result.customary in page.text and result.metric in page.text
        assert set(LINES) <= set(page.fields)


def test_only_the_line_that_is_wrong_is_marked(client: TestClient) -> None:
    pairs = [("anchors", "0 in, 0 in"), ("anchors", "3 foo, 0 in")]
    text = client.get(address("plate_forces", pairs)).text
    wrong = re.findall(r'<input id="(put-anchors-\d)"[^>]*aria-invalid', text)
    assert wrong == ["put-anchors-2"]


def bolts() -> Figure:
    """A figure that takes a list of records, which the shell reads though none is held now."""
    force = Argument("bolts.1.pull", "of it", "N", "force", ("24 lbf", "110 N"), "")
    place = Argument("bolts.1.x", "from the edge", "m", "length", ("2 in", "60 mm"), "")
    plain = figure_named("column_stress")
    return Figure(
        name="bolts",
        module=plain.module,
        subject=plain.subject,
        quantity="",
        unit="",
        source="",
        rule="",
        arguments=(place, force),
        limits="",
        refuses="",
        cautions=(),
        not_from_shell="",
    )


def test_a_list_of_records_has_its_fields_item_by_item() -> None:
    figure = bolts()
    pairs = [("bolts.1.x", "2 in"), ("bolts.3.x", "4 in"), ("bolts.3.pull", "9 lbf")]
    typed = typed_in(figure, pairs)
    # The shell stops at the first number that is not there.
    assert typed == {"bolts.1.x": "2 in", "bolts.2.x": "4 in", "bolts.2.pull": "9 lbf"}
    problems = ["bolts.1.pull is missing: of it [N]. Add, as in: …", "bolts.2.x (…): no"]
    errors, rest = told_apart(figure, problems)
    assert errors["bolts.1.pull"] == "This is missing." and "bolts.2.x" in errors and rest == ()
    parts = parts_of(figure, typed, errors)
    names = [[put.name for put in part.fields] for part in parts]
    assert names == [[f"bolts.{n}.x", f"bolts.{n}.pull"] for n in (1, 2, 3)]
    assert parts[0].fields[1].error and parts[1].fields[0].value == "4 in"


# ---------------------------------------------------------------- how names are set


@pytest.mark.parametrize(
    ("name", "plain"),
    [
        ("F_y", "<var>F<sub>y</sub></var>"),
        ("lambda_", "<var>λ</var>"),
        ("psi_ec_N", "<var>ψ<sub>ec,N</sub></var>"),
        ("psi", '<var class="word">psi</var>'),
        ("b_over_t", "<var>b</var>/<var>t</var>"),
        ("N0_Rk_c", "<var>N⁰<sub>Rk,c</sub></var>"),
        ("a_prime", "<var>a</var>′"),
        ("long_side", '<var class="word">long side</var>'),
        ("ring.I_p", '<var class="word">ring</var>.<var>I<sub>p</sub></var>'),
    ],
)
def test_a_name_is_set_as_a_formula_has_it(name: str, plain: str) -> None:
    assert symbol(name) == plain


def test_a_quotient_beside_an_operator_is_bracketed() -> None:
    assert formula("h_over_t²") == "(<var>h</var>/<var>t</var>)²"
    assert formula("min(b_over_t, 2)") == "min(<var>b</var>/<var>t</var>, 2)"


def test_prose_keeps_its_words_and_never_makes_markup() -> None:
    said = prose("F_y <= 50 `LimitState.BENDING`, *A title* <b>, nan. `x_y z`")
    assert "<sub>y</sub></var> ≤ 50" in said and "bending" in said
    assert "<em>A title</em> &lt;b&gt;, no number. x_y z" in said
    assert prose("Eq. 1. `LimitState.BENDING`.") == "Eq. 1."
    assert title("bending_rectangular_hss") == "Bending rectangular HSS"
    assert title("twist_en10219") == "Twist EN 10219" and title("twist_a500") == "Twist A500"


# ---------------------------------------------------------------- in the browser


PAGES = (
    "/figures",
    "/figures?find=weld",
    "/figures/bending_rectangular_hss",
    WORKED,
    WRONG,
    "/figures/line_forces",
    address("line_forces", LINES),
    "/figures/grade_from",
)


def test_nothing_serious_for_those_who_cannot_see_or_point(
    browser: Browser, running: Running
) -> None:
    context = browser.new_context(viewport={"width": 360, "height": 780})
    page = context.new_page()
    for path in PAGES:
        page.goto(running.url + path)
        assert faults(page) == [], path
    context.close()


def test_a_figure_is_found_typed_and_worked_with_the_keyboard(
    watched: Watched, running: Running
) -> None:
    page = watched.page
    page.goto(f"{running.url}/figures")
    find = page.get_by_label("Find a figure")
    find.press_sequentially("column stress")
    expect(page.locator("#count")).to_contain_text("for “column stress”")
    expect(page.locator("#found")).not_to_contain_text("Two leg sling")
    assert page.url.endswith("/figures?find=column%20stress")
    link = page.get_by_role("link", name="Column stress")
    link.focus()
    link.press("Enter")
    page.get_by_label("specified minimum yield stress").fill("50 ksi")
    last = page.get_by_label("elastic buckling stress")
    last.fill("60 foo")
    last.press("Enter")
    expect(page.get_by_role("alert")).to_contain_text("It was not worked. One field below")
    expect(page.get_by_label("specified minimum yield stress")).to_have_value("50 ksi")
    last.fill("60 ksi")
    last.press("Enter")
    sheet = page.get_by_role("article", name="The sheet")
    made = worked("column_stress", {"F_y": "50 ksi", "F_e": "60 ksi"})
    expect(sheet).to_contain_text(made.results[0].customary)
    assert page.url.endswith("#sheet")
    top = sheet.bounding_box()
    assert top is not None and top["y"] < 500


@ON_A_PHONE
def test_enter_in_a_list_works_it_and_more_lines_keep_what_was_typed(
    watched: Watched, running: Running
) -> None:
    page = watched.page
    page.goto(f"{running.url}/figures/line_properties")
    rows = page.get_by_role("group", name="lines").get_by_role("textbox")
    expect(rows).to_have_count(3)
    rows.nth(0).fill("0 in, 0 in to 0 in, 4 in")
    rows.nth(1).fill("2 in, 0 in to 2 in, 4 in")
    page.get_by_role("button", name="More lines").click()
    expect(rows).to_have_count(6)
    expect(rows.nth(1)).to_have_value("2 in, 0 in to 2 in, 4 in")
    rows.nth(5).fill("0 in, 0 in to 2 in, 0 in")
    rows.nth(5).press("Enter")
    expect(page.get_by_role("article", name="The sheet")).to_be_visible()
    expect(rows.nth(2)).to_have_value("0 in, 0 in to 2 in, 0 in")


@AT_THE_BENCH
def test_what_is_printed_is_the_sheet_alone(watched: Watched, running: Running) -> None:
    page = watched.page
    page.goto(running.url + WORKED)
    page.emulate_media(media="print")
    expect(page.get_by_role("article", name="The sheet")).to_be_visible()
    expect(page.get_by_role("heading", name="Bending rectangular HSS")).to_be_visible()
    expect(page.locator(".signed")).to_be_visible()
    for hidden in (".put-in", ".back", ".onscreen >> nth=0", ".head nav"):
        expect(page.locator(hidden)).to_be_hidden()


def test_the_list_is_found_through_without_script(browser: Browser, running: Running) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{running.url}/figures")
    page.get_by_label("Find a figure").fill("sling")
    page.get_by_role("button", name="Find").click()
    expect(page.locator("#count")).to_contain_text("for “sling”")
    expect(page.get_by_role("link", name="Two leg sling")).to_be_visible()
    context.close()
