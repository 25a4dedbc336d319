//! What hand and tools reach, and how an animal in the first chamber is reached.

use design::{Design, RemovableKind};
use findings::capital;
use fit::{ChamberReach, Report, Rescue, ToolReach};

use super::figures::NONE;
use super::places;
use super::table::{Table, wrapped};
use super::ways_out::{self, ToldStep};

/// What to mind of the animal that is to be reached: with the leaves that are lifted for it, if any.
fn animals(leaves: &[&str]) -> String {
    let look = "Look first where the animal is, and lower nothing onto it.";
    match leaves {
        [] => format!("{look} Leave all leaves in: a lifted leaf lets it pass."),
        all => format!(
            "{look} Lift {} only when you know that, and keep the animal in sight from then on: a lifted leaf lets it pass.",
            fit::listed(all)
        ),
    }
}

/// Of the floor of every chamber, what is reached.
pub fn table(report: &Report, design: &Design) -> Table {
    let mut table = Table::new(
        "Reach to the floor",
        [
            "chamber",
            "with",
            "as it stands",
            "at best",
            "taken out for that",
            "not reached even then",
        ],
    );
    let rows = |chamber: &ChamberReach| {
        let row = |tool| row(chamber, tool, design);
        chamber.tools.iter().map(row).collect::<Vec<_>>()
    };
    table.rows = report.reach.iter().flat_map(rows).collect();
    table.notes.extend(report.reach.iter().filter_map(|chamber| in_the_way(chamber, design)));
    table.notes.push(format!(
        "Shares are of the floor that is free to stand on. The hand is {} × {}, its arm {} thick; sizes and their \
         sources are in the schema under `[reach]`. {}. {}",
        length(design.reach.hand[0], design),
        length(design.reach.hand[1], design),
        length(design.reach.arm, design),
        capital(fit::REACH_LIMITS),
        places::NOTE
    ));
    table
}

/// What is in the way of a chamber of which nothing is reached.
fn in_the_way(chamber: &ChamberReach, design: &Design) -> Option<String> {
    let each = chamber.hindrances.iter().map(|hindrance| fit::hindrance(hindrance, design));
    let each: Vec<String> = each.collect();
    let all = (!each.is_empty()).then(|| each.join("; or: "))?;
    Some(format!("In the way of {}: {all}.", chamber.chamber))
}

fn length(length: units::Length, design: &Design) -> String {
    length.show(design.report)
}

fn row(chamber: &ChamberReach, tool: &ToolReach, design: &Design) -> Vec<String> {
    let names: Vec<&str> = tool
        .taken_out
        .iter()
        .filter_map(|id| Some(design.removables.get(*id)?.name.as_str()))
        .collect();
    let or_none = |words: String| if words.is_empty() { NONE.to_owned() } else { words };
    let place = tool.out_of_reach.map(|at| places::place(design, at.extend(design.floor_z)));
    vec![
        chamber.chamber.clone(),
        tool.tool.clone(),
        percent(tool.share),
        percent(tool.best_share),
        or_none(names.join(", ")),
        or_none(place.unwrap_or_default()),
    ]
}

/// A share in percent; the whole is `all`.
fn percent(share: f64) -> String {
    if 1.0 <= share { "all".to_owned() } else { fit::percent(share) }
}

/// What is said of the rescue: a title, sentences, and what is taken out in order.
#[derive(Clone, Debug)]
pub struct Told {
    /// Whether it can be done.
    pub title: String,
    /// What is known of it, in a sentence or two.
    pub words: String,
    /// What is taken out, in order.
    pub steps: Vec<ToldStep>,
}

impl Told {
    /// How the floor of the first chamber comes within reach.
    pub fn of(rescue: &Rescue, report: &Report, design: &Design) -> Self {
        let chamber = &rescue.chamber;
        let steps = ways_out::steps(&rescue.steps, design);
        let all = 1.0 <= rescue.share;
        let share = percent(rescue.share);
        let words = match (rescue.is_possible, all, rescue.steps.is_empty()) {
            (false, ..) => stuck(rescue, report),
            (true, true, true) => {
                format!("A hand reaches the whole floor of {chamber} with everything in place.")
            }
            (true, true, false) => {
                format!("A hand reaches the whole floor of {chamber} after these, in this order:")
            }
            (true, false, true) => {
                format!("A hand reaches {share} of the floor of {chamber}, whatever is taken out.")
            }
            (true, false, false) => format!(
                "A hand reaches {share} of the floor of {chamber} after these, in this order, and not more:"
            ),
        };
        let is_leaf = |step: &&fit::Step| {
            let removable = design.removables.get(step.removable);
            removable.is_some_and(|removable| removable.kind == RemovableKind::Leaf)
        };
        let leaves = rescue.steps.iter().filter(|_| rescue.is_possible).filter(is_leaf);
        let leaves: Vec<&str> = leaves.map(|step| step.name.as_str()).collect();
        let doubtful = if rescue.is_possible { doubtful(rescue, report) } else { String::new() };
        let words = format!("{} {doubtful}{words}", animals(&leaves));
        // Where it cannot be done nothing is told to be taken out.
        // A hand goes in all the same.
        let is_told = rescue.is_possible && !steps.is_empty();
        let steps = if is_told { steps } else { vec![ToldStep::before_hands()] };
        Self { title: format!("An animal in {chamber}: how to reach it"), words, steps }
    }

    /// The same as text.
    pub fn text(&self) -> String {
        let title = super::one_line(&self.title);
        format!("{title}\n{}{}", wrapped(&self.words), ways_out::steps_text(&self.steps))
    }
}

/// What has to come out for it and does so on paper only.
fn doubtful(rescue: &Rescue, report: &Report) -> String {
    let own = |step: &fit::Step| report.ways.iter().find(|way| way.removable == step.removable);
    let is_doubtful = |step: &&fit::Step| own(step).is_some_and(|way| !way.is_for_hands());
    let names: Vec<&str> =
        rescue.steps.iter().filter(is_doubtful).map(|step| step.name.as_str()).collect();
    if names.is_empty() {
        return String::new();
    }
    let (comes, it) = if names.len() == 1 { ("comes", "it") } else { ("come", "them") };
    format!(
        "Do not count on this way: {} {comes} out on paper only; try {it} with cardboard before anything is glued. ",
        fit::listed(&names)
    )
}

/// Of something that would have to be out for it no way is known: what, and what a hand reaches without.
fn stuck(rescue: &Rescue, report: &Report) -> String {
    let stuck = rescue.steps.iter().filter(|step| step.moves.is_empty());
    let names: Vec<&str> = stuck.map(|step| step.name.as_str()).collect();
    let chamber = &rescue.chamber;
    let now = report.reach.iter().find(|reach| reach.chamber == *chamber);
    // The hand comes first.
    let now = now.and_then(|reach| reach.tools.first()).map(|hand| {
        let now = fit::percent(hand.share);
        let best = fit::percent(hand.best_share);
        let more = if best == now {
            String::new()
        } else {
            format!(", and {best} with all out that comes out for it")
        };
        format!(" As it stands a hand reaches {now} of it{more}.")
    });
    format!(
        "Of {} no way out is known, without which a hand would reach {} of the floor of {chamber}.{}",
        fit::listed(&names),
        fit::percent(rescue.share),
        now.unwrap_or_default()
    )
}
