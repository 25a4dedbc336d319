//! Ways of the leaves as ways between basins.

use super::Way;
use crate::spaces::{Layout, Pass, Side};

pub(super) fn build(layout: &Layout) -> Vec<Way> {
    let of = |passes: &[Pass], is_in: bool| -> Vec<Way> {
        passes.iter().flat_map(|pass| between_basins(layout, pass, is_in)).collect()
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
    }
}
