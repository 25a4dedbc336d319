//! How an item may lie on a kind of sheet.

use super::{Item, Kind, Size};

/// The sizes that an item has on a kind of sheet where it fits, with whether it is turned.
pub(super) fn lies<'a>(item: &'a Item, kind: &'a Kind) -> impl Iterator<Item = (Size, bool)> + 'a {
    let turned = item.turns && kind.turns && item.size.width != item.size.height;
    [(item.size, false), (item.size.turned(), true)]
        .into_iter()
        .filter(move |(size, is_turned)| (!is_turned || turned) && size.lies_in(kind.size))
}
