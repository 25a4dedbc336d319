//! What is found about an order of gluing, in the keeper's words.

use design::Design;
use findings::Finding;
use glam::DVec3;
use units::Length;

use super::bond::bond;
use super::needle::{LEAST_ANGLE_DEG, NEEDLE_MM, ONE_SIDE_MM};
use super::rest::LEAST_TIP_DEG;
use super::seam::APART_MM;
use super::{GlueUp, JointId, StepPlace, Unfed, Why};

/// Code of what is found about the order.
const CODE: &str = "glue-up-order";

pub(super) fn findings(design: &Design, glue_up: &GlueUp) -> Vec<Finding> {
    let show = |mm: f64| Length::mm(mm).show(design.report);
    let reach = format!(
        "our judgement: a straight needle of {} with a bottle behind it, seen along the joint at {LEAST_ANGLE_DEG:.0}° to both faces at least",
        show(NEEDLE_MM)
    );
    let mut found = Vec::new();
    for step in &glue_up.steps {
        for unfed in &step.unfed {
            let joint = &design.joints[unfed.joint];
            let [a, b] = [joint.a, joint.b].map(|id| &design.placed[id]);
            let is_adhesive = bond(design, unfed.joint).is_adhesive();
            let done = if is_adhesive {
                "can be pressed and wiped while its adhesive sets"
            } else {
                "can be fed with solvent"
            };
            let message = format!(
                "no order of work was found in which the joint of {} and {} ({} long) {done}: {}",
                a.name,
                b.name,
                show(joint.length_mm),
                unfed.words(design, step.place)
            );
            let source = match unfed.why {
                Why::Tips { .. } => format!(
                    "our judgement: what stands must not fall when it is tipped by {LEAST_TIP_DEG:.0}°"
                ),
                _ => reach.clone(),
            };
            found.push(
                Finding::tight(CODE, &a.parameter, message)
                    .with_source(source)
                    .with_hint(hint(unfed.why, is_adhesive)),
            );
        }
        if step.way.is_none()
            && let Some(part) = step.parts.first().and_then(|&id| design.placed.get(id))
        {
            let message = format!(
                "no order of work was found in which {} gets into its place on a straight way",
                part.name
            );
            found.push(Finding::tight(CODE, &part.parameter, message).with_hint(
                "let it be glued without grooves (`joint = \"butt\"`), or move what is in its way",
            ));
        }
    }
    if found.is_empty() && !glue_up.steps.is_empty() {
        let message = all_hold(design, glue_up);
        found.push(Finding::holds(CODE, "", message).with_source(reach));
    }
    found
}

/// What is said when everything holds.
fn all_hold(design: &Design, glue_up: &GlueUp) -> String {
    let show = |mm: f64| Length::mm(mm).show(design.report);
    let (adhesive, solvent): (Vec<JointId>, Vec<JointId>) =
        glue_up.joints().into_iter().partition(|&id| bond(design, id).is_adhesive());
    let told = |joints: &[JointId], which: &str| {
        let length: f64 = joints.iter().map(|&id| design.joints[id].length_mm).sum();
        let joints = match joints.len() {
            1 => format!("the 1 joint {which}"),
            n => format!("all {n} joints {which}"),
        };
        format!("{joints}, {} together,", show(length))
    };
    let mut what = Vec::new();
    if !solvent.is_empty() {
        what.push(format!(
            "{} can be laid level, and of the places along them, at most {} apart, a needle gets to each or to the next \
             beside it",
            told(&solvent, "that solvent is fed into"),
            show(APART_MM)
        ));
    }
    if !adhesive.is_empty() {
        what.push(format!(
            "{} can be pressed by weight and wiped",
            told(&adhesive, "with adhesive")
        ));
    }
    format!("in {} steps {}", glue_up.steps.len(), what.join("; "))
}

/// What to do about it.
fn hint(why: Why, is_adhesive: bool) -> &'static str {
    match why {
        Why::Tips { .. } if is_adhesive => {
            "plan for a helper or a prop that keeps it from falling while the adhesive sets"
        }
        Why::NotWiped => {
            "make the chamber beside it wider, let that part lift out, or use so little adhesive that none is pressed out"
        }
        Why::Apart => "make the two parts touch, or take the joint away",
        Why::OutOfReach | Why::OneSide => {
            "make the chamber beside it wider, let that leaf lift out, or plan to brush the solvent on before the part goes in"
        }
        Why::Tips { .. } => {
            "plan for a helper or a prop that keeps it from falling, or to brush the solvent on before the part goes in"
        }
    }
}

impl Unfed {
    /// What is in the way, for the keeper: `however it is turned, … a needle does not get along all of it`.
    pub fn words(&self, design: &Design, place: StepPlace) -> String {
        let show = |mm: f64| Length::mm(mm).show(design.report);
        match self.why {
            Why::Apart => "the two parts do not meet there, so nobody knows where it runs".to_owned(),
            Why::OutOfReach => {
                "however it is turned, as long as the joint lies level a needle does not get along all of it".to_owned()
            }
            Why::OneSide => format!(
                "a needle gets to one of its two sides only, and a joint wider than {} is fed from both",
                show(ONE_SIDE_MM)
            ),
            Why::NotWiped => {
                "pressed by weight, neither of its sides can be reached to wipe off what is pressed out".to_owned()
            }
            Why::Tips { down, tip_deg } => {
                let falls = if tip_deg <= 0.0 {
                    "falls over by itself".to_owned()
                } else {
                    format!("falls over when it is tipped by {:.0}°", tip_deg.floor())
                };
                let done = if bond(design, self.joint).is_adhesive() {
                    "it can be pressed and wiped"
                } else {
                    "a needle gets to it"
                };
                format!(
                    "{done} with {}, but what is glued so far {falls} there",
                    shown(place, down)
                )
            }
        }
    }
}

fn shown(place: StepPlace, down: DVec3) -> &'static str {
    match place {
        StepPlace::Bench => "the part lying flat on the bench",
        StepPlace::Box => lying(down),
    }
}

/// How the box lies when a unit vector along an axis points down, in words.
pub fn lying(down: DVec3) -> &'static str {
    match down.as_ivec3().to_array() {
        [0, 0, -1] => "the box standing on its bottom",
        [0, 0, 1] => "the box upside down",
        [0, -1, 0] => "the box lying on its front",
        [0, 1, 0] => "the box lying on its back",
        [-1, 0, 0] => "the box standing on its inlet end",
        _ => "the box standing on its far end",
    }
}
