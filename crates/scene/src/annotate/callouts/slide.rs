//! Moves places along their edge, to make leaders straighter.

use super::ports::{Edge, Port};
use super::{Callout, Layout, ROOM_BETWEEN, Wanted, are_clear, passes};
use crate::camera::Frame;

/// Moves places along their rows and columns towards the points, in the same order. An edge whose
/// leaders would then get in each other's way stays as it is; without room for its texts, labels go.
pub(super) fn slide(
    placed: Vec<(usize, Port)>,
    wanted: &[Wanted],
    layout: &Layout,
    blocked: &[Frame],
) -> Vec<Callout> {
    let callout = |&(i, port): &(usize, Port)| port.callout(i, &wanted[i], layout);
    let through = |callouts: &[Callout]| -> usize {
        let lines = callouts.iter().map(|c| [c.anchor, c.port]);
        lines.map(|line| blocked.iter().filter(|frame| passes(line, frame)).count()).sum()
    };
    let mut settled = placed;
    for edge in [Edge::Left, Edge::Right, Edge::Above, Edge::Below] {
        for share in [1.0, 0.6, 0.3] {
            let mut moved = settled.clone();
            slide_edge(&mut moved, edge, share, wanted, layout);
            let callouts: Vec<Callout> = moved.iter().map(callout).collect();
            let before: Vec<Callout> = settled.iter().map(callout).collect();
            if are_clear(&callouts, layout.line) && through(&callouts) <= through(&before) {
                settled = moved;
                break;
            }
        }
    }
    let mut kept: Vec<Callout> = Vec::new();
    for callout in settled.iter().map(callout) {
        let fits = layout.paper.grown(1e-6).contains(&callout.text);
        if fits && !kept.iter().any(|k| k.text_touches(&callout, layout.line)) {
            kept.push(callout);
        }
    }
    kept
}

/// Moves the places of one edge a share of the way to where they would be best.
fn slide_edge(
    placed: &mut [(usize, Port)],
    edge: Edge,
    share: f64,
    wanted: &[Wanted],
    layout: &Layout,
) {
    let is_row = matches!(edge, Edge::Above | Edge::Below);
    let axis = usize::from(!is_row);
    let mut members: Vec<usize> = (0..placed.len()).filter(|&i| placed[i].1.edge == edge).collect();
    members.sort_by(|&a, &b| placed[a].1.at[axis].total_cmp(&placed[b].1.at[axis]));
    let size = |i: usize| {
        if is_row { wanted[placed[i].0].width + ROOM_BETWEEN * layout.line } else { layout.line }
    };
    let items: Vec<[f64; 2]> =
        members.iter().map(|&i| [wanted[placed[i].0].anchor[axis], size(i)]).collect();
    let bounds = if is_row {
        // Texts may reach the paper's edge; the room between them need not.
        [
            layout.paper.min.x - 0.5 * ROOM_BETWEEN * layout.line,
            layout.paper.max.x + 0.5 * ROOM_BETWEEN * layout.line,
        ]
    } else {
        [layout.drawing.min.y, layout.drawing.max.y]
    };
    for (&i, at) in members.iter().zip(side_by_side(&items, bounds)) {
        placed[i].1.at[axis] += share * (at - placed[i].1.at[axis]);
    }
}

/// Middles of items `[wished middle, size]` that keep their order, do not overlap, lie within bounds
/// and have the least sum of squared distances from the wishes: by pooling neighbours that would
/// overlap (Barlow et al., *Statistical Inference under Order Restrictions*, 1972).
fn side_by_side(items: &[[f64; 2]], bounds: [f64; 2]) -> Vec<f64> {
    let mut before = 0.0;
    let mut offsets = Vec::with_capacity(items.len());
    for &[_, size] in items {
        offsets.push(before + 0.5 * size);
        before += size;
    }
    // With the room of all items before it taken off, an item may be anywhere not before the last.
    let mut pools: Vec<(f64, f64)> = Vec::new();
    for (&[wish, _], offset) in items.iter().zip(&offsets) {
        let mut pool = (wish - offset, 1.0);
        while let Some(&(mean, count)) = pools.last()
            && mean > pool.0
        {
            pools.pop();
            pool = ((mean * count + pool.0 * pool.1) / (count + pool.1), count + pool.1);
        }
        pools.push(pool);
    }
    let (first, last) = (bounds[0], (bounds[1] - before).max(bounds[0]));
    let starts = pools.iter().flat_map(|&(mean, count)| {
        (0..).map(f64::from).take_while(move |i| *i < count).map(move |_| mean.clamp(first, last))
    });
    starts.zip(&offsets).map(|(start, offset)| start + offset).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn items_stand_side_by_side_near_their_wishes() {
        let at = side_by_side(&[[10.0, 4.0], [11.0, 4.0], [40.0, 6.0]], [0.0, 100.0]);
        assert!((at[0] - 8.5).abs() < 1e-9 && (at[1] - 12.5).abs() < 1e-9);
        assert!((at[2] - 40.0).abs() < 1e-9);
        let squeezed = side_by_side(&[[-50.0, 4.0], [500.0, 4.0]], [0.0, 100.0]);
        assert!((squeezed[0] - 2.0).abs() < 1e-9 && (squeezed[1] - 98.0).abs() < 1e-9);
    }
}
