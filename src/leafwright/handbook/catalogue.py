"""Steel sections as a maker names them, from a catalogue of published sizes and grades.

The data is in `steel_catalogue.toml`. A tube has two walls: the nominal one, which is weighed,
and the design wall, which is relied upon (ANSI/AISC 360-22 B4.2); the grade decides their ratio.
"""

from __future__ import annotations

import functools
import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from importlib import resources
from typing import Any

from leafwright.handbook import outlines, sections
from leafwright.handbook.grades import CatalogueError, Grade, grade_from, strength_of
from leafwright.handbook.outlines import Outline
from leafwright.handbook.sections import SectionProperties
from leafwright.records import (
    KilogramsPerCubicMetre,
    KilogramsPerMetre,
    Metres,
    Pascals,
    Source,
)
from leafwright.units import UnitError, read_length
from leafwright.units.constants import FOOT, INCH, MILLIMETRE, POUND

__all__ = [
    "Catalogue",
    "CatalogueError",
    "CatalogueSection",
    "Family",
    "Grade",
    "Size",
    "catalogue_from",
    "find",
    "load_catalogue",
    "strength_of",
    "turned",
]

_IN_UNIT = {"in": INCH, "mm": MILLIMETRE}
# A wall in inches is often named by its three rounded decimals: 3/16 is 0.188.
_ROUNDED_WALL = {"in": INCH / 2000, "mm": Fraction(0)}
_TRAILING_UNIT = re.compile(r"\s*(mm|in\.?|inch|inches|[\"”″])$")


@dataclass(frozen=True, slots=True)
class Size:
    """One size of a family: outside width and height, and nominal wall, exact [m]."""

    designation: str
    width: Fraction
    height: Fraction
    wall: Fraction


@dataclass(frozen=True, slots=True)
class Family:
    """A kind of section. Without ``sizes`` it takes any size; without ``unit`` one must be typed.

    ``grades`` holds the names it comes in, the one taken where none is named first;
    ``metric_grade`` is that one where the size is typed in millimetres.
    """

    name: str
    words: tuple[str, ...]
    shape: str
    numbers: int
    unit: str
    example: str
    corners: str
    density: KilogramsPerCubicMetre
    grades: tuple[str, ...]
    metric_grade: str
    standard: str
    sizes: tuple[Size, ...]
    source: Source
    how_known: str


@dataclass(frozen=True, slots=True)
class Catalogue:
    """All families and grades. A grade that no family lists is offered for every section."""

    families: tuple[Family, ...]
    grades: tuple[Grade, ...]


@dataclass(frozen=True, slots=True)
class CatalogueSection:
    """A section chosen from the catalogue in one grade.

    Width lies along u (in the plane of a leaf), height along v (across it). A solid bar has walls
    of 0. ``corners`` names the rule for radii and torsion, as in the data file.
    ``yield_guaranteed`` is False where the standard does not promise the yield stress: the figure
    is then typical, and the mill certificate must be asked for.
    """

    designation: str
    family: str
    shape: str
    width: Metres
    height: Metres
    nominal_wall: Metres
    design_wall: Metres
    corners: str
    density: KilogramsPerCubicMetre
    mass_per_metre: KilogramsPerMetre
    grade: Grade
    yield_stress: Pascals
    tensile_strength: Pascals
    yield_guaranteed: bool
    source: Source
    how_known: str

    def nominal_radii(self) -> tuple[Metres, Metres]:
        """Return the outer and inner corner radius by the nominal wall [m]; 0 where sharp."""
        return _radii(self.shape, self.corners, self.nominal_wall)

    def design_radii(self) -> tuple[Metres, Metres]:
        """Return the outer and inner corner radius by the design wall [m]; 0 where sharp."""
        return _radii(self.shape, self.corners, self.design_wall)

    def mass_outline(self) -> Outline:
        """Return the outline by the nominal wall: what is weighed, cut and drawn."""
        return _outline(self.shape, self.width, self.height, self.nominal_wall, self.corners)

    def properties(self) -> SectionProperties:
        """Return the section properties by the design wall: what strength relies upon."""
        return _properties(self.shape, self.width, self.height, self.design_wall, self.corners)


def load_catalogue() -> Catalogue:
    """Return the catalogue that comes with the package, read from its data file."""
    file = resources.files("leafwright.handbook") / "steel_catalogue.toml"
    return catalogue_from(tomllib.loads(file.read_text(encoding="utf-8")))


def catalogue_from(data: Mapping[str, Any]) -> Catalogue:
    """Return the catalogue that data of the form of `steel_catalogue.toml` describes."""
    grades = tuple(grade_from(entry, data["moduli"]) for entry in data["grade"])
    return Catalogue(tuple(_family(entry) for entry in data["family"]), grades)


