//! What was asked for on the command line: kinds, their measures, a printer.

use std::path::Path;

use anyhow::{Context, bail};
use fittings::{Filament, KINDS, Kind, Of, Printer};
use study::in_flow::name_hint;
use units::Length;

use crate::args::FittingsArgs;

/// A kind and the measures that were given for it.
#[derive(Debug)]
pub(super) struct Asked {
    pub(super) kind: &'static Kind,
    pub(super) given: Vec<(&'static str, f64)>,
}

/// Kinds with the measures behind each, in the order given.
///
/// # Errors
/// A word that is no kind, a measure before any kind, of another kind, given twice, or that cannot be read.
pub(super) fn asked(args: &FittingsArgs) -> anyhow::Result<Vec<Asked>> {
    let mut all: Vec<Asked> = Vec::new();
    for word in &args.what {
        if is_file(word) {
            bail!(
                "`{word}` is a parameter file, and a file stands first: `sumpwright fittings {word}` tells what is printed for its sump"
            );
        }
        match (word.split_once('='), all.last_mut()) {
            (None, _) => all.push(Asked { kind: kind(word)?, given: Vec::new() }),
            (Some(_), None) => bail!(
                "`{word}` stands before any kind; write the kind first, as in `pipe-clip {word}`"
            ),
            (Some((name, value)), Some(asked)) => {
                let kind = asked.kind;
                let given = given(kind, name.trim(), value.trim())
                    .with_context(|| format!("cannot make a `{}` with `{word}`", kind.name))?;
                if asked.given.iter().any(|(name, _)| *name == given.0) {
                    bail!("`{}` is given twice for `{}`", given.0, kind.name);
                }
                asked.given.push(given);
            }
        }
    }
    if let Some(band) = args.sheet {
        lay_on_sheet(&mut all, band)?;
    }
    Ok(all)
}

/// A fitting goes over the thickest place of its sheet; one that is pressed on must hold at the thinnest. What was given
/// for a kind itself counts more.
fn lay_on_sheet(all: &mut [Asked], [least, most]: [Length; 2]) -> anyhow::Result<()> {
    let mut is_of_use = all.is_empty();
    for asked in all {
        let Some(measure) = asked.kind.measures.iter().find(|m| m.name == SHEET) else { continue };
        is_of_use = true;
        if asked.given.iter().all(|(name, _)| *name != SHEET) {
            let is_pressed =
                asked.given.iter().any(|&(name, value)| name == PRESSED && value > 0.5);
            let thickness = if is_pressed { least } else { most };
            asked.given.push((measure.name, thickness.to_mm()));
        }
        // How uneven it is, for what grips it.
        let spread = asked.kind.measures.iter().find(|m| m.name == SPREAD);
        if let Some(spread) = spread.filter(|_| least.to_mm() < most.to_mm())
            && asked.given.iter().all(|(name, _)| *name != SPREAD)
        {
            asked.given.push((spread.name, most.to_mm() - least.to_mm()));
        }
    }
    if !is_of_use {
        let names: Vec<&str> = KINDS
            .iter()
            .filter(|kind| kind.measures.iter().any(|m| m.name == SHEET))
            .map(|kind| kind.name)
            .collect();
        bail!(
            "`--sheet` is of no use here: nothing of what is asked for sits on a sheet; these do: {}",
            names.join(", ")
        );
    }
    Ok(())
}

/// The measure that `--sheet` stands for.
const SHEET: &str = "sheet";
/// How much thinner it is at its thinnest place.
const SPREAD: &str = "spread";
/// The choice of a fitting that holds by being pressed on its sheet.
const PRESSED: &str = "pressed";

/// Whether a word is a parameter file, by its ending or because there is one and no kind of that name.
pub(super) fn is_file(word: &str) -> bool {
    let path = Path::new(word);
    path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("toml"))
        || (kind(word).is_err() && path.is_file())
}

