"""A plan as JSON: full precision, SI, with the whole analysis model, and the schema of it.

The schema is made from the records themselves, so that it cannot fall behind them: each number
states its unit as ``x-unit``. It has a version of its own, which changes when a reader of the
JSON would have to.
"""

from __future__ import annotations

import dataclasses
import enum
import types
import typing
from fractions import Fraction
from typing import Annotated, Any

import numpy as np

from leafwright.chain import Quantity
from leafwright.doorway import Doorway
from leafwright.gathered import quantities
from leafwright.leaf import Leaf
from leafwright.pipeline import Plan, plan_quantities
from leafwright.proof import LeafProof
from leafwright.records import Check, Held, Stop, Unit, to_json
from leafwright.shop.cut_list import CutList
from leafwright.shop.cut_order import CutOrder
from leafwright.shop.holes.records import Holes
from leafwright.shop.pack import Pack
from leafwright.shop.seams import Seams
from leafwright.shop.stock import Stock
from leafwright.site.records import Site
from leafwright.survey import Survey
from leafwright.survey.examine import Examined
from leafwright.units import Typed

#: Version of the JSON that `plan_json` writes.
VERSION = "1.1"


@dataclasses.dataclass(frozen=True, slots=True)
class ShownQuantity:
    """A derived quantity as the JSON tells it; inputs and slopes name others by key.

    ``band`` is half of the 95 % band; ``slopes`` is the change of the quantity per change of each
    base variable it rests on.
    """

    key: str
    name: str
    value: float
    unit: str
    sd: float
    band: float
    formula: str
    kind: str
    inputs: tuple[str, ...]
    slopes: dict[str, float]
    note: str


def shown(quantity: Quantity) -> ShownQuantity:
    """Return a derived quantity with its inputs named by key."""
    return ShownQuantity(
        key=quantity.key,
        name=quantity.name,
        value=quantity.value,
        unit=quantity.unit,
        sd=quantity.sd,
        band=quantity.band,
        formula=quantity.formula,
        kind=quantity.kind,
        inputs=tuple(q.key for q in quantity.inputs),
        slopes={s.base: s.by for s in quantity.slopes},
        note=quantity.note,
    )


@dataclasses.dataclass(frozen=True, slots=True)
class NotYet:
    """A part of the job that this version does not do, and what to go by meanwhile."""

    stage: str
    held: Held


@dataclasses.dataclass(frozen=True, slots=True)
class PlanReport:
    """What ``leafwright plan --json`` prints. Quantities stand in it by key: see ``quantities``."""

    version: str
    job: str
    seen_from: str
    revision: str
    for_cutting: bool
    stops: tuple[Stop, ...]
    checks: tuple[Check, ...]
    survey: Survey | Held
    examined: Examined | Held
    doorway: Doorway | Held
    leaves: tuple[Leaf | Held, ...]
    proofs: tuple[LeafProof | Held, ...]
    holes: Holes | Held
    cuts: CutList | Held
    order: CutOrder | Held
    stock: Stock | Held
    seams: Seams | Held
    pack: Pack | Held
    site: Site | Held
    not_yet: tuple[NotYet, ...]
    defaults: tuple[str, ...]
    quantities: tuple[ShownQuantity, ...]
    remaining: Annotated[float, Unit("m")]


def plan_report(made: Plan) -> PlanReport:
    """Return a plan with its derived quantities gathered in one list."""
    return PlanReport(
        version=VERSION,
        job=made.job.job.name,
        seen_from=made.job.job.seen_from,
        revision=made.job.job.revision,
        for_cutting=made.for_cutting,
        stops=made.stops,
        checks=made.checks,
        survey=made.survey,
        examined=made.examined,
        doorway=made.doorway,
        leaves=made.leaves,
        proofs=made.proofs,
        holes=made.holes,
        cuts=made.cuts,
        order=made.order,
        stock=made.stock,
        seams=made.seams,
        pack=made.pack,
        site=made.site,
        not_yet=tuple(NotYet(name, held) for name, held in made.not_yet),
        defaults=tuple(q.key for q in made.defaults),
        quantities=shown_of(plan_quantities(made), made.survey, made.examined, made.site),
        remaining=made.remaining,
    )


def shown_of(known: tuple[Quantity, ...], *records: object) -> tuple[ShownQuantity, ...]:
    """Return quantities, and every other one held anywhere in records, sorted by key."""
    held = {quantity.key: quantity for quantity in known}
    for record in records:
        for quantity in quantities(record):
            held.setdefault(quantity.key, quantity)
    return tuple(shown(held[key]) for key in sorted(held))


def plan_json(made: Plan) -> Any:
    """Return a plan as plain JSON data, by the schema of `plan_schema`."""
    return as_json(plan_report(made))


