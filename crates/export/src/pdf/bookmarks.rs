//! What readers show beside the pages.

use krilla::destination::XyzDestination;
use krilla::geom::Point;
use krilla::outline::{Outline, OutlineNode};
use paper::Page;

/// The tree of headings, each leading to the top of its page; `None` without any.
pub(super) fn outline(pages: &[Page]) -> Option<Outline> {
    let mut flat: Vec<(u8, OutlineNode)> = Vec::new();
    for (i, page) in pages.iter().enumerate() {
        for (level, words) in &page.bookmarks {
            let top = XyzDestination::new(i, Point::from_xy(0.0, 0.0));
            flat.push((*level, OutlineNode::new(words.clone(), top).with_open(true)));
        }
    }
    if flat.is_empty() {
        return None;
    }
    let mut outline = Outline::new();
    // From the last to the first: what is deeper and follows belongs to the nearest before it.
    let mut below: Vec<(u8, OutlineNode)> = Vec::new();
    for (level, mut node) in flat.into_iter().rev() {
        while let Some((_, child)) = below.pop_if(|(other, _)| *other > level) {
            node.push_child(child);
        }
        below.push((level, node));
    }
    for (_, node) in below.into_iter().rev() {
        outline.push_child(node);
    }
    Some(outline)
}
