//! Pieces of a part that lie together. Most of a part is far from most obstacles; a few boxes show that sooner than
//! hundreds of pieces.

use glam::DVec3;

use super::body::bounds;

/// Pieces at most in one cluster; measured on socks and their holders, of 8 to 171 pieces: 6 are
/// a twentieth slower.
const MOST_PIECES: usize = 16;

/// Some pieces, and the box around them in the part's place.
#[derive(Clone, Debug)]
pub(crate) struct Cluster {
    pub(crate) around: Block,
    /// Indices of the pieces.
    pub(crate) pieces: Vec<u32>,
}

/// A box along the axes of the part's place.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Block {
    pub(crate) middle: DVec3,
    /// Half its size.
    pub(crate) half: DVec3,
}

impl Block {
    /// Around points.
    pub(crate) fn around(points: impl Iterator<Item = DVec3>) -> Self {
        let [lo, hi] = bounds(points);
        Self { middle: (lo + hi) / 2.0, half: (hi - lo) / 2.0 }
    }

    pub(crate) fn corners(&self) -> [DVec3; 8] {
        [0u8, 1, 2, 3, 4, 5, 6, 7].map(|i| {
            let sign = |bit: u8| if i & bit == 0 { -1.0 } else { 1.0 };
            self.middle + self.half * DVec3::new(sign(1), sign(2), sign(4))
        })
    }
}

/// All pieces in clusters: halved across the longest side of the box around their middles until they are few.
pub(crate) fn clusters(blocks: &[Block]) -> Vec<Cluster> {
    let mut found = Vec::new();
    split(blocks, (0u32..).take(blocks.len()).collect(), &mut found);
    found
}

fn split(blocks: &[Block], mut some: Vec<u32>, found: &mut Vec<Cluster>) {
    if some.len() <= MOST_PIECES {
        let corners = some.iter().flat_map(|k| {
            let Block { middle, half } = blocks[*k as usize];
            [middle - half, middle + half]
        });
        found.push(Cluster { around: Block::around(corners), pieces: some });
        return;
    }
    let middle = |k: u32| blocks[k as usize].middle;
    let size = Block::around(some.iter().map(|k| middle(*k))).half;
    let axis = (0..3).max_by(|a, b| size[*a].total_cmp(&size[*b])).unwrap_or(0);
    some.sort_by(|a, b| middle(*a)[axis].total_cmp(&middle(*b)[axis]).then(a.cmp(b)));
    let rest = some.split_off(some.len() / 2);
    split(blocks, some, found);
    split(blocks, rest, found);
}
