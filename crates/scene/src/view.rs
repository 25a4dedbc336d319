//! The views of a sump that pictures are made of.

use glam::{DVec3, dvec3};

use crate::Error;
use crate::annotate::{NamePlace, Notes, Style, annotate};
use crate::camera::{Camera, Lens};
use crate::error::{LEAST_SIDE, MOST_SIDE};
use crate::image::Image;
use crate::picture::render;
use crate::scene::{Label, Scene, Topic};

/// Where a sump is looked at from, and what is done to it before.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum View {
    /// All of it, from the front, the left and above.
    Whole,
    /// From straight above.
    Above,
    /// Cut along its length, from the front, with the water levels.
    Section,
    /// All of it, with what can be taken out drawn above its place.
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
            Self::Whole => "whole",
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
        let is_loose = label.body.is_some_and(|b| scene.bodies.get(b).is_some_and(|b| b.lift_mm.is_some()));
        match self {
            Self::Whole | Self::Section => true,
            Self::Above => label.topic != Topic::Wall,
            Self::Lifted => is_loose,
        }
    }
}

/// Most labels in one picture; more would be hard to find one's way in.
const MOST_LABELS: usize = 16;

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
    let changed = match view {
        View::Section => Some(scene.cut(scene.section_y)),
        View::Lifted => Some(scene.lifted()),
        View::Whole | View::Above => None,
    };
    let scene = changed.as_ref().unwrap_or(scene);
    let style = Style::new(size);
    let labels = labels(scene, view);
    let room = style.drawing_room(&labels, size);
    let camera = Camera::framed(view.direction(), view.up(), view.lens(), &scene.points(), room);
    let image = render(scene, &camera, size, style.line_px());
    let notes =
        Notes { view: view.words(), names: view.names(), has_levels: view == View::Section };
    Ok(annotate(&image, scene, &labels, &camera, &style, notes))
}

/// The labels of a view, the most important first, not too many.
fn labels(scene: &Scene, view: View) -> Vec<Label> {
    let mut labels: Vec<Label> =
        scene.labels.iter().filter(|l| view.names_topic(l, scene)).cloned().collect();
    labels.sort_by_key(|l| l.topic);
    labels.truncate(MOST_LABELS);
    labels
}
