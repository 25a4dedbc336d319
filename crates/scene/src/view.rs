//! The views of a sump that pictures are made of.

use glam::{DVec3, dvec3};

use crate::Error;
use crate::annotate::{NamePlace, Notes, Style, annotate};
use crate::camera::{Camera, Lens};
use crate::error::{LEAST_SIDE, MOST_SIDE};
use crate::image::Image;
use crate::picture::render;
use crate::scene::{Body, Label, Look, Scene, Topic};

/// Where a sump is looked at from, and what is done to it before.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum View {
    /// All of it, from the front, the left and above.
    Whole,
    /// From straight above.
    Above,
    /// Cut along its length, from the front, with the water levels.
    Section,
    /// All of it, with what can be taken out drawn on its way out.
    Lifted,
}

impl View {
    /// All views.
    pub const ALL: [Self; 4] = [Self::Whole, Self::Above, Self::Section, Self::Lifted];

    /// A short name, good for a file: `section`.
    pub fn name(self) -> &'static str {
        match self {
            Self::Whole => "whole",
            Self::Above => "above",
            Self::Section => "section",
            Self::Lifted => "lifted",
        }
    }

    /// What the view shows, in words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Whole => "from the front",
            Self::Above => "from above",
            Self::Section => "cut along the length; levels above the inside of the bottom",
            Self::Lifted => "with the loose parts lifted out",
        }
    }

    fn direction(self) -> DVec3 {
        match self {
            Self::Whole => dvec3(-0.46, -1.0, 0.60),
            Self::Above => DVec3::Z,
            Self::Section => -DVec3::Y,
            Self::Lifted => dvec3(-0.46, -1.0, 0.42),
        }
    }

    fn lens(self) -> Lens {
        match self {
            Self::Whole | Self::Lifted => Lens::Perspective,
            Self::Above | Self::Section => Lens::Parallel,
        }
    }

    fn up(self) -> DVec3 {
        if self == Self::Above { DVec3::Y } else { DVec3::Z }
    }

    fn names(self) -> NamePlace {
        match self {
            Self::Whole => NamePlace::Front,
            Self::Above => NamePlace::Floor,
            Self::Section => NamePlace::Section,
            Self::Lifted => NamePlace::Nowhere,
        }
    }

    /// Whether a label says something in this view.
    fn names_topic(self, label: &Label, scene: &Scene) -> bool {
        let is_loose =
            label.body.is_some_and(|b| scene.bodies.get(b).is_some_and(|b| b.way.is_some()));
        match self {
            Self::Whole => true,
            Self::Above | Self::Section => label.topic != Topic::Wall,
            Self::Lifted => is_loose,
        }
    }
}

/// Colour of a wall that is drawn as if one could see through it.
const GHOST: [u8; 3] = [206, 208, 208];

/// Said in the caption when a wall is drawn as if one could see through it.
const OPENED: &str = "; the opaque front wall drawn clear";

/// The scene with an opaque front wall made clear, and whether there was one: behind it nothing
/// else would show.
pub(crate) fn opened(mut scene: Scene) -> (Scene, bool) {
    let outside = scene.outside;
    let is_front = |body: &Body| {
        body.bounds().is_some_and(|[lo, hi]| {
            let size = hi - lo;
            !body.look.is_clear
                && hi.y < 0.15 * outside.y
                && size.x > 0.8 * outside.x
                && size.z > 0.5 * outside.z
        })
    };
    let mut is_opened = false;
    for body in scene.bodies.iter_mut().filter(|b| is_front(b)) {
        body.look = Look { colour: GHOST, is_clear: true };
        is_opened = true;
    }
    (scene, is_opened)
}

/// A picture of a scene, `size` (width, height) in px, as a PNG file. The same bytes on any machine.
///
/// # Errors
/// When a side is shorter than [`LEAST_SIDE`] or longer than [`MOST_SIDE`].
pub fn picture(scene: &Scene, view: View, size: [usize; 2]) -> Result<Vec<u8>, Error> {
    draw(scene, view, size)?.to_png()
}

/// The pixels of [`picture`].
///
/// # Errors
/// As [`picture`].
pub fn draw(scene: &Scene, view: View, size: [usize; 2]) -> Result<Image, Error> {
    if size.iter().any(|side| !(LEAST_SIDE..=MOST_SIDE).contains(side)) {
        return Err(Error::Size { width: size[0], height: size[1] });
    }
    let (scene, is_opened) = match view {
        View::Section => (scene.cut(scene.section_y), false),
        View::Above => (scene.clone(), false),
        View::Whole => opened(scene.clone()),
        View::Lifted => opened(scene.lifted()),
    };
    let scene = &scene;
    let style = Style::new(size);
    let labels = labels(scene, view, style.most_labels(size));
    let room = style.drawing_room(&labels, view.lens(), size);
    let camera = Camera::framed(view.direction(), view.up(), view.lens(), &scene.points(), room);
    let image = render(scene, &camera, size, style.line_px());
    let mut words = view.words().to_owned();
    if view == View::Lifted {
        words += &staying(scene);
    }
    if is_opened {
        words += OPENED;
    }
    let notes =
        Notes { view: Some(&words), names: view.names(), has_levels: view == View::Section };
    Ok(annotate(&image, scene, &labels, &camera, &style, notes))
}

/// Says what is loose and yet not lifted out, if anything.
fn staying(scene: &Scene) -> String {
    let stays = |label: &&Label| {
        let body = label.body.and_then(|i| scene.bodies.get(i));
        body.is_some_and(|body| body.way.is_some() && body.lifted_to().is_none())
    };
    let names: Vec<&str> =
        scene.labels.iter().filter(stays).map(|label| label.text.as_str()).collect();
    if names.is_empty() {
        String::new()
    } else {
        format!("; no way out is known: {}", fit::listed(&names))
    }
}

/// The labels of a view, the most important first, not too many.
fn labels(scene: &Scene, view: View, most: usize) -> Vec<Label> {
    let mut labels: Vec<Label> =
        scene.labels.iter().filter(|l| view.names_topic(l, scene)).cloned().collect();
    labels.sort_by_key(|l| l.topic);
    labels.truncate(most);
    labels
}
