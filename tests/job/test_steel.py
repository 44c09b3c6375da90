from __future__ import annotations

import pytest

from leafwright.handbook.catalogue import CatalogueError
from leafwright.job.model import GradeTable, SectionTable
from leafwright.job.steel import STEEL_DENSITY, steel_with

HEAT = GradeTable.model_validate(
    {
        "name": "heat 1",
        "yield_strength": "40 ksi",
        "ultimate_strength": "60 ksi",
        "source": "certificate 1",
    }
)
KSI = 6_894_757.293


def own(**given: str) -> SectionTable:
    table = {"name": "yard", "shape": "rectangular tube", "width": "2 in", "wall": "1/8 in"}
    return SectionTable.model_validate({**table, "grade": "heat 1", **given})


def test_a_section_of_one_s_own_comes_before_the_catalogue() -> None:
    found = steel_with([own(name="HSS 2 x 2 x 1/8", wall="1/4 in")], [HEAT])
    assert found.section("HSS 2 x 2 x 1/8").nominal_wall == pytest.approx(0.25 * 0.0254)
    assert found.section("HSS 3 x 3 x 1/8").nominal_wall == pytest.approx(0.125 * 0.0254)


def test_a_grade_of_one_s_own_is_what_its_certificate_says() -> None:
    section = steel_with([own()], [HEAT]).section("yard")
    assert section.yield_stress == pytest.approx(40 * KSI)
    assert section.tensile_strength == pytest.approx(60 * KSI)
    assert section.grade.source.document == "certificate 1"


def test_a_certificate_of_strength_does_not_vouch_for_the_wall() -> None:
    # ANSI/AISC 360-22 B4.2: a design wall of 0.93 of the nominal where nothing better is known.
    found = steel_with([own()], [HEAT])
    assert found.section("yard").design_wall == pytest.approx(0.93 * 0.125 * 0.0254)
    listed = found.section("HSS 2 x 2 x 1/8", "heat 1")
    assert listed.design_wall == pytest.approx(0.93 * listed.nominal_wall)


def test_a_bar_weighs_its_area() -> None:
    bar = own(shape="flat bar", width="2 in", height="1/2 in")
    section = steel_with([bar], [HEAT]).section("yard")
    assert section.mass_per_metre == pytest.approx(STEEL_DENSITY * 2 * 0.5 * 0.0254**2)


@pytest.mark.parametrize(
    ("section", "grade", "message"),
    [
        (own(), "heat 9", "no grade is called 'heat 9'; known: heat 1, A500 Gr B"),
        (own(wall="1 in"), None, "the section 'yard' cannot be made"),
        (
            SectionTable.model_validate(
                {"name": "yard", "shape": "round tube", "width": "2 in", "grade": "heat 1"}
            ),
            None,
            "the section 'yard' is a tube and has no wall",
        ),
        (
            SectionTable.model_validate({"name": "yard", "shape": "round bar", "width": "2 in"}),
            None,
            "the section 'yard' has no grade; give grade = … in its [[section]]",
        ),
    ],
)
def test_what_cannot_be_is_told(section: SectionTable, grade: str | None, message: str) -> None:
    with pytest.raises(CatalogueError) as caught:
        steel_with([section], [HEAT]).section("yard", grade)
    assert message in str(caught.value)
