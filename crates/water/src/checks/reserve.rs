//! The level that is kept in the return chamber, and how long it lasts.

use findings::Finding;

use super::Checks;

pub(super) fn all(c: &Checks<'_>) -> Vec<Finding> {
    let mut all: Vec<Finding> = float(c).into_iter().collect();
    all.extend(kept_level(c));
    all.extend(dry_reserve(c));
    all
}

/// The float keeps the level, whatever the file says; far apart, its marks let it wander.
fn float(c: &Checks<'_>) -> Option<Finding> {
    let reserve = &c.report.reserve;
    let [on, off] = reserve.float_m?;
    let level_m = c.works().basins[reserve.basin].kept_level_mm? * 1e-3;
    let is_off = level_m < on - FLOAT_PLAY_M || off + FLOAT_PLAY_M < level_m;
    let is_wide = off - on > FLOAT_SPAN_M;
    let message = format!(
        "the float of the top-up lets the water stand between {} and {}; `level` says {}",
        c.words.length(on),
        c.words.length(off),
        c.words.length(level_m)
    );
    (is_off || is_wide).then(|| {
        Finding::tight("float-off-level", "top_up", message)
            .with_hint("give the `level` that the float keeps, or leave its `low` and `high` out")
    })
}

/// A float this far off the kept level counts as meant so, m; common practice.
const FLOAT_PLAY_M: f64 = 0.005;
/// Floats switch within a few millimetres; marks further apart than this are a slip of the pen, m. Common
/// practice.
const FLOAT_SPAN_M: f64 = 0.03;

fn kept_level(c: &Checks<'_>) -> Vec<Finding> {
    let reserve = &c.report.reserve;
    let kept_m = reserve.kept_m;
    let parameter = c.kept_parameter();
    let wanted = c.words.length(c.limits().freeboard.to_m());
    let Some(safe) = reserve.highest_safe_m else {
        let message = format!(
            "no level of the return chamber is safe: after `{}` less than {wanted} would be left to a rim, whatever is kept",
            reserve.decided_by
        );
        return vec![
            Finding::tight("kept-level", parameter, message)
                .with_hint("raise the outlet or the `break_hole` of the line, lower the display's crest, take a smaller reservoir, or make the sump larger"),
        ];
    };
    let floods = reserve.limits.iter().filter(|l| l.is_flood);
    let levels = floods.filter_map(|l| Some((l.level_m?, l.what.as_str())));
    let lowest = levels.min_by(|a, b| a.0.total_cmp(&b.0));
    let (flood, flood_by) = lowest.unwrap_or((f64::INFINITY, ""));
    let (limit, limit_by) =
        if kept_m > flood { (flood, flood_by) } else { (safe, reserve.decided_by.as_str()) };
    let message = format!(
        "`{}` is kept at {}; up to {} is safe, as decided by {} ({} come down after a power cut)",
        reserve.chamber,
        c.words.length(kept_m),
        c.words.length(limit),
        limit_by,
        c.words.litres(reserve.drain_back_l)
    );
    // Whether that only leaves less than is wanted or puts water on the floor, the rehearsals tell.
    let finding = if kept_m > flood {
        Finding::tight("kept-level", parameter, message).with_hint(
            "keep a lower `level`, or let less run back: raise the outlet or its `break_hole`",
        )
    } else if kept_m > safe {
        Finding::tight("kept-level", parameter, message)
            .with_hint("keep a lower `level`, or raise the crest before the return chamber")
    } else {
        Finding::holds("kept-level", parameter, message)
    };
    vec![finding.with_limit((limit - kept_m) * 1e3, 0.0, "mm").with_source("`limits.freeboard`")]
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
    if !reserve.days.is_finite() {
        let message =
            "nothing evaporates into this air: the return does not run dry without top-up";
        return vec![Finding::holds("dry-reserve", parameter, message)];
    }
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