fn kind(name: &str) -> anyhow::Result<&'static Kind> {
    // Names are told with a hyphen; a space or an underline between words is meant as one.
    let plain = name.trim().to_lowercase().replace([' ', '_'], "-");
    let Some(kind) = Kind::named(&plain) else {
        let known: Vec<String> = KINDS.iter().map(|kind| kind.name.to_owned()).collect();
        bail!("no fitting is called `{name}`; {}", name_hint(&plain, &known));
    };
    Ok(kind)
}

fn given(kind: &Kind, name: &str, value: &str) -> anyhow::Result<(&'static str, f64)> {
    let Some(measure) = kind.measures.iter().find(|measure| measure.name == name) else {
        let known: Vec<String> = kind.measures.iter().map(|m| m.name.to_owned()).collect();
        bail!("it has no measure `{name}`; {}", name_hint(name, &known));
    };
    let number = |text: &str| text.parse::<f64>().ok().filter(|number| number.is_finite());
    let read = match measure.of {
        Of::Mm => return Ok((measure.name, length(value).map_err(anyhow::Error::msg)?.to_mm())),
        Of::Count => number(value),
        Of::Degrees => number(value.trim_end_matches("deg").trim_end_matches('°').trim_end()),
        Of::Screw => number(value.trim_start_matches(['M', 'm'])),
        Of::Choice => match value.to_lowercase().as_str() {
            "yes" | "1" | "true" => Some(1.0),
            "no" | "0" | "false" => Some(0.0),
            _ => None,
        },
    };
    let such = match measure.of {
        Of::Mm | Of::Count => "a number such as `4`",
        Of::Degrees => "an angle in degrees such as `110`",
        Of::Screw => "a metric screw such as `M5`",
        Of::Choice => "`yes` or `no`",
    };
    let number = read.with_context(|| format!("`{value}` is no value for it; write {such}"))?;
    Ok((measure.name, number))
}

/// A length; a bare number is in mm.
pub(crate) fn length(text: &str) -> Result<Length, String> {
    let length = match text.parse::<f64>() {
        Ok(mm) => Length::mm(mm),
        Err(_) => text.parse::<Length>().map_err(|error| error.to_string())?,
    };
    if length.to_mm().is_finite() {
        Ok(length)
    } else {
        Err("write a length in numbers".to_owned())
    }
}

/// `7.7..8.0`, or one thickness.
pub(crate) fn band(text: &str) -> Result<[Length; 2], String> {
    let (least, most) = text.split_once("..").unwrap_or((text, text));
    let [least, most] = [length(least.trim())?, length(most.trim())?];
    if 0.0 < least.to_mm() && least.to_mm() <= most.to_mm() {
        Ok([least, most])
    } else {
        Err("write the least and the greatest thickness, such as `7.7..8.0`".to_owned())
    }
}

/// `200x200`, or `200x200x180` with the height.
pub(crate) fn bed(text: &str) -> Result<[Length; 3], String> {
    let sides: Vec<Length> =
        text.split(['x', '×']).map(|side| length(side.trim())).collect::<Result<_, _>>()?;
    let room = match sides[..] {
        [x, y] => [x, y, if x < y { x } else { y }],
        [x, y, z] => [x, y, z],
        _ => return Err("write length and width of the bed, such as `200x200`".to_owned()),
    };
    if room.iter().all(|side| (50.0..=1000.0).contains(&side.to_mm())) {
        Ok(room)
    } else {
        Err("each side of the bed must be between 50 and 1000 mm".to_owned())
    }
}

/// A filament by its name in the trade.
pub(crate) fn filament(text: &str) -> Result<Filament, String> {
    let found = Filament::ALL.into_iter().find(|f| f.name().eq_ignore_ascii_case(text.trim()));
    found.ok_or_else(|| {
        let names: Vec<&str> = Filament::ALL.iter().map(|f| f.name()).collect();
        format!("write one of {}", names.join(", "))
    })
}

