"""Nested sheets as they stand in a DXF, read by `ezdxf`: lines of the layers that a tool follows, in the order of the file.

Pieces of lines are as in `tool-paths.jsonl`: [x, y, x, y], arcs with their centre and the angle turned.
"""

import math

import ezdxf

TOOL_PATH = "tool path "
OUTLINE, OPENINGS = "cut through outline", "cut through openings"


class Line:
    """One entity, or several open ones that go on from one another."""

    def __init__(self, layer, pieces, is_circle, is_closed):
        self.is_path = layer.startswith(TOOL_PATH)
        self.layer = layer.removeprefix(TOOL_PATH)
        self.pieces = pieces
        self.is_circle = is_circle
        self.is_closed = is_closed
        # Stretches in which the tool is lifted over a bridge.
        self.lifted = []

    @property
    def is_through(self):
        return self.layer in (OUTLINE, OPENINGS)

    @property
    def is_bridge(self):
        return self.layer.startswith("bridge")


def entities(path):
    """All lines of layers that are made, in order; and marks of bridges."""
    document = ezdxf.readfile(path)
    lines, marks = [], []
    for entity in document.modelspace():
        layer = entity.dxf.layer
        if layer.endswith("not cut") and not layer.startswith("bridge"):
            continue
        if entity.dxftype() == "CIRCLE":
            x, y, r = entity.dxf.center.x, entity.dxf.center.y, entity.dxf.radius
            pieces = [[x + r, y, x - r, y, x, y, math.pi], [x - r, y, x + r, y, x, y, math.pi]]
            line = Line(layer, pieces, True, True)
        else:
            corners = list(entity.get_points("xyb"))
            ends = corners[1:] + ([corners[0]] if entity.closed else [])
            line = Line(layer, [piece(a, b) for a, b in zip(corners, ends)], False, entity.closed)
        (marks if layer.startswith("bridge") else lines).append(line)
    return lines, marks


def joined(lines):
    """Runs that go on from one another as one closed line; those over bridges are kept as its `lifted` ones."""
    whole, open_one = [], None
    for line in lines:
        if line.is_closed or not (line.is_through or line.is_bridge):
            whole.append(line)
            continue
        if open_one is None:
            open_one = Line(line.layer, [], False, False)
            open_one.is_path = line.is_path
            whole.append(open_one)
        if line.is_bridge:
            open_one.lifted.append(line.pieces)
        open_one.pieces = open_one.pieces + line.pieces
        first, last = open_one.pieces[0], open_one.pieces[-1]
        if math.dist(first[0:2], last[2:4]) < 1e-3:
            open_one.is_closed = True
            open_one = None
    return whole


def piece(a, b):
    """From one corner with its bulge to the next: the bulge is the tangent of a quarter of the angle turned."""
    x, y, bulge = a
    if abs(bulge) < 1e-12:
        return [x, y, b[0], b[1]]
    centre, _, _, _ = ezdxf.math.bulge_to_arc((x, y), (b[0], b[1]), bulge)
    return [x, y, b[0], b[1], centre.x, centre.y, 4.0 * math.atan(bulge)]
