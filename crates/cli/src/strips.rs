//! The film strips of ways out.

use std::sync::atomic::{AtomicUsize, Ordering};

use anyhow::Context;
use design::{Design, RemovableId, RemovableKind};
use fit::{Fit, Way};
use rayon::prelude::*;
use scene::Scene;
use study::parts::Part;

use crate::file_name::FileName;
use crate::fit_files::FitFile;

/// Width and height of a film strip, px.
const SIZE: [usize; 2] = [1600, 1000];

/// A film strip of every way out that is asked for and known. `tell` hears which is drawn next, from 1, and of how many.
pub(crate) fn of(
    fit: &Fit,
    design: &Design,
    parts: &[Part<'_>],
    asked: &[RemovableId],
    tell: impl Fn(usize, usize) + Sync,
) -> anyhow::Result<Vec<FitFile>> {
    let scene = study::surrounded(study::scene(design, parts)?, design)?;
    let is_asked = |way: &&Way| asked.contains(&way.removable) && !way.steps.is_empty();
    let ways: Vec<&Way> = fit.report.ways.iter().filter(is_asked).collect();
    let begun = AtomicUsize::new(0);
    let draw = |way: &&Way| {
        tell(begun.fetch_add(1, Ordering::Relaxed) + 1, ways.len());
        strip(&scene, design, way)
    };
    let strips: Vec<Option<FitFile>> = ways.par_iter().map(draw).collect::<anyhow::Result<_>>()?;
    Ok(strips.into_iter().flatten().collect())
}

/// The film strip of one way; none where no way is known.
fn strip(scene: &Scene, design: &Design, way: &Way) -> anyhow::Result<Option<FitFile>> {
    let Some((step, before)) = way.steps.split_last() else { return Ok(None) };
    let is_sump = design.removables[way.removable].kind == RemovableKind::Sump;
    let gone: Vec<RemovableId> = if is_sump {
        (0..way.removable).collect() // it goes empty
    } else {
        let before = before.iter().map(|step| step.removable);
        instead_of(design, way.removable).into_iter().chain(before).collect()
    };
    let bytes = scene::strip(scene, design, step, &gone, SIZE)
        .with_context(|| format!("cannot draw the way out of `{}`", step.name))?;
    Ok(Some(FitFile {
        name: FileName::numbered(&format!("{:02}", way.removable + 1), &step.name),
        extension: "png",
        purpose: format!("{}: its way out, move by move", step.name),
        bytes,
    }))
}

/// What stands in the place of a leaf that is not in.
pub(crate) fn instead_of(design: &Design, which: RemovableId) -> Option<RemovableId> {
    design.removables.get(which)?.instead_of
}
