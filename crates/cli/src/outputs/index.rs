//! The index of a folder: the page that a keeper opens first. What it says is gathered here once; it
//! is written as a page for a browser and as plain text.

use design::Design;
use fit::Fit;
use study::InFlow;
use study::Part;
use study::Report;
use study::Strong;
use study::Wet;
use study::told;
use study::told::course::{self, Course};
use study::told::figures::Figures;
use study::told::heights;
use study::told::table::Table;
use units::{Length, Volume};
use water::Outcome;

use super::cautions::{self, Caution};
use super::parts_list;
use super::setting_out::{self, Setting};
use crate::draw::{self, Style};
use crate::file_name::FileName;
use crate::files::Files;
use crate::fit_files::{self, Words};

/// What the index says.
#[derive(Debug)]
pub(crate) struct Index<'a> {
    pub(crate) title: &'a str,
    pub(crate) outside: String,
    /// Numbers of findings of each grade, in words.
    pub(crate) summary: String,
    /// What is not checked, a sentence each.
    pub(crate) not_checked: Vec<String>,
    /// The findings as `check` draws them.
    pub(crate) findings: String,
    pub(crate) cautions: Vec<Caution>,
    pub(crate) parts: Vec<PartRow>,
    /// Name, clear length and width, depth of the water, litres in it, and what decides the depth.
    pub(crate) chambers: Vec<[String; 5]>,
    /// How the depths are meant.
    pub(crate) chambers_note: &'static str,
    /// Levels and flows; empty when they could not be computed.
    pub(crate) levels: Vec<Table>,
    pub(crate) shop: Vec<Table>,
    /// What every failure does; `None` when none could be rehearsed.
    pub(crate) rehearsals: Option<Table>,
    /// Each of them in full.
    pub(crate) courses: Vec<Course>,
    /// Clearances, ways out, reach.
    pub(crate) fit: Words,
    /// Does it hold, what decides, what to change first, what it weighs: a head and words for each.
    pub(crate) verdict: [(&'static str, String); 4],
    /// Panels, seams, weight, fits under their tolerances.
    pub(crate) strength: Vec<Table>,
    pub(crate) setting_out: Vec<Setting>,
    pub(crate) groups: Vec<Group<'a>>,
}

/// Heads of the columns of [`Index::chambers`].
pub(crate) const CHAMBERS_HEAD: [&str; 5] =
    ["chamber", "clear length × width", "water above the floor", "holds", "because"];
/// Title of the verdict, which stands first.
pub(crate) const WILL_IT_HOLD: &str = "Will it hold";
/// Title of the section with the numbers behind it.
pub(crate) const STRENGTH: &str = "Strength: panels, seams, weight, tolerances";
/// Levels in flow.
const IN_FLOW: &str = "Water with the pump running, by the best estimate; the tables below give the doubt of each \
    level. What stands in a chamber is taken off; water in hanging socks, and in the space between the leaves of a \
    divider, is not counted.";
/// Levels of a file that tells too little for flow.
const AT_REST: &str = "Water as it stands with nothing flowing: the file does not tell enough for levels in flow. It \
    stands higher over every crest when the pump runs. What stands in it, and the space between the leaves of a \
    divider, is not taken into account.";

/// One line of the parts list, in words.
#[derive(Debug)]
pub(crate) struct PartRow {
    pub(crate) number: String,
    pub(crate) name: String,
    pub(crate) quantity: String,
    pub(crate) material: String,
    pub(crate) sheet: String,
    pub(crate) size: String,
    pub(crate) mass: String,
    pub(crate) role: &'static str,
    pub(crate) notes: String,
    /// Kind and path of each of its files.
    pub(crate) files: Vec<(String, String)>,
}

/// Files of one folder.
#[derive(Debug)]
pub(crate) struct Group<'a> {
    pub(crate) title: &'static str,
    pub(crate) files: Vec<Entry<'a>>,
}

/// One file.
#[derive(Debug)]
pub(crate) struct Entry<'a> {
    pub(crate) path: &'a str,
    pub(crate) purpose: &'a str,
    pub(crate) size: String,
}

/// Folders in the order in which they are wanted, with what they hold.
const GROUPS: &[(&str, &str)] = &[
    ("pictures/", "Pictures"),
    ("tour/", "Tour: chamber by chamber"),
    ("water/", "Water: levels, flows and failures"),
    ("fit/", "Fit: clearances, ways out and reach"),
    ("strength/", "Strength: drawings of how panels bend, tables"),
    ("shop/", "For the shop: sheets, drawings, costs, gluing"),
    ("panels/", "Flat panels, each by itself"),
    ("print/", "Fittings to print"),
    ("model/", "Solid model"),
    ("checks/", "For checking with other programs"),
    ("", "Lists"),
];

