"""Rolled I-beams overhead, by name: the few sizes that a joint to a flange or a web needs.

Inch sizes: AISC Shapes Database, read in an open program's copy (k is the design one). Metric
sizes: EN 10365, from memory; their areas, worked from these sizes, were held against published
ones. An old beam may have been rolled to other sizes: measure it.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from leafwright.handbook.aisc360.constants import KSI
from leafwright.records import Metres, Source

_INCH: Final = 0.0254
_MM: Final = 0.001


@dataclass(frozen=True, slots=True)
class RolledBeam:
    """Nominal sizes of a beam.

    ``k`` is from the flange's outer face to the web's toe of the fillet.
    """

    name: str
    depth: Metres
    flange_width: Metres
    web: Metres
    flange: Metres
    k: Metres
    source: Source


_AISC: Final = Source("AISC Shapes Database", "read in an open program's copy")
_EN: Final = Source("EN 10365", "from memory")

# Name; depth, flange width, web, flange, k [in]. Up to 24 in deep and 100 lb/ft.
_INCHES: Final = """
W24x94 24.3 9.07 0.515 0.875 1.38; W24x84 24.1 9.02 0.47 0.77 1.27;
W24x76 23.9 8.99 0.44 0.68 1.18; W24x68 23.7 8.97 0.415 0.585 1.09;
W24x62 23.7 7.04 0.43 0.59 1.09; W24x55 23.6 7.01 0.395 0.505 1.01;
W21x93 21.6 8.42 0.58 0.93 1.43; W21x83 21.4 8.36 0.515 0.835 1.34;
W21x73 21.2 8.3 0.455 0.74 1.24; W21x68 21.1 8.27 0.43 0.685 1.19; W21x62 21 8.24 0.4 0.615 1.12;
W21x55 20.8 8.22 0.375 0.522 1.02; W21x48 20.6 8.14 0.35 0.43 0.93;
W21x57 21.1 6.56 0.405 0.65 1.15; W21x50 20.8 6.53 0.38 0.535 1.04;
W21x44 20.7 6.5 0.35 0.45 0.95; W18x97 18.6 11.1 0.535 0.87 1.27; W18x86 18.4 11.1 0.48 0.77 1.17;
W18x76 18.2 11 0.425 0.68 1.08; W18x71 18.5 7.64 0.495 0.81 1.21; W18x65 18.4 7.59 0.45 0.75 1.15;
W18x60 18.2 7.56 0.415 0.695 1.1; W18x55 18.1 7.53 0.39 0.63 1.03; W18x50 18 7.5 0.355 0.57 0.972;
W18x46 18.1 6.06 0.36 0.605 1.01; W18x40 17.9 6.02 0.315 0.525 0.927;
W18x35 17.7 6 0.3 0.425 0.827; W16x100 17 10.4 0.585 0.985 1.39;
W16x89 16.8 10.4 0.525 0.875 1.28; W16x77 16.5 10.3 0.455 0.76 1.16;
W16x67 16.3 10.2 0.395 0.665 1.07; W16x57 16.4 7.12 0.43 0.715 1.12;
W16x50 16.3 7.07 0.38 0.63 1.03; W16x45 16.1 7.04 0.345 0.565 0.967;
W16x40 16 7 0.305 0.505 0.907; W16x36 15.9 6.99 0.295 0.43 0.832;
W16x31 15.9 5.53 0.275 0.44 0.842; W16x26 15.7 5.5 0.25 0.345 0.747;
W14x99 14.2 14.6 0.485 0.78 1.38; W14x90 14 14.5 0.44 0.71 1.31; W14x82 14.3 10.1 0.51 0.855 1.45;
W14x74 14.2 10.1 0.45 0.785 1.38; W14x68 14 10 0.415 0.72 1.31; W14x61 13.9 10 0.375 0.645 1.24;
W14x53 13.9 8.06 0.37 0.66 1.25; W14x48 13.8 8.03 0.34 0.595 1.19; W14x43 13.7 8 0.305 0.53 1.12;
W14x38 14.1 6.77 0.31 0.515 0.915; W14x34 14 6.75 0.285 0.455 0.855;
W14x30 13.8 6.73 0.27 0.385 0.785; W14x26 13.9 5.03 0.255 0.42 0.82;
W14x22 13.7 5 0.23 0.335 0.735; W12x96 12.7 12.2 0.55 0.9 1.5; W12x87 12.5 12.1 0.515 0.81 1.41;
W12x79 12.4 12.1 0.47 0.735 1.33; W12x72 12.3 12 0.43 0.67 1.27; W12x65 12.1 12 0.39 0.605 1.2;
W12x58 12.2 10 0.36 0.64 1.24; W12x53 12.1 10 0.345 0.575 1.18; W12x50 12.2 8.08 0.37 0.64 1.14;
W12x45 12.1 8.05 0.335 0.575 1.08; W12x40 11.9 8.01 0.295 0.515 1.02;
W12x35 12.5 6.56 0.3 0.52 0.82; W12x30 12.3 6.52 0.26 0.44 0.74; W12x26 12.2 6.49 0.23 0.38 0.68;
W12x22 12.3 4.03 0.26 0.425 0.725; W12x19 12.2 4.01 0.235 0.35 0.65;
W12x16 12 3.99 0.22 0.265 0.565; W12x14 11.9 3.97 0.2 0.225 0.525;
W10x100 11.1 10.3 0.68 1.12 1.62; W10x88 10.8 10.3 0.605 0.99 1.49;
W10x77 10.6 10.2 0.53 0.87 1.37; W10x68 10.4 10.1 0.47 0.77 1.27; W10x60 10.2 10.1 0.42 0.68 1.18;
W10x54 10.1 10 0.37 0.615 1.12; W10x49 10 10 0.34 0.56 1.06; W10x45 10.1 8.02 0.35 0.62 1.12;
W10x39 9.92 7.99 0.315 0.53 1.03; W10x33 9.73 7.96 0.29 0.435 0.935;
W10x30 10.5 5.81 0.3 0.51 0.81; W10x26 10.3 5.77 0.26 0.44 0.74; W10x22 10.2 5.75 0.24 0.36 0.66;
W10x19 10.2 4.02 0.25 0.395 0.695; W10x17 10.1 4.01 0.24 0.33 0.63; W10x15 9.99 4 0.23 0.27 0.57;
W10x12 9.87 3.96 0.19 0.21 0.51; W8x67 9 8.28 0.57 0.935 1.33; W8x58 8.75 8.22 0.51 0.81 1.2;
W8x48 8.5 8.11 0.4 0.685 1.08; W8x40 8.25 8.07 0.36 0.56 0.954; W8x35 8.12 8.02 0.31 0.495 0.889;
W8x31 8 8 0.285 0.435 0.829; W8x28 8.06 6.54 0.285 0.465 0.859; W8x24 7.93 6.5 0.245 0.4 0.794;
W8x21 8.28 5.27 0.25 0.4 0.7; W8x18 8.14 5.25 0.23 0.33 0.63; W8x15 8.11 4.02 0.245 0.315 0.615;
W8x13 7.99 4 0.23 0.255 0.555; W8x10 7.89 3.94 0.17 0.205 0.505; W6x25 6.38 6.08 0.32 0.455 0.705;
W6x20 6.2 6.02 0.26 0.365 0.615; W6x15 5.99 5.99 0.23 0.26 0.51; W6x16 6.28 4.03 0.26 0.405 0.655;
W6x12 6.03 4 0.23 0.28 0.53; W6x9 5.9 3.94 0.17 0.215 0.465; W6x8.5 5.83 3.94 0.17 0.195 0.445;
S24x100 24 7.25 0.745 0.87 1.75; S24x90 24 7.13 0.625 0.87 1.75; S24x80 24 7 0.5 0.87 1.75;
S20x96 20.3 7.2 0.8 0.92 1.75; S20x86 20.3 7.06 0.66 0.92 1.75; S20x75 20 6.39 0.635 0.795 1.63;
S20x66 20 6.26 0.505 0.795 1.63; S18x70 18 6.25 0.711 0.691 1.5; S18x54.7 18 6 0.461 0.691 1.5;
S15x50 15 5.64 0.55 0.622 1.38; S15x42.9 15 5.5 0.411 0.622 1.38; S12x50 12 5.48 0.687 0.659 1.44;
S12x40.8 12 5.25 0.462 0.659 1.44; S12x35 12 5.08 0.428 0.544 1.19; S12x31.8 12 5 0.35 0.544 1.19;
S10x35 10 4.94 0.594 0.491 1.13; S10x25.4 10 4.66 0.311 0.491 1.13; S8x23 8 4.17 0.441 0.425 1;
S8x18.4 8 4 0.271 0.425 1; S6x17.25 6 3.57 0.465 0.359 0.813; S6x12.5 6 3.33 0.232 0.359 0.813;
"""

# Name; depth, flange width, web, flange, root radius [mm].
_MILLIMETRES: Final = """
IPE80 80 46 3.8 5.2 5; IPE100 100 55 4.1 5.7 7; IPE120 120 64 4.4 6.3 7; IPE140 140 73 4.7 6.9 7;
IPE160 160 82 5 7.4 9; IPE180 180 91 5.3 8 9; IPE200 200 100 5.6 8.5 12;
IPE220 220 110 5.9 9.2 12; IPE240 240 120 6.2 9.8 15; IPE270 270 135 6.6 10.2 15;
IPE300 300 150 7.1 10.7 15; IPE330 330 160 7.5 11.5 18; IPE360 360 170 8 12.7 18;
IPE400 400 180 8.6 13.5 21; IPE450 450 190 9.4 14.6 21; IPE500 500 200 10.2 16 21;
IPE550 550 210 11.1 17.2 24; IPE600 600 220 12 19 24;
HEA100 96 100 5 8 12; HEA120 114 120 5 8 12; HEA140 133 140 5.5 8.5 12; HEA160 152 160 6 9 15;
HEA180 171 180 6 9.5 15; HEA200 190 200 6.5 10 18; HEA220 210 220 7 11 18;
HEA240 230 240 7.5 12 21; HEA260 250 260 7.5 12.5 24; HEA280 270 280 8 13 24;
HEA300 290 300 8.5 14 27;
HEB100 100 100 6 10 12; HEB120 120 120 6.5 11 12; HEB140 140 140 7 12 12; HEB160 160 160 8 13 15;
HEB180 180 180 8.5 14 15; HEB200 200 200 9 15 18; HEB220 220 220 9.5 16 18;
HEB240 240 240 10 17 21; HEB260 260 260 10 17.5 24; HEB280 280 280 10.5 18 24;
HEB300 300 300 11 19 27;
"""

#: Yield and tensile strength of grades that beams come in and the catalogue of tube does not hold
#: [Pa]. Wide-flange shapes, AISC Manual, Table 2-4, from memory.
BEAM_GRADES: Final = MappingProxyType(
    {
        "A992": (50.0 * KSI, 65.0 * KSI),
        "A572 Gr 50": (50.0 * KSI, 65.0 * KSI),
        "A572 Gr 42": (42.0 * KSI, 60.0 * KSI),
    }
)


def _table() -> dict[str, RolledBeam]:
    found = {}
    for rows, unit, source in ((_INCHES, _INCH, _AISC), (_MILLIMETRES, _MM, _EN)):
        for row in rows.replace("\n", " ").split(";"):
            if not row.strip():
                continue
            name, *sizes = row.split()
            depth, width, web, flange, k = (float(size) * unit for size in sizes)
            # The metric tables give the fillet's radius in place of k.
            k = k if unit == _INCH else flange + k
            found[_plain(name)] = RolledBeam(name, depth, width, web, flange, k, source)
    return found


def _plain(name: str) -> str:
    return re.sub(r"[^A-Z0-9.]", "", name.upper().replace("×", "X"))


_BEAMS: Final = MappingProxyType(_table())


def rolled_beam(name: str) -> RolledBeam | None:
    """Return the sizes of a rolled I-beam [m], or None where the name is not in the tables.

    AISC Shapes Database (W and S shapes, 6 to 24 in, up to 100 lb/ft) and EN 10365 (IPE, HEA and
    HEB up to 300, IPE up to 600; from memory).

    name: as it is called, ``W12x26``, ``S 8 x 18.4``, ``IPE 300``; ``HE 200 A`` reads as HEA 200.
    Raises nothing. Limits: nominal sizes of today's rolling.
    """
    plain = _plain(name)
    swapped = re.fullmatch(r"HE([0-9]+)([AB])", plain)
    if swapped is not None:
        plain = f"HE{swapped[2]}{swapped[1]}"
    return _BEAMS.get(plain)
