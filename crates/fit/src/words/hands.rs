//! What is done by hand before anything moves. Whoever tells of removals, in whatever form, takes it from here.

use design::{Design, Removable, RemovableKind};
use glam::DVec3;

use super::degrees;
use crate::motion::Motion;

/// What every list of removals begins with: its head.
pub const BEFORE_HANDS_HEAD: &str = "Before any hand goes in";

/// What every list of removals begins with. Nothing is shut in it: a drain that is shut while a pump runs floods the
/// display.
pub const BEFORE_HANDS: [&str; 3] = [
    "switch every return pump off and pull its plug, so that no timer or controller starts it again; so with heaters",
    "wait until nothing more runs down from the display",
    "never shut a drain's valve while a pump runs: the display would run over",
];

/// Tipped by less, what is full spills nothing that counts, degrees; our judgement.
const TIPPED_DEG: f64 = 20.0;

/// What is done by hand before a part moves its way.
pub(crate) fn undo(removable: &Removable, way: &[Motion], design: &Design) -> Option<String> {
    let own = removable.undo.clone();
    let tipped = tipped_deg(way);
    let is_tipped = TIPPED_DEG < tipped;
    let for_it = format!("for it is tipped {} on its way", degrees(tipped));
    let more = match removable.kind {
        RemovableKind::Sump => return Some("empty it and undo its pipes and hoses".to_owned()),
        RemovableKind::Sock if is_tipped => Some(format!(
            "let it drain until it drips no more, {for_it}, and squeeze its bag together"
        )),
        RemovableKind::Sock => Some("let it drain, squeeze its bag together".to_owned()),
        RemovableKind::Equipment if is_tipped => {
            kept_water(removable, design).map(|first| format!("{first}, {for_it}"))
        }
        _ => None,
    };
    let said: Vec<String> = own.into_iter().chain(more).collect();
    (!said.is_empty()).then(|| said.join("; "))
}

/// How a piece of equipment is emptied that keeps water in it; `None` where it keeps none.
fn kept_water(removable: &Removable, design: &Design) -> Option<&'static str> {
    let piece = &design.pieces[design.placed.get(*removable.parts.first()?)?.piece];
    let is = |kind: &str| piece.notes.iter().any(|note| note == kind);
    if is("heater") || is("probe") {
        None
    } else if is("skimmer") {
        Some("empty its cup and let it drain first")
    } else {
        Some("let the water in it drain first")
    }
}

/// How far what was upright leans at most at the end of any move, degrees. A turn is the short way round, so that it
/// leans no more in between by much.
fn tipped_deg(way: &[Motion]) -> f64 {
    let lean = |motion: &Motion| {
        let up = motion.to.turn * DVec3::Z;
        libm::atan2(up.truncate().length(), up.z).to_degrees()
    };
    way.iter().map(lean).fold(0.0, f64::max)
}

#[cfg(test)]
mod tests {
    use glam::DQuat;

    use super::*;
    use crate::motion::Rigid;

    fn demo() -> Design {
        let text = include_str!("../../../../params/seahorse.toml");
        let file = params::read(text).file.expect("it reads");
        design::resolve(&file).design.expect("it resolves")
    }

    fn tipped(deg: f64) -> Vec<Motion> {
        let by = DQuat::from_axis_angle(DVec3::X, deg.to_radians());
        let up = Motion::slide(Rigid::HOME, DVec3::Z * 100.0);
        vec![up, Motion::turn(up.to, by, DVec3::ZERO)]
    }

    fn of(kind: RemovableKind, own: Option<&str>, note: &str, deg: f64) -> Option<String> {
        let mut design = demo();
        let id = 0;
        design.pieces[design.placed[id].piece].notes = vec![note.to_owned()];
        let removable = Removable {
            kind,
            undo: own.map(str::to_owned),
            parts: vec![id],
            ..design.removables[0].clone()
        };
        undo(&removable, &tipped(deg), &design)
    }

    #[test]
    fn what_is_full_is_emptied_before_it_is_tipped() {
        let skimmer = |deg| of(RemovableKind::Equipment, Some("unplug it"), "skimmer", deg);
        assert_eq!(skimmer(19.0).as_deref(), Some("unplug it"));
        assert_eq!(
            skimmer(75.0).as_deref(),
            Some(
                "unplug it; empty its cup and let it drain first, for it is tipped 75° on its way"
            )
        );
        assert_eq!(of(RemovableKind::Equipment, None, "heater", 75.0), None);
        let reactor = of(RemovableKind::Equipment, None, "reactor", -30.0).expect("told");
        assert_eq!(reactor, "let the water in it drain first, for it is tipped 30° on its way");
    }

    #[test]
    fn a_sock_drains_and_is_squeezed() {
        let sock = |deg| of(RemovableKind::Sock, None, "", deg).expect("told");
        assert_eq!(sock(0.0), "let it drain, squeeze its bag together");
        assert!(sock(40.0).contains("drips no more, for it is tipped 40°"), "{}", sock(40.0));
        assert_eq!(of(RemovableKind::Leaf, None, "", 40.0), None);
    }

    /// No drain of any demo is told to be shut, and what is told goes before all else.
    #[test]
    fn no_hand_shuts_a_drain() {
        let told = BEFORE_HANDS.join("; ");
        assert!(told.contains("pump off") && told.contains("never shut a drain's valve"), "{told}");
        let design = demo();
        let drains: Vec<String> = design
            .removables
            .iter()
            .filter(|one| one.kind == RemovableKind::DrainPipe)
            .filter_map(|one| undo(one, &[], &design))
            .collect();
        assert!(!drains.is_empty());
        for told in drains {
            assert!(!told.contains("stop the flow"), "{told}");
            assert!(told.contains("with the pump off and nothing more running down"), "{told}");
        }
    }
}
