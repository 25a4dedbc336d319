use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use units::{Length, Speed};

/// How the sheet is cut. The defaults suit a router with a 6 mm cutter (common practice).
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Cutting {
    /// What it is cut with. Left out: `"router"`.
    pub process: Process,
    /// Diameter of the cutter, for a router. Inner corners are rounded with at least half of it.
    #[schemars(extend("x-least" = 0.1, "x-most" = 25.0))]
    pub tool: Length,
    /// Width of what a laser or a saw blade takes away. Left out: 0.2 mm for a laser, 3 mm for a saw
    /// (common practice).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 0.02, "x-most" = 10.0))]
    pub kerf: Option<Length>,
    /// How much wider a laser's cut is at the upper face than at the lower. Left out: 0.1 mm (common practice).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 0.0, "x-most" = 2.0))]
    pub taper: Option<Length>,
    /// How deep a router cuts in one pass. Left out: the cutter's diameter (common practice).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 0.1, "x-most" = 50.0))]
    pub pass_depth: Option<Length>,
    /// How a router's sheet is held down. Left out: `"vacuum"`.
    pub holding: Holding,
    /// Length of a bridge along the edge, for `holding = "tabs"`. Left out: 6 mm (common practice).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 1.0, "x-most" = 50.0))]
    pub tab_length: Option<Length>,
    /// Height of a bridge above the sheet's lower face, for `holding = "tabs"`; half the sheet at most. Left out: 1.5 mm, or
    /// a third of a sheet that is thinner than 4.5 mm (common practice).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 0.2, "x-most" = 20.0))]
    pub tab_height: Option<Length>,
    /// Radius of inner corners. Left out: the sheet's thickness, which spares the corner from
    /// stress, or half the cutter if that is more.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 0.1, "x-most" = 100.0))]
    pub inner_corner: Option<Length>,
    /// Radius of the outer corners of loose parts, eased for the hand.
    #[schemars(extend("x-least" = 0.0, "x-most" = 50.0))]
    pub outer_corner: Length,
    /// How a groove ends where a square edge goes to its very end. Left out: `"beyond"`.
    pub relief: Relief,
    /// How much wider than the thickest sheet a groove is that is glued. Left out: 0.1 mm (common practice: solvent runs
    /// into 0.05 to 0.2 mm).
    #[schemars(extend("x-least" = 0.0, "x-most" = 2.0))]
    pub groove_fit: Length,
    /// Depth of engraving.
    #[schemars(extend("x-least" = 0.05, "x-most" = 1.0))]
    pub engraving: Length,
    /// Gap between what the tool takes away around one part and around the next. Left out: 5 mm (common practice).
    #[schemars(extend("x-least" = 0.0, "x-most" = 100.0))]
    pub spacing: Length,
    /// Strip along the edges of a bought sheet that is left: edges are chipped and not square. Left out: 10 mm
    /// (common practice).
    #[schemars(extend("x-least" = 0.0, "x-most" = 200.0))]
    pub margin: Length,
    /// Whether every cut goes straight through what it cuts, as a panel saw must. Left out: `true` for a saw, `false`
    /// for all else.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub straight_through: Option<bool>,
    /// Whether small parts may be cut out of what falls out of large openings. Left out: `true`.
    pub nest_in_openings: bool,
    /// What is drawn of whole sheets for the machine: the edges of the parts, for a shop that lets its own program reckon
    /// with the tool, or the path of the tool's middle. Left out: `"part"`, which nearly all shops want (common practice).
    /// Single panels are always drawn by their edges.
    pub draw: DrawnPath,
    /// Speed of the tool through the sheet, least and greatest, for cutting through. Left out: by process, material and
    /// thickness (common practice).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 10.0, "x-most" = 100_000.0))]
    pub feed: Option<[Speed; 2]>,
    /// Speed between cuts. Left out: 10 m/min (common practice).
    #[schemars(extend("x-least" = 100.0, "x-most" = 200_000.0))]
    pub travel: Speed,
}

impl Cutting {
    /// Width of what the tool takes away: the cutter's diameter, or the kerf.
    pub fn cut_width(&self) -> Length {
        match self.process {
            Process::Router => self.tool,
            Process::Laser => self.kerf.unwrap_or(Length::mm(0.2)),
            Process::Saw => self.kerf.unwrap_or(Length::mm(3.0)),
        }
    }

    /// The same for what is cut by another process. What is written for the one does not hold for the other: its feed and,
    /// unless it is a router, which has none, its kerf are left to common practice.
    pub fn by(mut self, process: Process) -> Self {
        if process != self.process {
            self.feed = None;
            if self.process != Process::Router {
                self.kerf = None;
            }
            self.process = process;
        }
        self
    }
}

impl crate::File {
    /// How parts of this sheet are cut: as all others, or by a process of their own.
    pub fn cutting_of(&self, sheet: Option<&str>) -> Cutting {
        let process = sheet.and_then(|name| self.sheet.get(name)?.process);
        process.map_or(self.cutting, |process| self.cutting.by(process))
    }
}

/// What sheet is cut with.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Process {
    /// A round cutter led by a machine. Cuts any material here, grooves too.
    #[default]
    Router,
    /// A beam. Never for PVC or polycarbonate: the fumes are poisonous. Cuts no grooves.
    Laser,
    /// A panel saw: straight cuts from edge to edge only.
    Saw,
}

/// How sheet is held while a router cuts it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Holding {
    /// Drawn down by air. Small parts may slip: a finding names them.
    #[default]
    Vacuum,
    /// Small bridges (tabs) that are left in the cuts and trimmed by hand.
    Tabs,
}

