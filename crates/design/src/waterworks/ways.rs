//! Ways of the leaves as ways between basins.

use super::{FreeEnds, Way, strainers};
use crate::draft::{Builder, Draft, DraftId};
use crate::enclosure::Enclosure;
use crate::frame::bounds;
use crate::model::{JointKind, Role};
use crate::spaces::{Layout, Pass, Side};

pub(super) fn build(b: &Builder<'_>, enclosure: &Enclosure, layout: &Layout) -> Vec<Way> {
    let of = |passes: &[Pass], is_in: bool| -> Vec<Way> {
        let ways = passes.iter().flat_map(|pass| {
            let mut ways = between_basins(layout, pass, is_in);
            let Some(leaf) = leaf(b, pass) else { return ways };
            let free_ends = free_ends(b, enclosure, pass, leaf);
            let strainers = strainers::of(b, layout, pass, leaf);
            for way in &mut ways {
                (way.free_ends, way.strainers) = (free_ends, strainers.clone());
            }
            ways
        });
        ways.collect()
    };
    let mut ways = of(&layout.passes, true);
    ways.extend(of(&layout.spare_passes, false));
    ways
}

/// One way for each pair of basins that the pass opens into, each with its share of the width.
fn between_basins(layout: &Layout, pass: &Pass, is_in: bool) -> Vec<Way> {
    let beside = |side: Side| -> Vec<usize> {
        (0..layout.spaces.len()).filter(|&i| pass.opens_into(&layout.spaces[i], side)).collect()
    };
    let width = pass.across[1] - pass.across[0];
    let mut ways = Vec::new();
    for &up in &beside(Side::Upstream) {
        for &down in &beside(Side::Downstream) {
            let across = pass.axis.across();
            let common = [up, down].iter().fold(pass.across, |[lo, hi], &i| {
                let space = &layout.spaces[i];
                [lo.max(across.of(space.min)), hi.min(across.of(space.max))]
            });
            let share = ((common[1] - common[0]) / width).clamp(0.0, 1.0);
            if share > 0.0 {
                ways.push(way(pass, is_in, [up, down], share));
            }
        }
    }
    ways
}

fn way(pass: &Pass, is_in: bool, [up, down]: [usize; 2], share: f64) -> Way {
    Way {
        kind: pass.kind,
        shape: pass.shape,
        leaf: pass.leaf.clone(),
        divider: pass.divider.0.clone(),
        divider_parameter: pass.divider.1.clone(),
        place: pass.place,
        is_in,
        lifts_out: pass.lifts_out,
        up,
        down,
        share,
        sheet_mm: pass.sheet_mm,
        channel_mm: pass.channel_mm,
        top_mm: pass.top_mm,
        free_ends: None,
        strainers: Vec::new(),
    }
}

/// Less is rounding, mm.
const LEAST_MM: f64 = 1e-6;

/// Where the ends of a pass's leaf stand free above strips or channels. Grooves reach up to where their
/// walls end, and hold the leaf by more than its play.
fn free_ends(b: &Builder<'_>, enclosure: &Enclosure, pass: &Pass, id: DraftId) -> Option<FreeEnds> {
    let across = pass.axis.across();
    let sides = |d: &Draft| {
        let [lo, hi] = bounds(&d.shape, &d.pose);
        [across.of(lo.truncate()), across.of(hi.truncate()), hi.z - enclosure.floor_z]
    };
    let [from, to, _] = sides(&b.drafts[id]);
    // Guides are made for the leaf that is in; a spare slides in the same.
    let stands_there = b.drafts[id].spare_for.unwrap_or(id);
    let slides = b.joints.iter().filter(|j| j.kind == JointKind::Slides && j.a == stands_there);
    let guides: Vec<[f64; 3]> = slides
        .map(|joint| &b.drafts[joint.b])
        .filter(|d| matches!(d.role, Role::GuideStrip | Role::GuideChannel))
        .map(sides)
        .collect();
    // A guide lies against its wall: from there the gap at that end is measured.
    let (mut tops, mut walls) = ([f64::NEG_INFINITY; 2], [from, to]);
    for [lo, hi, top] in guides {
        let side = usize::from(0.5 * (lo + hi) > 0.5 * (from + to));
        tops[side] = tops[side].max(top);
        walls = [walls[0].min(lo), walls[1].max(hi)];
    }
    let from_mm = tops[0].min(tops[1]);
    let gap_mm = 0.5 * ((from - walls[0]) + (walls[1] - to));
    let is_free = from_mm.is_finite() && from_mm < pass.top_mm - LEAST_MM && gap_mm > LEAST_MM;
    is_free.then_some(FreeEnds { from_mm, gap_mm })
}

/// The leaf that leaves this way for water.
fn leaf(b: &Builder<'_>, pass: &Pass) -> Option<DraftId> {
    let parameter = format!("leaf.{}", pass.leaf);
    let mut drafts = b.drafts.iter();
    // The same leaf may be named in several dividers.
    drafts.position(|d| {
        let [lo, hi] = bounds(&d.shape, &d.pose);
        let middle = 0.5 * (lo + hi).truncate();
        let is_within = |[from, to]: [f64; 2], at: f64| (from..=to).contains(&at);
        d.role == Role::Leaf
            && d.parameter == parameter
            && is_within(pass.through, pass.axis.of(middle))
            && lo.truncate().cmple(pass.axis.point(pass.through[1], pass.across[1])).all()
            && hi.truncate().cmpge(pass.axis.point(pass.through[0], pass.across[0])).all()
    })
}
