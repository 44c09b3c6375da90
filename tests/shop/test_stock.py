"""Buying: sticks by price, supplier and number; what waits when some are not to be had."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from leafwright.job.file import read_job
from leafwright.job.model import Job
from leafwright.job.steel import steel
from leafwright.pipeline import Plan, plan
from leafwright.records import Held, Verdict
from leafwright.shop.cut_list import CutList
from leafwright.shop.nest import Nest
from leafwright.shop.sold import sold
from leafwright.shop.stock import SectionStock, Stock, stock, wanted_of
from leafwright.shop.what_if import Asked, WhatIf, what_if

EXAMPLES = Path(__file__).parents[2] / "examples"
FOOT = 0.3048
POUND = 0.45359237
TUBE = "HSS 2-1/2 x 2-1/2 x 3/16"
BOATHOUSE = (EXAMPLES / "boathouse.toml").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def made() -> Plan:
    return plan(read_job(plain()), upto="shop")


def plain(extra: str = "", *, text: str = BOATHOUSE) -> str:
    """The example without its own sticks and offcuts, and with others."""
    lines = text.splitlines(keepends=True)
    kept, skipping = [], False
    for line in lines:
        if line.startswith("["):
            skipping = line.startswith(("[[stick]]", "[[offcut]]"))
        if not skipping:
            kept.append(line)
    return "".join(kept) + extra


def bought(made: Plan, job: Job) -> Stock:
    assert isinstance(made.cuts, CutList)
    return stock(job, made.cuts, steel(job))


def only(found: Stock) -> SectionStock:
    (one,) = found.sections
    return one


def asked(made: Plan, job: Job, question: Asked) -> WhatIf:
    assert isinstance(made.cuts, CutList)
    return what_if(question, job, made.cuts, steel(job), bought(made, job))


# --- what it costs


def test_cost_is_the_mass_bought_times_its_price(made: Plan) -> None:
    """1.15 a pound of every pound bought, worked here from the sticks themselves."""
    one = only(bought(made, made.job))
    pounds = sum(use.count * use.mass for use in one.sticks) / POUND
    assert one.counted == "money"
    assert one.cost == pytest.approx(1.15 * pounds, rel=1e-9)
    assert one.mass == pytest.approx(pounds * POUND)
    assert one.proven and one.bound == pytest.approx(one.cost)


def test_the_cheaper_supplier_sells_first_and_no_more_than_he_has(made: Plan) -> None:
    job = read_job(
        plain(
            '\n[[stick]]\nlength = "24 ft"\nprice = "100 each"\ncount = 3\nsupplier = "Ann"\n'
            '[[stick]]\nlength = "24 ft"\nprice = "6 /ft"\nsupplier = "Bert"\n'
        )
    )
    one = only(bought(made, job))
    by = {use.supplier: use for use in one.sticks}
    assert by["Ann"].count == 3
    assert by["Bert"].price == pytest.approx(144.0)
    assert one.cost == pytest.approx(300.0 + by["Bert"].count * 144.0)
    assert one.proven


def test_a_stick_without_a_price_makes_length_the_measure_and_is_named(made: Plan) -> None:
    text = plain('\n[[stick]]\nlength = "24 ft"\n[[stick]]\nlength = "20 ft"\nprice = "90 each"\n')
    job = read_job(text.replace('frame_tube = "1.15 /lb"\n', ""))
    one = only(bought(made, job))
    assert (one.counted, one.unpriced) == ("length", ("24'-0\"",))
    assert isinstance(one.nest, Nest)
    assert one.cost == pytest.approx(one.nest.bought_length)


def test_an_offcut_is_used_where_it_saves_and_never_for_a_stile(made: Plan) -> None:
    rack = f'\n[[offcut]]\nsection = "{TUBE}"\nlength = "14 ft"\ncount = 4\n'
    one = only(bought(made, read_job(plain(rack))))
    assert isinstance(one.nest, Nest)
    racked = [layout for layout in one.nest.layouts if layout.stick.kind == "offcut"]
    assert racked
    assert not any("HS" in c.key or "MS" in c.key for layout in racked for c in layout.cuts)
    straight = only(bought(made, read_job(plain(rack + "straight = true\n"))))
    assert straight.cost < one.cost
    worth = only(bought(made, read_job(plain(rack + 'price = "500 each"\n'))))
    assert all(use.kind == "new" for use in worth.sticks)


def test_any_price_of_steel_comes_to_the_same_each_by_foot_or_by_pound(made: Plan) -> None:
    (one,) = (
        wanted_of(made.job, made.cuts, steel(made.job)) if isinstance(made.cuts, CutList) else ()
    )
    draw = random.Random(1)
    per_metre = one.section.mass_per_metre
    for _ in range(5):
        feet = draw.randint(8, 40)
        each = feet * FOOT * per_metre / POUND * 1.15
        for price in (f"{each:.9f} each", f"{each / feet:.9f} /ft", "1.15 /lb"):
            job = read_job(plain(f'\n[[stick]]\nlength = "{feet} ft"\nprice = "{price}"\n'))
            (stick,) = sold(job, one.section, steel(job))
            assert stick.price == pytest.approx(each, rel=1e-7)


def test_a_price_by_the_hour_is_refused_with_what_would_do() -> None:
    from leafwright.job.errors import JobError

    with pytest.raises(JobError) as told:
        read_job(plain('\n[[stick]]\nlength = "24 ft"\nprice = "95 /h"\n'))
    assert "steel is paid for each, by length or by weight" in told.value.report()


@pytest.mark.parametrize(
    ("entry", "told"),
    [
        pytest.param('length = "-24 ft"', "more than 0", id="a negative length"),
        pytest.param('length = "24 ft"\ncount = -1', "count", id="a negative number"),
        pytest.param('length = "24 ft"\nsection = "HSS 9 x 9"', "HSS 9 x 9", id="no such steel"),
    ],
)
def test_sticks_that_cannot_be_are_refused(entry: str, told: str) -> None:
    from leafwright.job.errors import JobError

    with pytest.raises(JobError) as error:
        read_job(plain(f"\n[[stick]]\n{entry}\n"))
    assert told in error.value.report()


def test_a_piece_longer_than_any_stick_is_named_with_the_stick_that_would_do(made: Plan) -> None:
    """P-R is a hair over 14'-2 13/16", and each end loses 1/2" and a cut of 0.094"."""
    job = read_job(plain(text=BOATHOUSE.replace('["20 ft", "24 ft"]', '["14 ft"]')))
    found = bought(made, job)
    one = only(found)
    assert isinstance(one.nest, Held)
    assert one.nest.why == (
        "longer than any stick: P-R (14'-2 13/16\"), P-L (14'-2 5/8\"); the longest there is, "
        "14'-0\", loses its mill ends"
    )
    assert one.nest.needs == (
        "a stick of at least 14'-4 1/16\", or a decision where it is spliced",
    )
    (check,) = found.checks
    assert check.verdict is Verdict.SHORT