/// The printer of the command line. Limits are those of `[printing]` in the parameter file.
///
/// # Errors
/// A nozzle, layer or clearance that no printer has.
pub(super) fn printer(args: &FittingsArgs) -> anyhow::Result<Printer> {
    let usual = Printer::default();
    let nozzle_mm = args.nozzle.map_or(usual.nozzle_mm, Length::to_mm);
    within("--nozzle", nozzle_mm, [0.1, 1.2])?;
    let layer_mm = args.layer.map_or(0.5 * nozzle_mm, Length::to_mm);
    within("--layer", layer_mm, [0.04, 1.0])?;
    if layer_mm > MOST_LAYER * nozzle_mm + HAIR_MM {
        bail!(
            "layers {layer_mm} mm high hold together badly from a nozzle of {nozzle_mm} mm; write at most `--layer {}` \
             (common practice: three quarters of the nozzle)",
            MOST_LAYER * nozzle_mm
        );
    }
    let clearance_mm = args.clearance.map_or(usual.clearance_mm, Length::to_mm);
    within("--clearance", clearance_mm, [0.0, 1.0])?;
    let hole_loss_mm = args.hole_loss.map_or(usual.hole_loss_mm, Length::to_mm);
    within("--hole-loss", hole_loss_mm, [0.0, 1.0])?;
    let most_foot = 0.5 * nozzle_mm;
    let foot_mm = args.foot.map_or(usual.foot_mm.min(most_foot), Length::to_mm);
    within("--foot", foot_mm, [0.0, most_foot])?;
    let bed_mm = args.bed.map_or(usual.bed_mm, |bed| bed.map(Length::to_mm));
    let filament = args.filament();
    Ok(Printer { nozzle_mm, layer_mm, bed_mm, clearance_mm, hole_loss_mm, foot_mm, filament })
}

/// Common practice, as in the parameter file.
const MOST_LAYER: f64 = 0.75;
/// A hair of rounding is no reason to complain.
const HAIR_MM: f64 = 1e-9;

fn within(option: &str, mm: f64, [least, most]: [f64; 2]) -> anyhow::Result<()> {
    if (least - HAIR_MM..=most + HAIR_MM).contains(&mm) {
        return Ok(());
    }
    bail!("`{option}` is {mm} mm; it goes from {least} to {most} mm")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bands_and_beds() {
        let mm = |text: &str| band(text).map(|b| b.map(Length::to_mm));
        assert_eq!(mm("7.7..8.0"), Ok([7.7, 8.0]));
        assert_eq!(mm("8"), Ok([8.0, 8.0]));
        assert_eq!(mm("1/4 in").map(|b| b[1]), Ok(6.35));
        assert!(mm("8..7").is_err() && mm("0").is_err() && mm("a..b").is_err());
        let room = |text: &str| bed(text).map(|b| b.map(Length::to_mm));
        assert_eq!(room("250x210"), Ok([250.0, 210.0, 210.0]));
        assert_eq!(room("250x210x180"), Ok([250.0, 210.0, 180.0]));
        assert!(room("250").is_err() && room("2x2").is_err());
    }

    #[test]
    fn what_is_pressed_on_is_made_for_the_thinnest_place() {
        let channel = Kind::named("guide-channel").expect("there");
        let sheet = |given: Vec<(&'static str, f64)>| {
            let mut all = [Asked { kind: channel, given }];
            lay_on_sheet(&mut all, [Length::mm(7.7), Length::mm(8.0)]).expect("of use");
            all[0].given.iter().find(|(name, _)| *name == SHEET).map(|(_, mm)| *mm)
        };
        assert_eq!(sheet(vec![]), Some(8.0));
        assert_eq!(sheet(vec![(PRESSED, 1.0)]), Some(7.7));
        assert_eq!(sheet(vec![(PRESSED, 1.0), (SHEET, 6.0)]), Some(6.0));
    }

    #[test]
    fn values_are_read_by_what_they_count() {
        let clip = Kind::named("pipe-clip").expect("there");
        assert_eq!(given(clip, "pipe", "1 1/4 in").expect("a length"), ("pipe", 31.75));
        assert_eq!(given(clip, "mouth", "100°").expect("an angle"), ("mouth", 100.0));
        assert!(given(clip, "mouth", "wide").is_err());
        assert!(filament("petg") == Ok(Filament::Petg) && filament("wood").is_err());
    }
}
