//! What is said of sockets and the like that wet hands and wet parts pass.
//!
//! The file has no word for what carries mains; a fixture of the cabinet is taken to, when its name says so. Of other
//! boxes it is said only with `if`. Pipes and canisters that are called nothing of the kind are left out.

use design::{RemovableKind, SurroundingKind};
use findings::Finding;
use glam::DVec3;
use plate::Shape;

use super::Checks;
use crate::convex::Convex;
use crate::motion::Motion;
use crate::nearest::nearest_below;
use crate::report::Way;
use crate::words::listed;
use crate::world::{Door, Exits, Origin, ThingId, Window};

const CODE: &str = "mains-near-water";
/// Nearer than this a wet hand that slips, or a hose that springs off, gets there, mm; our judgement: a hand's breadth
/// and a half.
const NEAR_MM: f64 = 150.0;
/// Poses of a way are no farther apart than this, mm, so that a gap is told too large by half of it at most.
const STEP_MM: f64 = 4.0;
/// Words in names of what carries mains.
const MAINS: [&str; 14] = [
    "socket",
    "strip",
    "power",
    "plug",
    "outlet",
    "mains",
    "adapter",
    "controller",
    "ballast",
    "driver",
    "transformer",
    "timer",
    "switch",
    "extension",
];
/// How many parts that pass are named.
const MOST_NAMED: usize = 3;

pub(super) fn all(c: &Checks<'_>) -> Vec<Finding> {
    let Some(around) = &c.design.surroundings else { return Vec::new() };
    let fixture = |thing: &ThingId| {
        let Origin::Surrounding(k) = c.fit.world.things[*thing].origin else { return None };
        let fixture = &around.things[k];
        if fixture.kind != SurroundingKind::Fixture {
            return None;
        }
        let is_mains = is_mains(&fixture.name);
        let is_box = matches!(fixture.shape, Shape::Sheet(_));
        (is_mains || is_box).then_some((*thing, is_mains))
    };
    let all = (0..c.fit.world.things.len()).filter_map(|thing| fixture(&thing));
    all.filter_map(|(thing, is_mains)| near(c, thing, is_mains)).collect()
}

/// Whether a name is that of something that carries mains.
fn is_mains(name: &str) -> bool {
    let name = name.to_lowercase();
    let words: Vec<&str> = name.split(|c: char| !c.is_alphanumeric()).collect();
    let is_word = |word: &str, of: &str| word == of || word.strip_suffix('s') == Some(of);
    words.iter().any(|word| MAINS.iter().any(|of| is_word(word, of)))
}

/// What passes one fixture near.
fn near(c: &Checks<'_>, fixture: ThingId, is_mains: bool) -> Option<Finding> {
    let thing = &c.fit.world.things[fixture];
    let ways = c.fit.report.ways.iter();
    let pass = ways.filter_map(|way| Some((way.removable, gap_of_way(c, way, &thing.fine)?)));
    let mut pass: Vec<(usize, f64)> = pass.collect();
    pass.sort_by(|a, b| a.1.total_cmp(&b.1).then(a.0.cmp(&b.0)));
    let half_arm = 0.5 * c.design.reach.arm.to_mm();
    let arm = arm_gap(&c.fit.world.exits, &thing.fine, half_arm);
    let least = pass.first().map(|(_, gap)| *gap).into_iter().chain(arm).reduce(f64::min)?;
    let mut said: Vec<String> = Vec::new();
    if !pass.is_empty() {
        let named: Vec<String> = pass
            .iter()
            .take(MOST_NAMED)
            .map(|(which, gap)| format!("{} passes it {} off", c.name(*which), c.length(*gap)))
            .collect();
        let more = match pass.len().saturating_sub(MOST_NAMED) {
            0 => String::new(),
            n => format!(", and {n} more pass it within {}", c.length(NEAR_MM)),
        };
        said.push(format!("on its way out {}{more}", listed(&named)));
    }
    said.extend(arm.map(|gap| match gap > 0.0 {
        true => {
            format!("an arm that reaches into the sump may come within {} of it", c.length(gap))
        }
        false => "it stands where an arm reaches into the sump".to_owned(),
    }));
    let name = &thing.name;
    let message = if is_mains {
        format!("`{name}` carries mains, as its name says, and {}", said.join("; "))
    } else {
        format!("if `{name}` carries mains, mind that {}", said.join("; "))
    };
    let finding = if is_mains {
        Finding::tight(CODE, thing.parameter.clone(), message)
    } else {
        Finding::holds(CODE, thing.parameter.clone(), message)
    };
    let source =
        "our judgement: so near a wet hand that slips gets there; gaps of ways to within 2 mm";
    Some(finding.with_limit(least, NEAR_MM, "mm").with_source(source).with_hint(
        "before a wet hand or a wet part passes: dry hands, switch off and unplug what hangs on it, at a socket behind a residual-current device (RCD, GFCI); better move it farther off, above and beside the sump, with drip loops; local codes and an electrician come before this",
    ))
}