def find(catalogue: Catalogue, text: str, *, grade: str | None = None) -> CatalogueSection:
    """Return the section that a maker's words name.

    Read: ``HSS 2-1/2 x 2-1/2 x 3/16``, ``HSS2X2X1/8``, ``mechanical tube 2 x 2 x 0.120 in``,
    ``SHS 40 x 40 x 3``, ``flat 3 x 3/8 in``, ``pipe 1-1/2 STD``; x or ×, any case. After a comma
    the standard or the grade may follow: ``HSS 2 x 2 x 1/8, A1085``. The first size typed is the
    width, whatever the order in the published table.

    text: what was typed; grade: its name, where it is not in the text.
    Raises CatalogueError where no such section or grade is there, or the words could mean two
    things; the message says what would do.
    """
    designation, _, after = text.partition(",")
    word, parts, weight_class = _split(text, designation)
    family = _family_named(catalogue, text, word, parts)
    sizes, unit = _lengths(text, family, parts)
    if not family.sizes:
        size = _own_size(family, sizes, unit)
    else:
        size = _listed_size(text, family, sizes, weight_class)
    chosen = _grade_named(catalogue, text, family, unit, after.strip(), grade)
    section = _section(text, family, size, chosen)
    # A size listed as 4 x 2 and typed as 2 x 4 is the same tube, standing.
    is_turned = family.numbers == 3 and size.width != sizes[0]
    return turned(section) if is_turned else section


def turned(section: CatalogueSection) -> CatalogueSection:
    """Return the section turned by a quarter: its width becomes its height.

    The data is in `steel_catalogue.toml`.

    section: as it lay.
    """
    return replace(section, width=section.height, height=section.width)


def _section(text: str, family: Family, size: Size, grade: Grade) -> CatalogueSection:
    width, height, wall = float(size.width), float(size.height), float(size.wall)
    try:
        outline = _outline(family.shape, width, height, wall, family.corners)
    except ValueError as error:
        raise CatalogueError(f"section {text!r} cannot be made: {error}") from None
    yield_stress, tensile = strength_of(grade, family.shape, wall or min(width, height))
    is_tube = family.shape in (sections.RECTANGULAR_TUBE, sections.ROUND_TUBE)
    return CatalogueSection(
        designation=size.designation,
        family=family.name,
        shape=family.shape,
        width=width,
        height=height,
        nominal_wall=wall,
        design_wall=wall * grade.design_wall_ratio if is_tube else wall,
        corners=family.corners,
        density=family.density,
        mass_per_metre=family.density * outlines.moments(outline).area,
        grade=grade,
        yield_stress=yield_stress,
        tensile_strength=tensile,
        yield_guaranteed=grade.yield_guaranteed,
        source=family.source,
        how_known=family.how_known,
    )


def _radii(shape: str, corners: str, wall: float) -> tuple[float, float]:
    if shape != sections.RECTANGULAR_TUBE:
        return 0.0, 0.0
    if corners == "EN 10219":
        return sections.en10219_radii(wall)
    if corners == "2t":
        return 2.0 * wall, wall
    return 0.0, 0.0


# A job has few sections and asks for their properties hundreds of times.
@functools.lru_cache(maxsize=512)
def _properties(
    shape: str, width: float, height: float, wall: float, corners: str
) -> SectionProperties:
    if shape == sections.RECTANGULAR_TUBE:
        if corners == "EN 10219":
            return sections.en10219_properties(width, height, wall)
        outer, inner = _radii(shape, corners, wall)
        return sections.properties_of_rectangular_tube(
            width, height, wall, outer_radius=outer, inner_radius=inner
        )
    if shape == sections.ROUND_TUBE:
        if corners == "EN 10219":
            return sections.en10219_round_properties(width, wall)
        return sections.properties_of_round_tube(width, wall)
    if shape == sections.ROUND_BAR:
        return sections.properties_of_round_bar(width)
    if shape == sections.FLAT_BAR:
        return sections.properties_of_flat_bar(width, height)
    return sections.properties_of_angle(width, height, wall)


@functools.lru_cache(maxsize=512)
def _outline(shape: str, width: float, height: float, wall: float, corners: str) -> Outline:
    if shape == sections.RECTANGULAR_TUBE:
        return outlines.rectangular_tube(width, height, wall, *_radii(shape, corners, wall))
    if shape == sections.ROUND_TUBE:
        return outlines.round_tube(width, wall)
    if shape == sections.ROUND_BAR:
        return outlines.round_bar(width)
    if shape == sections.FLAT_BAR:
        return outlines.flat_bar(width, height)
    return outlines.angle(width, height, wall)


