//! Options of the command line: sheet, bed, filament, and the printer that follows from them.

use anyhow::bail;
use fittings::{Filament, Printer};
use units::Length;

use crate::args::FittingsArgs;

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
    let (least, most) = match text.split_once("..") {
        Some(ends) => ends,
        None => {
            if let Some([least, most]) = dashed(text) {
                return Err(format!("write `{least}..{most}`, with two dots"));
            }
            (text, text)
        }
    };
    let [least, most] = [length(least.trim())?, length(most.trim())?];
    if 0.0 < least.to_mm() && least.to_mm() <= most.to_mm() {
        Ok([least, most])
    } else {
        Err("write the least and the greatest thickness, such as `7.7..8.0`".to_owned())
    }
}

/// Both ends of a band that is written with a dash.
fn dashed(text: &str) -> Option<[&str; 2]> {
    let ends = [" to ", "-", "–"].iter().filter_map(|dash| text.split_once(dash));
    let mut ends = ends.map(|(least, most)| [least.trim(), most.trim()]);
    ends.find(|ends| ends.iter().all(|end| length(end).is_ok()))
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
    fn a_band_with_a_dash_is_told_how_to_write_it() {
        for text in ["9.8-10.1", "9.8 - 10.1", "9.8–10.1", "9.8 to 10.1"] {
            assert_eq!(band(text), Err("write `9.8..10.1`, with two dots".to_owned()), "{text}");
        }
        assert!(band("-8").is_err_and(|words| !words.contains("dots")));
    }

    #[test]
    fn filaments_are_read_by_name() {
        assert!(filament("petg") == Ok(Filament::Petg) && filament("wood").is_err());
    }
}
