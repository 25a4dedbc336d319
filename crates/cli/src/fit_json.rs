//! Clearances, ways out and reach as JSON, for a window, a page or another program to play.

use design::{Design, RemovableId};
use fit::{Fit, Verdict, Way};
use serde_json::{Value, json};

/// In which units and frame everything is.
const UNITS: &str = "lengths in mm, angles in degrees, times in s, shares from 0 to 1; x along the sump from its inlet \
    end, y from front to back, z up, the origin at the outer lower front corner of the inlet end; turns are unit \
    quaternions [x, y, z, w]; indices count from 0; a least_gap_mm of null or above 60 is more than 60";

/// How a move is played.
const PLAY: &str = "at the share t of a move's time from begin_s to end_s, the part's turn is from.turn turned on by \
    the share t of the turn to to.turn, the short way round, and its point `pivot` is at the share t of the straight \
    line from from.turn·pivot + from.shift to to.turn·pivot + to.shift; a point p of the part in its place is then at \
    turn·(p − pivot) + that point";

/// What is known of these removables, of all things and of the whole.
pub(crate) fn whole(fit: &Fit, design: &Design, asked: &[RemovableId]) -> Value {
    let Fit { world, report } = fit;
    let things = world.things.iter().map(
        |thing| json!({ "name": thing.name, "parameter": thing.parameter, "bounds": thing.bounds }),
    );
    let ways = report.ways.iter().filter(|way| asked.contains(&way.removable));
    json!({
        "units": UNITS,
        "play": PLAY,
        "things": things.collect::<Vec<_>>(),
        "removables": removables(fit, design),
        "before_hands": fit::BEFORE_HANDS,
        "clearances": report.clearances,
        "ways": ways.map(|way| self::way(way, design)).collect::<Vec<_>>(),
        "emptying": report.emptying,
        "reach": report.reach,
        "rescue": report.rescue,
    })
}

fn removables(fit: &Fit, design: &Design) -> Value {
    let one = |removable: &design::Removable| {
        json!({
            "name": removable.name,
            "kind": removable.kind.words(),
            "parameter": removable.parameter,
            "chamber": removable.chamber,
            "things": fit.world.part(removable, design),
            "instead_of": removable.instead_of,
        })
    };
    design.removables.iter().map(one).collect()
}

fn way(way: &Way, design: &Design) -> Value {
    let Way { removable, alone, steps, is_shortest, passes, blocked_by, cure } = way;
    let blocked = blocked_by.iter().map(|(name, mm)| json!({ "name": name, "depth_mm": mm }));
    json!({
        "removable": removable,
        "name": design.removables.get(*removable).map(|removable| &removable.name),
        "verdict": verdict(alone),
        "why": why(alone),
        "comes_out": !steps.is_empty(),
        "is_for_hands": !steps.is_empty() && way.is_for_hands(),
        "passes": passes,
        "steps": steps,
        "is_shortest": is_shortest,
        "blocked_by": blocked.collect::<Vec<_>>(),
        "cure": cure,
    })
}

/// What is known with everything else in place.
pub(crate) fn verdict(verdict: &Verdict) -> &'static str {
    match verdict {
        Verdict::Found(_) => "found",
        Verdict::ProvedNone(_) => "proved-none",
        Verdict::NotFound { .. } => "not-found",
        Verdict::StartsInClash { .. } => "starts-in-clash",
    }
}

fn why(verdict: &Verdict) -> Value {
    match verdict {
        Verdict::Found(_) => Value::Null,
        Verdict::ProvedNone(proof) => json!(proof),
        Verdict::NotFound { steps } => json!({ "steps_tried": steps }),
        Verdict::StartsInClash { with } => json!({ "with": with }),
    }
}
