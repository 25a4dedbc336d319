//! The top-up and the room: a float that switches on below where it switches off, and an evaporation
//! that is surely meant for a day.

use findings::Finding;
use units::{Length, Volume};

use super::rows::rows;
use super::{Rules, each};

/// More than this evaporates from no open water indoors, mm of its level in a day. Our judgement: a few
/// mm are usual, and three or four times as much with fans.
const MOST_EVAPORATION_MM_PER_DAY: f64 = 40.0;

pub(super) fn check(rules: &mut Rules<'_>) {
    float(rules);
    evaporation(rules);
}

/// The float switches on below where it switches off, which is at the kept level unless the file says so.
fn float(rules: &mut Rules<'_>) {
    let Some(top_up) = &rules.file.top_up else { return };
    let Some(low) = top_up.low.map(|low| ("top_up.low".to_owned(), low)) else { return };
    let high = top_up.high.map(|high| ("top_up.high".to_owned(), high));
    if let Some(high) = high.or_else(|| kept_level(rules, top_up.chamber.as_deref())) {
        rules.smaller([low, high], "the float does not switch on below where it switches off");
    }
}

/// The level that is kept in this chamber, else in the first that has one, if the file says it.
fn kept_level(rules: &Rules<'_>, chamber: Option<&str>) -> Option<(String, Length)> {
    rows(rules.file)
        .iter()
        .flat_map(|row| each(&row.path, row.items))
        .filter(|item| chamber.is_none() || item.value.chamber.as_deref() == chamber)
        .find_map(|item| Some((item.key("level"), item.value.level?)))
}

fn evaporation(rules: &mut Rules<'_>) {
    let Some(evaporation) = rules.file.room.evaporation else { return };
    let outside = rules.file.enclosure.outside;
    let sump_m2 = outside.length.to_m() * outside.width.to_m();
    let display_m2 = rules
        .file
        .display
        .as_ref()
        .map_or(0.0, |display| display.inside.length.to_m() * display.inside.width.to_m());
    let per_day_l = 24.0 * evaporation.to_l_per_h();
    // A litre on a square metre is a millimetre.
    let mm_per_day = per_day_l / (sump_m2 + display_m2);
    if mm_per_day <= MOST_EVAPORATION_MM_PER_DAY {
        return;
    }
    let path = "room.evaporation";
    let system = rules.file.report.system();
    let message = format!(
        "{} are {} in a day, {} of all the water's surface",
        evaporation.show(system),
        Volume::l(per_day_l).show(system),
        Length::mm(mm_per_day).show(system)
    );
    let finding = Finding::tight("evaporation-too-much", path, message)
        .with_limit(mm_per_day, MOST_EVAPORATION_MM_PER_DAY, "mm/day")
        .with_source(
            "our judgement: a few mm a day are usual, three or four times as much with fans",
        )
        .with_hint("write what evaporates in a day with its unit, such as `\"4 L/day\"`");
    rules.add(&[path, "box.outside", "display"], finding);
}
