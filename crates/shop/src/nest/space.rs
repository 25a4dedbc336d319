//! A sheet being laid: what lies on it, and where there is a place for more.

use super::free::Free;
use super::{Item, Kind, Put, Rect, Size};

/// Which place to take among all that are free; Jylänki 2010, section 2.3 (from memory), lists these and more.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Rule {
    /// Where the shorter of the rests beside it is least.
    ShortRest,
    /// As low as possible, then as far to the left.
    Low,
    /// In the smallest place.
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
    /// Area of all that lies on it, with what lies in rooms.
    pub(super) area: i64,
    /// Area of the sheet and of all rooms on it: no more can lie there.
    room: i64,
    /// For a saw the free rectangles part the rest of the sheet; else they are maximal, and overlap.
    free: Free,
    is_guillotine: bool,
    /// Whether it is known that no cheaper sheet takes what lies on it.
    pub(super) is_settled: bool,
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
        Self {
            kind,
            puts: Vec::new(),
            area: 0,
            room: of.size.area(),
            free: Free::whole(of.size),
            is_guillotine,
            is_settled: false,
        }
    }

    /// The best place for an item, if there is one: the lower left corner of a free rectangle.
    pub(super) fn place(&self, item: &Item, kind: &Kind, rule: Rule) -> Option<Place> {
        if self.room - self.area < item.size.area() {
            return None;
        }
        let mut best: Option<Place> = None;
        for (size, is_turned) in item.lies(kind) {
            for (free, place) in self.free.rects().iter().enumerate() {
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
        self.is_settled = false;
        let put = Put { item: which, rect, is_turned };
        self.puts.push(put);
        if self.is_guillotine {
            let taken = self.free.rects()[free];
            self.free.replace(free, sawn(taken, rect));
            return;
        }
        self.free.take_away(rect);
        self.room += item.rooms.iter().map(|room| room.size.area()).sum::<i64>();
        self.free.extend(put.rooms(item));
    }

    /// Takes over what was laid in another way, on a sheet that is still empty.
    pub(super) fn take(&mut self, puts: Vec<Put>) {
        for put in &puts {
            self.area += put.rect.size.area();
            self.free.take_away(put.rect);
        }
        self.puts = puts;
    }

    /// Area of the largest rectangle that is free.
    pub(super) fn largest_rest(&self) -> i64 {
        self.free.rects().iter().map(|free| free.size.area()).max().unwrap_or(0)
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
