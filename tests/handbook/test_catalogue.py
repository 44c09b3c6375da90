"""The catalogue: what a maker may type, which walls are taken, what is refused and how."""

import pytest

from leafwright.handbook import outlines, sections
from leafwright.handbook.catalogue import (
    CatalogueError,
    CatalogueSection,
    find,
    load_catalogue,
    turned,
)

CATALOGUE = load_catalogue()
INCH = 0.0254
POUND_PER_FOOT = 0.45359237 / 0.3048

# What is typed, what it is called, its shape, width and height, nominal wall.
READ = [
    ("HSS 2-1/2 x 2-1/2 x 3/16", "HSS 2-1/2 x 2-1/2 x 3/16", "rectangular tube", 2.5, 2.5, 0.1875),
    ("HSS2X2X1/8", "HSS 2 x 2 x 1/8", "rectangular tube", 2.0, 2.0, 0.125),
    ("hss 2 × 2 × 1/8", "HSS 2 x 2 x 1/8", "rectangular tube", 2.0, 2.0, 0.125),
    ("HSS 2½ x 2½ x ¼", "HSS 2-1/2 x 2-1/2 x 1/4", "rectangular tube", 2.5, 2.5, 0.25),
    ("HSS 2 1/2 x 2 1/2 x 1/4", "HSS 2-1/2 x 2-1/2 x 1/4", "rectangular tube", 2.5, 2.5, 0.25),
    ("HSS 6 x 6 x 1/4 in", "HSS 6 x 6 x 1/4", "rectangular tube", 6.0, 6.0, 0.25),
    ("HSS 2x2x.188", "HSS 2 x 2 x 3/16", "rectangular tube", 2.0, 2.0, 0.1875),
    ("HSS 4 x 2 x 1/8", "HSS 4 x 2 x 1/8", "rectangular tube", 4.0, 2.0, 0.125),
    ("HSS 1.900 x 0.145", "HSS 1.900 x 0.145", "round tube", 1.9, 1.9, 0.145),
    ("HSS 2-3/8 x 0.154", "HSS 2.375 x 0.154", "round tube", 2.375, 2.375, 0.154),
    (
        "mechanical tube 2 x 2 x 0.120 in",
        "mechanical tube 2 x 2 x 0.120 in",
        "rectangular tube",
        2.0,
        2.0,
        0.12,
    ),
    (
        'Mechanical Tube 2" x 1" x 0.083"',
        "mechanical tube 2 x 1 x 0.083 in",
        "rectangular tube",
        2.0,
        1.0,
        0.083,
    ),
    (
        "mechanical tube 2 x 2 x 11 ga",
        "mechanical tube 2 x 2 x 0.120 in",
        "rectangular tube",
        2.0,
        2.0,
        0.12,
    ),
    ("mechanical tube 2 x 0.120 in", "mechanical tube 2 x 0.120 in", "round tube", 2.0, 2.0, 0.12),
    ("pipe 1-1/2 STD", "pipe 1-1/2 STD", "round tube", 1.9, 1.9, 0.145),
    ("PIPE 2 xs", "pipe 2 XS", "round tube", 2.375, 2.375, 0.218),
    ("round bar 1/2 in", "round bar 1/2 in", "round bar", 0.5, 0.5, 0.0),
    ("square bar 3/4 in", "square bar 3/4 in", "flat bar", 0.75, 0.75, 0.0),
    ("flat 3 x 3/8 in", "flat 3 x 3/8 in", "flat bar", 3.0, 0.375, 0.0),
    ("angle 2 x 1-1/2 x 1/4 in", "angle 2 x 1-1/2 x 1/4 in", "angle", 2.0, 1.5, 0.25),
]
READ_METRIC = [
    ("SHS 40 x 40 x 3", "SHS 40 x 40 x 3", "rectangular tube", 40.0, 40.0, 3.0),
    ("shs 40x40x3 mm", "SHS 40 x 40 x 3", "rectangular tube", 40.0, 40.0, 3.0),
    ("SHS 40 x 40 x 3, EN 10219", "SHS 40 x 40 x 3", "rectangular tube", 40.0, 40.0, 3.0),
    ("RHS 60 x 40 x 3", "RHS 60 x 40 x 3", "rectangular tube", 60.0, 40.0, 3.0),
    ("CHS 48.3 x 3", "CHS 48.3 x 3", "round tube", 48.3, 48.3, 3.0),
    ("flat 50 x 6 mm", "flat 50 x 6 mm", "flat bar", 50.0, 6.0, 0.0),
    ("round bar 20 mm", "round bar 20 mm", "round bar", 20.0, 20.0, 0.0),
]


def sizes(section: CatalogueSection) -> tuple[float, float, float]:
    return section.width, section.height, section.nominal_wall


@pytest.mark.parametrize(("text", "name", "shape", "width", "height", "wall"), READ)
def test_inch_sizes_are_read(
    text: str, name: str, shape: str, width: float, height: float, wall: float
) -> None:
    found = find(CATALOGUE, text)
    assert (found.designation, found.shape) == (name, shape)
    assert sizes(found) == pytest.approx((width * INCH, height * INCH, wall * INCH), rel=1e-14)