def as_json(value: Any) -> Any:
    """Return JSON data in which a quantity is its key with its value, unit and band."""
    if isinstance(value, Quantity):
        return {
            "quantity": value.key,
            "value": value.value,
            "unit": value.unit,
            "band": value.band,
        }
    if isinstance(value, Held) or not dataclasses.is_dataclass(value) or isinstance(value, type):
        if isinstance(value, tuple | list):
            return [as_json(v) for v in value]
        if isinstance(value, dict):
            return {str(k): as_json(v) for k, v in value.items()}
        return to_json(value)
    return {f.name: as_json(getattr(value, f.name)) for f in dataclasses.fields(value)}


def plan_schema() -> dict[str, Any]:
    """Return the JSON schema (draft 2020-12) of `plan_json`."""
    return schema_for(PlanReport, "A Leafwright plan")


def schema_for(kind: type, title: str) -> dict[str, Any]:
    """Return the JSON schema (draft 2020-12) of what `as_json` makes of a kind of record."""
    definitions: dict[str, Any] = {}
    top = _schema_of(kind, definitions)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": title,
        "description": "SI units throughout; x-unit is the unit of each number.",
        "version": VERSION,
        **top,
        "$defs": dict(sorted(definitions.items())),
    }


def job_schema() -> dict[str, Any]:
    """Return the JSON schema of the job file."""
    from leafwright.job.model import FORM, Job

    schema = Job.model_json_schema(mode="serialization", by_alias=True)
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", "form": FORM, **schema}


_PLAIN: dict[Any, dict[str, Any]] = {
    str: {"type": "string"},
    bool: {"type": "boolean"},
    int: {"type": "integer"},
    float: {"type": ["number", "null"], "x-unit": "as the field beside it says"},
    type(None): {"type": "null"},
    object: {},
    Any: {},
    np.ndarray: {"type": "array", "x-unit": "SI, as the record's description says"},
    Fraction: {"type": "number"},
    Typed: {"type": "object"},
}

_QUANTITY = {
    "type": "object",
    "required": ["quantity", "value", "unit", "band"],
    "properties": {
        "quantity": {"type": "string"},
        "value": {"type": "number"},
        "unit": {"type": "string"},
        "band": {"type": "number"},
    },
    "description": "A derived quantity: its key in quantities, value in unit, 95 % half band.",
}


def _schema_of(kind: Any, definitions: dict[str, Any]) -> dict[str, Any]:
    origin, arguments = typing.get_origin(kind), typing.get_args(kind)
    if kind in _PLAIN:
        return dict(_PLAIN[kind])
    if origin is Annotated:
        inner = _schema_of(arguments[0], definitions)
        units = [a.symbol for a in arguments[1:] if isinstance(a, Unit)]
        return {**inner, "x-unit": units[0]} if units else inner
    if origin is typing.Literal:
        return {"enum": list(arguments)}
    if origin in (types.UnionType, typing.Union):
        return {"anyOf": [_schema_of(a, definitions) for a in arguments]}
    if origin is tuple and len(arguments) == 2 and arguments[1] is Ellipsis:
        return {"type": "array", "items": _schema_of(arguments[0], definitions)}
    if origin is tuple:
        items = [_schema_of(a, definitions) for a in arguments]
        return {
            "type": "array",
            "prefixItems": items,
            "minItems": len(items),
            "maxItems": len(items),
        }
    if origin is dict:
        return {"type": "object", "additionalProperties": _schema_of(arguments[1], definitions)}
    if origin is np.ndarray:
        return dict(_PLAIN[np.ndarray])
    if isinstance(kind, type) and issubclass(kind, enum.Enum):
        return {"enum": [member.value for member in kind]}
    if kind is Quantity:
        return dict(_QUANTITY)
    if dataclasses.is_dataclass(kind):
        return _record_schema(kind, definitions)
    raise TypeError(f"no JSON schema for {kind!r}; add it to the records' kinds")


#: Names that more than one kind of record goes by.
_SHARED_NAMES = ("Move", "Push")


def _definition_name(kind: Any) -> str:
    """Return what a record is called in the schema: with its module where others are named so."""
    name: str = kind.__name__
    if name not in _SHARED_NAMES:
        return name
    return f"{name}_{kind.__module__.rpartition('.')[2]}"


def _record_schema(kind: Any, definitions: dict[str, Any]) -> dict[str, Any]:
    name = _definition_name(kind)
    own = [f.name for f in dataclasses.fields(kind)]
    if (
        definitions.get(name)
        and [k for k in definitions[name]["properties"] if k != "record"] != own
    ):
        raise TypeError(f"two records are called {name!r}; add it to the names shared")
    if name not in definitions:
        definitions[name] = {}
        hints = typing.get_type_hints(kind, include_extras=True)
        properties = {
            f.name: _schema_of(hints[f.name], definitions) for f in dataclasses.fields(kind)
        }
        if kind is Held:
            properties = {"record": {"const": "Held"}, **properties}
        definitions[name] = {
            "type": "object",
            "description": (kind.__doc__ or "").strip().replace("``", "'"),
            "required": list(properties),
            "properties": properties,
            "additionalProperties": False,
        }
    return {"$ref": f"#/$defs/{name}"}
