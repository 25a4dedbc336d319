//! Prints what this crate makes of plates of many kinds, one JSON object a line, for a judge that computes the same with another
//! library of finite elements:
//!
//! `cargo run -p bending --example plates`
//!
//! Each line holds the plate and its load as plain numbers in SI units, and places with deflection and moments:
//!
//! `{"case": "wall with a rim", "size": [0.8, 0.4], …, "found": [{"at": [0.4, 0.2], "w_m": 1.7e-3, …}]}`
#![expect(clippy::print_stdout, reason = "it tells what it has computed")]

use bending::{Along, Hold, Line, Opening, Plate, Point, Pressure, Rect, Support, bend};
use serde_json::{Value, json};

const WATER: f64 = 1025.0 * 9.806_65;

fn main() -> Result<(), bending::Error> {
    for edges in ["SSSS", "CCCC", "CCCS", "SSSF", "CCCF", "SSCF", "CCSF"] {
        for a in [0.5, 1.0, 2.0, 3.0] {
            for is_wet in [false, true] {
                table(edges, a, is_wet)?;
            }
        }
    }
    Case::new("opening", [0.6, 0.4], 0.008, "SSSF")
        .opening([0.2, 0.35], [0.15, 0.25])
        .look(&[[0.275, 0.25], [0.2, 0.2], [0.35, 0.2], [0.275, 0.4], [0.15, 0.1], [0.37, 0.27]])
        .print()?;
    Case::new("several spans", [0.9, 0.4], 0.008, "SSSS")
        .line(Along::Y, 0.35, [0.0, 0.4], Support::Hinge)
        .line(Along::Y, 0.6, [0.0, 0.25], Support::Hinge)
        .look(&[[0.35, 0.2], [0.6, 0.125], [0.175, 0.2], [0.475, 0.2], [0.75, 0.2], [0.6, 0.3]])
        .print()?;
    for gj in [0.0, 40.0] {
        let rim = Support::Beam { ei: 576.0, gj };
        let name = if gj > 0.0 { "rim that resists twist" } else { "rim" };
        Case::new(name, [0.8, 0.4], 0.01, "SSSF")
            .line(Along::X, 0.4, [0.0, 0.8], rim)
            .look(&[[0.4, 0.4], [0.4, 0.2], [0.2, 0.4], [0.2, 0.2]])
            .print()?;
    }
    let rim = Support::Beam { ei: 576.0, gj: 0.0 };
    for (name, hold) in [("rim and brace", Hold::Rigid), ("rim and soft brace", Hold::Spring(2e5))]
    {
        Case::new(name, [0.8, 0.4], 0.01, "SSSF")
            .line(Along::X, 0.4, [0.0, 0.8], rim)
            .point([0.4, 0.4], hold)
            .look(&[[0.2, 0.4], [0.4, 0.2], [0.2, 0.2]])
            .print()?;
    }
    Case::new("clamped with a rim", [0.8, 0.4], 0.01, "CCCF")
        .line(Along::X, 0.4, [0.0, 0.8], rim)
        .look(&[[0.4, 0.4], [0.4, 0.2], [0.4, 0.0], [0.0, 0.2]])
        .print()?;
    Case::new("notch at the bottom", [0.6, 0.4], 0.008, "CCFF")
        .opening([0.2, 0.35], [0.0, 0.05])
        .line(Along::X, 0.0, [0.0, 0.2], Support::Hinge)
        .line(Along::X, 0.0, [0.35, 0.6], Support::Hinge)
        .look(&[[0.275, 0.05], [0.275, 0.4], [0.275, 0.2], [0.1, 0.2], [0.0, 0.2]])
        .print()?;
    Case::new("springs along the sides", [0.6, 0.4], 0.008, "FFSF")
        .line(Along::Y, 0.0, [0.0, 0.4], Support::Spring { k: 4e4, kr: 0.0 })
        .line(Along::Y, 0.6, [0.0, 0.4], Support::Spring { k: 1e5, kr: 60.0 })
        .look(&[[0.3, 0.4], [0.0, 0.4], [0.6, 0.2], [0.3, 0.2]])
        .print()
}

