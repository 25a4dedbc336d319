//! One step of the guide.

use std::sync::Arc;

use design::{Design, JointKind, PlacedId};
use glam::{DVec2, DVec3};
use paper::{Block, Figure, Form, Mark, flow};
use shop::glue_up::{Bond, FedJoint, Feed, JointId, STEADY_DEG, Step, StepPlace, bond, plastic};
use study::told::sheets::paper_form;
use units::Length;

use super::beware::{Said, cautions};
use super::doing::doing;
use super::{GuideOf, place, wait};
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
    let pictures: Vec<Arc<[u8]>> = pictures.into_iter().map(Into::into).collect();
    let alt = format!("Step {}: {}", k + 1, heading(design, step));
    let joints: Vec<JointId> = step.joints().collect();
    let told = ToldStep {
        k,
        step,
        head: part(alt.clone()),
        alt,
        shown: shown(design, step),
        pictures: &pictures,
        cautions: cautions(of, step, said),
        wait: words(wait::words(design, &joints)),
    };
    match step.place {
        StepPlace::Bench => on_bench(of, told),
        StepPlace::Box => in_box(of, told),
    }
}

/// What is told of a step wherever it is done.
struct ToldStep<'a> {
    /// Its index.
    k: usize,
    step: &'a Step,
    head: Block,
    /// The words of its heading.
    alt: String,
    /// What its first picture shows.
    shown: String,
    /// A picture for each position; none in a guide without.
    pictures: &'a [Arc<[u8]>],
    cautions: Vec<Block>,
    wait: Block,
}

impl ToldStep<'_> {
    /// The first picture, this large.
    fn picture(&self, size: DVec2) -> Option<Block> {
        let first = self.pictures.first().cloned();
        first.map(|png| figure(png, size, self.alt.clone(), self.shown.clone()))
    }

    /// How it lies, in words, where no picture shows it.
    fn lies(&self) -> Option<Block> {
        let lies = || words(self.shown.replacen("Shown:", "It lies so:", 1));
        self.pictures.is_empty().then(lies)
    }
}

/// Small parts on what lies flat: picture and words side by side.
fn on_bench(of: &GuideOf<'_>, told: ToldStep<'_>) -> Vec<Block> {
    let mut all = doing(of, told.step);
    all.extend(told.step.feeds.iter().flat_map(|feed| joint_words(of.design, told.step, feed)));
    let (lies, picture) = (told.lies(), told.picture(BENCH_MM));
    let ToldStep { head, wait, cautions, .. } = told;
    let first = match lies {
        Some(lies) => vec![head, lies, items(all), wait],
        None => {
            let columns = vec![(0.5, picture.into_iter().collect()), (0.5, vec![items(all), wait])];
            vec![head, Block::Beside(columns)]
        }
    };
    vec![Block::Together(first.into_iter().chain(cautions).collect())]
}

/// A part that goes into the box: on one page, if one can hold it; else what is read at one position of the box.
fn in_box(of: &GuideOf<'_>, told: ToldStep<'_>) -> Vec<Block> {
    let mut positions = positions(of, &told);
    let page = Form::text(paper_form(of.file), "", "");
    for size in [PICTURE_MM, SMALLER_MM] {
        let first = std::iter::once(told.head.clone()).chain(told.picture(size));
        let all = Block::Together(first.chain(positions.iter().flatten().cloned()).collect());
        if flow(std::slice::from_ref(&all), &page).len() == 1 {
            return vec![all];
        }
    }
    for (i, position) in positions.iter_mut().enumerate() {
        if i == 0 {
            let head = std::iter::once(told.head.clone());
            position.splice(0..0, head.chain(told.picture(PICTURE_MM)));
        } else {
            position.insert(0, part(format!("Still step {}: turned", told.k + 1)));
        }
    }
    positions.into_iter().map(Block::Together).collect()
}

/// What is told at each position of the box: the first with all that comes before it, the last with the wait.
fn positions(of: &GuideOf<'_>, told: &ToldStep<'_>) -> Vec<Vec<Block>> {
    let feeds = &told.step.feeds;
    let further = feeds.iter().enumerate().skip(1);
    let further = further.map(|(i, feed)| further_position(of.design, told, i, feed));
    let mut positions: Vec<Vec<Block>> =
        std::iter::once(first_position(of, told)).chain(further).collect();
    if let Some(last) = positions.last_mut() {
        last.push(told.wait.clone());
        if feeds.last().is_some_and(|feed| is_turned(feed.down)) {
            last.push(words(
                "When it may be turned, turn the box back: onto its bottom. What comes next begins with the box standing.",
            ));
        }
    }
    positions
}

/// What is minded and done, and the joints that are fed first.
fn first_position(of: &GuideOf<'_>, told: &ToldStep<'_>) -> Vec<Block> {
    let mut blocks = told.cautions.clone();
    blocks.extend(told.lies());
    blocks.push(items(doing(of, told.step)));
    let Some(feed) = told.step.feeds.first() else { return blocks };
    if is_turned(feed.down) {
        blocks.push(words(format!(
            "Nothing new is glued yet: tape it on either side, and over its upper edge, so that it cannot slip when blocks under it fall away. Turn the box: {}. Check its place again, then feed:",
            turned(feed)
        )));
    }
    blocks.push(joints(of.design, told.step, feed));
    blocks
}

/// Joints that are fed after the box was turned, with their picture.
fn further_position(design: &Design, told: &ToldStep<'_>, i: usize, feed: &Feed) -> Vec<Block> {
    let turn = format!(
        "When it may be turned (the times are below), turn the box: {}. Then feed:",
        turned(feed)
    );
    let fed = vec![words(turn), items(joint_words(design, told.step, feed))];
    let Some(png) = told.pictures.get(i).cloned() else { return fed };
    let alt = format!("Step {}, position {}", told.k + 1, i + 1);
    let caption = format!("Shown: {}.", position(design, told.step, feed));
    let picture = figure(png, TURNED_MM, alt, caption);
    vec![Block::Beside(vec![(0.45, vec![picture]), (0.55, fed)])]
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
