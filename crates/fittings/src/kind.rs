//! All kinds of fittings in one list: what each is for, its measures, and how it is made.

use std::collections::BTreeMap;

use crate::error::Error;
use crate::fitting::Fitting;
use crate::printer::Printer;
use crate::stand::{Follows, InPieces, Stand};

/// A kind of fitting.
#[derive(Clone, Copy, Debug)]
pub struct Kind {
    /// What it is called in files and on the command line: `pipe-clip`.
    pub name: &'static str,
    /// What it is for, in half a sentence.
    pub what_for: &'static str,
    /// Whether it is a tool for the workshop and no part of the sump.
    pub is_jig: bool,
    /// How it stands in a sump.
    pub stand: Stand,
    /// How it is made in pieces where it is longer than the bed, if it can be.
    pub in_pieces: Option<InPieces>,
    /// What to know before using it; may be empty.
    pub advice: &'static str,
    /// Its measures, few and plain.
    pub measures: &'static [Measure],
    /// Makes it, its edges not yet drawn in where they lie on the bed; see [`Kind::made`].
    pub make: fn(&Measures, &Printer) -> Result<Fitting, Error>,
}

/// One measure of a kind.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measure {
    /// What it is called in files and on the command line: `pipe`.
    pub name: &'static str,
    /// What it measures.
    pub words: &'static str,
    /// What its number counts.
    pub of: Of,
    /// Least that makes sense.
    pub least: f64,
    /// Most that makes sense.
    pub most: f64,
    /// What it is when nothing is given.
    pub usual: f64,
    /// Where `usual` comes from: `common practice`, or a standard.
    pub source: &'static str,
    /// The choice on which it depends whether this measure counts, and how it must be made; `None`: it always counts.
    pub only: Option<(&'static str, bool)>,
    /// What of a sump it follows from, if anything.
    pub follows: Option<Follows>,
}

/// What the number of a measure counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Of {
    /// Millimetres.
    Mm,
    /// Pieces: a whole number.
    Count,
    /// Degrees.
    Degrees,
    /// A metric screw by its diameter: 4, 5 or 6.
    Screw,
    /// 0 for no, 1 for yes.
    Choice,
}

/// Measures of one fitting, each within its limits.
#[derive(Clone, Debug, PartialEq)]
pub struct Measures {
    values: BTreeMap<&'static str, f64>,
}

impl Measures {
    /// Those given by name, the others as usual.
    ///
    /// # Errors
    /// [`Error::UnknownMeasure`] of a name that this kind has not; [`Error::OutOfRange`] of a number beyond its limits or
    /// not whole where pieces are counted.
    pub fn of<'a>(
        kind: &Kind,
        given: impl IntoIterator<Item = (&'a str, f64)>,
    ) -> Result<Self, Error> {
        let mut values: BTreeMap<&'static str, f64> =
            kind.measures.iter().map(|m| (m.name, m.usual)).collect();
        for (name, value) in given {
            let Some(measure) = kind.measures.iter().find(|m| m.name == name) else {
                let known = kind.measures.iter().map(|m| m.name).collect();
                return Err(Error::UnknownMeasure { name: name.to_owned(), known });
            };
            measure.check(value)?;
            values.insert(measure.name, value);
        }
        Ok(Self { values })
    }

    /// The value of a measure of this kind, in what it is [`Of`].
    ///
    /// # Panics
    /// If the kind has no such measure: a mistake in its own code, which the test over all kinds finds.
    #[expect(clippy::indexing_slicing, reason = "names are those of the kind's own list")]
    pub fn get(&self, name: &str) -> f64 {
        self.values[name]
    }

    /// The measure as a count.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a whole number within the limits of its measure, which are small and not negative"
    )]
    pub fn count(&self, name: &str) -> u32 {
        self.get(name).round() as u32
    }

    /// Whether a choice is made.
    pub fn is(&self, name: &str) -> bool {
        self.get(name) > 0.5
    }
}

impl Kind {
    /// The kind of this name.
    pub fn named(name: &str) -> Option<&'static Self> {
        KINDS.iter().find(|kind| kind.name == name)
    }

    /// Whether a measure of this kind counts where these are given and the others are as usual: the screw of what is glued
    /// does not.
    pub fn counts(&self, measure: &Measure, given: &[(&str, f64)]) -> bool {
        let Some((choice, is_made)) = measure.only else { return true };
        let given = given.iter().find(|(name, _)| *name == choice).map(|(_, value)| *value);
        let usual = || self.measures.iter().find(|m| m.name == choice).map(|m| m.usual);
        given.or_else(usual).is_none_or(|value| (value > 0.5) == is_made)
    }

    /// One with these measures, the others as usual, its edges on the bed drawn in by what the first layer spreads.
    ///
    /// # Errors
    /// As [`Measures::of`], and whatever keeps it from being printed.
    pub fn made<'a>(
        &self,
        given: impl IntoIterator<Item = (&'a str, f64)>,
        printer: &Printer,
    ) -> Result<Fitting, Error> {
        let measures = Measures::of(self, given)?;
        let fitting = (self.make)(&measures, printer)?.with_foot(printer)?;
        let mates = crate::mates::of(self.name, &measures, printer, &fitting.shape);
        Ok(if fitting.print.mates.is_empty() { fitting.mating(mates) } else { fitting })
    }
}

