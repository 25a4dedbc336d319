//! The folder `tour/`.

use design::Design;
use scene::Scene;
use show::Show;

use super::Output;
use crate::tour_files::{self, TourFile};

/// A picture of every stop, and the page that leads through them.
pub(super) fn of(show: &Show, scene: &Scene, design: &Design) -> anyhow::Result<Vec<Output>> {
    let output = |file: TourFile| ("tour", file.name, file.extension, file.purpose, file.bytes);
    Ok(tour_files::of(show, scene, design)?.into_iter().map(output).collect())
}
