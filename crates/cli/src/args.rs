//! The command line, as types. The doc comments are the help.

use std::path::PathBuf;

use fittings::Filament;
use study::changed::Wanted;

use crate::printed::{USUAL_FILAMENT, options};

/// From one parameter file to a sump that a shop can cut and a keeper can glue.
///
/// Write a parameter file with `new`, look at what `check` finds, and let `make` write the solids, the
/// flat panels, the pictures and the lists.
#[derive(Debug, clap::Parser)]
#[command(name = "sumpwright", version, after_help = AFTER_HELP)]
pub(crate) struct Args {
    #[command(subcommand)]
    pub(crate) command: Command,
}

const AFTER_HELP: &str = "\
Exit codes: 0 nothing fails, 1 a finding fails, 2 a wrong call or a file that cannot be understood.
Data goes to standard output, talk to standard error. NO_COLOR=1 leaves colours out.";

const FITTINGS_HELP: &str = "\
Examples:
  sumpwright fittings --list                        what there is, a line each
  sumpwright fittings --list pipe-clip              what its measures mean, and their limits
  sumpwright fittings --picture fittings.png        all of them on one picture sheet
  sumpwright fittings clearance-coupon --sheet 7.7..8.0 --filament PETG --into coupon
                                                    what the printer is set by, before anything else
  sumpwright fittings pipe-clip pipe=40 pipe-clip pipe=25 --count 4 --clearance 0.2 --into clips
                                                    four each of two sizes, with the clearance that the coupon told
  sumpwright fittings guide-channel length=300 --sheet 7.7..8.0 --bed 180x180x180 --into guides
                                                    for a sheet by caliper, on this bed, in pieces where it is longer
  sumpwright fittings sump.toml                     what is printed for a sump: how many, how large, on which plate
  sumpwright fittings sump.toml --into prints       its files, with coupons and how to print them
  sumpwright fittings sump.toml lid-handle --into handle
                                                    some of it, by name";

#[derive(Debug, clap::Subcommand)]
pub(crate) enum Command {
    New(NewArgs),
    Check(CheckArgs),
    Make(MakeArgs),
    Picture(PictureArgs),
    Levels(LevelsArgs),
    Rehearse(RehearseArgs),
    Fit(FitArgs),
    Strength(StrengthArgs),
    Cut(CutArgs),
    Fittings(FittingsArgs),
    Tour(TourArgs),
    View(ViewArgs),
    Compare(CompareArgs),
    /// Print the JSON Schema of the parameter file, by which editors complete and check it
    Schema,
    #[command(hide = true)]
    Completions(CompletionsArgs),
    #[command(hide = true)]
    Man(ManArgs),
}

/// Write a commented starter file, and its schema beside it
#[derive(Debug, clap::Args)]
pub(crate) struct NewArgs {
    /// The file to write
    #[arg(default_value = "sump.toml")]
    pub(crate) file: PathBuf,
    /// Inches, US gallons and degrees Fahrenheit
    #[arg(long)]
    pub(crate) us: bool,
    /// Replace files that are there already
    #[arg(long)]
    pub(crate) force: bool,
}

/// Print all findings, worst first; write nothing
#[derive(Debug, clap::Args)]
pub(crate) struct CheckArgs {
    /// The parameter file
    pub(crate) file: PathBuf,
    /// Print what holds as well
    #[arg(long)]
    pub(crate) all: bool,
    /// Print the findings as JSON
    #[arg(long)]
    pub(crate) json: bool,
}

/// Write everything into one folder: solids, panels, fittings, pictures, lists
///
/// The folder is replaced whole, or not at all; a folder that holds anything else than what an earlier
/// run wrote is left alone.
#[derive(Debug, clap::Args)]
pub(crate) struct MakeArgs {
    /// The parameter file
    pub(crate) file: PathBuf,
    /// The folder to write [default: `out/` and the file's name]
    #[arg(long, value_name = "DIR")]
    pub(crate) into: Option<PathBuf>,
    /// Leave the pictures out
    #[arg(long)]
    pub(crate) no_pictures: bool,
    /// Print findings and written files as JSON
    #[arg(long)]
    pub(crate) json: bool,
}