/// A plate with rigidity 1 under a load of 1, so that the results are the coefficients of tables.
fn table(edges: &str, a: f64, is_wet: bool) -> Result<(), bending::Error> {
    let mut case = Case::new("table", [a, 1.0], 1e-3, edges);
    case.plate.modulus = 12.0 * 0.91 * 1e9;
    case.plate.poisson = 0.3;
    case.load = if is_wet { [0.0, 1.0] } else { [1.0, 0.0] };
    let middle = 0.5 * a;
    let mut places = vec![[middle, 0.5], [middle, 0.25], [0.25 * a, 0.5]];
    if edges.ends_with('F') {
        places.push([middle, 1.0]);
    }
    if edges.starts_with('C') {
        places.push([0.0, 0.5]);
    }
    if edges.chars().nth(2) == Some('C') {
        places.push([middle, 0.0]);
    }
    case.look(&places).print()
}

struct Case {
    name: &'static str,
    plate: Plate,
    edges: String,
    /// Uniform pressure, Pa, and weight of the water up to the top, N/m³.
    load: [f64; 2],
    places: Vec<[f64; 2]>,
}

impl Case {
    fn new(name: &'static str, size: [f64; 2], thickness: f64, edges: &str) -> Self {
        let mut supports = [None; 4];
        for (support, letter) in supports.iter_mut().zip(edges.chars()) {
            *support = match letter {
                'S' => Some(Support::Hinge),
                'C' => Some(Support::Clamp),
                _ => None,
            };
        }
        let plate = Plate::new(size, thickness, 3.2e9, 0.37).with_edges(supports);
        Self { name, plate, edges: edges.into(), load: [0.0, WATER], places: Vec::new() }
    }

    fn opening(mut self, x: [f64; 2], y: [f64; 2]) -> Self {
        self.plate.openings.push(Opening { rect: Rect { x, y }, radius: 0.0 });
        self
    }

    fn line(mut self, along: Along, at: f64, span: [f64; 2], support: Support) -> Self {
        self.plate.lines.push(Line { along, at, span, support });
        self
    }

    fn point(mut self, at: [f64; 2], hold: Hold) -> Self {
        self.plate.points.push(Point { at, hold });
        self
    }

    fn look(mut self, places: &[[f64; 2]]) -> Self {
        self.places = places.to_vec();
        self
    }

    fn print(self) -> Result<(), bending::Error> {
        let [uniform, weight] = self.load;
        let height = self.plate.size[1];
        let load = vec![Pressure::uniform(uniform), Pressure::water(weight, height)];
        let bending = bend(&self.plate, &[load])?;
        let field = &bending.fields[0];
        let found: Vec<Value> = self.places.iter().map(|&at| found_at(&bending, at)).collect();
        let lines: Vec<Value> = self.plate.lines.iter().map(line).collect();
        let points: Vec<Value> = self.plate.points.iter().map(point).collect();
        let openings = self.plate.openings.iter().map(|o| json!({ "x": o.rect.x, "y": o.rect.y }));
        let openings: Vec<Value> = openings.collect();
        let reactions = &field.reactions;
        let sums: Vec<f64> = reactions.lines.iter().map(|line| line.total).collect();
        let told = json!({
            "case": self.name,
            "edges": self.edges,
            "size": self.plate.size,
            "thickness_m": self.plate.thickness,
            "modulus_pa": self.plate.modulus,
            "poisson": self.plate.poisson,
            "uniform_pa": uniform,
            "water_n_m3": weight,
            "openings": openings,
            "lines": lines,
            "points": points,
            "found": found,
            "largest_w_m": field.deflection.value,
            "work_j": field.work,
            "load_n": field.load,
            "reaction_n": reactions.total,
            "line_n": sums,
            "point_n": reactions.points,
        });
        println!("{told}");
        Ok(())
    }
}

fn found_at(bending: &bending::Bending, at: [f64; 2]) -> Value {
    let moment = bending.moment_at(0, at);
    json!({
        "at": at,
        "w_m": bending.deflection_at(0, at),
        "m_x_n": moment.map(|moment| moment.x),
        "m_y_n": moment.map(|moment| moment.y),
    })
}

fn line(line: &Line) -> Value {
    let (kind, stiffness) = match line.support {
        Support::Hinge => ("hinge", [0.0; 2]),
        Support::Clamp => ("clamp", [0.0; 2]),
        Support::Spring { k, kr } => ("spring", [k, kr]),
        Support::Beam { ei, gj } => ("beam", [ei, gj]),
        Support::Rest(_) => ("rest", [0.0; 2]),
    };
    let is_along_x = line.along == Along::X;
    json!({ "along_x": is_along_x, "at": line.at, "span": line.span, "kind": kind, "stiffness": stiffness })
}

fn point(point: &Point) -> Value {
    let k = match point.hold {
        Hold::Spring(k) => Some(k),
        Hold::Rigid | Hold::Rest(_) => None,
    };
    json!({ "at": point.at, "k_n_m": k })
}
