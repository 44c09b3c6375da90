"""A leaf's page: what both leaves share, or one of them made different."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from leafwright.job.model import LeafTable
from leafwright.job.positions import Path
from leafwright.job.shared import merged_leaves
from leafwright.leaf import Leaf
from leafwright.pipeline import Plan
from leafwright.say import sentence, words_of
from leafwright.web.fields import Field, Sheet, dotted, new_name, written
from leafwright.web.forms import (
    Button,
    Form,
    Group,
    add_form,
    entry_name,
    list_group,
    table_fields,
    table_forms,
    take_out,
)
from leafwright.web.planned import leaf_name
from leafwright.web.schema import kind_at, kind_of, model_of_kind, slots, value_at
from leafwright.web.trade import ASKS

_SHARED_KEYS = (
    "swing",
    "width",
    "frame",
    "grade",
    "corners",
    "root_gap",
    "weld_shrinkage",
    "scribe_braces",
    "handle_height",
    "finish",
)
_LEAF_KEYS = ("name", *_SHARED_KEYS)


def leaf_keys(data: Mapping[str, Any]) -> tuple[tuple[str, str], ...]:
    """Return the pages of the leaves: what they share first, where there is such."""
    leaves = [leaf for leaf in data.get("leaf", []) if isinstance(leaf, dict)]
    if len(leaves) < 2:
        return ((str(leaves[0].get("hand", "left")), "The leaf"),) if leaves else ()
    hands = tuple(
        (hand, f"{hand.capitalize()} leaf")
        for hand in ("left", "right")
        if any(leaf.get("hand") == hand for leaf in leaves)
    )
    if isinstance(data.get("each_leaf"), dict):
        return (("both", "Both leaves"), *hands)
    return hands


def leaf_page(
    sheet: Sheet, made: Plan, key: str, asked: Mapping[str, str]
) -> tuple[str, list[str], list[Group]] | None:
    """Return title, told lines and groups of a leaf's page, or None for no such leaf."""
    keys = leaf_keys(sheet.data)
    if key not in dict(keys):
        return None
    number = 0 if key == "both" else sheet.leaf_number(key)
    root: Path = ("each_leaf",) if key == "both" else ("leaf", number)
    shared = sheet.data.get("each_leaf") if key != "both" else None
    shared = shared if isinstance(shared, dict) else None
    whole = merged_leaves(sheet.data)["leaf"][number]
    panels = len(whole.get("mid_rail", [])) + 1
    title = dict(keys)[key]
    told = [_weight(made, key)]
    if shared is not None and len(keys) > 1:
        told.append("What is left empty here is taken from what the leaves share.")
    if key == "both":
        told += differing(sheet.data)
    names = _SHARED_KEYS if key == "both" else _LEAF_KEYS
    main = Form(
        f"leaf-{key}",
        "",
        table_fields(sheet, LeafTable, root, keys=names, shared=shared, panels=panels),
    )
    groups = [Group("leaf-frame", "Width, frame, corners and swing", "", (main,), opened=True)]
    groups.append(_rails(sheet, root, shared, whole))
    for name, words in (("brace", "Braces"), ("splice", "Splices"), ("infill", "Infill")):
        groups.append(_leaf_list(sheet, root, name, words, shared, panels))
    groups.append(_mount(sheet, root, shared, whole, asked))
    return title, [line for line in told if line], groups


def _weight(made: Plan, key: str) -> str:
    words = words_of(made.job)
    return " ".join(
        f"{sentence(leaf_name(leaf.key))}: bare {words.mass(leaf.lift_mass)}, "
        f"hung {words.mass(leaf.hung_mass)}."
        for leaf in made.leaves
        if isinstance(leaf, Leaf) and key in ("both", leaf.key, leaf.hand)
    )


def differing(data: Mapping[str, Any]) -> list[str]:
    """Return what single leaves have of their own, so that nobody looks for it here."""
    told = []
    for leaf in data.get("leaf", []):
        own = [key.replace("_", " ") for key in leaf if key not in ("hand", "name")]
        if own:
            told.append(f"The {leaf.get('hand')} leaf has its own: {', '.join(own)}.")
    return told


def _own_buttons(root: Path, key: str, name: str, *, is_own: bool) -> tuple[Button, ...]:
    """Return the button that makes a leaf's list its own, or gives it back."""
    place = (*root, key)
    if is_own:
        return (take_out(place, name, "Back to what is shared"),)
    words = "Make it different here"
    return (Button("own", dotted(place), words, f"{words}: {name}"),)


def _id_of(place: Path) -> str:
    return dotted(place).replace(".", "-")


