"""What the judges ask OpenCASCADE (cadquery-ocp) about shapes. Lengths in mm."""

from collections import Counter

from OCP.Bnd import Bnd_Box
from OCP.BRep import BRep_Tool
from OCP.BRepAdaptor import BRepAdaptor_Curve, BRepAdaptor_Surface
from OCP.BRepAlgoAPI import BRepAlgoAPI_Common
from OCP.BRepBndLib import BRepBndLib
from OCP.BRepCheck import BRepCheck_Analyzer
from OCP.BRepExtrema import BRepExtrema_DistShapeShape
from OCP.BRepGProp import BRepGProp
from OCP.GProp import GProp_GProps
from OCP.Quantity import Quantity_Color, Quantity_TOC_sRGB
from OCP.ShapeAnalysis import ShapeAnalysis_ShapeTolerance
from OCP.STEPCAFControl import STEPCAFControl_Reader
from OCP.TCollection import TCollection_ExtendedString
from OCP.TDataStd import TDataStd_Name
from OCP.TDF import TDF_Label
from OCP.TDocStd import TDocStd_Document
from OCP.TopAbs import TopAbs_EDGE, TopAbs_FACE, TopAbs_SHELL, TopAbs_SOLID
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS
from OCP.XCAFDoc import XCAFDoc_ColorGen, XCAFDoc_ColorSurf, XCAFDoc_ColorTool, XCAFDoc_DocumentTool, XCAFDoc_ShapeTool
from OCP.collections import Sequence_TDF_Label


class Node:
    """A label of the reader's tree: a part, an assembly, or a placed one."""

    def __init__(self, label):
        self.label = label
        target = TDF_Label()
        is_reference = XCAFDoc_ShapeTool.GetReferredShape_s(label, target)
        self.target = Node(target) if is_reference else None

    @property
    def name(self):
        attribute = TDataStd_Name()
        if not self.label.FindAttribute(TDataStd_Name.GetID_s(), attribute):
            return None
        return attribute.Get().ToExtString()

    @property
    def shape(self):
        """With the placement of the label."""
        return XCAFDoc_ShapeTool.GetShape_s(self.label)

    @property
    def pose(self):
        """Rows of a 3 × 4 matrix."""
        motion = XCAFDoc_ShapeTool.GetLocation_s(self.label).Transformation()
        return [motion.Value(row, column) for row in (1, 2, 3) for column in (1, 2, 3, 4)]

    @property
    def colour(self):
        """As it was written: 0 to 255, sRGB."""
        colour = Quantity_Color()
        for kind in (XCAFDoc_ColorSurf, XCAFDoc_ColorGen):
            if XCAFDoc_ColorTool.GetColor_s(self.label, kind, colour):
                return [round(255 * channel) for channel in colour.Values(Quantity_TOC_sRGB)]
        return None

    @property
    def children(self):
        labels = Sequence_TDF_Label()
        XCAFDoc_ShapeTool.GetComponents_s(self.label, labels)
        return [Node(labels.Value(k)) for k in range(1, labels.Length() + 1)]


def read(path):
    """The topmost nodes of a STEP file, the length units it declares, and the document, which must
    outlive the nodes."""
    document = TDocStd_Document(TCollection_ExtendedString("XmlOcaf"))
    reader = STEPCAFControl_Reader()
    reader.SetNameMode(True)
    reader.SetColorMode(True)
    status = reader.ReadFile(str(path))
    if not str(status).endswith("RetDone"):
        raise ValueError(f"{status}")
    if not reader.Transfer(document):
        raise ValueError("not transferred")
    labels = Sequence_TDF_Label()
    XCAFDoc_DocumentTool.ShapeTool_s(document.Main()).GetFreeShapes(labels)
    return [Node(labels.Value(k)) for k in range(1, labels.Length() + 1)], document


def parts_of(shape, kind):
    """Sub-shapes of one kind; an edge or face once for every use."""
    explorer = TopExp_Explorer(shape, kind)
    while explorer.More():
        yield explorer.Current()
        explorer.Next()


def solids(shape):
    return list(parts_of(shape, TopAbs_SOLID))


def is_valid(shape):
    return bool(BRepCheck_Analyzer(shape).IsValid())


def is_closed(shape):
    shells = list(parts_of(shape, TopAbs_SHELL))
    return len(shells) > 0 and all(BRep_Tool.IsClosed_s(shell) for shell in shells)


def volume(shape):
    properties = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, properties)
    return properties.Mass()


def box(shape):
    bounds = Bnd_Box()
    BRepBndLib.AddOptimal_s(shape, bounds, False, False)
    lo, hi = bounds.CornerMin(), bounds.CornerMax()
    return [lo.X(), lo.Y(), lo.Z()], [hi.X(), hi.Y(), hi.Z()]


def kind(geometry):
    return str(geometry.GetType()).split("_")[-1].lower()


def surfaces(shape):
    """How many faces lie on each kind of surface."""
    return Counter(kind(BRepAdaptor_Surface(TopoDS.Face(face))) for face in parts_of(shape, TopAbs_FACE))


def curves(shape):
    """How many edges follow each kind of curve. Every edge of a solid is met twice; the point at the
    tip of a cone, which the kernel counts as an edge, is left out."""
    edges = (TopoDS.Edge(edge) for edge in parts_of(shape, TopAbs_EDGE))
    uses = Counter(kind(BRepAdaptor_Curve(edge)) for edge in edges if not BRep_Tool.Degenerated_s(edge))
    return {name: count // 2 if count % 2 == 0 else count / 2 for name, count in uses.items()}


def largest_tolerance(shape):
    """How far the kernel had to bend its own rules for a vertex, edge or face."""
    return ShapeAnalysis_ShapeTolerance().Tolerance(shape, 1)


def common_volume(a, b):
    common = BRepAlgoAPI_Common(a, b)
    if not common.IsDone():
        raise ValueError("the common volume could not be computed")
    return volume(common.Shape())


def distance(a, b):
    measure = BRepExtrema_DistShapeShape(a, b)
    if not measure.IsDone():
        raise ValueError("the distance could not be computed")
    return measure.Value()
