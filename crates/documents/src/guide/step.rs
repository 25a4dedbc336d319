//! One step of the guide.

use std::sync::Arc;

use design::{Design, JointKind, PlacedId, Role};
use glam::{DVec2, DVec3};
use paper::{Block, Figure, Form, Mark, flow};
use shop::glue_up::{Bond, FedJoint, Feed, JointId, STEADY_DEG, Step, StepPlace, bond, plastic};
use study::told::sheets::paper_form;
use units::Length;

use super::beware::{Said, cautions};
use super::{GuideOf, place, stubs, wait};
use crate::prose::{Kind, capital, items, part, table, words};

/// Size of a step's picture on paper, mm.
const PICTURE_MM: DVec2 = DVec2::new(126.0, 84.0);
/// The same where the step does not fit a page otherwise.
const SMALLER_MM: DVec2 = DVec2::new(96.0, 64.0);
/// The same of a step on the bench.
const BENCH_MM: DVec2 = DVec2::new(78.0, 52.0);
/// The same where the box is turned for a further joint.
const TURNED_MM: DVec2 = DVec2::new(69.0, 46.0);

/// How a joint that takes no solvent is bonded.
pub(super) fn put_on(kind: Bond) -> String {
    match kind {
        Bond::Mixed(a, b) => {
            format!("cement for {} and {} on both faces before they meet", plastic(a), plastic(b))
        }
        _ => "adhesive on both faces before they meet".to_owned(),
    }
}

pub(super) fn blocks(
    of: &GuideOf<'_>,
    k: usize,
    step: &Step,
    pictures: Vec<Vec<u8>>,
    said: &mut Said,
) -> Vec<Block> {
    let design = of.design;
    let name = heading(design, step);
    let pictures: Vec<Arc<[u8]>> = pictures.into_iter().map(Into::into).collect();
    let head = part(format!("Step {}: {name}", k + 1));
    let shown = shown(design, step);
    let has_pictures = !pictures.is_empty();
    let alt = format!("Step {}: {name}", k + 1);
    let picture = |size: DVec2| {
        let first = pictures.first().cloned();
        first.map(|png| figure(png, size, alt.clone(), shown.clone()))
    };
    let all: Vec<JointId> = step.joints().collect();
    let wait = words(wait::words(design, &all));
    let cautions = cautions(of, step, said);
    let stood = |words_of: String| (!has_pictures).then(|| words(words_of));
    if step.place == StepPlace::Bench {
        // Small parts: picture and words side by side.
        let mut told = doing(of, step);
        told.extend(step.feeds.iter().flat_map(|feed| joint_words(design, step, feed)));
        if !has_pictures {
            let all = [head, words(shown.replacen("Shown:", "It lies so:", 1)), items(told), wait];
            return vec![Block::Together(all.into_iter().chain(cautions).collect())];
        }
        let columns =
            vec![(0.5, picture(BENCH_MM).into_iter().collect()), (0.5, vec![items(told), wait])];
        let beside = [head, Block::Beside(columns)];
        return vec![Block::Together(beside.into_iter().chain(cautions).collect())];
    }
    let mut blocks: Vec<Block> = cautions;
    blocks.extend(stood(shown.replacen("Shown:", "It lies so:", 1)));
    blocks.push(items(doing(of, step)));
    if let Some(feed) = step.feeds.first() {
        if is_turned(feed.down) {
            blocks.push(words(format!(
                "Nothing new is glued yet: tape it on either side, and over its upper edge, so that it cannot slip when blocks under it fall away. Turn the box: {}. Check its place again, then feed:",
                turned(feed)
            )));
        }
        blocks.push(joints(design, step, feed));
    }
    let further = step.feeds.iter().enumerate().skip(1).map(|(i, feed)| {
        let turn = format!(
            "When it may be turned (the times are below), turn the box: {}. Then feed:",
            turned(feed)
        );
        let told = vec![words(turn), items(joint_words(design, step, feed))];
        let Some(png) = pictures.get(i).cloned() else { return told };
        let alt = format!("Step {}, position {}", k + 1, i + 1);
        let caption = format!("Shown: {}.", position(design, step, feed));
        let picture = figure(png, TURNED_MM, alt, caption);
        vec![Block::Beside(vec![(0.45, vec![picture]), (0.55, told)])]
    });
    let mut positions: Vec<Vec<Block>> = std::iter::once(blocks).chain(further).collect();
    let last = positions.last_mut().into_iter();
    last.for_each(|last| {
        last.push(wait.clone());
        if step.feeds.last().is_some_and(|feed| is_turned(feed.down)) {
            last.push(words(
                "When it may be turned, turn the box back: onto its bottom. What comes next begins with the box standing.",
            ));
        }
    });
    // On one page, if one can hold it; else what is read at one position of the box.
    let page = Form::text(paper_form(of.file), "", "");
    for size in [PICTURE_MM, SMALLER_MM] {
        let first = std::iter::once(head.clone()).chain(picture(size));
        let all = Block::Together(first.chain(positions.iter().flatten().cloned()).collect());
        if flow(std::slice::from_ref(&all), &page).len() == 1 {
            return vec![all];
        }
    }
    for (i, position) in positions.iter_mut().enumerate() {
        if i == 0 {
            position.splice(0..0, std::iter::once(head.clone()).chain(picture(PICTURE_MM)));
        } else {
            position.insert(0, part(format!("Still step {}: turned", k + 1)));
        }
    }
    positions.into_iter().map(Block::Together).collect()
}

