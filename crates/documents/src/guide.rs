//! The glue-up guide: what you need, every step with its picture, the leak test.

mod beware;
mod doing;
mod first_filling;
mod jigs;
mod leak_test;
mod needs;
mod openings;
mod place;
mod stages;
mod step;
mod stubs;
mod stuck;
mod untested;
mod wait;

use design::Design;
use paper::Block;
use params::File;
use rayon::prelude::*;
use scene::{Assembly, FeedLine, Scene};
use shop::Work;
use shop::glue_up::{APART_MM, Feed, GlueUp, Step, StepPlace, bond};
use study::Wet;
use units::Length;

use crate::prose::{chapter, count, title, words};

/// Width and height of a step's picture, px.
const PICTURE_PX: [usize; 2] = [1080, 720];
/// The same where the box is turned for a further joint.
const TURNED_PX: [usize; 2] = [720, 480];

/// What a guide is written from.
#[derive(Clone, Copy, Debug)]
pub struct GuideOf<'a> {
    /// The file.
    pub file: &'a File,
    /// The design.
    pub design: &'a Design,
    /// The scene of the design, [`Scene::assembled`], that steps are drawn from; `None` for a guide in words alone.
    pub scene: Option<&'a Scene>,
    /// The order of work.
    pub glue_up: &'a GlueUp,
    /// What the machine does to each panel: where it leaves stubs of bridges.
    pub works: &'a [Work],
    /// What is known of the water, if anything is.
    pub wet: Option<&'a Wet<'a>>,
    /// Names of leaves that must not hold water on one side alone.
    pub not_alone: &'a [String],
}

/// The glue-up guide.
///
/// # Errors
/// When the scene is not that of the design, so that a step cannot be drawn.
pub fn guide(of: &GuideOf<'_>) -> Result<Vec<Block>, scene::Error> {
    let GuideOf { design, glue_up, .. } = *of;
    let pictures = pictures(of)?;
    let mut blocks = vec![title(format!("Glue-up guide: {}", design.title))];
    let on_bench = glue_up.steps.iter().filter(|step| step.place == StepPlace::Bench).count();
    let in_box = glue_up.steps.len() - on_bench;
    blocks.push(words(format!(
        "{} in all: {} on the bench, on parts that lie flat, and {} in the box.{} {}",
        count(glue_up.steps.len(), "step"),
        on_bench,
        in_box,
        stuck::told_before(design),
        order(design, glue_up)
    )));
    blocks.extend(needs::blocks(of));
    let mut intro = vec![
        chapter("Step by step"),
        words(if of.scene.is_some() {
            "In the pictures the new part is orange, what stands already is pale; blue lines are the joints that are fed, \
             and the small blue arrow shows from where. The dark arrow is the way in."
        } else {
            "This guide was written without its pictures: the words of each step say all that is done."
        }),
    ];
    let mut said = beware::Said::default();
    for (k, (step, pictures)) in glue_up.steps.iter().zip(pictures).enumerate() {
        for block in step::blocks(of, k, step, pictures, &mut said) {
            // The chapter's head stays with the first step.
            match block {
                Block::Together(first) if !intro.is_empty() => {
                    intro.extend(first);
                    blocks.push(Block::Together(std::mem::take(&mut intro)));
                }
                block => blocks.push(block),
            }
        }
    }
    blocks.push(Block::NewPage);
    blocks.extend(leak_test::blocks(of));
    blocks.extend(stuck::blocks(of, &mut said));
    blocks.extend(first_filling::blocks(of));
    Ok(blocks)
}

/// How far the order holds.
fn order(design: &Design, glue_up: &GlueUp) -> String {
    let joints = glue_up.joints();
    let has_adhesive = joints.into_iter().any(|id| bond(design, id).is_adhesive());
    let pressed = if has_adhesive {
        "; those with adhesive are pressed by weight and can be wiped"
    } else {
        ""
    };
    let apart = Length::mm(APART_MM).show(design.report);
    let reached = format!(
        "of the places along it, at most {apart} apart, a needle gets to each or to the next beside it, from where thin \
         solvent runs on"
    );
    let unfed: usize = glue_up.steps.iter().map(|step| step.unfed.len()).sum();
    let no_way = glue_up.steps.iter().filter(|step| step.way.is_none()).count();
    if unfed + no_way == 0 {
        return format!(
            "The order was worked out from the joints of this design: every new joint can be laid level, and {reached}{pressed}; \
             each part gets into its place on a straight way, and what is glued so far stands by itself. Another order may \
             shut something in."
        );
    }
    let mut not = Vec::new();
    if unfed > 0 {
        let joints = count(unfed, "joint");
        not.push(format!(
            "{joints} for which no position was found to be fed in, each with its reason"
        ));
    }
    if no_way > 0 {
        not.push(format!("{} without a straight way in that is free", count(no_way, "step")));
    }
    format!(
        "No order was found in which everything holds; this is the least bad of those that were tried: {}. They are marked at \
         their steps. Every other joint can be laid level, and {reached}{pressed}; all other parts go in on a straight way.",
        not.join("; ")
    )
}

/// The pictures of every step: one for each position in which it is fed, at least one; none without a scene.
fn pictures(of: &GuideOf<'_>) -> Result<Vec<Vec<Vec<u8>>>, scene::Error> {
    let mut by_step: Vec<Vec<Vec<u8>>> = vec![Vec::new(); of.glue_up.steps.len()];
    let Some(scene) = of.scene else { return Ok(by_step) };
    let all: Vec<(usize, usize)> = of
        .glue_up
        .steps
        .iter()
        .enumerate()
        .flat_map(|(k, step)| (0..step.feeds.len().max(1)).map(move |i| (k, i)))
        .collect();
    let drawn: Vec<Vec<u8>> = all
        .par_iter()
        .map(|&(k, i)| picture(scene, &of.glue_up.steps[k], i))
        .collect::<Result<_, _>>()?;
    for ((k, _), png) in all.into_iter().zip(drawn) {
        by_step[k].push(png);
    }
    Ok(by_step)
}

fn picture(scene: &Scene, step: &Step, which: usize) -> Result<Vec<u8>, scene::Error> {
    let feed: Option<&Feed> = step.feeds.get(which);
    let seams = feed.iter().flat_map(|feed| feed.joints.iter().filter_map(|fed| fed.seams.first()));
    let seams: Vec<FeedLine> =
        seams.map(|seam| FeedLine { ends: seam.ends, from: seam.from }).collect();
    let shown = Assembly {
        standing: &step.standing,
        new: &step.parts,
        seams: &seams,
        down: feed.map_or(glam::DVec3::NEG_Z, |feed| feed.down),
        way: if which == 0 { step.way } else { None },
    };
    let size = if which == 0 { PICTURE_PX } else { TURNED_PX };
    scene::assembly(scene, &shown, size)
}

#[cfg(test)]
pub(crate) mod tests;
