//! What is doubtful of a panel as a thin plate.

use super::{Judge, Solved};
use crate::panel::{Doubt, DoubtOf};

impl Judge<'_> {
    /// What is doubtful of it as a thin plate, in the units of the file.
    pub(super) fn doubts(&self, hinged: &Solved) -> Vec<Doubt> {
        let mm = |m: f64| units::Length::mm(1e3 * m).show(self.design.report);
        let words = |doubt: bending::Doubt| match doubt {
            bending::Doubt::Thick { ratio, span } => format!(
                "its thickness is {ratio:.2} of a span of {}: shear adds to what is told of its deflection",
                mm(span)
            ),
            bending::Doubt::Bridge { width, needed, .. } => format!(
                "a strip beside an opening is {} wide; below {} it is a bar and no plate",
                mm(width),
                mm(needed)
            ),
            other => other.to_string(),
        };
        let of_plate = bending::doubts(&hinged.bending.plate).into_iter();
        let mut doubts: Vec<Doubt> =
            of_plate.map(|doubt| Doubt { of: DoubtOf::Plate, words: words(doubt) }).collect();
        let n = self.model.board.crowded();
        if n > 0 {
            let words = format!(
                "{n} small holes or slots stand close together: a field of them is softer and weaker than the whole sheet that it is reckoned as"
            );
            doubts.push(Doubt { of: DoubtOf::Field, words });
        }
        doubts
    }
}
