//! Lengths as drawings write them: bare numbers, the unit said once.

use units::{Length, System};

/// How a file's lengths are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Lengths(pub(crate) System);

impl Lengths {
    /// As finely as a caliper reads, without the unit: `430.9`, `16.965`.
    pub(crate) fn number(self, mm: f64) -> String {
        let shown = Length::mm(mm).show_fine(self.0);
        shown.split(' ').next().unwrap_or_default().to_owned()
    }

    /// The same with its unit.
    pub(crate) fn with_unit(self, mm: f64) -> String {
        Length::mm(mm).show_fine(self.0)
    }

    /// What the unit is called in a title block.
    pub(crate) fn unit(self) -> &'static str {
        match self.0 {
            System::Metric => "mm",
            System::UsCustomary => "in",
        }
    }
}
