//! The model with its ways out for viewers, and the page to send that shows and plays everything.

use anyhow::Context;
use export::plot;
use show::Show;
use study::Studied;

use super::Output;
use crate::file_name::FileName;
use crate::files::Files;

/// Adds `page.html`, and gives the model.
pub(super) fn add(files: &mut Files, of: &Studied<'_>, show: &Show) -> Output {
    // The page plays ways from what it is told, so its model carries none.
    let still = ::page::glb::write(of.scene, &[]);
    let in_flow = of.known.and_then(|known| known.in_flow.as_ref());
    let section = in_flow.map_or(String::new(), |flow| plot::long_section(of.design, &flow.report));
    files.add_fixed(
        "page.html",
        "one page to send: the model in 3D, ways out, failures, findings; it needs no network",
        ::page::html::write(show, &still, &section),
    );
    let name = FileName::of(&of.design.title, "sump");
    let purpose = "the whole as meshes with names, looks and ways out as animations; m, y up";
    let moving = ::page::glb::write(of.scene, &::page::glb::animations(show));
    ("model", name, "glb", purpose.to_owned(), moving)
}

/// What is drawn: the sump in its cabinet, every part in its place.
pub(super) fn scene(
    design: &design::Design,
    parts: &[study::Part<'_>],
) -> anyhow::Result<scene::Scene> {
    study::scene_to_send(design, parts).context("cannot set up the scene")
}
