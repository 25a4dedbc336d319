"""Judges STL and 3MF: closed, the right way out, of the right volume, names, colours and poses.

Independent readers: trimesh for STL and for the volumes, lib3mf (the 3MF Consortium's own) for 3MF.
"""

import shutil
import struct
import tempfile
import zipfile
from pathlib import Path

import lib3mf
import numpy
import trimesh

import judging

SOURCE = judging.versions("trimesh", "lib3mf")
# Single precision keeps 24 bits: at 4 m a step is 2.4e-4 mm.
SINGLE_STEP_MM = 2.5e-4


def judge(folder, rows):
    for expected in judging.expectations(folder, "meshes"):
        judge_stl(folder, expected, rows)
    for expected in judging.expectations(folder, "assemblies"):
        judge_3mf(folder, expected, rows)


def judge_stl(folder, expected, rows):
    path = folder / expected["stl"]
    part = expected["stl"]
    header = path.read_bytes()[:80]
    rows.equal("STL: the header says millimetres", part, True, b"millimetres" in header)
    rows.equal("STL: the header does not begin as a text file's", part, True, not header.startswith(b"solid"))
    mesh = rows.readable("STL: file", part, lambda: trimesh.load_mesh(path, file_type="stl"))
    if mesh is None:
        return
    judge_closed("STL", part, mesh, rows)
    judge_volume("STL", part, mesh, expected, rows)
    if expected["is_for_printing"]:
        rows.number("STL for printing: lowest point above the bed, mm", part, 0.0, float(mesh.bounds[0][2]), SINGLE_STEP_MM)


def judge_closed(kind, part, mesh, rows):
    """trimesh: every edge has two triangles, they run along it in opposite senses, outside is out."""
    rows.equal(f"{kind}: watertight", part, True, bool(mesh.is_watertight))
    rows.equal(f"{kind}: winding consistent", part, True, bool(mesh.is_winding_consistent))
    rows.equal(f"{kind}: outside is out", part, True, bool(mesh.volume > 0.0))


def judge_volume(kind, part, mesh, expected, rows):
    """Within what the chords of round walls and single precision can take."""
    exact = expected["volume_mm3"]
    rows.number(f"{kind}: volume, mm³", part, exact, mesh.volume, expected["tolerance_mm3"] / exact, relative=True)


def judge_3mf(folder, expected, rows):
    part = expected["threemf"]
    model = lib3mf.get_wrapper().CreateModel()
    reader = model.QueryReader("3mf")
    reader.SetStrictModeActive(True)
    if rows.readable("3MF: file, strictly", part, lambda: reader.ReadFromFile(str(folder / part)) or True) is None:
        return
    rows.equal("3MF: warnings", part, 0, reader.GetWarningCount())
    rows.equal("3MF: unit", part, "MilliMeter", model.GetUnit().name)
    items = list(build_items(model))
    rows.equal("3MF: number of items", part, len(expected["items"]), len(items))
    for want, item in zip(expected["items"], items):
        judge_item(model, want, item, rows)


def build_items(model):
    iterator = model.GetBuildItems()
    while iterator.MoveNext():
        yield iterator.GetCurrent()


def judge_item(model, expected, item, rows):
    part = expected["name"]
    mesh_object = model.GetMeshObjectByID(item.GetObjectResourceID())
    rows.equal("3MF: name", part, expected["name"], mesh_object.GetName())
    rows.equal("3MF: part number", part, expected["part_number"], mesh_object.GetPartNumber())
    rows.equal("3MF: colour", part, expected["colour"], colour(model, mesh_object))
    rows.equal("3MF: closed and oriented (lib3mf)", part, True, bool(mesh_object.IsManifoldAndOriented()))

    transform = item.GetObjectTransform()
    pose = [transform.Fields[row][column] for row in range(4) for column in range(3)]
    rotation_off = greatest_gap(expected["pose"][:9], pose[:9])
    place_off = greatest_gap(expected["pose"][9:], pose[9:])
    # lib3mf keeps single precision: 24 bits, so 6e-8 of a rotation and as much of the place.
    farthest = max(1.0, *(abs(x) for x in expected["pose"][9:]))
    rows.number("3MF: rotation of the pose, greatest entry off", part, 0.0, rotation_off, 1e-7)
    rows.number("3MF: place of the pose, mm off", part, 0.0, place_off, 1e-7 * farthest)

    corners = numpy.array([list(p.Coordinates) for p in mesh_object.GetVertices()])
    triangles = numpy.array([list(t.Indices) for t in mesh_object.GetTriangleIndices()])
    mesh = trimesh.Trimesh(corners, triangles, process=False)
    judge_closed("3MF", part, mesh, rows)
    judge_volume("3MF", part, mesh, expected, rows)