# ---------------------------------------------------------------- reading what was typed


def _split(text: str, designation: str) -> tuple[str, list[str], str]:
    """Return the family's words, the sizes as typed, and a pipe's weight class or ""."""
    plain = designation.lower().replace("×", "x").strip()
    found = re.fullmatch(r"([a-z ]*?)\s*([\d.¼½¾⅛⅜⅝⅞].*)", plain)
    if found is None:
        raise CatalogueError(
            f"section {text!r} is not read: give its kind and sizes, "
            "such as `HSS 2 x 2 x 1/8` or `flat 3 x 3/8 in`"
        )
    word, rest = " ".join(found[1].split()), found[2]
    with_class = re.fullmatch(r"(.*?)\s*(std|xs|xxs)", rest) if word == "pipe" else None
    weight_class = with_class[2].upper() if with_class else ""
    sizes = with_class[1] if with_class else rest
    return word, [part.strip() for part in sizes.split("x")], weight_class


def _family_named(catalogue: Catalogue, text: str, word: str, parts: list[str]) -> Family:
    count = len(parts)
    of_word = [
        family for family in catalogue.families if word in (known.lower() for known in family.words)
    ]
    for family in of_word:
        if family.numbers == count:
            return family
    if of_word:
        forms = " or ".join(f"`{family.example}`" for family in of_word)
        raise CatalogueError(
            f"section {text!r} has {count} size{'s' if count > 1 else ''}; give it as {forms}"
        )
    if not word:
        unit = _typed_unit(parts)
        of_count = [
            family
            for family in catalogue.families
            if family.numbers == count and (not unit or family.unit in ("", unit))
        ]
        forms = " or ".join(f"`{family.words[0]} {' x '.join(parts)}`" for family in of_count)
        raise CatalogueError(
            f"section {text!r} does not say what it is, and one size comes as structural and as "
            f"mechanical tube, which differ in wall and strength; give {forms or 'its kind too'}"
        )
    forms = ", ".join(f"`{family.example}`" for family in catalogue.families)
    raise CatalogueError(f"section {text!r} is of no known kind; give one of {forms}")


def _lengths(text: str, family: Family, parts: list[str]) -> tuple[list[Fraction], str]:
    """Return the sizes typed [m], and the unit they were typed in."""
    unit = _typed_unit(parts) or family.unit
    if not unit:
        raise CatalogueError(
            f"section {text!r} has sizes without a unit; end it with in or mm, "
            f"such as `{family.example}`"
        )
    is_tube = family.shape in (sections.RECTANGULAR_TUBE, sections.ROUND_TUBE)
    sizes = []
    for place, part in enumerate(parts):
        is_gauge = is_tube and place == len(parts) - 1 and part.endswith("ga")
        try:
            size = read_length(part, bare=unit, gauge="tube" if is_gauge else None).exact
        except UnitError as error:
            raise CatalogueError(f"section {text!r} is not read: {error}") from None
        if size <= 0:
            raise CatalogueError(f"section {text!r} has a size of {part!r}; give one above 0")
        sizes.append(size)
    return sizes, unit


def _typed_unit(parts: list[str]) -> str:
    """Return the unit behind the last size, in or mm, or "" where none was typed."""
    trailing = _TRAILING_UNIT.search(parts[-1])
    if trailing:
        return "mm" if trailing[1] == "mm" else "in"
    # A gauge is a wall in inches, so the bare sizes before it are inches too.
    return "in" if parts[-1].endswith("ga") else ""


def _own_size(family: Family, sizes: list[Fraction], unit: str) -> Size:
    name = family.words[0]
    designation = f"{name} {' x '.join(_shown(size, unit) for size in sizes)} {unit}"
    if family.shape in (sections.RECTANGULAR_TUBE, sections.ANGLE):
        return Size(designation, sizes[0], sizes[1], sizes[2])
    if family.shape == sections.ROUND_TUBE:
        return Size(designation, sizes[0], sizes[0], sizes[1])
    return Size(designation, sizes[0], sizes[-1], Fraction(0))


