//! How panels bend under water, as lines on their faces, told while one is picked.

use design::Design;
use glam::DVec3;
use show::ThingId;
use study::Strong;
use units::Length;

/// A panel that bends.
#[derive(Clone, Debug, PartialEq)]
pub struct Bent {
    /// Which body it is.
    pub thing: ThingId,
    /// Lines of equal deflection, each through places where the body is at home, mm.
    pub lines: Vec<Vec<DVec3>>,
    /// Where it bends most.
    pub most: DVec3,
    /// How far, in the file's units.
    pub deflection: String,
    /// All of it in a sentence or two.
    pub words: String,
}

/// Every panel that bends. Bodies stand in the order of the design's placed parts.
pub fn of(strong: &Strong, design: &Design) -> Vec<Bent> {
    let show = |mm: f64| Length::mm(mm).show_fine(design.report);
    let panels = strong.strength.panels.iter();
    let bent = panels.filter_map(|panel| {
        let placed = design.placed.get(panel.placed)?;
        let [_, hi] = design.pieces.get(panel.piece)?.shape.bounds();
        // In the middle of the sheet: it is seen from both sides.
        let place = |at: glam::DVec2| placed.pose.transform_point3(at.extend(0.5 * hi.z));
        let load = panel.loads.get(panel.deflection.load)?;
        let step = panel.contours.iter().map(|line| line.mm.abs()).reduce(f64::min);
        let lines = step.map_or(String::new(), |mm| format!(" A line every {}.", show(mm)));
        let deflection = show(panel.deflection.value);
        let words = format!(
            "Bends {deflection} at most ({} wanted) with {}; stress {} of {}.{lines}",
            show(panel.deflection_limit_mm),
            load.words,
            design.report.show_stress(panel.stress.value),
            design.report.show_stress(panel.allowable_mpa),
        );
        Some(Bent {
            thing: panel.placed,
            lines: panel
                .contours
                .iter()
                .map(|line| line.line.iter().map(|at| place(*at)).collect())
                .collect(),
            most: place(panel.deflection.at_mm),
            deflection,
            words,
        })
    });
    bent.collect()
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
            assert!(bent.lines.iter().flatten().chain([&bent.most]).all(is_in), "{name}");
            assert!(bent.words.contains(&bent.deflection), "{name}: {}", bent.words);
        }
    }
}
