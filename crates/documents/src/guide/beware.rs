//! What to mind at a step: each caution where it counts.

use design::{Design, JointKind, PlacedId, Role};
use paper::Block;
use shop::glue_up::{Bond, JointId, Step, StepPlace, Why, bond};

use super::GuideOf;
use super::step::{is_turned, put_on};
use crate::prose::{about_kg, capital, caution};
use crate::safety;

/// Which cautions have been given already: each is said once, where it counts first. That something heavy is turned is
/// said every time, how to hold it once.
#[derive(Debug, Default)]
pub(super) struct Said {
    heavy: bool,
    vapour: bool,
    printed: bool,
    mixed: bool,
    groove: bool,
}

impl Said {
    /// Whether it was said that printed parts are not welded; from now on it was.
    pub(super) fn printed_before(&mut self) -> bool {
        std::mem::replace(&mut self.printed, true)
    }
}

/// The cautions that count here first.
pub(super) fn cautions(of: &GuideOf<'_>, step: &Step, said: &mut Said) -> Vec<Block> {
    let design = of.design;
    let mut blocks = Vec::new();
    let joints: Vec<JointId> = step.joints().collect();
    let has = |kind: fn(Bond) -> bool| joints.iter().any(|&id| kind(bond(design, id)));
    if has(|bond| bond == Bond::Printed) && !said.printed_before() {
        blocks.push(safety::printed(of.file));
    }
    if has(|bond| matches!(bond, Bond::Mixed(..))) && !std::mem::replace(&mut said.mixed, true) {
        blocks.push(safety::mixed());
    }
    let is_groove =
        |id: &JointId| matches!(design.joints[*id].kind, JointKind::Dado | JointKind::Rabbet);
    if joints.iter().any(is_groove) && !std::mem::replace(&mut said.groove, true) {
        blocks.push(caution(
            "A step or groove holds more solvent than a plain joint",
            ["Clear it of chips and of its film first. Feed little, from one end, and wait until it has run through before you \
              add more: what stands in a groove softens the sheet for hours."],
        ));
    }
    let role = |id: &PlacedId| design.pieces[design.placed[*id].piece].role;
    let all = || step.standing.iter().chain(&step.parts);
    let walls = all().filter(|id| role(id) == Role::Wall).count();
    if step.place == StepPlace::Box && walls >= 3 && !std::mem::replace(&mut said.vapour, true) {
        blocks.push(safety::vapour_in_box());
    }
    let is_turned = match step.place {
        StepPlace::Bench => step.feeds.iter().any(|feed| feed.is_on_blocks),
        StepPlace::Box => step.feeds.iter().any(|feed| is_turned(feed.down)),
    };
    if is_turned {
        let mass = Mass::of(design, all().copied());
        if mass.kg > safety::HEAVY_KG {
            let is_first = !std::mem::replace(&mut said.heavy, true);
            let alone = design.one_lifts_kg;
            blocks.push(safety::heavy(mass.kg, alone, &mass.words(design), is_first));
        }
    }
    blocks.extend(unfed(design, step));
    blocks
}

/// Joints that cannot be fed: which, why, and what is done instead.
fn unfed(design: &Design, step: &Step) -> Option<Block> {
    if step.unfed.is_empty() {
        return None;
    }
    let told = step.unfed.iter().map(|unfed| {
        let joint = &design.joints[unfed.joint];
        let [a, b] = [joint.a, joint.b].map(|id| design.placed[id].name.as_str());
        let why = unfed.words(design, step.place);
        let instead = instead(bond(design, unfed.joint), unfed.why);
        format!("{a} to {b}: {why}. {instead}")
    });
    Some(caution("Before the part goes in: joints that are not made as the others", told))
}

/// What is done where a joint cannot be fed.
fn instead(kind: Bond, why: Why) -> String {
    let brush = match kind {
        Bond::Solvent(_) => {
            "brush solvent on both faces and put the part in at once, or change the design."
                .to_owned()
        }
        Bond::Mixed(..) | Bond::Printed => format!(
            "put {}, little, so that none is pressed out where it cannot be wiped off, or change the design.",
            put_on(kind)
        ),
    };
    match why {
        Why::Apart => {
            "See on the dry parts that they touch, and mend the file if they do not.".to_owned()
        }
        Why::Tips { .. } if kind.is_adhesive() => format!(
            "Let a second person hold it there until the adhesive has set, or prop it on both sides; {brush}"
        ),
        Why::Tips { .. } => format!(
            "Let a second person hold it there from start to end of the feeding, or prop it on both sides; else {brush}"
        ),
        Why::OutOfReach | Why::OneSide | Why::NotWiped => capital(&brush),
    }
}

/// What some parts weigh.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Mass {
    /// Of those whose mass is known, kg.
    pub(super) kg: f64,
    /// Whether that is all of them.
    is_whole: bool,
}

impl Mass {
    pub(super) fn of(design: &Design, parts: impl IntoIterator<Item = PlacedId>) -> Self {
        let mut mass = Self { kg: 0.0, is_whole: true };
        for id in parts {
            match design.pieces[design.placed[id].piece].mass_kg() {
                Some(kg) => mass.kg += kg,
                None => mass.is_whole = false,
            }
        }
        mass
    }

    /// `14 kg`, `14 kg, parts of unknown mass not included`.
    pub(super) fn words(self, design: &Design) -> String {
        let kg = about_kg(self.kg, design.report);
        if self.is_whole { kg } else { format!("{kg} (without parts whose mass is not known)") }
    }
}
