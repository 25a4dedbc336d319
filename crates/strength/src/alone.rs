//! Leaves that must not hold water on one side alone.

use design::{Design, Role};

use crate::Strength;
use crate::checks::strain::{Bent, Reach, Strained};
use crate::panel::{Duration, Load, Panel};

/// Leaves that are strained or bend too much with water to the upper edge on one side and none on the other, as while a
/// chamber is filled or drained by itself, in the order of the design.
///
/// One counts when that load alone is more than it may carry for years, corners of its openings included, bends it more than wanted
/// or further than the theory reaches.
pub fn not_alone<'a>(strength: &'a Strength, design: &Design) -> Vec<&'a Panel> {
    let is_leaf = |panel: &&Panel| design.pieces[panel.piece].role == Role::Leaf;
    strength.panels.iter().filter(is_leaf).filter(|panel| is_strained(panel)).collect()
}

fn is_strained(panel: &Panel) -> bool {
    let is_one_sided = |load: usize| panel.loads.get(load).is_some_and(is_one_sided);
    let mut strained = Strained::all(panel).into_iter().filter(|s| is_one_sided(s.load));
    let mut bent = Bent::all(panel).filter(|b| is_one_sided(b.load));
    strained.any(|s| s.mpa > s.lasting_mpa) || bent.any(|b| b.reach != Reach::Within)
}

/// Whether it is that of one side full and the other empty.
pub(crate) fn is_one_sided(load: &Load) -> bool {
    load.duration == Duration::Hours && load.before_mm.min(load.behind_mm) <= 0.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::panel::Theory;
    use crate::sample::changed;
    use crate::{Levels, Waters};

    /// Names of those of the plain sump, of sheet so thick.
    fn named(thickness: &str, change: impl Fn(&mut Panel)) -> Vec<String> {
        let measured = format!("measured = {thickness}");
        let (file, design) = changed(&[
            ("thickness = 8", &format!("thickness = {thickness}")),
            ("measured = 8", &measured),
        ]);
        let level = Levels {
            running_mm: 200.0,
            running_low_mm: 200.0,
            highest_mm: 200.0,
            highest_in: String::new(),
        };
        let basins = vec![level; design.waterworks.basins.len()];
        let waters = Waters { density_kg_m3: 1025.0, basins, heads: Vec::new() };
        let mut strength = Strength::of(&file, &design, &waters);
        strength.panels.iter_mut().for_each(change);
        not_alone(&strength, &design).iter().map(|panel| panel.name.clone()).collect()
    }

    #[test]
    fn thin_leaves_are_named_and_thick_ones_are_not() {
        assert_eq!(named("5", |_| ()), ["leaf loose", "leaf gate"]);
        let none: [&str; 0] = [];
        assert_eq!(named("20", |_| ()), none);
    }

    #[test]
    fn any_of_stress_bend_and_corner_counts_and_other_loads_do_not() {
        let none: [&str; 0] = [];
        let gate = |panel: &Panel| panel.name == "leaf gate";
        let one = |change: fn(&mut Load)| {
            named("20", move |panel| {
                if gate(panel) {
                    panel.loads.iter_mut().filter(|load| is_one_sided(load)).for_each(change);
                }
            })
        };
        assert_eq!(one(|load| load.stress_mpa = 1.01 * load.allowable_mpa), ["leaf gate"]);
        assert_eq!(one(|load| load.deflection_mm = 100.0), ["leaf gate"]);
        assert_eq!(one(|load| load.theory = Theory::Refused), ["leaf gate"]);
        let others = named("20", |panel| {
            let loads = panel.loads.iter_mut().filter(|load| !is_one_sided(load));
            loads.for_each(|load| load.stress_mpa = 2.0 * load.allowable_mpa);
        });
        assert_eq!(others, none, "levels in flow and failures bear in any case");
    }
}
