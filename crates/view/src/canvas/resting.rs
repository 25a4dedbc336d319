//! Which bodies rest in their places, and which are elsewhere or picked out.

use fit::Rigid;
use show::ThingId;
use three_d::{Context, ElementBuffer};

use super::figure::{Figure, Store};
use super::picture::Picture;

/// What of all bodies is drawn: all that rests at once, the others one by one. It stays the same while one turns the
/// model, so that few calls draw a frame.
pub(super) struct Resting {
    key: Vec<bool>,
    /// Broad faces and those on a sheet's thickness.
    pub(super) opaque: [ElementBuffer<u32>; 2],
    pub(super) clear: [ElementBuffer<u32>; 2],
    pub(super) lines: ElementBuffer<u32>,
    /// The others, by [`Resting::follow`].
    pub(super) strays: Vec<Stray>,
}

/// A body that is not simply in its place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Stray {
    pub(super) thing: ThingId,
    pub(super) place: Rigid,
    /// How much it is marked as what moves, and as what is picked, 0 to 1.
    pub(super) lit: [f32; 2],
}

impl Resting {
    /// Of nothing yet.
    pub(super) fn new(context: &Context) -> Self {
        let none = || ElementBuffer::new(context);
        Self {
            key: Vec::new(),
            opaque: [none(), none()],
            clear: [none(), none()],
            lines: none(),
            strays: Vec::new(),
        }
    }

    /// Makes ready for a picture.
    pub(super) fn follow(&mut self, context: &Context, store: &Store, picture: &Picture) {
        let (mut key, mut strays) = (vec![false; store.figures.len()], Vec::new());
        for (thing, (is_resting, place)) in key.iter_mut().zip(&picture.places).enumerate() {
            let Some(place) = *place else { continue };
            let lit = lit(picture, thing);
            if place == Rigid::HOME && lit.iter().all(|share| *share <= 0.0) {
                *is_resting = true;
            } else {
                strays.push(Stray { thing, place, lit });
            }
        }
        self.strays = strays;
        if key == self.key {
            return;
        }
        let rest = |is_wanted: &dyn Fn(&Figure) -> bool| -> Vec<&Figure> {
            let at_rest = store.figures.iter().zip(&key).filter(|(_, is_resting)| **is_resting);
            at_rest.map(|(figure, _)| figure).filter(|figure| is_wanted(figure)).collect()
        };
        let faces = |is_clear: bool| {
            let figures = rest(&|figure| figure.is_clear == is_clear);
            let broad = figures.iter().map(|figure| figure.broad.clone());
            let rims = figures.iter().map(|figure| figure.rims.clone());
            let triangles = &store.faces.triangles;
            [triangles.some(context, broad), triangles.some(context, rims)]
        };
        (self.opaque, self.clear) = (faces(false), faces(true));
        let ranges = rest(&|_| true).into_iter().map(|figure| figure.lines.clone());
        self.lines = store.lines.triangles.some(context, ranges);
        self.key = key;
    }
}

/// Of what neither moves nor is picked.
pub(super) const NOT_LIT: [f32; 2] = [0.0, 0.0];

/// How much a thing is marked as what moves, and as what is picked; of what is both it shows that it moves.
fn lit(picture: &Picture, thing: ThingId) -> [f32; 2] {
    if picture.moving.contains(&thing) {
        [1.0, 0.0]
    } else if picture.picked == Some(thing) {
        [0.0, 1.0]
    } else {
        NOT_LIT
    }
}
