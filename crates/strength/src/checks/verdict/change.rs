//! What to change first, in words.

use design::Role;
use units::Length;

use super::ranks::{By, Case};
use super::words::Told;
use crate::alone::is_one_sided;
use crate::checks::guides::ShortGuides;
use crate::checks::remedies;
use crate::checks::strain::AMPLE;
use crate::panel::{Duration, TRIED_RIM_MM};

impl Told<'_> {
    /// What to change first; nothing where it only has to be left alone.
    pub(super) fn first(&self) -> String {
        let (worst, name) = (self.worst, &self.worst.panel.name);
        let one_sided = self.is_of(Role::Leaf) && is_one_sided(worst.load());
        match worst.case {
            Case::Holds if self.seams.open > 0 => super::BOND_MORE.to_owned(),
            Case::Holds => "nothing".to_owned(),
            Case::Fails | Case::MayBreak if one_sided => format!(
                "never fill or drain one side of {name} alone, for it may break; besides, {}",
                self.change()
            ),
            Case::Fails | Case::Scant | Case::MayBreak => self.change(),
            Case::Brief | Case::Bends if one_sided && !worst.is_refused() => format!(
                "nothing, while both sides of {name} are filled and drained together; else {}",
                self.change()
            ),
            Case::Brief if worst.duration() == Duration::Days => format!(
                "nothing, while somebody mends such a failure within some days; else {}",
                self.change()
            ),
            Case::Brief => format!(
                "nothing, while such a load is taken off within hours, a day at most; else {}",
                self.change()
            ),
            Case::Bends if worst.is_refused() => self.change(),
            Case::Bends => format!(
                "nothing for its strength: {name} only bends more than wanted; to stiffen it {}",
                self.change()
            ),
        }
    }

    fn is_of(&self, role: Role) -> bool {
        self.design.pieces[self.worst.panel.piece].role == role
    }

    fn change(&self) -> String {
        let panel = self.worst.panel;
        let sheet = || remedies::sheet(panel, self.system());
        if self.is_of(Role::Bottom) {
            return format!("{}; or {}", remedies::LAY_FLAT, sheet());
        }
        ShortGuides::of(panel, self.design)
            .map_or_else(|| self.stiffer().unwrap_or_else(sheet), |guides| guides.remedy())
    }

    /// The least change of rim and braces that was tried and is enough, the smaller one first.
    fn stiffer(&self) -> Option<String> {
        let panel = self.worst.panel;
        let remedies = &panel.remedies;
        let wanted = if self.worst.case == Case::Scant { AMPLE } else { 1.0 };
        let first_rim = format!("a rim {} wide", Length::mm(TRIED_RIM_MM).show(self.system()));
        let tried = [
            (remedies.wider_rim, "a rim half as wide again"),
            (remedies.one_more_brace, "one more brace in the longest stretch of the rim"),
            (remedies.with_rim, first_rim.as_str()),
        ];
        // Only of the upper edge it was tried how far it bends then.
        let bends_there =
            panel.bulge_mm.is_some_and(|[_, most]| most >= 0.99 * panel.deflection.value);
        let is_enough = |[factor, bulge]: [f64; 2]| match self.worst.by {
            By::Stress(_) => factor >= wanted,
            By::Bend(_) => bends_there && factor >= wanted && bulge <= panel.deflection_limit_mm,
        };
        let mut enough = tried
            .iter()
            .filter_map(|(with, words)| Some(((*with)?, *words)))
            .filter(|t| is_enough(t.0));
        let ([factor, bulge], words) = enough.next()?;
        let bulge = Length::mm(bulge).show_fine(self.system());
        Some(format!("{words} (factor {factor:.2} of its hardest load, {bulge} of bulge)"))
    }
}