def _rails(
    sheet: Sheet, root: Path, shared: Mapping[str, Any] | None, whole: Mapping[str, Any]
) -> Group:
    place = (*root, "mid_rail")
    buttons: tuple[Button, ...] = ()
    is_own = value_at(sheet.data, place) is not None
    if shared is not None and not is_own and "mid_rail" in shared:
        told = f"{sentence(sheet.shared_words)}: {written(whole.get('mid_rail', [])) or 'none'}."
        buttons = _own_buttons(root, "mid_rail", "mid rails", is_own=False)
        return Group(_id_of(place), "Mid rails", told, buttons=buttons)
    rails = value_at(sheet.data, place) or []
    fields = [
        sheet.field(
            (*place, n),
            f"Mid rail {n + 1} at" if n < len(rails) else "One more at",
            "length",
            help="half, or its height above the leaf's bottom"
            + ("; empty takes it out" if n < len(rails) else ""),
        )
        for n in range(len(rails) + 1)
    ]
    if shared is not None and is_own and "mid_rail" in shared:
        buttons = _own_buttons(root, "mid_rail", "mid rails", is_own=True)
    form = Form("leaf-rails-form", "", tuple(fields), buttons=buttons)
    return Group(_id_of(place), "Mid rails", "" if rails else "None.", (form,))


def _leaf_list(
    sheet: Sheet,
    root: Path,
    key: str,
    title: str,
    shared: Mapping[str, Any] | None,
    panels: int,
) -> Group:
    """Return a leaf's braces or infill: its own, or what both leaves have."""
    place = (*root, key)
    is_own = value_at(sheet.data, place) is not None
    model = slots(LeafTable)[key].models[0]
    buttons: tuple[Button, ...] = ()
    if shared is not None and not is_own and key in shared:
        names = [entry_name(entry, n) for n, entry in enumerate(shared[key])]
        told = f"{sentence(sheet.shared_words)}: {'; '.join(names) or 'none'}."
        buttons = _own_buttons(root, key, title.lower(), is_own=False)
        return Group(_id_of(place), title, told, buttons=buttons)
    if shared is not None and is_own and key in shared:
        buttons = _own_buttons(root, key, title.lower(), is_own=True)
    told = "" if value_at(sheet.data, place) else "None."
    return list_group(sheet, model, place, title, told=told, panels=panels, buttons=buttons)


def _mount(
    sheet: Sheet,
    root: Path,
    shared: Mapping[str, Any] | None,
    whole: Mapping[str, Any],
    asked: Mapping[str, str],
) -> Group:
    """Return what a leaf turns on: its fields, and the way to another kind."""
    place = (*root, "mount")
    slot = slots(LeafTable)["mount"]
    now = kind_at(place, sheet.data) or str(whole.get("mount", {}).get("kind", ""))
    model = model_of_kind(slot, now)
    own = value_at(sheet.data, place)
    common = (shared or {}).get("mount")
    common = common if isinstance(common, dict) and common.get("kind") == now else None
    forms: list[Form] = []
    adds: list[Form] = []
    if model is not None:
        title = sentence(now)
        fields = table_fields(sheet, model, place, shared=common)
        buttons: tuple[Button, ...] = ()
        if isinstance(own, dict) and isinstance((shared or {}).get("mount"), dict):
            buttons = _own_buttons(root, "mount", now, is_own=True)
        forms.append(Form("leaf-mount-form", title, fields, buttons=buttons))
        for key, inner in slots(model).items():
            if inner.kind == "table":
                asked_as = ASKS.get((model.__name__, key))
                there, put = table_forms(
                    sheet,
                    inner.models[0],
                    (*place, key),
                    shared=(common or {}).get(key),
                    title=f"the {asked_as.label.lower()}" if asked_as else "",
                )
                forms += there
                adds += put
    wanted = sheet.typed.get(new_name(place, "kind"), "") or asked.get("mount", "")
    other = model_of_kind(slot, wanted)
    if other is not None and wanted != now:
        values = {**(common or {}), **(own if isinstance(own, dict) else {})}
        told = f"What a {now} has and a {wanted} has not goes out of the file; undo brings it back."
        forms.insert(
            0,
            add_form(
                sheet,
                other,
                place,
                f"Change to a {wanted}",
                values={k: v for k, v in values.items() if not isinstance(v, dict)},
                told=told,
                button=f"Change to a {wanted}",
            ),
        )
    kinds = tuple((kind_of(m), kind_of(m)) for m in slot.models)
    chosen = wanted if other is not None else now
    choose = Field("mount", "It turns on a", "choice", chosen, choices=kinds)
    return Group(
        "leaf-mount",
        "What it turns on",
        "",
        tuple(forms),
        tuple(adds),
        choose=choose,
        opened=other is not None,
    )
