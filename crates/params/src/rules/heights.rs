//! Heights that must rise from the sump to the display: its rim, the display above it, the mouths of the
//! drains by their duty.

use findings::Finding;
use units::Length;

use super::display::{BOX_DEPTH, CREST_HEIGHT};
use super::line::STANDS;
use super::{At, Rules, each};
use crate::words::quoted;
use crate::{Display, DrainDuty, DrainPipe};

pub(super) fn check(rules: &mut Rules<'_>) {
    let rim = rim(rules);
    if let Some(rim) = rim {
        for drain in each("drain", &rules.file.drain) {
            ends_below_rim(rules, &drain, rim);
        }
    }
    let Some(display) = &rules.file.display else { return };
    if let Some(rim) = rim {
        stands_above_rim(rules, display, rim);
    }
    drain_order(rules, display);
}

/// Height of the sump's rim above the inside of its bottom, by the thickness that was ordered; `None` if
/// the bottom's sheet is not in the file.
fn rim(rules: &Rules<'_>) -> Option<Length> {
    let enclosure = &rules.file.enclosure;
    let sheet = enclosure.bottom_sheet.as_ref().unwrap_or(&enclosure.sheet);
    Some(enclosure.outside.height - rules.file.sheet.get(sheet)?.thickness)
}

/// A drain that ends above the rim pours past the sump.
fn ends_below_rim(rules: &mut Rules<'_>, drain: &At<'_, DrainPipe>, rim: Length) {
    let end = drain.value.end;
    if end <= rim {
        return;
    }
    let path = drain.key("end");
    let message = format!(
        "the pipe ends at {}, above the sump's rim at {}: it would pour past",
        rules.show(end),
        rules.show(rim)
    );
    let finding = Finding::fails("drain-ends-above-rim", &path, message)
        .with_limit(end.to_mm(), rim.to_mm(), "mm")
        .with_hint("lower `end`; it counts from the inside of the sump's bottom");
    rules.add(&[&path, "box", "sheet"], finding);
}

/// Water runs down from the display by itself. A display whose bottom is below the sump's rim can stand
/// beside the sump, but is more often a height that was measured from somewhere else.
fn stands_above_rim(rules: &mut Rules<'_>, display: &Display, rim: Length) {
    let crest = display.stands + display.overflow.crest.height;
    if rim <= display.stands {
        return;
    }
    let hint = "is `stands` measured from the inside of the sump's bottom?";
    let finding = if crest < rim {
        let message = format!(
            "the crest of the overflow lies {} below the sump's rim, {} against {}: water would not run down",
            rules.show(rim - crest),
            rules.show(crest),
            rules.show(rim)
        );
        Finding::fails("display-low", STANDS, message)
    } else {
        let message = format!(
            "the display's bottom lies {} below the sump's rim, {} against {}",
            rules.show(rim - display.stands),
            rules.show(display.stands),
            rules.show(rim)
        );
        Finding::tight("display-low", STANDS, message)
    };
    rules.add(&[STANDS, CREST_HEIGHT, "box", "sheet"], finding.with_hint(hint));
}

/// Mouths rise from the main drain over the secondary to the emergency one: else the wrong one takes
/// the water first.
fn drain_order(rules: &mut Rules<'_>, display: &Display) {
    let crest = display.overflow.crest.height;
    let floor = crest - display.overflow.weir_box.depth;
    // A mouth outside of the box has been reported.
    let mouths: Vec<_> = each("drain", &rules.file.drain)
        .filter_map(|drain| Some((drain.value.intake?, drain)))
        .filter(|(mouth, _)| floor < *mouth && *mouth < crest)
        .collect();
    let of = |duty| mouths.iter().filter(move |(_, drain)| drain.value.duty == duty);
    let duties: Vec<_> = [DrainDuty::Main, DrainDuty::Secondary, DrainDuty::Emergency]
        .into_iter()
        .filter(|duty| of(*duty).next().is_some())
        .collect();
    for pair in duties.windows(2) {
        let by_height = |a: &&(Length, _), b: &&(Length, _)| a.0.to_mm().total_cmp(&b.0.to_mm());
        let (Some((low, lower)), Some((high, higher))) =
            (of(pair[0]).max_by(by_height), of(pair[1]).min_by(by_height))
        else {
            continue;
        };
        if low < high {
            continue;
        }
        let (low_path, high_path) = (lower.key("intake"), higher.key("intake"));
        let message = format!(
            "the mouth of the {} drain {} lies at {}, but that of the {} drain {} at {}; mouths rise from the main drain over the secondary to the emergency one",
            pair[0].word(),
            quoted(&lower.value.name),
            rules.show(*low),
            pair[1].word(),
            quoted(&higher.value.name),
            rules.show(*high)
        );
        let hint = format!("lower `{low_path}` or raise `{high_path}`");
        let finding = Finding::fails("drain-order", &low_path, message).with_hint(hint);
        let duties = [lower.key("duty"), higher.key("duty")];
        let read = [&low_path, &high_path, &duties[0], &duties[1], CREST_HEIGHT, BOX_DEPTH];
        rules.add(&read, finding);
    }
}

impl DrainDuty {
    fn word(self) -> &'static str {
        match self {
            Self::Main => "main",
            Self::Secondary => "secondary",
            Self::Emergency => "emergency",
        }
    }
}
