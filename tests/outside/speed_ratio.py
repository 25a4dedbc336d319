"""How much faster a panel is built, meshed and written than by OpenCASCADE, in the same run.

    speed_ratio.py [--slots-along N …]    default 10 20: panels with 100 and 400 slots

Both build the same sheet of 600 × 400 × 6 mm with N × N rounded slots from the same numbers, mesh it
within 0.05 mm, and write STL (binary) and STEP. Both work on one core and write to the same disk. Our
times include all checks of the solid and the mesh; the kernel's do not include any. The kernel is
given the way that suits it best: one face with all slots as holes, swept once; it is called from
Python, which costs it a few per cent of these times (some thousand calls of about a microsecond).
Times are the best of several runs.
"""

import argparse
import json
import math
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge, BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakeWire
from OCP.BRepMesh import BRepMesh_IncrementalMesh
from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism
from OCP.GC import GC_MakeArcOfCircle
from OCP.gp import gp_Pnt, gp_Vec
from OCP.Message import Message, Message_PrinterOStream
from OCP.STEPControl import STEPControl_AsIs, STEPControl_Writer
from OCP.StlAPI import StlAPI_Writer

import kernel

ROOT = Path(__file__).parents[2]
WIDTH, HEIGHT, THICKNESS, CORNER = 600.0, 400.0, 6.0, 10.0
CHORD_ERROR_MM = 0.05
ANGLE_ERROR_RAD = 0.5
STAGES = ["build_ms", "mesh_ms", "stl_ms", "step_ms"]
AIM = 30


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--slots-along", type=int, nargs="+", default=[10, 20])
    sizes = parser.parse_args().slots_along
    # The kernel's own chatter about what it writes.
    Message.DefaultMessenger_s().RemovePrinters(Message_PrinterOStream.get_type_descriptor_s())
    with tempfile.TemporaryDirectory() as folder:
        all_ours = our_times(folder, sizes)
        print(f"{'slots':>6} {'who':>6} {'build':>9} {'mesh':>9} {'STL':>9} {'STEP':>9} {'total':>9} ms")
        for size, ours in zip(sizes, all_ours):
            theirs = min((their_times(Path(folder), size) for _ in range(3 if size <= 20 else 1)), key=total)
            if abs(ours["volume_mm3"] - theirs["volume_mm3"]) > 1e-6 * ours["volume_mm3"]:
                sys.exit(f"not the same panel: {ours['volume_mm3']} and {theirs['volume_mm3']} mm³")
            show(size, "ours", ours)
            show(size, "kernel", theirs)
            ratio = total(theirs) / total(ours)
            print(f"{size * size:>6} ratio {ratio:.0f} (aim {AIM})")


def our_times(folder, sizes):
    command = ["cargo", "run", "--quiet", "--release", "-p", "export", "--example", "panel_speed", "--", folder]
    done = subprocess.run(command + [str(size) for size in sizes], cwd=ROOT, stdout=subprocess.PIPE, text=True, check=True)
    return [json.loads(line) for line in done.stdout.splitlines()]


def show(size, who, times):
    cells = " ".join(f"{milliseconds:9.1f}" for milliseconds in [times[stage] for stage in STAGES] + [total(times)])
    print(f"{size * size:>6} {who:>6} {cells}")


def total(times):
    return sum(times[stage] for stage in STAGES)


def their_times(folder, size):
    clock = [time.perf_counter()]
    panel = slotted(size)
    clock.append(time.perf_counter())
    BRepMesh_IncrementalMesh(panel, CHORD_ERROR_MM, False, ANGLE_ERROR_RAD, False)
    clock.append(time.perf_counter())
    writer = StlAPI_Writer()
    writer.ASCIIMode = False
    writer.Write(panel, str(folder / "theirs.stl"))
    clock.append(time.perf_counter())
    writer = STEPControl_Writer()
    writer.Transfer(panel, STEPControl_AsIs)
    writer.Write(str(folder / "theirs.step"))
    clock.append(time.perf_counter())
    times = {stage: 1e3 * (end - start) for stage, start, end in zip(STAGES, clock, clock[1:])}
    return times | {"volume_mm3": kernel.volume(panel)}


def slotted(size):
    """The same panel as in `crates/export/benches/slotted.rs`."""
    face = BRepBuilderAPI_MakeFace(rounded_rectangle())
    for i in range(size):
        for j in range(size):
            hole = slot((i + 0.5) * WIDTH / size, (j + 0.5) * HEIGHT / size, 0.3 * WIDTH / size, 0.1 * HEIGHT / size)
            hole.Reverse()
            face.Add(hole)
    return BRepPrimAPI_MakePrism(face.Face(), gp_Vec(0.0, 0.0, THICKNESS)).Shape()


def rounded_rectangle():
    x, y, r = WIDTH, HEIGHT, CORNER
    k = r * (1.0 - math.sqrt(0.5))
    return wire(
        line((r, 0), (x - r, 0)),
        arc((x - r, 0), (x - k, k), (x, r)),
        line((x, r), (x, y - r)),
        arc((x, y - r), (x - k, y - k), (x - r, y)),
        line((x - r, y), (r, y)),
        arc((r, y), (k, y - k), (0, y - r)),
        line((0, y - r), (0, r)),
        arc((0, r), (k, k), (r, 0)),
    )


def slot(x, y, half_length, r):
    h = half_length - r
    return wire(
        line((x - h, y - r), (x + h, y - r)),
        arc((x + h, y - r), (x + h + r, y), (x + h, y + r)),
        line((x + h, y + r), (x - h, y + r)),
        arc((x - h, y + r), (x - h - r, y), (x - h, y - r)),
    )


def wire(*edges):
    maker = BRepBuilderAPI_MakeWire()
    for edge in edges:
        maker.Add(edge)
    return maker.Wire()


def line(a, b):
    return BRepBuilderAPI_MakeEdge(point(a), point(b)).Edge()


def arc(a, through, b):
    return BRepBuilderAPI_MakeEdge(GC_MakeArcOfCircle(point(a), point(through), point(b)).Value()).Edge()


def point(xy):
    return gp_Pnt(xy[0], xy[1], 0.0)


if __name__ == "__main__":
    main()
