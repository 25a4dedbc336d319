//! All that is known of the water of a design: levels in flow, every failure rehearsed, findings.

use design::{Design, SafeLevel};
use findings::Finding;
use rayon::prelude::*;
use water::{Failure, NotRunning, Outcome, Running, Setting, UnknownName};

/// A design with its water in flow.
#[derive(Debug)]
pub struct InFlow<'a> {
    /// The network at rest in flow.
    pub running: Running<'a>,
    /// What is told of it.
    pub report: water::Report,
}

/// The water of a design as far as it can be known.
#[derive(Debug, Default)]
pub struct Known<'a> {
    /// Levels and flows; `None` when the file does not tell enough.
    pub in_flow: Option<InFlow<'a>>,
    /// What the failures did, in the order in which they are named.
    pub outcomes: Vec<Outcome>,
    /// What was found, and what could not be checked.
    pub findings: Vec<Finding>,
}

/// Code of the check of levels and flows.
const LEVELS: &str = "levels-in-flow";
/// Code of the check by failures.
pub const FAILURES: &str = "power-cut-and-blockage";

impl<'a> InFlow<'a> {
    /// Levels and flows of a design.
    ///
    /// # Errors
    /// When the file does not tell enough, or no method balances the flows.
    pub fn of(design: &'a Design) -> Result<Self, NotRunning> {
        let running = Running::new(&design.waterworks, Setting::default())?;
        let report = water::report(&running);
        Ok(Self { running, report })
    }

    /// Plays failures, on all threads; what comes of each stands in the order of `failures`.
    pub fn rehearse(&self, failures: &[Failure]) -> Vec<Result<Outcome, Box<Finding>>> {
        let play = |failure: &Failure| {
            water::rehearse(&self.running, failure).map_err(|error| {
                Box::new(not_rehearsed(self.running.system.works, failure, &error))
            })
        };
        failures.par_iter().map(play).collect()
    }

    /// The highest level at which the return chamber may be kept.
    pub fn safe_level(&self) -> Option<SafeLevel> {
        let reserve = &self.report.reserve;
        let height_mm = reserve.highest_safe_m? * 1e3;
        Some(SafeLevel { chamber: reserve.chamber.clone(), height_mm })
    }
}

impl<'a> Known<'a> {
    /// Everything: levels, failures, findings.
    pub fn of(design: &'a Design) -> Self {
        let mut findings = Vec::new();
        let (failures, unknown) = water::rehearsals(&design.waterworks);
        findings.extend(unknown.iter().map(unknown_name));
        let in_flow = match InFlow::of(design) {
            Ok(in_flow) => in_flow,
            Err(reason) => {
                findings.extend(not_in_flow(&reason));
                return Self { in_flow: None, outcomes: Vec::new(), findings };
            }
        };
        let mut outcomes = Vec::new();
        for outcome in in_flow.rehearse(&failures) {
            match outcome {
                Ok(outcome) => outcomes.push(outcome),
                Err(finding) => findings.push(*finding),
            }
        }
        let InFlow { running, report } = &in_flow;
        findings.extend(water::findings(running, report, &outcomes, design.report));
        Self { in_flow: Some(in_flow), outcomes, findings }
    }
}

/// What is said when nothing is known of the water in flow.
pub fn not_in_flow(reason: &NotRunning) -> [Finding; 2] {
    let parameter = parameter(reason);
    [
        Finding::not_checked(LEVELS, parameter, reason.to_string()).with_hint(what_to_add(reason)),
        Finding::not_checked(FAILURES, parameter, NO_FAILURE),
    ]
}

/// The same for one who asked for the failures alone.
pub fn not_rehearsed_without(reason: &NotRunning) -> Finding {
    let message = format!("{NO_FAILURE}: {reason}");
    Finding::not_checked(FAILURES, parameter(reason), message).with_hint(what_to_add(reason))
}

/// Why there are no rehearsals; what stands in the way is said where the levels are.
const NO_FAILURE: &str = "no failure is rehearsed without levels in flow";

fn parameter(reason: &NotRunning) -> &str {
    match reason {
        NotRunning::Missing(missing) => missing.parameter(),
        _ => "",
    }
}

