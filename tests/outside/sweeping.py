"""Paths swept by a round tool, and areas compared, in polygons of `shapely`.

Pieces of paths are [x, y, x, y], arcs with their centre and the angle turned.
"""

import math

import numpy as np
from shapely import LineString, MultiPolygon, Polygon, distance, get_coordinates, make_valid, unary_union
from shapely import points as points_of
from shapely.errors import GEOSException

LIMIT_MM = 0.01
EASE_MM = 0.003
# Half the thickness of what is a knife edge; corners are rounded by less than the limit.
KNIFE_MM = 0.02
CHORD_MM = 0.0008
# Knife edges lose their last hundredth to the chords of arcs.
NOTHING_MM2 = 2e-5


def arc_radius(piece):
    return math.hypot(piece[0] - piece[4], piece[1] - piece[5])


def points(path, is_closed=True):
    """Corners of a path, arcs within the chord error."""
    out = []
    for piece in path:
        out.append((piece[0], piece[1]))
        if len(piece) == 7:
            x, y, sweep_rad = piece[4:]
            r = arc_radius(piece)
            step = 2.0 * math.acos(max(-1.0, 1.0 - CHORD_MM / max(r, CHORD_MM)))
            n = max(2, math.ceil(abs(sweep_rad) / step))
            first = math.atan2(piece[1] - y, piece[0] - x)
            angles = first + sweep_rad * np.arange(1, n) / n
            out.extend(zip(x + r * np.cos(angles), y + r * np.sin(angles)))
    if not is_closed or path[-1][2:4] != path[0][0:2]:
        out.append((path[-1][2], path[-1][3]))
    else:
        out.append(out[0])
    return out


def region(path):
    return make_valid(Polygon(points(path)))


def union(areas):
    try:
        return unary_union(areas)
    except GEOSException:
        # Where edges lie on one another to the last digits: grown by far less than the limit they cross.
        return unary_union([make_valid(area.buffer(1e-6)) for area in areas])


def sweep(path, radius):
    return LineString(points(path)).buffer(radius, quad_segs=64)


def pieces(area):
    if isinstance(area, Polygon):
        return [area]
    return [piece for piece in getattr(area, "geoms", []) if isinstance(piece, (Polygon, MultiPolygon))]


def depth_of(area):
    """How thick an area is at most, by classes of which the upper end is told: what it does not outlive shrinking by."""
    if area.area <= NOTHING_MM2:
        return 0.0
    for width in (0.5 * LIMIT_MM, LIMIT_MM, 0.02, 0.1, 1.0, 10.0):
        if area.buffer(-0.5 * width).is_empty:
            return width
    return 1000.0


def opened_by(area, radius):
    return area.buffer(-radius, quad_segs=64).buffer(radius, quad_segs=64)


def closed_by(area, radius, steps):
    for step in [radius / steps] * steps + [-radius / steps] * steps:
        area = area.buffer(step, quad_segs=64)
    return area


def finely(measure):
    """GEOS smooths what it grows by up to a hundredth of the distance; where that shows, it is grown in small steps."""
    for steps in (1, 10, 60):
        found = measure(steps)
        if found <= LIMIT_MM:
            break
    return found


def beyond(one, other):
    """How far one area lies beyond the other at most: within the limit by the corners of its largest pieces that do,
    above it by classes."""
    for most in (LIMIT_MM, 0.02, 0.1, 1.0, 10.0):
        if one.difference(other.buffer(most)).area <= NOTHING_MM2:
            break
    else:
        return 1000.0
    if most > LIMIT_MM:
        return most
    slivers = sorted(pieces(one.difference(other)), key=lambda piece: -piece.area)[:10]
    corners = get_coordinates(slivers)
    furthest = float(np.max(distance(points_of(corners), other.boundary))) if len(corners) else 0.0
    return min(furthest, LIMIT_MM)


def apart(one, other):
    return max(beyond(one, other), beyond(other, one))
