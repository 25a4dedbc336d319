//! Rectangles of whole numbers.

/// Width and height.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Size {
    /// Along x.
    pub width: i32,
    /// Along y.
    pub height: i32,
}

impl Size {
    /// Its area.
    pub fn area(self) -> i64 {
        i64::from(self.width) * i64::from(self.height)
    }

    /// Turned by 90°.
    pub fn turned(self) -> Self {
        Self { width: self.height, height: self.width }
    }

    /// Whether it lies within another as it is.
    pub fn lies_in(self, other: Self) -> bool {
        self.width <= other.width && self.height <= other.height
    }
}

/// A rectangle somewhere.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Rect {
    /// Its left side.
    pub x: i32,
    /// Its lower side.
    pub y: i32,
    /// Its size.
    pub size: Size,
}

impl Rect {
    /// Its right side.
    pub fn right(self) -> i32 {
        self.x + self.size.width
    }

    /// Its upper side.
    pub fn top(self) -> i32 {
        self.y + self.size.height
    }

    /// Whether they share more than a side.
    pub fn overlaps(self, other: Self) -> bool {
        self.x < other.right()
            && other.x < self.right()
            && self.y < other.top()
            && other.y < self.top()
    }

    /// Whether another lies within it.
    pub fn contains(self, other: Self) -> bool {
        self.x <= other.x
            && self.y <= other.y
            && other.right() <= self.right()
            && other.top() <= self.top()
    }

    /// The least rectangle around both.
    pub(super) fn hull(self, other: Self) -> Self {
        let [x, y] = [self.x.min(other.x), self.y.min(other.y)];
        let [right, top] = [self.right().max(other.right()), self.top().max(other.top())];
        Self { x, y, size: Size { width: right - x, height: top - y } }
    }

    /// From side to side.
    pub(super) fn between([x, right]: [i32; 2], [y, top]: [i32; 2]) -> Option<Self> {
        let size = Size { width: right - x, height: top - y };
        (0 < size.width && 0 < size.height).then_some(Self { x, y, size })
    }

    /// Within an item of this size, after the item was turned by 90°, counter-clockwise.
    pub(super) fn turned_in(self, item: Size) -> Self {
        Self { x: item.height - self.top(), y: self.x, size: self.size.turned() }
    }

    /// Moved.
    pub(super) fn moved(self, x: i32, y: i32) -> Self {
        Self { x: self.x + x, y: self.y + y, ..self }
    }
}
