//! Pictures of the sump with water in it.

use anyhow::Context;
use design::Design;
use fit::Fit;
use scene::{Scene, View};
use study::Part;

use super::Output;
use crate::file_name::FileName;

/// Width and height of the pictures in a folder, px.
const SIZE: [usize; 2] = [1600, 1000];

/// One view as PNG.
pub(crate) fn draw(scene: &Scene, view: View, size: [usize; 2]) -> anyhow::Result<Vec<u8>> {
    scene::picture(scene, view, size)
        .with_context(|| format!("cannot draw the view `{}`", view.name()))
}

/// All views. Their words say whether the water is in flow.
pub(super) fn all(
    design: &Design,
    fit: &Fit,
    parts: &[Part<'_>],
    is_in_flow: bool,
) -> anyhow::Result<Vec<Output>> {
    let water = if is_in_flow { "water with the pump running" } else { "water at rest" };
    let scene = study::scene(design, parts)?.on_ways(design, &fit.report);
    let output = |view: View| {
        let caption = format!("{}, {}; {water}", design.title, view.words());
        Ok((
            "pictures",
            FileName::of(view.name(), "view"),
            "png",
            caption,
            draw(&scene, view, SIZE)?,
        ))
    };
    View::ALL.into_iter().map(output).collect()
}
