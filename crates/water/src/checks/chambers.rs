//! Levels in the chambers, socks, openings, bubbles and doors while all is well.

use design::WayKind;
use findings::Finding;

use super::Checks;
use crate::law::Validity;
use crate::report::WayReport;

/// Ways that carry less than this share of the flow are not spoken of.
const WORTH_TELLING: f64 = 0.05;

pub(super) fn all(c: &Checks<'_>) -> Vec<Finding> {
    let mut all = freeboard(c);
    all.extend(skimmers(c));
    all.extend(socks(c));
    all.extend(openings(c));
    all.extend(drowned(c));
    all.extend(unpredictable(c));
    all.extend(bubbles(c));
    all.extend(stagnant(c));
    all.extend(doors(c));
    all.extend(band(c));
    all
}

fn freeboard(c: &Checks<'_>) -> Vec<Finding> {
    let wanted = c.limits().freeboard.to_m();
    let mut missed = Vec::new();
    let mut least: Option<(f64, &str)> = None;
    for basin in &c.report.basins {
        let free = basin.rim_m - basin.level_m.high;
        if least.is_none_or(|(l, _)| free < l) {
            least = Some((free, &basin.name));
        }
        if free >= wanted {
            continue;
        }
        let message = format!(
            "`{}` stands at {} while the pump runs: {} below the rim",
            basin.name,
            c.words.band(basin.level_m),
            c.words.length(free)
        );
        let finding = if free < 0.0 {
            Finding::fails("freeboard-in-flow", &basin.parameter, message)
        } else {
            Finding::tight("freeboard-in-flow", &basin.parameter, message)
        };
        missed.push(finding.with_limit(free * 1e3, wanted * 1e3, "mm").with_source("`limits.freeboard`").with_hint(
            "lower the crest or the door that holds it, give it more width, or let less water through",
        ));
    }
    if let (true, Some((free, name))) = (missed.is_empty(), least) {
        let message = format!(
            "every chamber stands well below the rim while the pump runs; `{name}` is nearest, {} below",
            c.words.length(free)
        );
        missed.push(Finding::holds("freeboard-in-flow", "box.outside.height", message).with_limit(
            free * 1e3,
            wanted * 1e3,
            "mm",
        ));
    }
    missed
}

fn skimmers(c: &Checks<'_>) -> Vec<Finding> {
    let works = c.works();
    let of = |skimmer: &design::Skimmer| {
        let [least, most] = skimmer.depth_mm?.map(|mm| mm * 1e-3);
        let level = c.report.basins[skimmer.basin].level_m;
        let depth = level.map(|z| z - skimmer.stand_mm * 1e-3);
        let name = &skimmer.name;
        let message = format!(
            "`{name}` stands in {} of water; it wants {} to {}",
            c.words.band(depth),
            c.words.length(least),
            c.words.length(most)
        );
        let parameter = format!("{}.depth", skimmer.parameter);
        let is_in = |z: f64| least <= z && z <= most;
        let finding = match (is_in(depth.mid), is_in(depth.low) && is_in(depth.high)) {
            (true, true) => return Some(Finding::holds("skimmer-depth", parameter, message)),
            (true, false) => Finding::tight("skimmer-depth", parameter, message),
            _ => Finding::fails("skimmer-depth", parameter, message),
        };
        let (measured, limit) =
            if depth.high > most { (most - depth.high, 0.0) } else { (depth.low, least) };
        let finding = finding.with_limit(measured * 1e3, limit * 1e3, "mm");
        Some(finding.with_hint(skimmer_hint(c, skimmer)))
    };
    works.skimmers.iter().filter_map(of).collect()
}

fn skimmer_hint(c: &Checks<'_>, skimmer: &design::Skimmer) -> String {
    let door = c.report.doors.iter().find(|d| d.basin == skimmer.basin);
    let setting = door.and_then(|d| Some((d, d.wish.as_ref()?.setting_m?)));
    match setting {
        Some((door, set)) => format!(
            "set the door of `{}` to {}: that gives the middle of the range",
            door.leaf,
            c.words.length(set)
        ),
        None if door.is_some_and(|d| d.has_effect) => {
            let [low, _, high] = door.map_or([0.0; 3], |d| d.levels_m.map(|f| f.mid));
            format!(
                "the door of `{}` gives its chamber {} to {}: change its `lowest` and `highest`, or put the skimmer on a stand (`stand`)",
                door.map_or("", |d| &d.leaf),
                c.words.length(low),
                c.words.length(high)
            )
        }
        None => "raise or lower the crest behind it by what is missing, or put the skimmer on a stand (`stand`)".to_owned(),
    }
}

