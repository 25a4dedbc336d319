//! What the findings about making say to the shop: each kind once, with the numbers of its parts.

use std::collections::BTreeSet;

use design::{Design, Piece};
use findings::Finding;
use params::{DrawnPath, File, Holding, Process};

/// The list, empty where nothing is to be noted.
pub(super) fn list(file: &File, design: &Design, findings: &[Finding]) -> Vec<String> {
    let of = |code: &'static str| findings.iter().filter(move |finding| finding.code == code);
    let numbers = |code: &'static str| -> Vec<String> {
        let mut all: Vec<String> = Vec::new();
        for piece in of(code).flat_map(|finding| named(design, finding)) {
            if !all.contains(&piece.number) {
                all.push(piece.number.clone());
            }
        }
        all
    };
    let mut all = Vec::new();
    let drilled: Vec<String> = of("hole-is-drilled").map(|f| drilled(design, f)).collect();
    if !drilled.is_empty() {
        all.push(format!("To be drilled, narrower than the cutter: {}.", drilled.join("; ")));
    }
    let corners = numbers("inner-corner-sharper-than-tool");
    if !corners.is_empty() {
        all.push(format!(
            "Inner corners to be filed out where the cutter leaves them round: {}.",
            panels(&corners)
        ));
    }
    let both = numbers("worked-from-both-faces");
    if !both.is_empty() {
        all.push(format!(
            "Worked from both faces, please find the sheet again by stops or pins: {}.",
            panels(&both)
        ));
    }
    let small = numbers("small-part-under-vacuum");
    if !small.is_empty() {
        all.push(format!("Small or narrow, vacuum may not hold them: {}.", panels(&small)));
    }
    // Only a router leaves bridges.
    let groups = super::process::groups(file, design);
    let routed = groups.iter().find(|(process, _)| *process == Process::Router);
    if let (Holding::Tabs, Some((_, sheets))) = (file.cutting.holding, routed) {
        let which = match groups.len() {
            1 => String::new(),
            _ => format!(" of {}", sheets.join(", ")),
        };
        let drawn = match file.cutting.draw {
            DrawnPath::Part => "on a layer that no tool follows",
            // Nothing is to be set anew where the paths are followed as they are.
            DrawnPath::Tool => "in the path of the tool",
        };
        // Few bridges, none, or long edges without: the shop holds these besides.
        let loose: BTreeSet<String> =
            ["no-room-for-bridges", "held-at-one-side", "edge-unheld-for-long"]
                .into_iter()
                .flat_map(numbers)
                .collect();
        let loose: Vec<String> = loose.into_iter().collect();
        let loose = if loose.is_empty() {
            String::new()
        } else {
            format!(" Please tape down too: {}.", panels(&loose))
        };
        all.push(format!("Bridges (tabs){which} are {drawn}.{loose}"));
    }
    let patterned = file.sheet.iter().filter(|(_, sheet)| sheet.patterned);
    let patterned: Vec<&str> = patterned.map(|(name, _)| name.as_str()).collect();
    if !patterned.is_empty() {
        let (plural, have) = if patterned.len() == 1 { ("", "has") } else { ("s", "have") };
        all.push(format!(
            "Sheet{plural} {} {have} a pattern: do not turn parts by a quarter; they lie as in the cutting sheets.",
            patterned.join(", ")
        ));
    }
    all
}

/// The pieces that a finding names, by number and name as findings write them.
fn named<'a>(design: &'a Design, finding: &'a Finding) -> impl Iterator<Item = &'a Piece> {
    design.pieces.iter().filter(|piece| {
        let name = format!("{} {}", piece.number, piece.name);
        finding.message.match_indices(&name).any(|(at, _)| {
            let before = finding.message[..at].chars().next_back();
            !before.is_some_and(char::is_alphanumeric)
        })
    })
}

/// `panel 12, 4 of 5 mm`: the sizes are the last of what the finding says.
fn drilled(design: &Design, finding: &Finding) -> String {
    let sizes = finding.message.rsplit(": ").next().unwrap_or_default();
    match named(design, finding).next() {
        Some(piece) => format!("panel {}, {sizes}", piece.number),
        None => finding.message.clone(),
    }
}

/// `panel 3`, `panels 3, 4`.
fn panels<S: AsRef<str>>(numbers: &[S]) -> String {
    let mut runs: Vec<Vec<&str>> = Vec::new();
    for number in numbers.iter().map(AsRef::as_ref) {
        let follows = |run: &&mut Vec<&str>| {
            let of = |text: &str| text.parse::<u32>().ok();
            run.last().and_then(|last| of(last)).map(|last| last + 1) == of(number)
                && of(number).is_some()
        };
        match runs.last_mut().filter(follows) {
            Some(run) => run.push(number),
            None => runs.push(vec![number]),
        }
    }
    let told: Vec<String> = runs
        .into_iter()
        .map(|run| match run[..] {
            [first, _, .., last] => format!("{first} to {last}"),
            _ => run.join(", "),
        })
        .collect();
    format!("panel{} {}", if numbers.len() == 1 { "" } else { "s" }, told.join(", "))
}
