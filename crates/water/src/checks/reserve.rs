//! The level that is kept in the return chamber, and how long it lasts.

use findings::Finding;

use super::Checks;

pub(super) fn all(c: &Checks<'_>) -> Vec<Finding> {
    let mut all: Vec<Finding> = float(c).into_iter().collect();
    all.extend(kept_level(c));
    all.extend(dry_reserve(c));
    all
}

/// The float keeps the level, whatever the file says.
fn float(c: &Checks<'_>) -> Option<Finding> {
    let reserve = &c.report.reserve;
    let [on, off] = reserve.float_m?;
    let is_off = reserve.kept_m < on - FLOAT_PLAY_M || off + FLOAT_PLAY_M < reserve.kept_m;
    let message = format!(
        "the float of the top-up keeps the water between {} and {}, not at the {} of `level`",
        c.words.length(on),
        c.words.length(off),
        c.words.length(reserve.kept_m)
    );
    is_off.then(|| {
        Finding::tight("float-off-level", "top_up", message)
            .with_hint("give the `level` that the float keeps, or leave its `low` and `high` out")
    })
}

/// A float this far off the kept level counts as meant so, m; common practice.
const FLOAT_PLAY_M: f64 = 0.005;

fn kept_level(c: &Checks<'_>) -> Vec<Finding> {
    let reserve = &c.report.reserve;
    // The float may keep more than the file says.
    let kept_m = reserve.float_m.map_or(reserve.kept_m, |[_, off]| reserve.kept_m.max(off));
    let parameter = c.kept_parameter();
    let wanted = c.words.length(c.limits().freeboard.to_m());
    let Some(safe) = reserve.highest_safe_m else {
        let message = format!(
            "no level of the return chamber is safe: after `{}` less than {wanted} would be left to a rim, whatever is kept",
            reserve.decided_by
        );
        return vec![
            Finding::fails("kept-level", parameter, message)
                .with_hint("raise the outlet or the `break_hole` of the line, lower the display's crest, take a smaller reservoir, or make the sump larger"),
        ];
    };
    let floods = reserve.limits.iter().filter(|l| l.is_flood).filter_map(|l| l.level_m);
    let flood = floods.fold(f64::INFINITY, f64::min);
    let message = format!(
        "`{}` is kept at {}; up to {} is safe, as decided by {} ({} come down after a power cut)",
        reserve.chamber,
        c.words.length(kept_m),
        c.words.length(safe),
        reserve.decided_by,
        c.words.litres(reserve.drain_back_l)
    );
    let finding = if kept_m > flood {
        Finding::fails("kept-level", parameter, message).with_hint(
            "keep a lower `level`, or let less run back: raise the outlet or its `break_hole`",
        )
    } else if kept_m > safe {
        Finding::tight("kept-level", parameter, message)
            .with_hint("keep a lower `level`, or raise the crest before the return chamber")
    } else {
        Finding::holds("kept-level", parameter, message)
    };
    vec![finding.with_limit((safe - kept_m) * 1e3, 0.0, "mm").with_source("`limits.freeboard`")]
}

fn dry_reserve(c: &Checks<'_>) -> Vec<Finding> {
    let (reserve, wanted) = (&c.report.reserve, c.limits().dry_days);
    let water = &c.report.water;
    let basis = if water.evaporation_is_computed {
        format!(
            "computed from the room's air by the upper of two estimates; the other gives {}",
            c.words.litres(water.evaporation_l_day)
        )
    } else {
        "as given".to_owned()
    };
    let message = format!(
        "without top-up the return lasts {:.1} days until its pump draws air: {} at {} a day, {basis}",
        reserve.days,
        c.words.litres(reserve.reserve_l),
        c.words.litres(water.evaporation_most_l_day)
    );
    let parameter = c.kept_parameter();
    let finding = if reserve.days < wanted {
        Finding::tight("dry-reserve", parameter, message)
            .with_hint("keep a higher `level`, make the return chamber larger, or take a pump with a lower intake")
    } else {
        Finding::holds("dry-reserve", parameter, message)
    };
    let mut found = vec![
        finding
            .with_limit(reserve.days, wanted, "days")
            .with_source("`limits.dry_days`; Shah (2014), Carrier (1918)"),
    ];
    found.extend(water.evaporation_out_of_range.as_ref().map(|why| {
        let message = format!("evaporation is computed out of the range of its formula: {why}");
        Finding::not_checked("evaporation-range", "room", message)
            .with_hint("measure what evaporates in a week, and give it as `room.evaporation`")
    }));
    found
}