fn socks(c: &Checks<'_>) -> Vec<Finding> {
    let of = |s: &crate::report::SockReport| {
        let over = s.clean_m.high - s.shelf_m;
        let assumed =
            if s.is_assumed { " (what a sock passes is assumed: give `sock.passes`)" } else { "" };
        let parameter = format!("{}.sock", s.parameter);
        let state = format!(
            "in the clean socks of chamber `{}` the water stands at {}{assumed}; it takes the bypass from {} on",
            s.chamber,
            c.words.band(s.clean_m),
            c.words.length(s.shelf_m)
        );
        let hint = "take more or larger socks, raise the holder's `height`, lower the crest behind it, or allow it with `limits.sock_overflow = true`";
        let finding = if over <= 0.0 || c.limits().sock_overflow {
            Finding::holds("sock-overflow", parameter, state)
        } else if s.clean_m.mid > s.shelf_m {
            Finding::fails("sock-overflow", parameter, format!("{state}: it is not filtered"))
                .with_hint(hint)
        } else {
            Finding::tight("sock-overflow", parameter, format!("{state}: it may not be filtered"))
                .with_hint(hint)
        };
        finding.with_limit(-over * 1e3, 0.0, "mm")
    };
    c.report.socks.iter().map(of).collect()
}

/// Whether animals can be drawn against such an opening: it lies under water or is a grating.
fn can_hold_an_animal(kind: WayKind) -> bool {
    matches!(
        kind,
        WayKind::Comb | WayKind::Slots | WayKind::Letterbox | WayKind::Holes | WayKind::Underflow
    )
}

fn openings(c: &Checks<'_>) -> Vec<Finding> {
    let most = c.limits().opening_speed * 1e-3;
    let flow = c.report.return_flow_m3_s.mid;
    let ways = c.report.ways.iter().filter(|w| can_hold_an_animal(w.kind));
    ways.filter(|w| w.flow_m3_s.abs() > WORTH_TELLING * flow && w.approach_m_s > most)
        .map(|w| {
            let message = format!(
                "water comes to {} at {} in the mean ({}): an animal may be held against it",
                w.name,
                c.words.speed(w.approach_m_s),
                c.words.flow(w.flow_m3_s.abs())
            );
            Finding::tight("opening-speed", format!("leaf.{}", w.leaf), message)
                .with_limit(w.approach_m_s * 1e3, most * 1e3, "mm/s")
                .with_source("`limits.opening_speed`; common practice 100 to 200 mm/s")
                .with_hint("make the openings larger or wider, or let less water through")
        })
        .collect()
}

/// Less water than this over a crest from behind does not count, m.
const DROWNED_M: f64 = 1e-3;

/// A crest that the water behind it drowns holds nothing: both sides move together.
fn drowned(c: &Checks<'_>) -> Vec<Finding> {
    let flow = c.report.return_flow_m3_s.mid;
    let is_edge = |kind: WayKind| matches!(kind, WayKind::Crest | WayKind::Comb | WayKind::Door);
    let ways = c.report.ways.iter().filter(|w| is_edge(w.kind) && w.is_drowned);
    let over = |w: &WayReport| c.running.levels_m[w.between[1]] - w.sill_m;
    // What the kept level drowns was told with the levels at rest.
    let is_news = |w: &&WayReport| over(w) >= DROWNED_M && c.report.reserve.kept_m <= w.sill_m;
    ways.filter(|w| w.flow_m3_s.abs() > WORTH_TELLING * flow)
        .filter(is_news)
        .map(|w| {
            let over = over(w);
            let message = format!(
                "in flow the water behind {} stands {} over it: the levels before and behind it move together",
                w.name,
                c.words.length(over)
            );
            Finding::tight("crest-drowned-in-flow", format!("leaf.{}", w.leaf), message)
                .with_limit(-over * 1e3, 0.0, "mm")
                .with_hint("raise it, or lower what holds the water behind it")
        })
        .collect()
}