/// How room is made for a square corner where a round cutter cannot cut one.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Relief {
    /// The groove runs on by its half circle: its round end lies beyond the part.
    #[default]
    Beyond,
    /// A round bite into each corner, along its diagonal. Opens the least.
    Dogbone,
    /// A round bite at each corner into the groove's end: its long sides stay straight.
    Tbone,
}

/// What is drawn for the machine.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum DrawnPath {
    /// The edges of the parts.
    #[default]
    Part,
    /// The path of the middle of the tool.
    Tool,
}

impl Default for Cutting {
    fn default() -> Self {
        Self {
            process: Process::default(),
            tool: Length::mm(6.0),
            kerf: None,
            taper: None,
            pass_depth: None,
            holding: Holding::default(),
            tab_length: None,
            tab_height: None,
            inner_corner: None,
            outer_corner: Length::mm(3.0),
            relief: Relief::default(),
            groove_fit: Length::mm(0.1),
            engraving: Length::mm(0.3),
            spacing: Length::mm(5.0),
            margin: Length::mm(10.0),
            straight_through: None,
            nest_in_openings: true,
            draw: DrawnPath::default(),
            feed: None,
            travel: Speed::mm_per_min(10_000.0),
        }
    }
}

/// How small fittings are printed. The defaults suit a nozzle of 0.4 mm (common practice); print the coupons first and
/// write here what they say.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Printing {
    /// Diameter of the nozzle. Walls are whole lines of this width, at least two.
    #[schemars(extend("x-least" = 0.1, "x-most" = 1.2))]
    pub nozzle: Length,
    /// Height of a layer: heights are whole layers. Left out: half the nozzle (common practice).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 0.04, "x-most" = 1.0))]
    pub layer: Option<Length>,
    /// What is printed with. It decides what water, heat and load do to a fitting. Left out: `"PETG"`.
    pub filament: Filament,
    /// Clearance between a printed face and what slides on it, each side: it takes up how far printer and filament are
    /// off, so it is found by the clearance coupon. Left out: 0.25 mm (common practice).
    #[schemars(extend("x-least" = 0.0, "x-most" = 2.0))]
    pub clearance: Length,
    /// How much smaller than drawn upright holes come out in diameter, by the hole coupon; they are drawn so much larger.
    /// 0 if the slicer makes up for it. Left out: 0.2 mm (common practice).
    #[schemars(extend("x-least" = 0.0, "x-most" = 1.0))]
    pub hole_loss: Length,
    /// How far the first layer spreads on the bed, each side ("elephant's foot"); edges on the bed are drawn in by so
    /// much. 0 if the slicer makes up for it. Left out: 0.2 mm, or half a nozzle that is finer than 0.4 mm (common
    /// practice).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 0.0, "x-most" = 0.6))]
    pub foot: Option<Length>,
    /// Length of the print bed. Longer fittings are made of pieces.
    #[schemars(extend("x-least" = 50.0, "x-most" = 1000.0))]
    pub bed: Length,
    /// Width of the print bed. Left out: as its length.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 50.0, "x-most" = 1000.0))]
    pub bed_width: Option<Length>,
    /// Height of what can be printed. Left out: as the bed's length.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 50.0, "x-most" = 1000.0))]
    pub bed_height: Option<Length>,
    /// Colour of the filament as `"#rrggbb"`.
    #[schemars(regex(pattern = "^#[0-9a-fA-F]{6}$"), extend("x-words" = "a colour as `\"#rrggbb\"`"))]
    pub colour: String,
}

impl Printing {
    /// Height of a layer, with its default.
    pub fn layer(&self) -> Length {
        self.layer.unwrap_or(self.nozzle * 0.5)
    }

    /// How far the first layer spreads, with its default.
    pub fn foot(&self) -> Length {
        let usual = Length::mm(0.2);
        let half = self.nozzle * 0.5;
        self.foot.unwrap_or(if half < usual { half } else { usual })
    }

    /// Length, width and height of the room for printing, with their defaults.
    pub fn room(&self) -> [Length; 3] {
        [self.bed, self.bed_width.unwrap_or(self.bed), self.bed_height.unwrap_or(self.bed)]
    }
}

/// Filaments by their names in the trade.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
pub enum Filament {
    /// Poly(ethylene terephthalate), glycol-modified. The usual choice for use in water.
    #[default]
    #[serde(rename = "PETG")]
    Petg,
    /// Acrylonitrile styrene acrylate. As ABS, and stands light.
    #[serde(rename = "ASA")]
    Asa,
    /// Acrylonitrile butadiene styrene. Stands heat; light makes it brittle.
    #[serde(rename = "ABS")]
    Abs,
    /// Polypropylene. Takes up no water and bends without breaking; hard to print, and no glue holds it.
    #[serde(rename = "PP")]
    Pp,
    /// Polylactide. Easily printed and true: for jigs. Water takes it apart slowly, and it creeps.
    #[serde(rename = "PLA")]
    Pla,
    /// Polyamide 6 or 66. Tough, but takes up water and swells. PA 12 swells far less.
    #[serde(rename = "nylon")]
    Nylon,
    /// Thermoplastic polyurethane. Soft as rubber: for pads and seals, never for what must keep its shape.
    #[serde(rename = "TPU")]
    Tpu,
}

impl Default for Printing {
    fn default() -> Self {
        Self {
            nozzle: Length::mm(0.4),
            layer: None,
            filament: Filament::default(),
            clearance: Length::mm(0.25),
            hole_loss: Length::mm(0.2),
            foot: None,
            bed: Length::mm(200.0),
            bed_width: None,
            bed_height: None,
            colour: "#2f4858".to_owned(),
        }
    }
}
