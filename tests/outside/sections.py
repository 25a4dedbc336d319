"""Sections through meshes: what is material at a height."""

import numpy
import shapely
import trimesh


def section(mesh, z):
    """The material at a height, from the triangles that cross it, by counting crossings."""
    lines = trimesh.intersections.mesh_plane(mesh, [0.0, 0.0, 1.0], [0.0, 0.0, float(z)])
    lines = numpy.round(lines[:, :, :2], 5)
    lines = lines[numpy.abs(lines[:, 0] - lines[:, 1]).max(1) > 0.0]
    cells = shapely.get_parts(shapely.polygonize(list(shapely.get_parts(shapely.union_all(shapely.linestrings(lines))))))
    inside = [cell for cell in cells if is_material(lines, cell.representative_point())]
    return shapely.union_all(inside)


def is_material(lines, point):
    """Whether a ray along x crosses the edges of the section an odd number of times."""
    (x0, y0), (x1, y1) = lines[:, 0].T, lines[:, 1].T
    crosses = (y0 > point.y) != (y1 > point.y)
    at = x0[crosses] + (point.y - y0[crosses]) * (x1[crosses] - x0[crosses]) / (y1[crosses] - y0[crosses])
    return int((at > point.x).sum()) % 2 == 1