/// Write pictures of the sump with water in it
#[derive(Debug, clap::Args)]
pub(crate) struct PictureArgs {
    /// The parameter file
    pub(crate) file: PathBuf,
    /// Which view; may be given more than once [default: all of them]
    #[arg(long, value_enum)]
    pub(crate) view: Vec<View>,
    /// Width and height in pixels
    #[arg(long, value_name = "WIDTHxHEIGHT", default_value = "1600x1000", value_parser = size)]
    pub(crate) size: [usize; 2],
    /// The folder to write into; pictures of the same name are replaced
    #[arg(long, value_name = "DIR", default_value = ".")]
    pub(crate) into: PathBuf,
    /// Print findings and written files as JSON
    #[arg(long)]
    pub(crate) json: bool,
}

/// Change settings, or take a second file, and see side by side what else becomes different
///
/// Parts, levels, failures, cost and findings are worked out for both; only what differs is told.
#[derive(Debug, clap::Args)]
pub(crate) struct CompareArgs {
    /// The parameter file
    pub(crate) file: PathBuf,
    /// The file to compare it with
    #[arg(conflicts_with = "set")]
    pub(crate) other: Option<PathBuf>,
    /// A setting to change, such as `box.outside.length=1200`, `"along[planted].length=14 in"`; may be given more than
    /// once
    #[arg(long, value_name = "SETTING=VALUE", value_parser = wanted_setting)]
    pub(crate) set: Vec<Wanted>,
    /// Also write the changed file, notes and all, under this name
    #[arg(long, value_name = "FILE", requires = "set")]
    pub(crate) into: Option<PathBuf>,
    /// Print both sides as JSON
    #[arg(long)]
    pub(crate) json: bool,
}

fn wanted_setting(text: &str) -> Result<Wanted, String> {
    let wanted = text.split_once('=').map(|(setting, value)| (setting.trim(), value.trim()));
    match wanted {
        Some((parameter, value)) if !parameter.is_empty() && !value.is_empty() => {
            Ok(Wanted { parameter: parameter.to_owned(), value: value.to_owned() })
        }
        _ => Err("write a setting and its value, such as `box.outside.length=1200`".to_owned()),
    }
}

/// Print the water levels and flows with the pump running, and what they can be set to
///
/// Every figure is an estimate with its doubt (±).
#[derive(Debug, clap::Args)]
pub(crate) struct LevelsArgs {
    /// The parameter file
    pub(crate) file: PathBuf,
    /// A level wanted in a chamber that a door can set, such as `"skimmer=215 mm"`; may be given more
    /// than once
    #[arg(long, value_name = "CHAMBER=LEVEL", value_parser = wanted_level)]
    pub(crate) want: Vec<WantedLevel>,
    /// Also write the section with its levels as SVG, and the tables as text, into this folder; files of
    /// the same name are replaced
    #[arg(long, value_name = "DIR")]
    pub(crate) into: Option<PathBuf>,
    /// Print everything as JSON, in SI units
    #[arg(long)]
    pub(crate) json: bool,
}

/// A level that is wanted in a chamber.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct WantedLevel {
    /// Name of the chamber.
    pub(crate) chamber: String,
    /// The level above the inside of the bottom.
    pub(crate) level: units::Length,
}

/// `CHAMBER=LEVEL`; a bare number is in mm.
fn wanted_level(text: &str) -> Result<WantedLevel, String> {
    let (chamber, level) =
        text.rsplit_once('=').ok_or("write a chamber and its level, such as `skimmer=215 mm`")?;
    let level = level.trim();
    let level = match level.parse::<f64>() {
        Ok(mm) => units::Length::mm(mm),
        Err(_) => level.parse::<units::Length>().map_err(|error| error.to_string())?,
    };
    if !level.to_mm().is_finite() {
        return Err("write a level in numbers".to_owned());
    }
    Ok(WantedLevel { chamber: chamber.trim().to_owned(), level })
}

/// Play failures in time: power cuts, blocked drains, clogged socks, missing leaves
///
/// Without names all that stand in the file's waterworks are played. Every figure is an estimate with its
/// doubt.
#[derive(Debug, clap::Args)]
pub(crate) struct RehearseArgs {
    /// The parameter file
    pub(crate) file: PathBuf,
    /// Names of failures, as `--list` prints them
    #[arg(value_name = "NAME")]
    pub(crate) names: Vec<String>,
    /// Print the names of the failures that can be rehearsed, and what happens in each
    #[arg(long)]
    pub(crate) list: bool,
    /// Also write tables, every failure in full and, for each, its curves as CSV and SVG into this folder; files of the
    /// same name are replaced
    #[arg(long, value_name = "DIR")]
    pub(crate) into: Option<PathBuf>,
    /// Print everything as JSON, in SI units
    #[arg(long)]
    pub(crate) json: bool,
}

