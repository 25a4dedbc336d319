//! All that is known of a parameter file, as the command line would have it.

use std::path::Path;

use page::html::Bending;
use scene::Scene;
use show::Show;
use study::{Reading, Source, Studied};

/// Why there is nothing to show.
pub(crate) type Reason = Box<dyn std::error::Error>;

/// Reads a file, lets its water run, takes everything out: the model, what is told, and the long section
/// and the drawings of panels that bend as SVG.
///
/// # Errors
/// When the file gives no sound design, or a part no sound mesh.
pub(crate) fn shown(path: &Path) -> Result<(Scene, Show, String, Vec<Bending>), Reason> {
    let text = std::fs::read_to_string(path)?;
    let reading = Reading::of(Source { name: path.display().to_string(), text });
    let wet = reading.wet().ok_or("the file gives no sound design")?;
    let fitted = reading.fitted().ok_or("the file gives no sound design")?;
    let parts = study::parts::build(&wet.design).map_err(|refusals| format!("{refusals:?}"))?;
    let scene = study::scene_to_send(&wet.design, &parts)?;
    let found = [reading.of_water(Some(&wet)), reading.of_fit(Some(&fitted))].concat();
    let show = study::shown::show(&Studied {
        reading: &reading,
        design: &wet.design,
        parts: &parts,
        scene: &scene,
        report: &reading.report_of_fit(&found, Some(&fitted.fit)),
        known: Some(&wet.known),
        fit: Some(&fitted.fit),
    });
    let in_flow = wet.known.in_flow.as_ref();
    let section =
        in_flow.map_or(String::new(), |f| export::plot::long_section(&wet.design, &f.report));
    let strong = reading.strong(Some(&wet)).ok_or("the file gives no sound design")?;
    let bending = strong.strength.panels.iter().map(|panel| Bending {
        thing: panel.placed,
        name: panel.name.clone(),
        note: format!("{:.2} mm", panel.deflection.value),
        svg: export::plot::bending(&wet.design, panel),
    });
    Ok((scene, show, section, bending.collect()))
}
