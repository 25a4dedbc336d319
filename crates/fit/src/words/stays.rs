//! What stays in the sump.

use design::{Design, RemovableId, RemovableKind};

use crate::report::Report;

impl Report {
    /// All of which no way out is known, proved or not, in the order of the design; of the sump only where it stands in a
    /// cabinet.
    pub fn no_way(&self, design: &Design) -> Vec<RemovableId> {
        let is_asked = |which: RemovableId| {
            design.surroundings.is_some() || design.removables[which].kind != RemovableKind::Sump
        };
        let stuck = self.ways.iter().filter(|way| way.steps.is_empty());
        stuck.map(|way| way.removable).filter(|which| is_asked(*which)).collect()
    }

    /// What stays in the sump because no way of it is known, nor of what it is a part of. Not the sump itself, and
    /// nothing that is not in.
    pub fn stays_in(&self, design: &Design) -> Vec<RemovableId> {
        let all = &design.removables;
        let has_way = |which: RemovableId| {
            self.ways.iter().any(|way| way.removable == which && !way.steps.is_empty())
        };
        let goes_with = |part: RemovableId, whole: RemovableId| {
            let (part, whole) = (&all[part].parts, &all[whole]);
            whole.kind != RemovableKind::Sump
                && !part.is_empty()
                && part.len() < whole.parts.len()
                && part.iter().all(|piece| whole.parts.contains(piece))
        };
        let stays = |which: &RemovableId| {
            let is_in =
                !matches!(all[*which].kind, RemovableKind::Sump | RemovableKind::CabinetShelf)
                    && all[*which].instead_of.is_none();
            is_in
                && !(0..all.len())
                    .any(|whole| has_way(whole) && (whole == *which || goes_with(*which, whole)))
        };
        self.ways.iter().map(|way| way.removable).filter(stays).collect()
    }
}
