//! What to write into the file to keep what was tried: whole lines, in place of what stands there.

mod lines;

use show::Door;
use units::{Length, System};

use super::{Choice, SAME_MM, Slot, Trial};
use crate::edit::{Edit, Spot, quoted};
use crate::reading::Reading;
pub use lines::Lines;

/// Something to write into the file.
#[derive(Clone, Debug, PartialEq)]
pub struct Kept {
    /// What to write, a whole line or several: `set = 212`.
    pub text: String,
    /// Paths of the parameters that are set by it.
    pub parameters: Vec<String>,
    /// Where; `None` when the file says nothing around it.
    pub lines: Option<Lines>,
}

/// The file's text, and where things stand in it: of every slot and every door.
#[derive(Clone, Debug)]
pub(super) struct Places {
    text: String,
    slots: Vec<Place>,
    doors: Vec<Place>,
}

/// Where one parameter stands, or would stand.
#[derive(Clone, Debug)]
struct Place {
    parameter: String,
    spot: Option<Spot>,
}

impl Places {
    pub(super) fn of(reading: &Reading, slots: &[Slot], doors: &[Door]) -> Self {
        let place = |parameter: String| {
            let spot = Spot::of(&reading.source.text, &reading.spans, &parameter);
            Place { parameter, spot }
        };
        Self {
            text: reading.source.text.clone(),
            slots: slots.iter().map(|slot| place(slot.parameter.clone())).collect(),
            doors: doors.iter().map(|door| place(set_of(door))).collect(),
        }
    }
}

/// Path of the parameter that sets a door.
fn set_of(door: &Door) -> String {
    format!("leaf.{}.door.set", door.leaf)
}

impl Trial {
    /// What to write into the file to keep a choice, from its beginning to its end; nothing for what is as in the file.
    pub fn to_keep(&self, choice: &Choice) -> Vec<Kept> {
        let places = &self.places;
        let slots = self.slots.iter().zip(&choice.leaves).zip(&places.slots);
        let slots = slots
            .filter(|((_, leaf), _)| **leaf > 0)
            .map(|((slot, leaf), place)| (place, "slot", order(slot, *leaf)));
        let doors = self.doors.iter().zip(&choice.doors_mm).zip(&places.doors);
        let doors = doors
            .filter(|((door, mm), _)| SAME_MM < (*mm - door.set_mm).abs())
            .map(|((_, mm), place)| (place, "set", written(*mm, self.system)));
        let (mut edits, mut nowhere) = (Vec::new(), Vec::new());
        for (place, key, value) in slots.chain(doors) {
            let parameter = place.parameter.clone();
            match &place.spot {
                Some(spot) => edits.push(Edit::new(spot, parameter, key, &value)),
                None => nowhere.push(Kept {
                    text: format!("{key} = {value}"),
                    parameters: vec![parameter],
                    lines: None,
                }),
            }
        }
        let mut kept = lines::as_lines(&places.text, edits);
        kept.extend(nowhere);
        kept
    }
}

/// The leaves of a slot with the chosen one first, as the file lists them.
fn order(slot: &Slot, chosen: usize) -> String {
    let others = slot.leaves.iter().enumerate().filter(|(k, _)| *k != chosen).map(|(_, leaf)| leaf);
    let names: Vec<String> =
        slot.leaves.get(chosen).into_iter().chain(others).map(|name| quoted(name)).collect();
    format!("[{}]", names.join(", "))
}

/// A height as the file takes it: millimetres without their unit, inches with it where they say the same.
fn written(mm: f64, system: System) -> String {
    let inches = Length::mm(mm).show(System::UsCustomary);
    let hundredth_in = (mm / 25.4 * 100.0).round() / 100.0;
    if system == System::UsCustomary && (hundredth_in * 25.4 - mm).abs() < SAME_MM {
        return quoted(&inches);
    }
    // To a hundredth, without trailing zeros.
    format!("{}", (mm * 100.0).round() / 100.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn heights_are_written_as_the_file_takes_them() {
        assert_eq!(written(212.0, System::Metric), "212");
        assert_eq!(written(212.5, System::Metric), "212.5");
        assert_eq!(written(8.33 * 25.4, System::UsCustomary), r#""8.33 in""#);
        // A limit that is given in millimetres is met exactly.
        assert_eq!(written(170.0, System::UsCustomary), "170");
    }
}