/// How near a part comes on its last step, mm, 0 where it touches; `None` when it stays far, of what has no way, and of the
/// empty sump, whose plugs are out.
fn gap_of_way(c: &Checks<'_>, way: &Way, fixture: &[Convex]) -> Option<f64> {
    let removable = &c.design.removables[way.removable];
    let step = way.steps.last().filter(|_| removable.kind != RemovableKind::Sump)?;
    let world = &c.fit.world;
    let pieces = world.moving(removable, &world.part(removable, c.design), c.design, false);
    let mut least = NEAR_MM;
    for motion in step.moves.iter().map(crate::way::Move::motion) {
        for at in poses(&motion, &pieces) {
            for piece in &pieces {
                let points: Vec<DVec3> = piece.points.iter().map(|p| at.apply(*p)).collect();
                for other in fixture {
                    let found = nearest_below(&points, &other.points, least);
                    least = found.map_or(least, |found| found.gap_mm.max(0.0));
                }
            }
        }
    }
    (least < NEAR_MM).then_some(least)
}

/// Poses between which no point moves farther than a step.
fn poses(motion: &Motion, pieces: &[Convex]) -> Vec<crate::motion::Rigid> {
    let points = pieces.iter().flat_map(|piece| &piece.points);
    let farthest = points.fold(0.0, |far: f64, p| far.max(p.distance(motion.pivot)));
    let path = motion.distance() + motion.angle() * farthest;
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a way of metres in steps of millimetres: small, positive"
    )]
    let n = (path / STEP_MM).ceil().max(1.0) as u32;
    (0..=n).map(|k| motion.at(f64::from(k) / f64::from(n))).collect()
}

/// How near an arm may come that reaches straight from an opening of the cabinet to one of the rim, mm; `None` when it
/// stays far. The least of all such arms, one of them for each place in either opening, half of its thickness taken
/// off.
fn arm_gap(exits: &Exits, fixture: &[Convex], half_arm_mm: f64) -> Option<f64> {
    let between =
        exits.doors.iter().filter_map(|door| above(door, exits.rim_z)).flat_map(|door| {
            exits.rim.iter().map(move |rim| [corners(&door), corners(rim)].concat())
        });
    let mut least = NEAR_MM + half_arm_mm;
    let mut is_near = false;
    for hull in between {
        for piece in fixture {
            if let Some(found) = nearest_below(&hull, &piece.points, least) {
                (least, is_near) = (found.gap_mm, true);
            }
        }
    }
    is_near.then_some((least - half_arm_mm).max(0.0))
}

/// What of a door lies above the rim: from below an arm does not come in straight.
fn above(door: &Door, rim_z: f64) -> Option<Window> {
    let window = door.window;
    let [low, high] = [-1.0, 1.0].map(|side| window.centre.z + side * window.half_v);
    let low = low.max(rim_z);
    (low < high).then(|| Window {
        centre: window.centre.with_z(0.5 * (low + high)),
        half_v: 0.5 * (high - low),
        ..window
    })
}

fn corners(window: &Window) -> Vec<DVec3> {
    let corner = |[u, v]: [f64; 2]| {
        window.centre + u * window.half_u * window.u + v * window.half_v * window.v
    };
    [[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]].map(corner).to_vec()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_tell_what_carries_mains() {
        for name in
            ["Power strip", "socket-strip left", "pump controller", "two outlets", "6 plugs"]
        {
            assert!(is_mains(name), "{name}");
        }
        for name in ["canister", "striped curtain", "return pipe", "outletting"] {
            assert!(!is_mains(name), "{name}");
        }
    }

    #[test]
    fn an_arm_passes_what_stands_beside_its_straight_way() {
        let rim = Window {
            centre: DVec3::new(200.0, 150.0, 300.0),
            u: DVec3::X,
            v: DVec3::Y,
            half_u: 200.0,
            half_v: 150.0,
        };
        let front = Window {
            centre: DVec3::new(200.0, -100.0, 350.0),
            u: DVec3::X,
            v: DVec3::Z,
            half_u: 200.0,
            half_v: 350.0,
        };
        let exits = Exits {
            rim_z: 300.0,
            rim: vec![rim],
            doors: vec![Door { window: front, out: -DVec3::Y, beyond: 100.0 }],
            room: [DVec3::ZERO; 2],
        };
        let block = |min: [f64; 3], max: [f64; 3]| [Convex::block([min.into(), max.into()])];
        let gap = |of: [Convex; 1]| arm_gap(&exits, &of, 60.0);
        // Beside it by 160 mm less half an arm; above it in the door; below the rim's height far in front.
        let beside = gap(block([560.0, 0.0, 320.0], [600.0, 50.0, 350.0])).expect("it is near");
        assert!((beside - 100.0).abs() < 1e-9, "{beside}");
        assert_eq!(gap(block([100.0, -50.0, 350.0], [150.0, 0.0, 400.0])), Some(0.0));
        assert_eq!(gap(block([700.0, 0.0, 320.0], [800.0, 50.0, 350.0])), None);
        assert_eq!(gap(block([100.0, -90.0, 0.0], [150.0, -60.0, 80.0])), None);
    }
}