@pytest.mark.parametrize(("text", "name", "shape", "width", "height", "wall"), READ_METRIC)
def test_millimetre_sizes_are_read(
    text: str, name: str, shape: str, width: float, height: float, wall: float
) -> None:
    found = find(CATALOGUE, text)
    assert (found.designation, found.shape) == (name, shape)
    expected = (width / 1000.0, height / 1000.0, wall / 1000.0)
    assert sizes(found) == pytest.approx(expected, rel=1e-14)


def test_every_listed_size_is_found_by_its_own_name() -> None:
    for family in CATALOGUE.families:
        assert find(CATALOGUE, family.example).family == family.name
        for size in family.sizes:
            found = find(CATALOGUE, size.designation)
            assert (found.designation, found.family) == (size.designation, family.name)
            u_min, u_max, v_min, v_max = outlines.extent(found.mass_outline())
            assert (u_max - u_min, v_max - v_min) == pytest.approx((found.width, found.height))


def test_a_hollow_section_is_weighed_by_one_wall_and_relied_upon_by_another() -> None:
    # ANSI/AISC 360-22 B4.2: 0.93 of the nominal wall; A1085 its whole wall.
    found = find(CATALOGUE, "HSS 2 x 2 x 1/8")
    assert found.design_wall == pytest.approx(0.93 * 0.125 * INCH)
    assert found.properties().wall == found.design_wall
    assert found.nominal_radii() == pytest.approx((0.25 * INCH, 0.125 * INCH))
    assert found.design_radii() == pytest.approx((2.0 * found.design_wall, found.design_wall))
    full = find(CATALOGUE, "HSS 2 x 2 x 1/8", grade="A1085")
    assert full.design_wall == pytest.approx(0.125 * INCH)
    assert full.mass_per_metre == found.mass_per_metre
    assert full.properties().area > found.properties().area


def test_mechanical_tube_has_its_whole_wall_and_no_promised_yield() -> None:
    found = find(CATALOGUE, "mechanical tube 2 x 2 x 0.120 in")
    assert found.design_wall == found.nominal_wall
    assert not found.yield_guaranteed
    assert not found.grade.yield_guaranteed
    # Bought to a structural standard, the same size has that standard's wall and yield.
    structural = find(CATALOGUE, "mechanical tube 2 x 2 x 0.120 in", grade="A500 Gr B")
    assert structural.design_wall == pytest.approx(0.93 * structural.nominal_wall)
    assert structural.yield_guaranteed


def test_the_reference_leafs_tube_weighs_what_it_should() -> None:
    # Computed by hand: (4·0.12·1.88 - (4 - π)(0.24² - 0.12²)) in² × 490 lb/ft³ = 2.945 lb/ft.
    found = find(CATALOGUE, "mechanical tube 2 x 2 x 0.120 in")
    assert found.mass_per_metre / POUND_PER_FOOT == pytest.approx(2.945, abs=0.001)


def test_a_wider_than_high_tube_keeps_the_order_it_was_typed_in() -> None:
    lying, standing = find(CATALOGUE, "HSS 4 x 2 x 1/8"), find(CATALOGUE, "HSS 2 x 4 x 1/8")
    assert (standing.width, standing.height) == (lying.height, lying.width)
    assert standing.designation == lying.designation
    assert turned(lying) == standing
    assert lying.properties().inertia_v == pytest.approx(standing.properties().inertia_u)


@pytest.mark.parametrize(
    ("text", "grade", "wanted", "yield_MPa", "tensile_MPa"),
    [
        ("HSS 2 x 2 x 1/8", None, "A500 Gr B", 46 * 6.894757, 58 * 6.894757),
        ("HSS 2 x 2 x 1/8", "a500 gr c", "A500 Gr C", 50 * 6.894757, 62 * 6.894757),
        ("HSS 2 x 2 x 1/8, A1085", None, "A1085", 50 * 6.894757, 65 * 6.894757),
        ("HSS 1.900 x 0.145", None, "A500 Gr B", 42 * 6.894757, 58 * 6.894757),
        ("pipe 2 STD", None, "A53 Gr B", 35 * 6.894757, 60 * 6.894757),
        ("flat 3 x 3/8 in", None, "A36", 36 * 6.894757, 58 * 6.894757),
        ("SHS 40 x 40 x 3", None, "S235JRH", 235.0, 360.0),
        ("SHS 40 x 40 x 3, S275J0H", None, "S275J0H", 275.0, 410.0),
        ("SHS 40 x 40 x 2.5, S275J0H", None, "S275J0H", 275.0, 430.0),
        ("SHS 40 x 40 x 3", "S355J2H", "S355J2H", 355.0, 470.0),
        ("SHS 40 x 40 x 2.5", "S355J2H", "S355J2H", 355.0, 510.0),
        ("round bar 16 mm", None, "S235JR", 235.0, 360.0),
        ("round bar 20 mm", "S355J2", "S355J2", 345.0, 470.0),
    ],
)
def test_strength_is_that_of_the_grade_shape_and_thickness(
    text: str, grade: str | None, wanted: str, yield_MPa: float, tensile_MPa: float
) -> None:
    # ASTM A500, A1085, A53, A36; EN 10219-1, EN 10025-2 Table 7: how each is known is in the data.
    found = find(CATALOGUE, text, grade=grade)
    assert found.grade.name == wanted
    assert found.yield_stress / 1e6 == pytest.approx(yield_MPa, rel=1e-6)
    assert found.tensile_strength / 1e6 == pytest.approx(tensile_MPa, rel=1e-6)


