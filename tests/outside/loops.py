"""Closed loops of lines and arcs, as the judges of DXF and SVG read them."""

import math

from shapely.geometry import Polygon


class Loop:
    """Pieces (start, end, arc); an arc is (centre x, centre y, radius, angle turned)."""

    def __init__(self, pieces, is_circle=False):
        self.pieces = pieces
        self.is_circle = is_circle

    @classmethod
    def circle(cls, x, y, radius):
        east, west = (x + radius, y), (x - radius, y)
        half = (x, y, radius, math.pi)
        return cls([(east, west, half), (west, east, half)], is_circle=True)

    @property
    def area(self):
        """Enclosed area, counter-clockwise positive: shoelace and circular segments."""
        x0, y0 = self.pieces[0][0]
        total = 0.0
        for (x1, y1), (x2, y2), arc in self.pieces:
            total += 0.5 * ((x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0))
            if arc:
                _, _, radius, turn = arc
                total += 0.5 * radius * radius * (turn - math.sin(turn))
        return total

    @property
    def arc_turn(self):
        return sum(abs(arc[3]) for _, _, arc in self.pieces if arc)

    @property
    def length(self):
        return sum(arc[2] * abs(arc[3]) if arc else math.dist(start, end) for start, end, arc in self.pieces)

    @property
    def polygon(self):
        """A polygon close enough to tell what lies inside what."""
        return Polygon(list(self.points(0.1))).buffer(0)

    def points(self, step):
        """Points along the loop; arcs in steps of this many radians at most."""
        for (x, y), _, arc in self.pieces:
            yield x, y
            if arc:
                cx, cy, radius, turn = arc
                start = math.atan2(y - cy, x - cx)
                steps = math.ceil(abs(turn) / step)
                for i in range(1, steps):
                    angle = start + turn * i / steps
                    yield cx + radius * math.cos(angle), cy + radius * math.sin(angle)

    def extremes(self):
        """Corners and the points of arcs that lie farthest in x or y."""
        for start, _, arc in self.pieces:
            yield start
            if arc:
                cx, cy, radius, turn = arc
                from_angle = math.atan2(start[1] - cy, start[0] - cx)
                for quarter in range(4):
                    angle = quarter * math.pi / 2
                    ahead = (angle - from_angle) * math.copysign(1.0, turn) % math.tau
                    if ahead < abs(turn):
                        yield cx + radius * math.cos(angle), cy + radius * math.sin(angle)

    @staticmethod
    def box(loops):
        """(least x, least y, greatest x, greatest y) of some loops."""
        points = [point for loop in loops for point in loop.extremes()]
        xs, ys = zip(*points) if points else ([math.nan], [math.nan])
        return min(xs), min(ys), max(xs), max(ys)


def area_by_nesting(loops):
    """Area that loops enclose when every second one inside another is a hole, whatever their sense."""
    polygons = [loop.polygon for loop in loops]
    total = 0.0
    for i, loop in enumerate(loops):
        size = polygons[i].area
        around = sum(
            1
            for j, other in enumerate(polygons)
            if j != i and other.area > size and other.intersects(polygons[i]) and other.intersection(polygons[i]).area > 0.5 * size
        )
        total += abs(loop.area) * (1 if around % 2 == 0 else -1)
    return total
