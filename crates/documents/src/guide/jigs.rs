//! Tools that can be printed for this work, each with the command that makes it.

use design::{Design, Role};
use fittings::{KINDS, Kind};
use paper::Block;
use units::Length;

use crate::prose::{items, words};

/// A tool that helps with this design.
struct Useful {
    /// Its name among the kinds of `sumpwright fittings`.
    kind: &'static str,
    /// How many are of use.
    count: usize,
    /// Its measures as they stand behind its name; the others are as usual.
    measures: String,
    /// What of this design it is for.
    at: &'static str,
}

/// Those that are of use here; nothing where none is.
pub(super) fn blocks(design: &Design) -> Vec<Block> {
    let told: Vec<String> =
        useful(design).iter().filter_map(|useful| told(useful, design)).collect();
    if told.is_empty() {
        return Vec::new();
    }
    vec![
        words(
            "Tools that you can print yourself; each folder holds the files and how to print them:",
        ),
        items(told),
    ]
}

fn told(useful: &Useful, design: &Design) -> Option<String> {
    let kind: &Kind = KINDS.iter().find(|kind| kind.is_jig && kind.name == useful.kind)?;
    let Useful { count, measures, at, .. } = useful;
    let name = kind.name;
    let made = design.pieces.iter().find(|p| p.role == Role::Jig && p.name.contains(name));
    let how = match made {
        Some(piece) => format!("among the fittings to print of this file as {}", piece.number),
        None => {
            let many = if *count > 1 { format!(" --count {count}") } else { String::new() };
            format!("`sumpwright fittings {name} {measures}{many} --into {name}`")
        }
    };
    Some(format!("{name}, {count} of it, {at}: {}: {how}.", kind.what_for))
}

fn useful(design: &Design) -> Vec<Useful> {
    let glued = || design.joints.iter().filter(|joint| joint.kind.is_glued());
    let role = |placed: usize| design.pieces[design.placed[placed].piece].role;
    let mut all = Vec::new();
    let is_corner =
        |joint: &&design::Joint| role(joint.a) == Role::Wall && role(joint.b) == Role::Wall;
    if let Some(corner) = glued().find(is_corner) {
        let sheet = thickest_mm(design, [corner.a]);
        all.push(Useful {
            kind: "corner-block",
            count: 4,
            measures: format!("sheet={}", number(sheet)),
            at: "two at each of two corners of the box",
        });
    }
    let is_strip = |joint: &&design::Joint| {
        joint.kind.is_glued() && [joint.a, joint.b].map(role).contains(&Role::GuideStrip)
    };
    if glued().any(|joint| is_strip(&joint)) {
        let loose = (0..design.placed.len())
            .filter(|&id| design.placed[id].loose.is_some() && role(id) == Role::Leaf);
        all.push(Useful {
            kind: "slot-spacer",
            count: 2,
            measures: format!("sheet={}", number(thickest_mm(design, loose))),
            at: "between the guide strips of each channel",
        });
    }
    // Where the shop does not bore them; the two distances are those of each hole.
    if let Some(fitting) =
        design.placed.iter().find(|p| design.pieces[p.piece].role == Role::WallFitting)
    {
        let wall = design.joints.iter().find_map(|joint| {
            let [a, b] = [joint.a, joint.b].map(|id| &design.placed[id]);
            match () {
                () if a.name == fitting.name => Some(joint.b),
                () if b.name == fitting.name => Some(joint.a),
                () => None,
            }
        });
        let walls = (0..design.placed.len()).filter(|&id| role(id) == Role::Wall);
        let sheet = wall.map_or_else(|| thickest_mm(design, walls), |id| thickest_mm(design, [id]));
        all.push(Useful {
            kind: "drilling-guide",
            count: 1,
            measures: format!("across=… up=… sheet={}", number(sheet)),
            at: "only where you bore holes yourself, with the distances of the hole's middle from its edges in place of the dots",
        });
    }
    all
}

/// The greatest thickness that sheet of some parts may have, mm; 8 where none is of sheet.
fn thickest_mm(design: &Design, parts: impl IntoIterator<Item = usize>) -> f64 {
    let most = |id: usize| {
        let sheet = design.pieces[design.placed[id].piece].sheet.as_ref()?;
        Some(design.sheets.get(sheet)?.band_mm[1])
    };
    parts.into_iter().filter_map(most).reduce(f64::max).unwrap_or(8.0)
}

/// As it is written behind a measure: to a hundredth, without trailing zeros.
fn number(mm: f64) -> String {
    let told = Length::mm((mm * 100.0).round() / 100.0).show_fine(units::System::Metric);
    told.split(' ').next().unwrap_or_default().to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::guide::tests::{demo, text};

    #[test]
    fn jigs_are_named_where_the_design_has_work_for_them() {
        // Of the demos the seahorse has a leaf between strips; fragfarm has no loose leaf.
        let (_, design, _) = demo("seahorse");
        let told = text(&blocks(&design));
        let sheet = design.sheets.values().map(|sheet| sheet.band_mm[1]).fold(0.0, f64::max);
        let spacer = format!("sumpwright fittings slot-spacer sheet={}", number(sheet));
        assert!(told.contains(&spacer), "{told}");
        // It prints its corner blocks itself.
        assert!(!told.contains("fittings corner-block"), "{told}");
        assert!(told.contains("among the fittings to print of this file as "), "{told}");
        let (_, design, _) = demo("fragfarm");
        let told = text(&blocks(&design));
        assert!(!told.contains("slot-spacer"), "{told}");
        assert!(told.contains("sumpwright fittings corner-block sheet="), "{told}");
    }

    #[test]
    fn every_measure_that_is_named_is_one_of_its_kind_and_in_its_range() {
        for name in ["seahorse", "mangrove", "stuck-leaf"] {
            let (_, design, _) = demo(name);
            for Useful { kind, measures, .. } in useful(&design) {
                let kind = KINDS.iter().find(|k| k.is_jig && k.name == kind).expect(kind);
                for measure in measures.split(' ') {
                    let (key, value) = measure.split_once('=').expect(measure);
                    let known = kind.measures.iter().find(|m| m.name == key).expect(key);
                    let Ok(value) = value.parse::<f64>() else { continue };
                    assert!((known.least..=known.most).contains(&value), "{name}: {measure}");
                }
            }
        }
    }
}