/// Print clearances, the way out of everything that lifts out, and what a hand reaches
///
/// A way out that is told was proved free of everything in its way; one that was not found is called impossible only
/// where that is proved too.
#[derive(Debug, clap::Args)]
pub(crate) struct FitArgs {
    /// The parameter file
    pub(crate) file: PathBuf,
    /// Names of what is to come out, as `--list` prints them [default: everything]
    #[arg(value_name = "NAME")]
    pub(crate) names: Vec<String>,
    /// Print the names of all that can be taken out
    #[arg(long)]
    pub(crate) list: bool,
    /// Search longer than the file says for what is not found
    #[arg(long)]
    pub(crate) thorough: bool,
    /// Also write the words, the motions as JSON, a plan and a side view with clearances as SVG, and a film strip of every
    /// way out as PNG into this folder; files of the same name are replaced
    #[arg(long, value_name = "DIR")]
    pub(crate) into: Option<PathBuf>,
    /// Print everything as JSON, the motions as poses against time
    #[arg(long)]
    pub(crate) json: bool,
}

/// Print whether it holds: stress and bulge of every panel, seams, weight, and fits under their tolerances
///
/// Walls, leaves and bottom bear the levels in flow for years, and failures and water to the rim for hours. Every figure
/// is an estimate; a test full of water, outdoors or in a tub, decides.
#[derive(Debug, clap::Args)]
pub(crate) struct StrengthArgs {
    /// The parameter file
    pub(crate) file: PathBuf,
    /// Also write a drawing of every loaded panel with its lines of equal deflection as SVG, and the tables as text, into
    /// this folder; files of the same name are replaced
    #[arg(long, value_name = "FOLDER")]
    pub(crate) drawings: Option<PathBuf>,
    /// Print everything as JSON, in mm, MPa, N and kg
    #[arg(long)]
    pub(crate) json: bool,
}

/// Lay all panels on sheets: which to buy, what lies where, what it costs, in which order it is cut and glued
///
/// Parts are laid by the rectangles around them; no cheaper set of the file's sheets exists for these where that is said
/// to be proved. Times and costs are ranges.
#[derive(Debug, clap::Args)]
pub(crate) struct CutArgs {
    /// The parameter file
    pub(crate) file: PathBuf,
    /// Also write the package for the shop, sheets as DXF and SVG, drawings, lists and guides, into this folder; files of
    /// the same name are replaced
    #[arg(long, value_name = "DIR")]
    pub(crate) into: Option<PathBuf>,
    /// Print everything as JSON, in mm
    #[arg(long)]
    pub(crate) json: bool,
}

/// List or write all that is printed for a sump, and nothing else; or small fittings and jigs by their measures alone
///
/// Give a parameter file, which tells printer, filament and counts too, and names of what is printed for it where not all is
/// wanted; nothing else of the sump is worked out. Without a file give kinds, each with its measures behind it, and options
/// for the printer. What is left out is as usual; a bare number is in mm, `pipe="1 1/2 in"` is read too. Written are
/// STL, 3MF and STEP of each, print beds with all of them as 3MF, and how to print them. The folder is replaced whole, or not
/// at all, and only by what the same file or the same kinds make.
#[derive(Debug, clap::Args)]
#[command(after_help = FITTINGS_HELP)]
pub(crate) struct FittingsArgs {
    /// The parameter file of a sump and names of what is printed for it; or kinds and their measures [default: list all
    /// kinds]
    #[arg(value_name = "FILE|NAME|KIND|MEASURE=VALUE")]
    pub(crate) what: Vec<String>,
    /// Print all kinds, a line each, with what they are for and their usual measures; with kinds: what their measures mean
    /// and their limits
    #[arg(long)]
    pub(crate) list: bool,
    /// Thickness of the sheet by caliper, least and greatest, such as `7.7..8.0`; fittings are made for the greatest,
    /// those that are pressed on for the least
    #[arg(long, value_name = "MM..MM", value_parser = options::band)]
    pub(crate) sheet: Option<[units::Length; 2]>,
    /// How many of each [default: 1]
    #[arg(long, value_name = "NUMBER", value_parser = count)]
    pub(crate) count: Option<usize>,
    /// Filament that is printed with, for the advice: PETG, ASA, ABS, PP, PLA, nylon or TPU [default: PETG]
    #[arg(long, value_parser = options::filament)]
    pub(crate) filament: Option<Filament>,
    /// Diameter of the nozzle [default: 0.4]
    #[arg(long, value_name = "MM", value_parser = options::length)]
    pub(crate) nozzle: Option<units::Length>,
    /// Height of a layer [default: half the nozzle]
    #[arg(long, value_name = "MM", value_parser = options::length)]
    pub(crate) layer: Option<units::Length>,
    /// Clearance between a printed face and what slides on it, each side, by the clearance coupon [default: 0.25]
    #[arg(long, value_name = "MM", value_parser = options::length)]
    pub(crate) clearance: Option<units::Length>,
    /// How much smaller than drawn upright holes come out in diameter, by the hole coupon [default: 0.2]
    #[arg(long, value_name = "MM", value_parser = options::length)]
    pub(crate) hole_loss: Option<units::Length>,
    /// How far the first layer spreads on the bed, each side [default: 0.2, at most half the nozzle]
    #[arg(long, value_name = "MM", value_parser = options::length)]
    pub(crate) foot: Option<units::Length>,
    /// Length and width of the print bed, and the height of what can be printed [default: 200x200x200]
    #[arg(long, value_name = "MMxMM[xMM]", value_parser = options::bed)]
    pub(crate) bed: Option<[units::Length; 3]>,
    /// Units that sizes are told in [default: metric]
    #[arg(long, value_enum)]
    pub(crate) units: Option<Units>,
    /// Also write everything into this folder of its own; one that holds other fittings or files is left alone
    #[arg(long, value_name = "FOLDER")]
    pub(crate) into: Option<PathBuf>,
    /// Also write a picture sheet as PNG, to a file whose name ends so: of those made, or of all kinds
    #[arg(long, value_name = "FILE")]
    pub(crate) picture: Option<PathBuf>,
    /// Print everything as JSON, in mm
    #[arg(long)]
    pub(crate) json: bool,
}

