//! What is longer than the bed and can be made in pieces.

use fittings::{InPieces, Printer};
use units::{Length, System};

use super::asked::Asked;
use super::words::number;

/// Makes pieces of all that is longer than the bed and can be made so, alike in length, and says so: a channel's lowest has the stop,
/// its highest the lead-in.
pub(super) fn parted(
    asked: Vec<Asked>,
    printer: &Printer,
    system: System,
) -> (Vec<Asked>, Vec<String>) {
    let mut said = Vec::new();
    let all = asked.into_iter().flat_map(|asked| {
        let (pieces, words) = pieces(asked, printer, system);
        said.extend(words);
        pieces
    });
    let all = all.collect();
    (all, said)
}

fn pieces(asked: Asked, printer: &Printer, system: System) -> (Vec<Asked>, Option<String>) {
    let measure = |name: &str| asked.kind.measures.iter().find(|m| m.name == name);
    let [x, y, _] = printer.bed_mm;
    let bed_mm = x.max(y);
    let Some(parts) = asked.kind.in_pieces else { return (vec![asked], None) };
    let InPieces { length: along, lowest, highest } = parts;
    let Some(length) = measure(along) else { return (vec![asked], None) };
    let whole_mm = number(length, &asked.given);
    let count = (1..=MOST_PIECES).find(|&n| whole_mm <= f64::from(n) * bed_mm);
    let Some(count) = count.filter(|&n| n > 1) else { return (vec![asked], None) };
    let piece_mm = whole_mm / f64::from(count);
    let piece = |k: u32| {
        let mut given = asked.given.clone();
        let mut set = |name: &'static str, value: f64| {
            given.retain(|(other, _)| *other != name);
            given.push((name, value));
        };
        set(along, piece_mm);
        if k > 0 {
            set(lowest, 0.0);
        }
        if k + 1 < count {
            set(highest, 0.0);
        }
        Asked { kind: asked.kind, given }
    };
    let mm = |mm: f64| Length::mm(mm).show(system);
    let words = format!(
        "a `{}` of {} is longer than the bed of {}: it is made in {count} pieces of {}, numbered from below, the lowest with \
         the {lowest} and the highest with the {highest}; glue them end to end, lined up by a strip of the sheet in the channel",
        asked.kind.name,
        mm(whole_mm),
        mm(bed_mm),
        mm(piece_mm)
    );
    ((0..count).map(piece).collect(), Some(words))
}

/// More pieces than the longest channel needs on the smallest bed.
const MOST_PIECES: u32 = 20;

#[cfg(test)]
mod tests {
    use super::*;
    use fittings::Kind;

    fn lengths(length: f64, bed_mm: [f64; 3]) -> (Vec<Vec<(&'static str, f64)>>, usize) {
        let kind = Kind::named("guide-channel").expect("there");
        let asked = vec![Asked { kind, given: vec![("length", length), ("depth", 10.0)] }];
        let printer = Printer { bed_mm, ..Printer::default() };
        let (all, said) = parted(asked, &printer, System::Metric);
        for asked in &all {
            let made = kind.made(asked.given.iter().copied(), &printer).expect("it can be made");
            let [x, y] = made.print.bed_footprint_mm;
            assert!(x.max(y) <= bed_mm[0].max(bed_mm[1]) + 1e-9);
        }
        (all.into_iter().map(|asked| asked.given).collect(), said.len())
    }

    #[test]
    fn a_long_channel_is_made_in_pieces_with_one_stop_and_one_lead_in() {
        let (pieces, said) = lengths(390.0, [180.0, 150.0, 150.0]);
        assert_eq!((pieces.len(), said), (3, 1));
        let of = |k: usize, name: &str| {
            pieces[k].iter().find(|(n, _)| *n == name).map(|(_, value)| *value)
        };
        for k in 0..3 {
            assert_eq!((of(k, "length"), of(k, "depth")), (Some(130.0), Some(10.0)));
        }
        assert_eq!([of(0, "stop"), of(1, "stop"), of(2, "stop")], [None, Some(0.0), Some(0.0)]);
        assert_eq!(
            [of(0, "lead-in"), of(1, "lead-in"), of(2, "lead-in")],
            [Some(0.0), Some(0.0), None]
        );
    }

    #[test]
    fn one_that_fits_stays_whole() {
        let (pieces, said) = lengths(180.0, [150.0, 180.0, 150.0]);
        assert_eq!((pieces.len(), said), (1, 0));
    }
}