def test_moduli_are_those_of_the_code() -> None:
    # ANSI/AISC 360-22: E = 29,000 ksi, G = 11,200 ksi. EN 1993-1-1 3.2.6: 210 and 81 GPa.
    american, european = find(CATALOGUE, "HSS 2x2x1/8").grade, find(CATALOGUE, "SHS 40x40x3").grade
    assert american.elastic_modulus == pytest.approx(199.948e9, rel=1e-5)
    assert american.shear_modulus == pytest.approx(77.221e9, rel=1e-5)
    assert (european.elastic_modulus, european.shear_modulus) == (210.0e9, 81.0e9)


def test_every_figure_says_where_it_comes_from() -> None:
    for grade in CATALOGUE.grades:
        assert str(grade.source)
        assert grade.how_known
        assert 0.0 < grade.design_wall_ratio <= 1.0
        for row in grade.strength:
            assert 0.0 < row.yield_stress < row.tensile_strength
    names = {grade.name for grade in CATALOGUE.grades}
    for family in CATALOGUE.families:
        assert set(family.grades) <= names
        assert str(family.source)
        assert family.how_known


def test_european_tube_takes_its_torsion_from_its_own_standard() -> None:
    found = find(CATALOGUE, "SHS 40 x 40 x 3").properties()
    assert found == sections.en10219_properties(0.040, 0.040, 0.003)


REFUSED = [
    ("HSS 2 x 2 x 0.120", r"nearest are `HSS 2 x 2 x 1/8`, .*`mechanical tube 2 x 2 x 0\.120 in`"),
    ("SHS 45 x 45 x 3", r"not in EN 10219-2; the nearest are `SHS 40 x 40 x 3`, `SHS 50 x 50 x 3`"),
    ("pipe 1-1/2", r"weight class, such as `pipe 1-1/2 STD`, `pipe 1-1/2 XS`"),
    ("pipe 9 STD", r"such as `pipe 1-1/2 STD`"),
    ("2 x 2 x 1/8 in", r"`HSS 2 x 2 x 1/8 in` or `mechanical tube 2 x 2 x 1/8 in`"),
    ("2-1/2", r"does not say what it is"),
    ("channel 3 x 4", r"of no known kind; give one of `HSS 2-1/2 x 2-1/2 x 3/16`"),
    ("flat 3 x 3/8", r"sizes without a unit; end it with in or mm, such as `flat 3 x 3/8 in`"),
    ("flat 3 in", r"has 1 size; give it as `flat 3 x 3/8 in`"),
    ("HSS 2 x 2 x 2 x 1/8", r"has 4 sizes; give it as `HSS 2-1/2 x 2-1/2 x 3/16` or `HSS 2\.375"),
    ("mechanical tube 2 x 2 x 1.5 in", r"cannot be made: a tube .* has no hole"),
    ("HSS 2 x 2 x 1/8, S235JRH", r"give one of A500 Gr B, A500 Gr C, A1085, or its standard, ASTM"),
    ("HSS", r"give its kind and sizes"),
    ("", r"give its kind and sizes"),
    ("flat 3 x 0 in", r"has a size of '0 in'; give one above 0"),
    ("flat 3 x -3/8 in", r"has a size of '-3/8 in'; give one above 0"),
    ("flat 3 x 11 ga", r"is not read: length '11 ga'"),
    ("flat 16-2 3/4 x 1 in", r"is not read: length '16-2 3/4'"),
    ("SHS 40 x 40 x", r"is not read: length ''"),
    ("round bar 150 mm", r"S235JR has no strength for a round bar of 150 mm"),
]


@pytest.mark.parametrize(("text", "message"), REFUSED)
def test_what_is_not_there_is_refused_with_what_would_do(text: str, message: str) -> None:
    with pytest.raises(CatalogueError, match=message) as caught:
        find(CATALOGUE, text)
    assert repr(text) in str(caught.value) or text == "round bar 150 mm"


def test_two_grades_at_once_are_refused() -> None:
    with pytest.raises(CatalogueError, match="is given grade 'A500 Gr C' too; give one of them"):
        find(CATALOGUE, "HSS 2 x 2 x 1/8, A1085", grade="A500 Gr C")
