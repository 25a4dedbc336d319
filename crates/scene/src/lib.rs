//! What is shown: a sump as triangles, edges, water and labels, and the picture of it.
//!
//! Knows looks, cameras and light. Knows no parameter file and no B-rep, and decides nothing about the
//! sump: it only draws. Coordinates are the sump's, in mm: x along it, y from front to back, z up.
//!
//! A picture is made by a rasteriser of our own that runs on any machine without a display and gives
//! the same bytes everywhere: nothing in it depends on the platform's mathematics, on a graphics driver
//! or on the number of threads. Every surface over a pixel is kept and put together in its true order,
//! so that clear sheet behind clear sheet behind water looks as it should.
//!
//! ```no_run
//! # fn run(design: &design::Design, meshes: &[solid::Mesh]) -> Result<(), scene::Error> {
//! use scene::{Scene, View, picture};
//! let scene = Scene::assembled(design, meshes)?;
//! let png: Vec<u8> = picture(&scene, View::Whole, [1600, 1000])?;
//! # Ok(())
//! # }
//! ```

mod annotate;
mod assembly;
mod cabinet;
mod camera;
mod compare;
mod error;
mod from_design;
mod gallery;
mod image;
mod lift;
mod nearest;
mod picture;
mod scene;
mod section;
mod seen;
mod stop;
mod strip;
mod view;

pub use assembly::{Assembly, FeedLine, assembly, draw_assembly};
pub use camera::{Camera, Frame, Lens};
pub use compare::Comparison;
pub use error::{Error, LEAST_SIDE, MOST_SIDE};
pub use gallery::{Exhibit, Heading, draw_gallery, gallery};
pub use image::Image;
pub use picture::render;
pub use scene::{
    Body, Cabinet, CabinetThing, Label, Level, Look, Scene, Side, Topic, Triangle, Water,
};
pub use stop::{Stop, draw_stop, tour};
pub use strip::{draw_strip, strip};
pub use view::{View, draw, picture};