# --- what if


def test_without_a_length_the_others_do_at_a_price(made: Plan) -> None:
    (case,) = asked(made, made.job, Asked("without", what="24 ft")).cases
    assert isinstance(case.instead, SectionStock)
    assert {use.label for use in case.instead.sticks} == {"20'-0\""}
    assert case.waits == ()
    assert case.more is not None and case.more > 0


def test_without_a_supplier_only_his_sticks_are_gone(made: Plan) -> None:
    job = read_job(
        plain(
            '\n[[stick]]\nlength = "24 ft"\nprice = "100 each"\nsupplier = "Ann"\n'
            '[[stick]]\nlength = "24 ft"\nprice = "110 each"\nsupplier = "Bert"\n'
        )
    )
    (case,) = asked(made, job, Asked("without", what="ann")).cases
    assert isinstance(case.instead, SectionStock)
    assert {use.supplier for use in case.instead.sticks} == {"Bert"}
    count = sum(use.count for use in case.instead.sticks)
    assert case.more == pytest.approx(10.0 * count)


def test_a_name_that_nobody_sells_by_is_told_with_those_there_are(made: Plan) -> None:
    with pytest.raises(ValueError, match="nothing that is sold goes by '25 ft'") as told:
        asked(made, made.job, Asked("without", what="25 ft"))
    assert str(told.value).endswith("there are 20'-0\", 24'-0\"")


def test_one_stick_short_the_least_length_waits(made: Plan) -> None:
    """What waits fits no way into what is there: what is left over is shorter than any of it."""
    cases = asked(made, made.job, Asked("short")).cases
    assert len(cases) == len([u for u in only(bought(made, made.job)).sticks if u.kind == "new"])
    assert isinstance(made.cuts, CutList)
    everything = sum(i.length.value * len(i.marks) for i in made.cuts.items)
    for case in cases:
        assert case.waits and case.gap == 0.0
        assert isinstance(case.now, Nest)
        now = sum(cut.length for layout in case.now.layouts for cut in layout.cuts)
        waits = sum(piece.length for piece in case.waits)
        assert now + waits == pytest.approx(everything, abs=1e-6)
        assert case.longest_left < min(piece.length for piece in case.waits)
        assert case.more is not None and case.more >= -1e-9


def test_only_the_rack_says_what_can_be_cut_what_not_and_what_to_buy_later(made: Plan) -> None:
    rack = f'\n[[offcut]]\nsection = "{TUBE}"\nlength = "{{}}"\ncount = {{}}\n'
    job = read_job(plain(rack.format("9 ft", 2)))
    (case,) = asked(made, job, Asked("rack only")).cases
    assert isinstance(case.now, Nest)
    cut = sorted(c.key for layout in case.now.layouts for c in layout.cuts)
    # 9 ft hold one brace (7'-11 7/16"), or one rail (4'-5 15/16") but not two: the braces.
    assert len(cut) == 2 and all("-B" in key and key[-1].isdigit() for key in cut)
    assert len(case.waits) == 17 - len(cut)
    assert isinstance(case.instead, SectionStock) and isinstance(case.instead.nest, Nest)
    later = {c.key for layout in case.instead.nest.layouts for c in layout.cuts}
    assert later == {piece.key for piece in case.waits}


def test_a_brace_that_waits_may_be_spliced_of_two_drops_and_a_stile_never(made: Plan) -> None:
    """On a rack of 6 ft lengths nothing long can be cut; two make a brace, none makes a stile."""
    rack = f'\n[[offcut]]\nsection = "{TUBE}"\nlength = "6 ft"\ncount = 10\nstraight = true\n'
    job = read_job(plain(rack))
    (case,) = asked(made, job, Asked("rack only")).cases
    spliced = {splice.key for splice in case.splices}
    assert spliced
    assert not any("HS" in key or "MS" in key for key in spliced)
    length = {piece.key: piece.length for piece in case.waits}
    for splice in case.splices:
        assert sum(splice.parts) == pytest.approx(length[splice.key], abs=1e-9)
        assert min(splice.parts) >= 0.3 - 1e-9
        assert max(splice.parts) <= 6 * FOOT