impl FittingsArgs {
    pub(crate) fn count(&self) -> usize {
        self.count.unwrap_or(1)
    }

    pub(crate) fn filament(&self) -> Filament {
        self.filament.unwrap_or(USUAL_FILAMENT)
    }
}

/// Units of what is printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, clap::ValueEnum)]
pub(crate) enum Units {
    /// Millimetres
    Metric,
    /// Inches
    Us,
}

/// Most of each that are made at once.
const MOST_COUNT: usize = 100;

fn count(text: &str) -> Result<usize, String> {
    let count = text.parse().ok().filter(|count| (1..=MOST_COUNT).contains(count));
    count.ok_or_else(|| format!("write a number from 1 to {MOST_COUNT}"))
}

/// Walk through the sump, chamber by chamber: what it is for, what to look at, what was found
#[derive(Debug, clap::Args)]
pub(crate) struct TourArgs {
    /// The parameter file
    pub(crate) file: PathBuf,
    /// Also write a picture of every stop with its caption, and a page that leads through them, into this folder;
    /// files of the same name are replaced
    #[arg(long, value_name = "DIR")]
    pub(crate) into: Option<PathBuf>,
    /// Print the tour as JSON
    #[arg(long)]
    pub(crate) json: bool,
}

/// Open the live window: turn, cut and pick the sump, play failures and ways out; it follows the file as it is saved
///
/// The window is a program of its own, `sumpwright-view`, that lies beside `sumpwright`. It needs a display and
/// OpenGL 3.3.
#[derive(Debug, clap::Args)]
pub(crate) struct ViewArgs {
    /// The parameter file
    pub(crate) file: PathBuf,
    /// Begin with the dark look
    #[arg(long)]
    pub(crate) dark: bool,
}

/// From where the sump is seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, clap::ValueEnum)]
pub(crate) enum View {
    /// All of it, from the front and above
    Whole,
    /// From straight above
    Above,
    /// Cut along its length, with the water levels
    Section,
    /// With the loose parts drawn above their places
    Lifted,
}

/// `1600x1000`. Whether a picture can be that large is for the painter to say.
fn size(text: &str) -> Result<[usize; 2], String> {
    let sides = text
        .split_once('x')
        .and_then(|(width, height)| Some([width.parse().ok()?, height.parse().ok()?]));
    sides.ok_or_else(|| "write width and height in pixels, such as `1600x1000`".to_owned())
}

/// Print completions for a shell
#[derive(Debug, clap::Args)]
pub(crate) struct CompletionsArgs {
    /// The shell
    pub(crate) shell: clap_complete::Shell,
}

/// Write the manual pages
#[derive(Debug, clap::Args)]
pub(crate) struct ManArgs {
    /// The folder to write into
    #[arg(long, value_name = "DIR", default_value = ".")]
    pub(crate) into: PathBuf,
}