impl<'a> Index<'a> {
    /// Gathers what there is to say.
    pub(crate) fn of(
        wet: &'a Wet<'_>,
        (fit, strong): (&Fit, &Strong),
        shop: Vec<Table>,
        parts: &[Part<'_>],
        report: &Report<'_>,
        files: &'a Files,
    ) -> Self {
        let design = &wet.design;
        let in_flow = wet.known.in_flow.as_ref();
        let system = design.report;
        let [x, y, z] = design.outside.to_array().map(|mm| Length::mm(mm).show(system));
        Self {
            title: &design.title,
            outside: format!("{x} long, {y} deep, {z} high"),
            summary: report.summary(),
            not_checked: report.not_checked().map(|finding| finding.message.clone()).collect(),
            findings: findings(report),
            cautions: cautions::of(design, in_flow, &strong.not_alone),
            parts: study::parts::listed(parts).map(|part| part_row(design, part, files)).collect(),
            chambers: chambers(design, in_flow.map(|in_flow| &in_flow.report)),
            chambers_note: if in_flow.is_some() { IN_FLOW } else { AT_REST },
            levels: in_flow
                .map(|f| told::levels(design, f, &wet.known.outcomes))
                .unwrap_or_default(),
            verdict: told::strength::verdict(strong, design),
            strength: told::strength::tables(&strong.strength, design),
            shop,
            rehearsals: in_flow.filter(|_| !wet.known.outcomes.is_empty()).map(|f| {
                let figures = Figures(design.report);
                told::rehearsals::table(&wet.known.outcomes, f, figures)
            }),
            courses: in_flow.map(|f| courses(&wet.known.outcomes, f, system)).unwrap_or_default(),
            fit: Words::of(fit, design, &fit_files::all(design)),
            setting_out: setting_out::of(design),
            groups: groups(files),
        }
    }
}

fn part_row(design: &Design, part: &Part<'_>, files: &Files) -> PartRow {
    let system = design.report;
    let piece = part.piece;
    let material = match &piece.sheet {
        Some(sheet) => format!("{} (sheet {sheet})", piece.material),
        None => piece.material.clone(),
    };
    PartRow {
        number: piece.number.clone(),
        name: piece.name.clone(),
        quantity: piece.quantity.to_string(),
        material,
        sheet: study::stock::sheet_of(design, piece)
            .map_or("–".to_owned(), |sheet| study::stock::order(sheet, system)),
        size: study::size::size(part).show(system),
        mass: study::size::show_mass(part.mass_kg(), system),
        role: piece.role.words(),
        notes: parts_list::notes(piece),
        files: files_of(part, files),
    }
}

/// The drawings, solids and meshes of one part: `DXF`, `panels/07-comb.dxf` and so on.
fn files_of(part: &Part<'_>, files: &Files) -> Vec<(String, String)> {
    let name = FileName::of_part(part.piece).to_string();
    let kind = |(path, _): (&str, &crate::files::File)| {
        let (folder, file) = path.rsplit_once('/')?;
        let (stem, extension) = file.split_once('.')?;
        let kind = if folder == "print" { "print".to_owned() } else { extension.to_uppercase() };
        (stem == name).then(|| (kind, path.to_owned()))
    };
    files.iter().filter_map(kind).collect()
}

/// The findings as `check` draws them, in a file that is called what its copy in the folder is called:
/// where it stood on this machine is nobody's business.
fn findings(report: &Report<'_>) -> String {
    let style = Style { is_coloured: false, with_holding: true };
    draw::findings(report, super::PARAMETERS, style) + &report.summary() + "\n"
}

fn courses(outcomes: &[Outcome], in_flow: &InFlow<'_>, system: units::System) -> Vec<Course> {
    let course = |outcome| Course::of(outcome, &in_flow.running.system, Figures(system));
    outcomes.iter().map(course).collect()
}

/// How the heights of [`Index::courses`] are meant.
pub(crate) fn courses_note() -> String {
    format!("{} {}", heights::NOTE, course::NOTE)
}

/// With the water's report where there is one: it takes off what stands in the water.
fn chambers(design: &Design, report: Option<&water::Report>) -> Vec<[String; 5]> {
    let length = |mm| Length::mm(mm).show(design.report);
    let row = |chamber: &design::Chamber| {
        let size = chamber.max - chamber.min;
        let told = report.and_then(|r| r.basins.iter().find(|basin| basin.name == chamber.name));
        let at_rest =
            || design.waters.iter().filter(|water| water.name == chamber.name).map(litres).sum();
        let litres: f64 = told.map_or_else(at_rest, |basin| basin.volume_m3 * 1e3);
        [
            chamber.name.clone(),
            format!("{} × {}", length(size.x), length(size.y)),
            length(chamber.level_mm),
            Volume::l(litres).show(design.report),
            chamber.level_reason.clone(),
        ]
    };
    design.chambers.iter().map(row).collect()
}

/// What a body of water holds, parts that stand in it not taken off.
fn litres(water: &design::WaterBody) -> f64 {
    (water.max - water.min).element_product() * 1e-6
}

fn groups(files: &Files) -> Vec<Group<'_>> {
    let group_of = |path: &str| GROUPS.iter().position(|(folder, _)| path.starts_with(folder));
    let group = |(i, (_, title)): (usize, &(&str, &'static str))| Group {
        title,
        files: files
            .iter()
            .filter(|(path, _)| group_of(path) == Some(i))
            .map(|(path, file)| Entry {
                path,
                purpose: &file.purpose,
                size: show_bytes(file.bytes.len()),
            })
            .collect(),
    };
    GROUPS.iter().enumerate().map(group).filter(|group| !group.files.is_empty()).collect()
}

/// `812 B`, `12 kB`, `3.4 MB`.
pub(crate) fn show_bytes(bytes: usize) -> String {
    match bytes {
        0..1000 => format!("{bytes} B"),
        1000..1_000_000 => format!("{} kB", (bytes + 500) / 1000),
        _ => format!("{}.{} MB", (bytes + 50_000) / 1_000_000, (bytes + 50_000) / 100_000 % 10),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_of_files() {
        let shown = [0, 999, 1000, 1500, 999_499, 1_000_000, 3_449_999].map(show_bytes);
        assert_eq!(shown, ["0 B", "999 B", "1 kB", "2 kB", "999 kB", "1.0 MB", "3.4 MB"]);
    }
}
