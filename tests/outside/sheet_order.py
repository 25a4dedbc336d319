"""The order of cutting, as the entities of nested DXF stand in the file.

- All that is worked from the lower face comes first; from the upper face engraving, pockets, holes, then all else.
- Nothing is cut in what has come loose: whatever lies within a line that is cut through, an opening or an outline, comes
  before it. So every part is cut out after all that is in it, and a part in an opening of another before that opening.
- Every part of the plan has its outline.
"""

import json

import ezdxf
from shapely import LineString, STRtree

import nested_dxf
from sweeping import points, region

# What of a line may lie beyond the outline that it belongs to: a step runs out over the edge.
WITHIN = 0.5


def judge(folder, rows):
    told = json.loads((folder / "checks" / "shop.json").read_text(encoding="utf-8"))
    for sheet in told["sheets"]:
        path = folder / "shop" / f"{sheet['name']}.dxf"
        read = rows.readable("sheets: DXF", sheet["name"], lambda: nested_dxf.entities(path))
        if read is not None:
            judge_order(nested_dxf.joined(read[0]), sheet["name"], len(sheet["laid"]), rows)


def judge_order(lines, name, wanted, rows):
    outlines = [line for line in lines if line.layer == nested_dxf.OUTLINE]
    rows.equal("sheets: outlines in the file", name, wanted, len(outlines))
    rows.equal("sheets: lines that are cut through are closed", name, True, all(line.is_closed for line in lines if line.is_through))
    ranks = [rank(line) for line in lines]
    rows.equal("sheets: lower face, then engraving, pockets, holes, all else", name, True, ranks == sorted(ranks))
    rows.equal("sheets: cuts in what has come loose", name, 0, cut_too_late(lines))


def rank(line):
    is_upper = not line.layer.endswith("lower face")
    if line.layer.startswith("engrave"):
        return is_upper, 0
    if line.layer.startswith("pocket"):
        return is_upper, 1
    return is_upper, 2 if line.layer == nested_dxf.OPENINGS and line.is_circle else 3


def cut_too_late(lines):
    """How many lines stand after a line cut through that they lie within."""
    drawn = [LineString(points(line.pieces, line.is_closed)) for line in lines]
    tree, late = STRtree(drawn), 0
    for i, line in enumerate(lines):
        if not line.is_through or not line.is_closed:
            continue
        loose = region(line.pieces)
        for k in tree.query(loose):
            if k > i and drawn[k].intersection(loose.buffer(-1e-4)).length > WITHIN * drawn[k].length:
                late += 1
    return late


# Damages for the self-test.


def reordered(change):
    """Reorders the entities of the first sheet for which it can: `change` gets a list of (entity, its layer)."""

    def damage(folder):
        for path in sorted((folder / "shop").glob("*.dxf")):
            document = ezdxf.readfile(path)
            space = document.modelspace().entity_space
            entities = [(entity, entity.dxf.layer) for entity in space.entities]
            if change(entities):
                space.entities[:] = [entity for entity, _ in entities]
                document.saveas(path)
                return True
        return False

    return damage


def swap(entities, first, second):
    entities[first], entities[second] = entities[second], entities[first]
    return True


def find(entities, is_it):
    return next((i for i, one in enumerate(entities) if is_it(*one)), None)


def outline_first(entities):
    at = find(entities, lambda _, layer: layer == nested_dxf.OUTLINE)
    entities.insert(0, entities.pop(at))
    return True


def hole_last(entities):
    at = find(entities, lambda entity, layer: layer == nested_dxf.OPENINGS and entity.dxftype() == "CIRCLE")
    if at is None:
        return False
    entities.append(entities.pop(at))
    return True


def engraving_late(entities):
    at = find(entities, lambda _, layer: layer.startswith("engrave"))
    if at is None:
        return False
    entities.append(entities.pop(at))
    return True


def opening_before_what_lies_in_it(entities):
    """The opening is put before the outline that is cut first: of a part in it."""
    first = find(entities, lambda _, layer: layer == nested_dxf.OUTLINE)
    opening = find(entities, lambda entity, layer: layer == nested_dxf.OPENINGS and entity.dxftype() != "CIRCLE")
    if first is None or opening is None or opening < first:
        return False
    # All openings, as it may be any.
    openings = [one for one in entities[first:] if one[1] == nested_dxf.OPENINGS and one[0].dxftype() != "CIRCLE"]
    for one in openings:
        entities.remove(one)
    entities[first:first] = openings
    return True


def without_an_outline(entities):
    del entities[find(entities, lambda _, layer: layer == nested_dxf.OUTLINE)]
    return True


DAMAGES = {
    "an outline that stands first": reordered(outline_first),
    "a hole that stands last": reordered(hole_last),
    "engraving that stands last": reordered(engraving_late),
    "openings before the part that lies in one": reordered(opening_before_what_lies_in_it),
    "an outline that is missing": reordered(without_an_outline),
}