/// Whether the box does not stand on its bottom.
pub(super) fn is_turned(down: DVec3) -> bool {
    down.dot(DVec3::NEG_Z) < 0.5
}

/// `onto its front, steadied by a hand …`.
fn turned(feed: &Feed) -> String {
    let onto = place::onto(feed.down);
    steadied(feed).map_or_else(|| onto.to_owned(), |steadied| format!("{onto}, {steadied}"))
}

/// What the first picture of a step shows. It is drawn as the first joints are fed, with the way in.
fn shown(design: &Design, step: &Step) -> String {
    let Some(feed) = step.feeds.first() else {
        let rest = place::rest(design, step, DVec3::NEG_Z, false);
        return format!("Shown: {rest}.");
    };
    let position = position(design, step, feed);
    if step.place == StepPlace::Box && is_turned(feed.down) {
        let way = if step.way.is_some() {
            ". The dark arrow is the way in, taken before, while the box stood on its bottom"
        } else {
            ""
        };
        return format!("Shown: {position}, as it is fed{way}.");
    }
    format!("Shown: {position}.")
}

/// `back wall (02), with its strips`, or `guide strips 1 and 2 onto the back wall`.
fn heading(design: &Design, step: &Step) -> String {
    match step.place {
        StepPlace::Bench => {
            let host = step.standing.first().map_or(String::new(), |&id| numbered(design, id));
            let names: Vec<String> = step.parts.iter().map(|&id| numbered(design, id)).collect();
            format!("{} onto {host}, lying flat", fit::listed(&names))
        }
        StepPlace::Box => {
            let main = step.parts.first().map_or(String::new(), |&id| numbered(design, id));
            match step.parts.len() {
                0 | 1 => main,
                _ => format!("{main}, with what was glued onto it"),
            }
        }
    }
}

/// `back wall (02)`.
fn numbered(design: &Design, id: PlacedId) -> String {
    let placed = &design.placed[id];
    format!("{} ({})", placed.name, design.pieces[placed.piece].number)
}

fn position(design: &Design, step: &Step, feed: &Feed) -> String {
    let rest = place::rest(design, step, feed.down, feed.is_on_blocks);
    steadied(feed).map_or_else(|| rest.clone(), |steadied| format!("{rest}, {steadied}"))
}

/// Whether a hand steadies it, in words.
fn steadied(feed: &Feed) -> Option<String> {
    let deg = feed.tip_deg.floor();
    (feed.tip_deg < STEADY_DEG && !feed.is_on_blocks)
        .then(|| format!("steadied by a hand (it falls when it is tipped by {deg:.0}°)"))
}

fn figure(png: Arc<[u8]>, size: DVec2, alt: String, caption: String) -> Block {
    let marks = vec![Mark::Picture { at: DVec2::ZERO, size, png, alt }];
    Block::Figure { figure: Figure { size, marks }, may_shrink: true, caption }
}

/// What is done, from preparing to holding.
fn doing(of: &GuideOf<'_>, step: &Step) -> Vec<String> {
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

/// The joints of one position, as a table.
fn joints(design: &Design, step: &Step, feed: &Feed) -> Block {
    let columns = [
        ("joint", Kind::Words),
        ("kind", Kind::Name),
        ("length", Kind::Number),
        ("width", Kind::Number),
        ("feed from", Kind::Words),
    ];
    table(columns, feed.joints.iter().map(|fed| joint_cells(design, step, fed)))
}

/// The same, a line each.
fn joint_words(design: &Design, step: &Step, feed: &Feed) -> Vec<String> {
    let line = |fed: &FedJoint| {
        let [joint, kind, length, width, from] = joint_cells(design, step, fed);
        let from = match bond(design, fed.joint).is_adhesive() {
            true => lower(&from),
            false => format!("feed from {}", lower(&from)),
        };
        format!("{joint}: {kind}, {length} long, {width} wide; {from}")
    };
    feed.joints.iter().map(line).collect()
}

fn lower(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| first.to_lowercase().chain(letters).collect())
}

/// What is joined, how, length, width, and from where it is fed.
fn joint_cells(design: &Design, step: &Step, fed: &FedJoint) -> [String; 5] {
    let show = |mm: f64| Length::mm(mm).show(design.report);
    let joint = &design.joints[fed.joint];
    let [a, b] = [joint.a, joint.b].map(|id| design.placed[id].name.as_str());
    let mut from: Vec<String> =
        fed.seams.iter().map(|seam| place::fed_from(design, step, seam)).collect();
    from.dedup();
    // What is wide is fed from both sides, all else from one of them.
    let from = match bond(design, fed.joint) {
        Bond::Solvent(_) => from.join(if fed.needs_both { ", and " } else { ", or " }),
        kind => format!(
            "{}; press it, and wipe off what comes out: {}",
            put_on(kind),
            from.join(", or ")
        ),
    };
    let kind = match joint.kind {
        JointKind::Rabbet => "in a step",
        JointKind::Dado => "in a groove",
        _ => "butt",
    };
    let what = format!("{a} to {b}");
    [what, kind.to_owned(), show(joint.length_mm), show(joint.width_mm), capital(&from)]
}
