"""What leaves share: `[each_leaf]` laid under every `[[leaf]]`, and traced back to its lines."""

from __future__ import annotations

from typing import Any

from leafwright.job.positions import Path, line_of


def merged_leaves(data: dict[str, Any]) -> dict[str, Any]:
    """Return a job file's data with ``each_leaf`` laid under each leaf, and itself gone.

    A leaf's own keys win and tables merge; a list is taken whole, and so is a table of another
    ``kind``, as a mount.
    """
    shared = data.get("each_leaf")
    rest = {key: value for key, value in data.items() if key != "each_leaf"}
    leaves = data.get("leaf")
    if isinstance(shared, dict) and isinstance(leaves, list):
        rest["leaf"] = [_merged(shared, own) for own in leaves]
    return rest


def placed(where: Path, data: dict[str, Any], lines: dict[Path, int]) -> tuple[Path, int | None]:
    """Return where something of the merged data stands in the file, and its line.

    Args:
        where: tables and keys down to it, in the merged data.
        data: the file's data before it was merged.
        lines: line of each table and key, from `positions`.
    """
    if len(where) > 2 and where[0] == "leaf" and isinstance(where[1], int):
        own = data["leaf"][where[1]]
        if _is_shared(data.get("each_leaf"), own, where[2:]):
            where = ("each_leaf", *where[2:])
    return where, line_of(lines, where)


def _merged(common: Any, own: Any) -> Any:
    if not _merge(common, own):
        return own
    keys = [*common, *(key for key in own if key not in common)]
    return {k: _merged(common.get(k), own[k]) if k in own else common[k] for k in keys}


def _merge(common: Any, own: Any) -> bool:
    if not (isinstance(common, dict) and isinstance(own, dict)):
        return False
    return "kind" not in own or own["kind"] == common.get("kind", own["kind"])


def _is_shared(common: Any, own: Any, path: Path) -> bool:
    """Return whether what stands at ``path`` of a merged leaf comes from what leaves share."""
    for part in path:
        if not _merge(common, own):
            return False
        if part not in own:
            return part in common
        common, own = common.get(part), own[part]
    return False
