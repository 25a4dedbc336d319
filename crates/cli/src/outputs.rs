//! From a design with its solids to all the files of a folder.

mod cautions;
mod checks;
mod fit;
mod index;
mod index_page;
mod index_text;
mod model;
mod page;
mod panels;
mod parts_list;
mod pictures;
pub(crate) mod print;
mod setting_out;
pub(crate) mod shop;
mod strength;
mod tour;
mod water;

use ::fit::Fit;
use design::Design;
use params::{Cutting, File};
use rayon::prelude::*;

pub(crate) use index::show_bytes;
pub(crate) use pictures::draw;
use study::{Part, Reading, Studied};
use study::{Report, Shopped, Strong, Wet};

use crate::file_name::FileName;
use crate::files::{Files, Manifest};

use self::shop::ShopOf;
use index::Index;
use print::Prints;

/// Name of the parameter file's copy.
pub(crate) const PARAMETERS: &str = "parameters.toml";

/// A file on its way into [`Files`]: folder, name, extension, purpose, content.
type Output = (&'static str, FileName, &'static str, String, Vec<u8>);

/// All files of a design with its water, and the manifest that lists them.
///
/// # Errors
/// When a writer refuses: a bug of ours, said rather than hidden.
pub(crate) fn files(
    reading: &Reading,
    wet: &Wet<'_>,
    (fit, strong): (&Fit, &Strong),
    (file, shopped): (&File, &Shopped),
    parts: &[Part<'_>],
    report: &Report<'_>,
    with_pictures: bool,
) -> anyhow::Result<(Files, Manifest)> {
    let design = &wet.design;
    let cutting = &file.cutting;
    let mut files = Files::default();
    let mut outputs: Vec<Vec<Output>> = parts
        .par_iter()
        .map(|part| of_part(design, cutting, part))
        .collect::<anyhow::Result<_>>()?;
    if with_pictures {
        outputs.push(pictures::all(design, fit, parts, wet.known.in_flow.is_some())?);
    }
    outputs.push(fit::of(design, fit, parts, with_pictures)?);
    outputs.push(strength::of(design, strong));
    let scene = with_pictures.then(|| study::scene(design, parts)).transpose()?;
    let scene = scene.as_ref();
    let not_alone = &strong.not_alone[..];
    outputs.push(shop::of(&ShopOf { file, wet, shopped, parts, scene, not_alone })?);
    for (folder, name, extension, purpose, bytes) in outputs.into_iter().flatten() {
        files.add(folder, &name, extension, purpose, bytes);
    }
    model::add(&mut files, design, parts)?;
    let prints = Prints::of(file, design, parts, print::BESIDE);
    prints.add(&mut files)?;
    checks::add(&mut files, design, parts, &prints);
    fit::add_check(&mut files, design, fit, parts);
    strength::add_check(&mut files, design, &wet.known, strong);
    shop::add_check(&mut files, file, design, shopped);
    water::add(&mut files, design, &wet.known);
    let scene = page::scene(design, parts)?;
    let known = Some(&wet.known);
    let studied = Studied { reading, design, parts, scene: &scene, report, known, fit: Some(fit) };
    let show = study::shown::show(&studied);
    let mut shown = vec![page::add(&mut files, &studied, &show, strong)];
    if with_pictures {
        shown.extend(tour::of(&show, &scene, design)?);
    }
    for (folder, name, extension, purpose, bytes) in shown {
        files.add(folder, &name, extension, purpose, bytes);
    }
    files.add_fixed(
        "parts.csv",
        "the parts list, for a spreadsheet",
        parts_list::csv(design, parts),
    );
    files.add_fixed(
        PARAMETERS,
        "the parameter file that all of this was made from",
        report.source.text.as_bytes(),
    );
    let tables = shop::tables(file, design, shopped);
    let index = Index::of(wet, (fit, strong), tables, parts, report, &files);
    let (page, text) = (index_page::write(&index), index_text::write(&index));
    files.add_fixed("index.html", "this overview, for a browser", page);
    files.add_fixed("index.txt", "this overview, as plain text", text);
    let manifest = Manifest::of(&files, PARAMETERS);
    Ok((files, manifest))
}

fn of_part(design: &Design, cutting: &Cutting, part: &Part<'_>) -> anyhow::Result<Vec<Output>> {
    let mut outputs = model::of_part(part)?;
    outputs.extend(panels::of_part(design, cutting, part));
    outputs.extend(print::of_part(part));
    Ok(outputs)
}