def greatest_gap(ours, theirs):
    return max(abs(a - b) for a, b in zip(ours, theirs))


def colour(model, mesh_object):
    group, index, has_one = mesh_object.GetObjectLevelProperty()
    if not has_one:
        return "none"
    value = model.GetBaseMaterialGroupByID(group).GetDisplayColor(index)
    return f"#{value.Red:02X}{value.Green:02X}{value.Blue:02X}"


# Damages for the self-test.


def first_stl(folder, for_printing=False):
    """The first STL file; with `for_printing`, the first that lies on a print bed."""
    meshes = judging.expectations(folder, "meshes")
    chosen = [mesh for mesh in meshes if mesh["is_for_printing"] or not for_printing]
    return folder / chosen[0]["stl"]


def drop_triangle(folder):
    path = first_stl(folder)
    data = path.read_bytes()
    (count,) = struct.unpack_from("<I", data, 80)
    path.write_bytes(data[:80] + struct.pack("<I", count - 1) + data[84:-50])
    return True


def turn_triangle(folder):
    path = first_stl(folder)
    data = bytearray(path.read_bytes())
    first = 84 + 12
    data[first : first + 24] = data[first + 12 : first + 24] + data[first : first + 12]
    path.write_bytes(bytes(data))
    return True


def rewrite_stl(change, for_printing=False):
    def damage(folder):
        path = first_stl(folder, for_printing)
        mesh = trimesh.load_mesh(path, file_type="stl")
        header = path.read_bytes()[:80]
        change(mesh)
        path.write_bytes(header + trimesh.exchange.stl.export_stl(mesh)[80:])
        return True

    return damage


def turn_inside_out(mesh):
    mesh.invert()


def stretch(mesh):
    mesh.apply_scale([1.01, 1.0, 1.0])


def lift(mesh):
    mesh.apply_translation([0.0, 0.0, 0.01])


def change_model(old, new):
    """Replaces text in the model of the first 3MF."""

    def damage(folder):
        path = folder / judging.expectations(folder, "assemblies")[0]["threemf"]
        model = "3D/3dmodel.model"
        with tempfile.TemporaryDirectory() as scratch:
            copy = Path(scratch) / "copy.3mf"
            with zipfile.ZipFile(path) as source, zipfile.ZipFile(copy, "w") as target:
                for entry in source.namelist():
                    text = source.read(entry).decode()
                    if entry == model:
                        if old not in text:
                            return False
                        text = text.replace(old, new, 1)
                    target.writestr(entry, text)
            shutil.copy(copy, path)
        return True

    return damage


DAMAGES = {
    "an STL without one of its triangles": drop_triangle,
    "an STL with one triangle turned over": turn_triangle,
    "an STL inside out": rewrite_stl(turn_inside_out),
    "an STL 1 % longer": rewrite_stl(stretch),
    "an STL 0.01 mm above the bed": rewrite_stl(lift, for_printing=True),
    "a 3MF with another name": change_model(' name="', ' name="x'),
    "a 3MF with another number": change_model(' partnumber="', ' partnumber="x'),
    "a 3MF with another colour": change_model('displaycolor="#', 'displaycolor="#FF00FE" x="'),
    "a 3MF in inches": change_model('unit="millimeter"', 'unit="inch"'),
    "a 3MF with a part moved by 1 mm": change_model('transform="', 'transform="1 0 0 0 1 0 0 0 1 1 1 1" x="'),
    "a 3MF with two objects of one id": change_model('<object id="3"', '<object id="2"'),
    "a 3MF without one of its triangles": change_model("<triangle ", "<!-- "),
}

if __name__ == "__main__":
    judging.run(judge, SOURCE, DAMAGES)