/// All kinds, in the order in which they are listed.
pub const KINDS: &[Kind] = &[
    crate::guide::GUIDE_CHANNEL,
    crate::sock_ring::SOCK_RING,
    crate::parts::REDUCER,
    crate::knob::DOOR_KNOB,
    crate::parts::DOOR_STOP,
    crate::parts::STRIP_CLIP,
    crate::pipe_clip::PIPE_CLIP,
    crate::parts::PROBE_HOLDER,
    crate::parts::FLOAT_HOLDER,
    crate::parts::NOZZLE_BRACKET,
    crate::parts::LID_CLIP,
    crate::parts::LID_HANDLE,
    crate::parts::EGGCRATE_LEDGE,
    crate::parts::LEVEL_POINTER,
    crate::parts::STRAINER,
    crate::parts::ROUND_STRAINER,
    crate::parts::SKIMMER_FOOT,
    crate::parts::DRAIN_CAP,
    crate::jigs::CORNER_BLOCK,
    crate::jigs::SLOT_SPACER,
    crate::jigs::DRILLING_GUIDE,
    crate::jigs::THICKNESS_GAUGE,
    crate::jigs::KERF_GAUGE,
    crate::jigs::CLEARANCE_COUPON,
    crate::jigs::HOLE_COUPON,
    crate::jigs::RING_COUPON,
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_can_be_made_as_usual_and_at_its_limits() {
        let printer = Printer::default();
        for kind in KINDS {
            assert!(kind.made([], &printer).is_ok(), "{}", kind.name);
            for measure in kind.measures {
                assert!(measure.least <= measure.usual && measure.usual <= measure.most);
                for value in [measure.least, measure.most] {
                    // A limit may not go with the others as usual, but then it is refused by a measure's name.
                    if let Err(refusal) = kind.made([(measure.name, value)], &printer) {
                        let named = refusal.measure();
                        let is_its_own = kind.measures.iter().any(|m| Some(m.name) == named);
                        assert!(is_its_own, "{} {}: {refusal}", kind.name, measure.name);
                    }
                }
            }
        }
    }

    #[test]
    fn names_are_unique_and_plain() {
        for (index, kind) in KINDS.iter().enumerate() {
            assert!(KINDS[..index].iter().all(|other| other.name != kind.name), "{}", kind.name);
            assert!(kind.name.chars().all(|c| c.is_ascii_lowercase() || c == '-'), "{}", kind.name);
        }
    }

    /// By making it with other numbers: a measure that does not count changes nothing, one that counts does.
    #[test]
    fn measures_count_where_they_change_the_body_and_only_there() {
        let printer = Printer::default();
        for kind in KINDS {
            for measure in kind.measures {
                let Some((choice, is_made)) = measure.only else { continue };
                assert!(kind.measures.iter().any(|m| m.name == choice && m.of == Of::Choice));
                for made in [false, true] {
                    let choice = (choice, f64::from(u8::from(made)));
                    let shape = |value: f64| {
                        let given = [choice, (measure.name, value)];
                        kind.made(given, &printer).map(|fitting| fitting.shape)
                    };
                    let counts = kind.counts(measure, &[choice]);
                    assert_eq!(counts, made == is_made, "{} {}", kind.name, measure.name);
                    let is_same = shape(measure.least) == shape(measure.most);
                    assert_eq!(is_same, !counts, "{} {}", kind.name, measure.name);
                }
            }
        }
    }

    #[test]
    fn wrong_measures_are_named() {
        let clip = Kind::named("pipe-clip").unwrap();
        let refused = |name: &str, value: f64| {
            clip.made([(name, value)], &Printer::default()).unwrap_err().to_string()
        };
        assert_eq!(refused("pip", 1.0), "it has no measure `pip`; it has pipe, width, mouth");
        assert_eq!(refused("pipe", 1.0), "`pipe` is 1 mm; it goes from 4 to 75 mm");
        assert_eq!(refused("mouth", 200.0), "`mouth` is 200°; it goes from 95° to 150°");
        assert!(refused("pipe", f64::NAN).contains("NaN"));
        let count = |value: f64| {
            let holder = Kind::named("probe-holder").unwrap();
            holder.made([("count", value)], &Printer::default()).unwrap_err().to_string()
        };
        assert!(count(1.5).starts_with("`count` is 1.5; it is a whole number from 1 to "));
        assert!(count(99.0).starts_with("`count` is 99; it goes from 1 to "));
    }
}
