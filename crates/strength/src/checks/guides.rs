//! Loose leaves that bend because their guides are short.

use design::Design;
use units::{Length, System};

use crate::panel::{Held, Panel};

/// A leaf that is held over less of its height than this is told so where it bends too much; our judgement: what stands
/// free above bends as a cantilever.
const MOST_OF_IT: f64 = 0.75;

/// Guides that end well below the upper edge of their leaf.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct ShortGuides {
    /// Over how much of its height the leaf is held, at the end where that is less, mm.
    pub(crate) held_mm: f64,
    /// Height of the leaf, mm.
    pub(crate) height_mm: f64,
    /// Path of the parameter that makes them longer.
    pub(crate) parameter: String,
    /// Whether guides over the leaf's full height were found not to be enough.
    pub(crate) is_not_enough: bool,
}

impl ShortGuides {
    /// Those of a panel, if it is such a leaf.
    pub(crate) fn of(panel: &Panel, design: &Design) -> Option<Self> {
        let [lo, hi] = panel.rectangle_mm;
        let middle = 0.5 * (lo.x + hi.x);
        let upright = panel.lines.iter().filter(|line| {
            let [a, b] = line.ends_mm;
            line.held == Held::Guided && (b.y - a.y).abs() > (b.x - a.x).abs()
        });
        let (left, right): (Vec<_>, Vec<_>) = upright.partition(|line| line.ends_mm[0].x < middle);
        // A leaf that is guided at one end and glued at the other is held there over all of its height.
        let ends = [left, right].into_iter().filter(|lines| !lines.is_empty());
        let reach = |lines: &Vec<&crate::panel::Line>| -> f64 {
            lines.iter().map(|l| (l.ends_mm[1].y - l.ends_mm[0].y).abs()).sum()
        };
        let shorter = ends.min_by(|a, b| reach(a).total_cmp(&reach(b)))?;
        let (held_mm, height_mm) = (reach(&shorter), hi.y - lo.y);
        let by = &shorter.first()?.by;
        let guide = design.placed.iter().find(|placed| placed.name == *by)?;
        (held_mm < MOST_OF_IT * height_mm).then(|| Self {
            held_mm,
            height_mm,
            parameter: format!("{}.guide_height", guide.parameter),
            is_not_enough: panel.remedies.longer_guides == Some(false),
        })
    }

    /// What it is that makes the leaf bend: `its guides hold it over no more than 56.3 mm of its 235 mm`.
    pub(crate) fn cause(&self, system: System) -> String {
        let [held, height] = [self.held_mm, self.height_mm].map(|mm| Length::mm(mm).show(system));
        format!("its guides hold it over no more than {held} of its {height}")
    }

    /// What to do about it. Guides are left low where the leaf could not be lifted out past the rim.
    pub(crate) fn remedy(&self) -> String {
        if self.is_not_enough {
            return "longer guides alone will not do here, not even over its full height: take thicker sheet as well, or glue the leaf in".to_owned();
        }
        format!(
            "longer guides hold more of it: raise `{}` as far as the leaf can still be lifted out past the rim (`sumpwright fit` tells; over its full height they would be enough alone, lower ones perhaps not), or glue the leaf in",
            self.parameter
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample::changed;
    use crate::{Strength, Waters};

    /// What is told of the loose leaf, 240 mm high, with guides as high as the file says.
    fn of(guide_height: &str) -> Option<ShortGuides> {
        let slot = "slot = [\"loose\"]";
        let (file, design) = changed(&[(slot, &format!("{slot}\n{guide_height}"))]);
        let waters = Waters { density_kg_m3: 1025.0, ..Waters::default() };
        let strength = Strength::of(&file, &design, &waters);
        let leaf = strength.panels.iter().find(|p| p.name == "leaf loose").expect("the leaf");
        ShortGuides::of(leaf, &design)
    }

    #[test]
    fn guides_are_named_where_they_hold_less_than_most_of_a_leaf() {
        let short = of("guide_height = 100").expect("100 of 240 mm is little");
        assert_eq!(short.parameter, "along[1].guide_height");
        assert!((90.0..=101.0).contains(&short.held_mm), "{short:?}");
        assert!(short.is_not_enough && short.remedy().contains("alone will not do here"));
        let enough = ShortGuides { is_not_enough: false, ..short };
        assert!(enough.remedy().contains("`along[1].guide_height`"));
        assert_eq!(of("guide_height = 235"), None, "nearly all of it");
    }
}
