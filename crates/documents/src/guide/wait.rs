//! How long to wait, in words.

use design::Design;
use paper::Block;
use shop::glue_up::{Bond, JointId, bond, plastic, times};

use crate::prose::{Kind, table};

/// What a bond is called.
pub(super) fn bond_words(kind: Bond) -> String {
    match kind {
        Bond::Solvent(material) => format!("solvent cement on {}", plastic(material)),
        Bond::Mixed(a, b) => format!("cement for {} and {}", plastic(a), plastic(b)),
        Bond::Printed => "adhesive for printed parts".to_owned(),
    }
}

/// How long some joints set, and until they may be turned: of each figure the greatest. The slowest to set need not be
/// the slowest to be handled.
pub(super) fn words(design: &Design, joints: &[JointId]) -> String {
    let all = joints.iter().map(|&id| times(bond(design, id)));
    let slowest = all
        .map(|times| (times.sets_min, times.handled_min))
        .reduce(|a, b| (greatest(a.0, b.0), greatest(a.1, b.1)));
    slowest.map_or(String::new(), |(sets, handled)| {
        format!(
            "Do not touch it for {}; turn it or go on after {}.",
            minutes(sets),
            minutes(handled)
        )
    })
}

/// The greater of either end of two ranges.
fn greatest(a: [f64; 2], b: [f64; 2]) -> [f64; 2] {
    [a[0].max(b[0]), a[1].max(b[1])]
}

/// All kinds of bonds of a design.
pub(super) fn bonds(design: &Design) -> Vec<Bond> {
    let glued = design.joints.iter().enumerate().filter(|(_, joint)| joint.kind.is_glued());
    let mut kinds: Vec<Bond> = glued.map(|(id, _)| bond(design, id)).collect();
    kinds.sort();
    kinds.dedup();
    kinds
}

/// The same, with their times and where these come from.
pub(super) fn table_of(design: &Design) -> Block {
    let rows = bonds(design).into_iter().map(|kind| {
        let times = times(kind);
        [
            bond_words(kind),
            minutes(times.sets_min),
            minutes(times.handled_min),
            format!("{:.0} to {:.0} h", times.water_h[0], times.water_h[1]),
            times.source.to_owned(),
        ]
    });
    let columns = [
        ("bond", Kind::Words),
        ("sets in", Kind::Name),
        ("may be turned after", Kind::Name),
        ("water after", Kind::Name),
        ("source", Kind::Words),
    ];
    table(columns, rows)
}

/// The hours after which the slowest joint may carry water.
pub(super) fn water_h(design: &Design) -> [f64; 2] {
    let glued = design.joints.iter().enumerate().filter(|(_, joint)| joint.kind.is_glued());
    glued.map(|(id, _)| times(bond(design, id)).water_h).fold([24.0, 48.0], greatest)
}

/// `2 to 5 min`, `1 to 4 h`.
pub(super) fn minutes([least, most]: [f64; 2]) -> String {
    if least >= 60.0 {
        format!("{:.0} to {:.0} h", least / 60.0, most / 60.0)
    } else if most > 90.0 {
        format!("{least:.0} min to {:.0} h", most / 60.0)
    } else {
        format!("{least:.0} to {most:.0} min")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use params::Material;

    #[test]
    fn of_each_figure_the_greatest_counts() {
        // PVC sets more slowly at least, a printed part is handled later.
        let [pvc, printed] = [Bond::Solvent(Material::Pvc), Bond::Printed].map(times);
        assert_eq!(minutes(greatest(pvc.sets_min, printed.sets_min)), "15 to 60 min");
        assert_eq!(minutes(greatest(pvc.handled_min, printed.handled_min)), "4 to 24 h");
    }

    #[test]
    fn times_are_told_in_the_unit_that_suits() {
        let told = [[2.0, 5.0], [30.0, 60.0], [60.0, 240.0], [15.0, 120.0]].map(minutes);
        assert_eq!(told, ["2 to 5 min", "30 to 60 min", "1 to 4 h", "15 min to 2 h"]);
    }
}