fn unpredictable(c: &Checks<'_>) -> Vec<Finding> {
    let flow = c.report.return_flow_m3_s.mid;
    let ways = c.report.ways.iter().filter(|w| w.validity == Validity::NotPredictable);
    ways.filter(|w| w.flow_m3_s.abs() > WORTH_TELLING * flow)
        .map(|w| {
            let message = format!("the level before {}: {}", w.name, w.why);
            Finding::not_checked("head-not-predictable", format!("leaf.{}", w.leaf), message)
                .with_hint("make the crest shorter, so that the water runs deeper over it")
        })
        .collect()
}

/// Bubbles that come down towards the return reach the pump and the display.
fn bubbles(c: &Checks<'_>) -> Vec<Finding> {
    let limit = c.limits().bubble.to_m();
    let of = |basin: &crate::report::BasinReport| {
        let down = basin.down_flow?;
        let speed = c.words.speed(down.speed_m_s);
        let name = &basin.name;
        let (message, measured) = match down.smallest_rising_m {
            Some(d) => (
                format!(
                    "in `{name}` water goes down at {speed}: bubbles of {} and more rise against it, smaller ones come along",
                    c.words.length(d)
                ),
                d,
            ),
            None => (
                format!("in `{name}` water goes down at {speed}: it takes every bubble along"),
                f64::INFINITY,
            ),
        };
        let finding = if measured <= limit {
            Finding::holds("bubbles", &basin.parameter, message)
        } else {
            Finding::tight("bubbles", &basin.parameter, message)
                .with_hint("give the space before the gap more room (`spacing`, or the chamber's `length`), or let less water through")
        };
        let finding = finding.with_source(
            "Clift, Grace and Weber (1978), Schiller and Naumann (1933); `limits.bubble`",
        );
        Some(if measured.is_finite() {
            finding.with_limit((limit - measured) * 1e3, 0.0, "mm")
        } else {
            finding
        })
    };
    c.report.basins.iter().filter_map(of).collect()
}

/// Water that nothing moves keeps the level that it has, whatever the rest does: which that is, nobody can
/// say. It is taken to be filled to its lip.
fn stagnant(c: &Checks<'_>) -> Vec<Finding> {
    let flow = c.report.return_flow_m3_s.mid;
    let basins = c.report.basins.iter().filter(|b| b.through_m3_s < STAGNANT * flow);
    basins
        .map(|b| {
            let message = format!(
                "no water passes `{}`: its level is not decided by the flow and is taken to be that of its lip, {}",
                b.name,
                c.words.length(b.level_m.mid)
            );
            Finding::not_checked("stagnant-chamber", &b.parameter, message)
                .with_hint("lead some water through it, or check by hand how full it may be")
        })
        .collect()
}

/// Less than this share of the flow is no flow through a chamber: a leak.
const STAGNANT: f64 = 1e-3;

fn doors(c: &Checks<'_>) -> Vec<Finding> {
    let of = |door: &crate::report::DoorReport| {
        let [low, _, high] = door.levels_m.map(|f| f.mid);
        if !door.has_effect {
            let message = format!(
                "the door of `{}` has no effect: chamber `{}` stands at {} whatever its setting",
                door.leaf,
                door.chamber,
                c.words.length(low)
            );
            return Finding::tight("door-without-effect", &door.parameter, message)
                .with_hint("what stands behind drowns it, or water goes another way: lower what holds the water behind the door");
        }
        let message = format!(
            "the door of `{}` can give chamber `{}` {} to {} at this flow",
            door.leaf,
            door.chamber,
            c.words.length(low),
            c.words.length(high)
        );
        Finding::holds("door-range", &door.parameter, message)
    };
    c.report.doors.iter().map(of).collect()
}

fn band(c: &Checks<'_>) -> Vec<Finding> {
    if !c.report.band_is_known {
        let message = "with the coefficients at the ends of their doubt the levels could not be computed: what is told of levels and flows is the best estimate alone";
        return vec![Finding::not_checked("level-band", "water", message)];
    }
    if !c.report.band_is_doubtful {
        return Vec::new();
    }
    let message = "the bands of the levels: a combination of coefficients that was tried as a check lay outside them; they were widened to hold it, but others may lie further out";
    vec![Finding::not_checked("level-band", "water", message)]
}
