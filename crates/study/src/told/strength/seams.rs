//! The table of glued seams.

use design::Design;
use strength::Seam;

use super::shown::{Shown, show_factor};
use crate::told::table::Table;

/// So many are told, the weakest of all.
const MOST: usize = 10;

/// What the limit is a share of.
fn limit(seams: &[Seam], shown: Shown) -> Option<String> {
    let weakest = seams.first()?;
    Some(format!(
        "The limit is {:.0} % (`strength.joint`) of what the weaker sheet may carry for years where it is dry, {} for the first \
         of these; panels are held to the lower value of their wet side. Dry, because tests of glued joints state theirs by dry \
         sheet: the share takes in what water and years do to a joint (our judgement). All loads are held against it, those of \
         hours too.",
        100.0 * weakest.allowable_mpa / weakest.sheet_mpa,
        shown.stress(weakest.sheet_mpa)
    ))
}

/// The weakest of them.
pub(super) fn table(seams: &[Seam], design: &Design) -> Table {
    let shown = Shown(design.report);
    let mut table = Table::new(
        "Glued seams, the weakest first",
        [
            "seam",
            "bonded width",
            "for years, at most",
            "under",
            "of all loads, at most",
            "about",
            "pull across, push along",
            "limit, for years",
            "factor, at least",
            "under",
        ],
    );
    let row = |seam: &Seam| {
        let years = seam.years.as_ref();
        let most = &seam.most;
        vec![
            seam.words.clone(),
            shown.bend(seam.width_mm),
            years.map_or("–".to_owned(), |years| shown.stress(years.bound_mpa())),
            years.map_or("–".to_owned(), |years| years.load.clone()),
            shown.stress(most.bound_mpa()),
            shown.stress(most.estimate_mpa()),
            format!("{}, {}", shown.per_length(most.pull_n_mm), shown.per_length(most.shear_n_mm)),
            shown.stress(seam.allowable_mpa),
            show_factor(seam.factor()),
            most.load.clone(),
        ]
    };
    table.rows = seams.iter().take(MOST).map(row).collect();
    table.notes = vec![
        "\u{201c}At most\u{201d} is an upper bound: it takes the seam as clamped alone, while a real one turns a little and passes moment \
         on. \u{201c}About\u{201d} is an estimate: where two panels of the box meet they share the moment by their stiffness (moment \
         distribution, Cross); elsewhere it is the bound. A factor below 1 means that the seam cannot be shown to hold, not that it \
         breaks; pull and shear are there in any case."
            .to_owned(),
    ];
    table.notes.extend(limit(seams, shown));
    if let (Some(next), n @ 1..) = (seams.get(MOST), seams.len().saturating_sub(MOST)) {
        table.notes.push(format!(
            "{n} more have a factor of {} or more: `--json` has them all.",
            show_factor(next.factor())
        ));
    }
    table
}
