//! The model with its ways out for viewers, and the page to send that shows and plays everything.

use ::page::html::Bending;
use anyhow::Context;
use design::Design;
use export::plot;
use show::Show;
use strength::Panel;
use study::{Strong, Studied};
use units::Length;

use super::Output;
use crate::file_name::FileName;
use crate::files::Files;

/// Adds `page.html`, and gives the model.
pub(super) fn add(files: &mut Files, of: &Studied<'_>, show: &Show, strong: &Strong) -> Output {
    // The page plays ways from what it is told, so its model carries none.
    let still = ::page::glb::write(of.scene, &[]);
    let in_flow = of.known.and_then(|known| known.in_flow.as_ref());
    let section = in_flow.map_or(String::new(), |flow| plot::long_section(of.design, &flow.report));
    files.add_fixed(
        "page.html",
        "one page to send: the model in 3D, ways out, failures, findings, how panels bend; it needs no network",
        ::page::html::write(show, &still, &section, &bending(of.design, strong)),
    );
    let name = FileName::of(&of.design.title, "sump");
    let purpose = "the whole as meshes with names, looks and ways out as animations; m, y up";
    let moving = ::page::glb::write(of.scene, &::page::glb::animations(show));
    ("model", name, "glb", purpose.to_owned(), moving)
}

/// The drawing of every panel that bends. Things stand in the order of the design's placed parts.
fn bending(design: &Design, strong: &Strong) -> Vec<Bending> {
    let show = |mm: f64| Length::mm(mm).show_fine(design.report);
    let of_panel = |panel: &Panel| Bending {
        thing: panel.placed,
        name: panel.name.clone(),
        note: format!("{} of {}", show(panel.deflection.value), show(panel.deflection_limit_mm)),
        svg: plot::bending(design, panel),
    };
    strong.strength.panels.iter().map(of_panel).collect()
}

/// What is drawn: the sump in its cabinet, every part in its place.
pub(super) fn scene(design: &Design, parts: &[study::Part<'_>]) -> anyhow::Result<scene::Scene> {
    study::scene_to_send(design, parts).context("cannot set up the scene")
}