/// What is said of the water while a finding about the design fails: what cannot be built needs no levels,
/// and they would only hide the cause.
pub fn not_while_failing() -> [Finding; 2] {
    let reason = "not computed while a finding about the design fails";
    [(LEVELS, "levels and flows"), (FAILURES, "power cuts, blocked drains and other failures")]
        .map(|(code, what)| Finding::not_checked(code, "", format!("{what}: {reason}")))
}

/// What the file must tell before levels in flow can be computed.
fn what_to_add(reason: &NotRunning) -> &'static str {
    use water::Missing;
    match reason {
        NotRunning::Missing(missing) => match missing {
            Missing::PumpData { .. } | Missing::Curve { .. } => {
                "copy a few points of `curve` from the maker's data sheet of the pump"
            }
            Missing::Water(_) => "give `water` a temperature and salinity that aquaria have",
            _ => {
                "describe the way up and down: `[display]` with its overflow, a `[[drain]]` with `intake`, and a \
                 `[[return_line]]`; `sumpwright new` writes a file that has them all"
            }
        },
        _ => {
            "change the measures of what the water passes; this is a limit of the method, not of the sump"
        }
    }
}

fn not_rehearsed(
    works: &design::Waterworks,
    failure: &Failure,
    error: &water::TransientError,
) -> Finding {
    let message = format!("`{}` could not be rehearsed: {error}", failure.name(works));
    Finding::not_checked(FAILURES, failure.parameter(works), message)
}

/// A name in the file that is no failure's.
fn unknown_name(unknown: &UnknownName) -> Finding {
    Finding::fails("unknown-rehearsal", &unknown.parameter, unknown.to_string())
        .with_hint(name_hint(&unknown.name, &unknown.known))
}

/// The names that may be meant, if there are any, and all of them.
pub fn name_hint(name: &str, known: &[String]) -> String {
    let quoted = |names: &[&String]| -> Vec<String> {
        names.iter().map(|name| format!("`{name}`")).collect()
    };
    let all = quoted(&known.iter().collect::<Vec<_>>()).join(", ");
    let meant = match quoted(&meant(name, known)).as_slice() {
        [] => String::new(),
        [one] => format!("did you mean {one}? "),
        [before @ .., last] => format!("did you mean {} or {last}? ", before.join(", ")),
    };
    format!("{meant}the names are {all}")
}

/// Every name of which `name` is a whole part, as `pump` of `return pump`; where there is none, the one whose letters
/// are nearest.
fn meant<'a>(name: &str, known: &'a [String]) -> Vec<&'a String> {
    let words = |text: &str| -> Vec<String> {
        let words = text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty());
        words.map(str::to_lowercase).collect()
    };
    let asked = words(name);
    let has_it = |known: &&String| {
        !asked.is_empty() && words(known).windows(asked.len()).any(|part| *part == *asked)
    };
    let longer: Vec<&String> = known.iter().filter(has_it).collect();
    if !longer.is_empty() {
        return longer;
    }
    let likeness =
        |known: &String| strsim::jaro_winkler(&name.to_lowercase(), &known.to_lowercase());
    let nearest = known.iter().max_by(|a, b| likeness(a).total_cmp(&likeness(b)));
    nearest.filter(|known| likeness(known) > LIKE).into_iter().collect()
}

/// Names this alike may be meant (Jaro–Winkler, from 0 to 1); our judgement.
const LIKE: f64 = 0.8;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_nearest_name_is_offered() {
        let known = ["power cut", "power back", "no top-up"].map(str::to_owned);
        let all = "the names are `power cut`, `power back`, `no top-up`";
        assert_eq!(name_hint("Powercut", &known), format!("did you mean `power cut`? {all}"));
        assert_eq!(name_hint("flood", &known), all);
    }

    #[test]
    fn a_whole_part_of_a_name_goes_before_letters_that_are_alike() {
        let known = ["sump", "return pump", "leaf comb", "lift pump", "combs"].map(str::to_owned);
        let all = "the names are `sump`, `return pump`, `leaf comb`, `lift pump`, `combs`";
        let several = "did you mean `return pump` or `lift pump`?";
        assert_eq!(name_hint("pump", &known), format!("{several} {all}"));
        assert_eq!(name_hint("Comb", &known), format!("did you mean `leaf comb`? {all}"));
        assert_eq!(name_hint("sumpp", &known), format!("did you mean `sump`? {all}"));
        assert_eq!(name_hint("-", &known), all);
    }
}
