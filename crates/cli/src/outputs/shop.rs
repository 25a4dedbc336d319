//! What goes to the shop and what the maker glues by: sheets, papers, and one file with all that a shop needs.

mod check;
mod papers;
mod sheets;

use anyhow::Context;
use design::Design;
use export::packed;
use params::File;
use scene::Scene;
use study::told::table::Table;
use study::told::{costs, gluing, sheets as told};
use study::{Part, Shopped, Wet};

use super::{Output, panels};
use crate::file_name::FileName;

pub(super) use check::add as add_check;
pub(crate) use check::sheets_json;

/// The folder of the package.
const FOLDER: &str = "shop";
/// Papers for the maker alone.
const NOT_FOR_THE_SHOP: [&str; 4] = ["glue-up-guide", "commissioning", "background-film", "costs"];

/// What the package is made of.
#[derive(Clone, Copy)]
pub(crate) struct ShopOf<'a> {
    /// The file.
    pub(crate) file: &'a File,
    /// The water, with the design that has everything engraved.
    pub(crate) wet: &'a Wet<'a>,
    /// What the shop does.
    pub(crate) shopped: &'a Shopped,
    /// All parts.
    pub(crate) parts: &'a [Part<'a>],
    /// What steps are drawn from; without it the guide to gluing has no pictures.
    pub(crate) scene: Option<&'a Scene>,
    /// Names of leaves that must not hold water on one side alone.
    pub(crate) not_alone: &'a [String],
}

/// Sheets, papers, and the file for the shop.
pub(crate) fn of(of: &ShopOf<'_>) -> anyhow::Result<Vec<Output>> {
    let (mut outputs, layers) = sheets::of(of.file, &of.wet.design, of.shopped);
    outputs.extend(papers::of(of, &layers)?);
    let packed = package(of, &outputs)?;
    outputs.push(packed);
    Ok(outputs)
}

/// All that a shop needs, in one file. The letter stands first.
fn package(of: &ShopOf<'_>, outputs: &[Output]) -> anyhow::Result<Output> {
    let panels: Vec<Output> = of
        .parts
        .iter()
        .flat_map(|part| panels::of_part(&of.wet.design, &of.file.cutting, part))
        .collect();
    let is_for_shop = |output: &&Output| {
        let name = output.1.to_string();
        !NOT_FOR_THE_SHOP.contains(&name.as_str())
    };
    let path = |(folder, name, extension, ..): &Output, is_sheet: bool| match (*folder, is_sheet) {
        (FOLDER, true) => format!("sheets/{name}.{extension}"),
        (FOLDER, false) => format!("{name}.{extension}"),
        (folder, _) => format!("{folder}/{name}.{extension}"),
    };
    let all = outputs.iter().filter(is_for_shop).chain(&panels);
    let mut files: Vec<(String, &[u8])> =
        all.map(|output| (path(output, output.2 != "pdf"), &output.4[..])).collect();
    // Papers before sheets before single panels; the letter before all.
    files.sort_by_key(|(path, _)| {
        let depth = path.matches('/').count() + usize::from(path.starts_with("panels/"));
        (depth, !path.starts_with("letter"), path.clone())
    });
    let files = files.iter().map(|(path, bytes)| (path.as_str(), *bytes));
    let packed = packed::write(files).context("cannot pack the files for the shop")?;
    let name = FileName::of("for-the-shop", "package");
    let purpose = "all that a shop needs, packed: the letter, drawings, sheets and single panels";
    Ok((FOLDER, name, "zip", purpose.to_owned(), packed))
}

/// What is told of the package.
pub(crate) fn tables(file: &File, design: &Design, shopped: &Shopped) -> Vec<Table> {
    vec![
        told::table(design, shopped, &file.costs.currency),
        costs::table(&shopped.estimate),
        costs::times(&shopped.estimate, design.report),
        gluing::table(design, &shopped.glue_up),
    ]
}
