//! How panels bend under water, as lines on their faces, told while one is picked.

use design::Design;
use glam::{DVec2, DVec3, dvec2};
use show::ThingId;
use strength::{Contour, Panel};
use study::Strong;
use units::{Length, System};

/// A panel that bends.
#[derive(Clone, Debug, PartialEq)]
pub struct Bent {
    /// Which body it is.
    pub thing: ThingId,
    /// Lines of equal deflection.
    pub lines: Vec<Line>,
    /// Where it bends most, and how far.
    pub most: Spot,
    /// Where it is stressed most, and how much.
    pub stressed: Spot,
    /// How far that is, mm.
    pub most_mm: f64,
    /// Out of its upper face.
    pub out: DVec3,
    /// Corners of what bends of it, where it is at home, mm.
    pub corners: [DVec3; 4],
    /// All of it in a few sentences.
    pub words: String,
}

/// A line of equal deflection.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// How far it bends there, a number in the file's unit as finely as the lines are apart.
    pub number: String,
    /// Places through which it goes where the body is at home, mm.
    pub places: Vec<DVec3>,
}

/// A place with a value.
#[derive(Clone, Debug, PartialEq)]
pub struct Spot {
    /// Where, where the body is at home, mm.
    pub at: DVec3,
    /// The value with its unit, in the file's units.
    pub value: String,
}

/// Every panel that bends; twice one that is held in two ways, each for its own loads. Bodies stand in the order of the design's placed parts.
pub fn of(strong: &Strong, design: &Design) -> Vec<Bent> {
    strong.strength.panels.iter().filter_map(|panel| of_panel(panel, design)).collect()
}

fn of_panel(panel: &Panel, design: &Design) -> Option<Bent> {
    let system = design.report;
    let placed = design.placed.get(panel.placed)?;
    let [_, hi] = design.pieces.get(panel.piece)?.shape.bounds();
    // In the middle of the sheet: it is seen from both sides.
    let place = |at: DVec2| placed.pose.transform_point3(at.extend(0.5 * hi.z));
    let step_mm = panel.contours.iter().map(|line| line.mm.abs()).reduce(f64::min);
    let line = |contour: &Contour| Line {
        number: number(contour.mm.abs(), step_mm.unwrap_or(1.0), system),
        places: contour.line.iter().map(|at| place(*at)).collect(),
    };
    let [from, to] = panel.rectangle_mm;
    Some(Bent {
        thing: panel.placed,
        lines: panel.contours.iter().map(line).collect(),
        most: Spot {
            at: place(panel.deflection.at_mm),
            value: Length::mm(panel.deflection.value).show_fine(system),
        },
        most_mm: panel.deflection.value,
        stressed: Spot {
            at: place(panel.stress.at_mm),
            value: system.show_stress(panel.stress.value),
        },
        out: placed.pose.transform_vector3(DVec3::Z),
        corners: [from, dvec2(to.x, from.y), to, dvec2(from.x, to.y)].map(place),
        words: words(panel, step_mm, system)?,
    })
}

fn words(panel: &Panel, step_mm: Option<f64>, system: System) -> Option<String> {
    let load = |index: usize| panel.loads.get(index).map(|load| &load.words);
    let [bending, stressing] = [load(panel.deflection.load)?, load(panel.stress.load)?];
    let show = |mm: f64| Length::mm(mm).show_fine(system);
    let mut words = format!(
        "Bends {} at most ({} wanted) with {bending}",
        show(panel.deflection.value),
        show(panel.deflection_limit_mm),
    );
    let other = if bending == stressing { String::new() } else { format!(" with {stressing}") };
    words.push_str(&format!(
        "; stress {} at most{other}, {} allowed for years.",
        system.show_stress(panel.stress.value),
        system.show_stress(panel.allowable_mpa),
    ));
    if let Some(step) = step_mm {
        words.push_str(&format!(" A line every {} {}.", number(step, step, system), unit(system)));
    }
    Some(words)
}

/// A deflection as finely as lines that are `step_mm` apart need: steps are 1, 2 or 5 times a power of ten of the unit.
fn number(mm: f64, step_mm: f64, system: System) -> String {
    let [value, step] = [mm, step_mm].map(|mm| match system {
        System::Metric => mm,
        System::UsCustomary => Length::mm(mm).to_in(),
    });
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a few digits, not below none"
    )]
    let digits = (-(step * (1.0 + 1e-9)).log10().floor()).clamp(0.0, 6.0) as usize;
    format!("{value:.digits$}")
}

fn unit(system: System) -> &'static str {
    match system {
        System::Metric => "mm",
        System::UsCustomary => "in",
    }
}

#[cfg(test)]
mod tests {
    use study::{Reading, Source};

    use super::*;

    #[test]
    fn lines_lie_in_the_body_that_they_are_told_of() {
        let text = include_str!("../../../params/brook.toml").to_owned();
        let reading = Reading::of(Source { name: "a.toml".into(), text });
        let wet = reading.wet().expect("a sound demo");
        let strong = reading.strong(Some(&wet)).expect("a sound demo");
        let all = of(&strong, &wet.design);
        assert!(4 <= all.len(), "four walls at least");
        for bent in &all {
            let block = wet.design.block(bent.thing);
            let is_in =
                |p: &DVec3| p.cmpge(block.lo - 1e-6).all() && p.cmple(block.hi + 1e-6).all();
            let name = &wet.design.placed[bent.thing].name;
            let on_lines = bent.lines.iter().flat_map(|line| &line.places);
            let places = on_lines.chain([&bent.most.at, &bent.stressed.at]).chain(&bent.corners);
            assert!(places.into_iter().all(is_in), "{name}");
            for told in [&bent.most.value, &bent.stressed.value] {
                assert!(bent.words.contains(told), "{name}: {}", bent.words);
            }
            // A sheet is thin along what is out of its face.
            let size = block.hi - block.lo;
            assert!(size.dot(bent.out.abs()) <= size.min_element() + 1e-9, "{name}");
        }
    }

    #[test]
    fn numbers_are_as_fine_as_lines_are_apart() {
        for (mm, step, told) in [(0.015, 0.005, "0.015"), (2.0, 0.5, "2.0"), (4.0, 2.0, "4")] {
            assert_eq!(number(mm, step, System::Metric), told);
        }
        assert_eq!(number(0.508, 0.254, System::UsCustomary), "0.02");
    }
}
