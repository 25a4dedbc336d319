//! What is free on a sheet.

use super::{Item, Kind, Put, Rect, Size, deal};

/// Where to put an item among all places that are free.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Rule {
    /// Where the shorter of the rests beside it is least.
    ShortRest,
    /// As low as possible, then as far to the left.
    Low,
    /// Where the smallest place is.
    Snug,
}

impl Rule {
    pub(super) const ALL: [Self; 3] = [Self::ShortRest, Self::Low, Self::Snug];

    fn score(self, free: Rect, size: Size) -> (i64, i64) {
        let rests = [free.size.width - size.width, free.size.height - size.height].map(i64::from);
        let [short, long] = [rests[0].min(rests[1]), rests[0].max(rests[1])];
        match self {
            Self::ShortRest => (short, long),
            Self::Low => (i64::from(free.y + size.height), i64::from(free.x)),
            Self::Snug => (free.size.area() - size.area(), short),
        }
    }
}

/// A sheet being laid.
#[derive(Clone, Debug)]
pub(super) struct Laid {
    pub(super) kind: usize,
    pub(super) puts: Vec<Put>,
    /// Covered area.
    pub(super) area: i64,
    /// Free rectangles: for a saw they part the rest of the sheet; else they are all the largest that there are, and overlap.
    free: Vec<Rect>,
    is_guillotine: bool,
}

/// A place for an item, and how well it suits; less is better.
#[derive(Clone, Copy, Debug)]
pub(super) struct Place {
    pub(super) score: (i64, i64),
    free: usize,
    rect: Rect,
    is_turned: bool,
}

impl Laid {
    /// Nothing lies on it.
    pub(super) fn empty(kind: usize, of: &Kind, is_guillotine: bool) -> Self {
        let whole = Rect { x: 0, y: 0, size: of.size };
        Self { kind, puts: Vec::new(), area: 0, free: vec![whole], is_guillotine }
    }

    /// The best place for an item, if there is one.
    pub(super) fn place(&self, item: &Item, kind: &Kind, rule: Rule) -> Option<Place> {
        let mut best: Option<Place> = None;
        for (size, is_turned) in deal::lies(item, kind) {
            for (free, place) in self.free.iter().enumerate() {
                if !size.lies_in(place.size) {
                    continue;
                }
                let score = rule.score(*place, size);
                if best.is_none_or(|best| score < best.score) {
                    let rect = Rect { x: place.x, y: place.y, size };
                    best = Some(Place { score, free, rect, is_turned });
                }
            }
        }
        best
    }

    /// Puts an item there.
    pub(super) fn put(&mut self, which: usize, item: &Item, place: Place) {
        let Place { rect, is_turned, free, .. } = place;
        self.area += rect.size.area();
        self.puts.push(Put { item: which, rect, is_turned });
        if self.is_guillotine {
            let taken = self.free.swap_remove(free);
            self.free.extend(sawn(taken, rect));
            return;
        }
        self.take_away(rect);
        for room in &item.rooms {
            let room = if is_turned { room.turned_in(item.size) } else { *room };
            self.free.push(room.moved(rect.x, rect.y));
        }
    }

    /// Takes a rectangle out of all that is free.
    fn take_away(&mut self, rect: Rect) {
        let mut pieces = Vec::new();
        self.free.retain(|free| {
            if !free.overlaps(rect) {
                return true;
            }
            let (across, up) = ([free.x, free.right()], [free.y, free.top()]);
            pieces.extend(
                [
                    Rect::between([across[0], rect.x], up),
                    Rect::between([rect.right(), across[1]], up),
                    Rect::between(across, [up[0], rect.y]),
                    Rect::between(across, [rect.top(), up[1]]),
                ]
                .into_iter()
                .flatten(),
            );
            false
        });
        // A rectangle that was free before lies in none of the new pieces.
        let old = self.free.len();
        for (k, piece) in pieces.iter().enumerate() {
            let is_within = |other: &Rect| other.contains(*piece);
            let of_old = self.free[..old].iter().any(is_within);
            let of_new = pieces
                .iter()
                .enumerate()
                .any(|(j, other)| j != k && is_within(other) && (other != piece || j < k));
            if !of_old && !of_new {
                self.free.push(*piece);
            }
        }
    }

    /// Takes over what was laid in another way, on a sheet that is still empty.
    pub(super) fn take(&mut self, puts: Vec<Put>) {
        for put in &puts {
            self.area += put.rect.size.area();
            self.take_away(put.rect);
        }
        self.puts = puts;
    }

    /// The largest rectangle that is free, by area.
    pub(super) fn largest_rest(&self) -> i64 {
        self.free.iter().map(|free| free.size.area()).max().unwrap_or(0)
    }
}

/// What is left of a free rectangle when a saw cuts one out of its lower left corner: so that the larger rest is as large
/// as it can be.
fn sawn(free: Rect, taken: Rect) -> impl Iterator<Item = Rect> {
    let (across, up) = ([free.x, free.right()], [free.y, free.top()]);
    let upright = [
        Rect::between([taken.right(), across[1]], up),
        Rect::between([across[0], taken.right()], [taken.top(), up[1]]),
    ];
    let level = [
        Rect::between(across, [taken.top(), up[1]]),
        Rect::between([taken.right(), across[1]], [up[0], taken.top()]),
    ];
    let larger = |rests: &[Option<Rect>; 2]| {
        rests.iter().flatten().map(|rest| rest.size.area()).max().unwrap_or(0)
    };
    let rests = if larger(&level) <= larger(&upright) { upright } else { level };
    rests.into_iter().flatten()
}
