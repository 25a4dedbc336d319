//! What is done in one step before its joints are fed: way, place, preparing, holding.

use design::{Design, PlacedId, Role};
use shop::glue_up::{Step, StepPlace};
use units::Length;

use super::step::is_turned;
use super::{GuideOf, place, stubs};

/// What is done, from preparing to holding.
pub(super) fn doing(of: &GuideOf<'_>, step: &Step) -> Vec<String> {
    let design = of.design;
    let show = |mm: f64| Length::mm(mm).show(design.report);
    let from = match step.place {
        StepPlace::Bench => "",
        StepPlace::Box => ", the box standing on its bottom",
    };
    let mut all = vec![format!("Way in: {}{from}.", place::way(step))];
    let measures = place::measures(design, step);
    if !measures.is_empty() {
        all.push(format!("Place: {}.", measures.join("; ")));
    }
    if let Some(gap) = place::channel(design, step) {
        all.push(format!(
            "Between the two strips leave {} clear over their whole length; set them with the leaf itself and paper on \
             either side, and take the leaf out before solvent comes near.",
            show(gap)
        ));
    }
    all.push(format!("Prepare: {}.", edges(design, step)));
    all.extend(stubs::of_step(design, of.works, step));
    all.extend(straight(design, step));
    all.push(hold(design, step));
    if step.parts.iter().any(|&id| design.pieces[design.placed[id].piece].role == Role::Rim) {
        all.push(
            "Before the rim closes the box, look for drips and threads of cement inside, and try every lift-out leaf in its \
             guides: now is the last time to reach everything with ease."
                .to_owned(),
        );
    }
    all
}

/// The edges and faces that are bonded, part by part.
fn edges(design: &Design, step: &Step) -> String {
    let mut by_part: Vec<(PlacedId, Vec<&str>)> = Vec::new();
    for id in step.joints() {
        let joint = &design.joints[id];
        for (part, face) in [joint.a, joint.b].into_iter().zip(&joint.faces) {
            match by_part.iter_mut().find(|(p, _)| *p == part) {
                Some((_, faces)) if !faces.contains(&face.as_str()) => faces.push(face),
                Some(_) => {}
                None => by_part.push((part, vec![face])),
            }
        }
    }
    // What is new first.
    by_part.sort_by_key(|(part, _)| !step.parts.contains(part));
    let told = by_part.iter().map(|(part, faces)| {
        let name = &design.placed[*part].name;
        format!("{name}: {}", fit::listed(faces))
    });
    told.collect::<Vec<_>>().join("; ")
}

/// A wall that closes on edges of what stands: they must all reach it.
fn straight(design: &Design, step: &Step) -> Option<String> {
    let role = |id: &PlacedId| design.pieces[design.placed[*id].piece].role;
    let is_wall = step.parts.first().is_some_and(|id| role(id) == Role::Wall);
    let meets = step.joints().filter(|&id| {
        let joint = &design.joints[id];
        let other = if step.parts.contains(&joint.a) { joint.b } else { joint.a };
        matches!(role(&other), Role::Leaf)
    });
    (step.place == StepPlace::Box && is_wall && meets.count() > 0).then(|| {
        "Before it goes in: lay a straight edge over all edges that it is to meet, low and high. Where one stands back, paper \
         slips through; where one stands out, scrape it down. Dry-fit the wall, then go on."
            .to_owned()
    })
}

fn hold(design: &Design, step: &Step) -> String {
    let names: Vec<&str> =
        step.square_to.iter().map(|&id| design.placed[id].name.as_str()).collect();
    let role = step.parts.first().map(|&id| design.pieces[design.placed[id].piece].role);
    match step.place {
        StepPlace::Bench => "Hold: its own weight, and tape or a straight batten along its line. Check its place from \
            both ends."
            .to_owned(),
        StepPlace::Box if role == Some(Role::Rim) => "Hold: flush with the outer faces all round, tape at every corner, \
            flat weights of a kilogram (two pounds) each between; no clamps."
            .to_owned(),
        StepPlace::Box if names.is_empty() => "Hold: two squares, one near each end, and tape over its upper edge. Check \
            the right angle at both ends."
            .to_owned(),
        // It comes to rest on what it is fed to when the box is turned.
        StepPlace::Box if step.feeds.first().is_some_and(|feed| is_turned(feed.down)) => format!(
            "Hold: square to {}; tape it there and check the right angle.",
            fit::listed(&names)
        ),
        StepPlace::Box => format!(
            "Hold: push it up against {}, which {} it square; tape it there and check the right angle.",
            fit::listed(&names),
            if names.len() == 1 { "holds" } else { "hold" }
        ),
    }
}