def _listed_size(text: str, family: Family, sizes: list[Fraction], weight_class: str) -> Size:
    if family.name == "pipe":
        nominal = f"pipe {_shown(sizes[0], 'in')} "
        for size in family.sizes:
            if size.designation == nominal + weight_class:
                return size
        near = [size.designation for size in family.sizes if size.designation.startswith(nominal)]
        forms = ", ".join(f"`{name}`" for name in near or [family.example])
        raise CatalogueError(
            f"section {text!r} is not in {family.source.document}; "
            f"give a nominal size and a weight class, such as {forms}"
        )
    width, height = sizes[0], sizes[1] if family.numbers == 3 else sizes[0]
    wall = sizes[-1]
    for size in family.sizes:
        if abs(size.wall - wall) <= _ROUNDED_WALL[family.unit]:
            if (width, height) in ((size.width, size.height), (size.height, size.width)):
                return size
    ranked = sorted(
        family.sizes,
        key=lambda size: (
            abs(size.width - max(width, height)) + abs(size.height - min(width, height)),
            abs(size.wall - wall),
        ),
    )
    nearest = ", ".join(f"`{size.designation}`" for size in ranked[:3])
    own = f"mechanical tube {' x '.join(_shown(size, family.unit) for size in sizes)} {family.unit}"
    raise CatalogueError(
        f"section {text!r} is not in {family.source.document}; the nearest are {nearest}; "
        f"or give the tube in hand as the maker's own size, `{own}`, with its grade"
    )


def _grade_named(
    catalogue: Catalogue, text: str, family: Family, unit: str, after: str, grade: str | None
) -> Grade:
    """Return the grade asked for after the comma or beside the text, else the family's first."""
    name = grade
    if after and after.lower() != family.standard.lower():
        if grade is not None and grade.lower() != after.lower():
            raise CatalogueError(f"section {text!r} is given grade {grade!r} too; give one of them")
        name = after
    if name is None:
        name = family.metric_grade if unit == "mm" and family.metric_grade else family.grades[0]
    # A grade that no family lists was added by the maker, and any section may come in it.
    listed = {known for other in catalogue.families for known in other.grades}
    offered = [
        known
        for known in catalogue.grades
        if known.name in family.grades or known.name not in listed
    ]
    for known in offered:
        if known.name.lower() == name.lower():
            return known
    raise CatalogueError(
        f"section {text!r} does not come as {name!r} here; give one of "
        f"{', '.join(known.name for known in offered)}, or its standard, {family.standard}"
    )


def _shown(size: Fraction, unit: str) -> str:
    """Return a size as the trade writes it: 2-1/2, 0.120, 48.3."""
    number = size / _IN_UNIT[unit]
    if unit == "in" and (64 % number.denominator) == 0:
        whole, rest = divmod(number, 1)
        if not rest:
            return str(whole)
        return f"{whole}-{rest}" if whole else str(rest)
    thousandths = number * 1000
    if unit == "in" and thousandths.denominator == 1:
        return f"{float(number):.3f}"
    return f"{float(number):.6g}"


# ---------------------------------------------------------------- reading the data file


def _family(entry: Mapping[str, Any]) -> Family:
    unit = entry.get("unit", "")
    density = entry.get("density_kg_per_m3")
    if density is None:
        density = entry["density_lb_per_ft3"] * float(POUND / FOOT**3)
    return Family(
        name=entry["name"],
        words=tuple(entry["words"]),
        shape=entry["shape"],
        numbers=entry["numbers"],
        unit=unit,
        example=entry["example"],
        corners=entry.get("corners", ""),
        density=float(density),
        grades=tuple(entry["grades"]),
        metric_grade=entry.get("metric_grade", ""),
        standard=entry["standard"],
        sizes=_table_sizes(entry, unit) + _pipe_sizes(entry),
        source=Source(entry["source"]),
        how_known=entry["how"],
    )


def _table_sizes(entry: Mapping[str, Any], unit: str) -> tuple[Size, ...]:
    table: Mapping[str, str] = entry.get("sizes", {})
    name = entry["words"][0]
    # Few different numbers make up all the sizes, so each is read once.
    typed = {part for outside in table for part in outside.split(" x ")}
    typed |= {wall for walls in table.values() for wall in walls.split()}
    exact = {part: read_length(part, bare=unit).exact for part in typed}
    return tuple(
        Size(
            f"{name} {outside} x {wall}",
            exact[outside.split(" x ")[0]],
            exact[outside.split(" x ")[-1]],
            exact[wall],
        )
        for outside, walls in table.items()
        for wall in walls.split()
    )


def _pipe_sizes(entry: Mapping[str, Any]) -> tuple[Size, ...]:
    sizes = []
    for nominal, row in entry.get("pipes", {}).items():
        outside = read_length(row["outside"], bare="in").exact
        for weight_class, wall in row.items():
            if weight_class != "outside":
                exact = read_length(wall, bare="in").exact
                sizes.append(Size(f"pipe {nominal} {weight_class}", outside, outside, exact))
    return tuple(sizes)
