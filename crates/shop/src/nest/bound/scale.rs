//! Scales: functions of lengths under which what lies side by side counts for no more than what it lies in.

/// How a length counts. Every one grows with the length, and is superadditive up to its sheet: two lengths together
/// count for at least as much as each alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Form {
    /// As it is.
    Plain,
    /// Carlier, Clautiaux and Moukrim 2007, as remembered: whole steps, counted from the near
    /// end of the sheet up to its middle, and from the far end beyond it.
    Steps { of: i64, step: i64 },
    /// Fekete and Schepers 2001, u^(k), as remembered: what is no whole (k+1)-th part of the sheet counts as the part below it, of k.
    Parts { of: i64, k: i64 },
    /// Fekete and Schepers 2001, U^(ε), after Martello and Toth, as remembered: what is shorter than the step counts for nothing, and what
    /// leaves room for nothing else counts as the whole sheet.
    Alone { of: i64, step: i64 },
}

/// A form with the greatest count of a unit of length among the lengths that are there, as a fraction.
#[derive(Clone, Copy, Debug)]
pub(super) struct Scale {
    form: Form,
    /// Count and length of the length that counts most for its size.
    dearest: [i64; 2],
}

impl Scale {
    fn new(form: Form, lengths: &[i32]) -> Self {
        let of = |length: &i32| [count(form, i64::from(*length)), i64::from(*length)];
        let dearest = lengths.iter().map(of).max_by(|a, b| (a[0] * b[1]).cmp(&(b[0] * a[1])));
        Self { form, dearest: dearest.unwrap_or([0, 1]) }
    }

    pub(super) fn of(&self, length: i32) -> i64 {
        count(self.form, i64::from(length))
    }

    /// What lengths that lie side by side within this one count for at most.
    pub(super) fn capacity(&self, sheet: i32) -> i64 {
        let sheet = i64::from(sheet);
        match self.form {
            // They hold only up to their own sheet. Beyond it no length counts for more than the dearest does.
            Form::Steps { of, .. } | Form::Parts { of, .. } | Form::Alone { of, .. }
                if of < sheet =>
            {
                let [most, length] = self.dearest;
                most * sheet / length
            }
            form => count(form, sheet),
        }
    }
}

fn count(form: Form, length: i64) -> i64 {
    match form {
        Form::Plain => length,
        Form::Steps { of, step } => {
            let length = length.min(of);
            match (2 * length).cmp(&of) {
                std::cmp::Ordering::Greater => 2 * (of / step - (of - length) / step),
                std::cmp::Ordering::Equal => of / step,
                std::cmp::Ordering::Less => 2 * (length / step),
            }
        }
        Form::Parts { of, k } => {
            let length = length.min(of);
            if (k + 1) * length % of == 0 { k * length } else { (k + 1) * length / of * of }
        }
        Form::Alone { of, step } => match length {
            _ if of - step < length => of,
            _ if length < step => 0,
            _ => length,
        },
    }
}

/// Steps are tried of at most so many lengths.
const MOST_STEPS: usize = 10;
/// Parts are tried up to this k: what is longer than a fifth of the sheet.
const MOST_PARTS: i64 = 4;

/// Scales for lengths within sheets; the first is the plain one.
pub(super) fn scales(lengths: &[i32], sheets: impl Iterator<Item = i32>) -> Vec<Scale> {
    let mut forms = vec![Form::Plain];
    for of in sheets.map(i64::from) {
        forms.extend((1..=MOST_PARTS).map(|k| Form::Parts { of, k }));
        let steps: Vec<i64> =
            lengths.iter().map(|length| i64::from(*length)).filter(|l| 2 * l <= of).collect();
        let every = steps.len().div_ceil(MOST_STEPS).max(1);
        for &step in steps.iter().rev().step_by(every) {
            forms.extend([Form::Steps { of, step }, Form::Alone { of, step }]);
        }
    }
    forms.into_iter().map(|form| Scale::new(form, lengths)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        /// What makes a scale one.
        #[test]
        fn lengths_side_by_side_count_for_no_more_than_what_they_lie_in(
            of in 1_i64..400, step in 1_i64..200, k in 1_i64..7, a in 0_i64..400, b in 0_i64..400,
        ) {
            let a = a % (of + 1);
            let b = b % (of + 1 - a);
            let mut forms = vec![Form::Plain, Form::Parts { of, k }];
            if 2 * step <= of {
                forms.extend([Form::Steps { of, step }, Form::Alone { of, step }]);
            }
            for form in forms {
                let (alone, together) = (count(form, a) + count(form, b), count(form, a + b));
                prop_assert!(alone <= together, "{form:?}: {a} and {b} count {alone}, {} counts {together}", a + b);
            }
        }

        #[test]
        fn a_longer_sheet_has_room_for_what_lies_in_it(
            of in 10_i64..200, step in 2_i64..60, k in 1_i64..5, lengths in prop::collection::vec(1_i32..90, 1..6),
        ) {
            let sheet: i32 = lengths.iter().sum();
            let step = step.min(of / 2);
            for form in [Form::Parts { of, k }, Form::Steps { of, step }, Form::Alone { of, step }] {
                let known: Vec<i32> = lengths.iter().copied().filter(|l| i64::from(*l) <= of).collect();
                let scale = Scale::new(form, &known);
                let sum: i64 = known.iter().map(|length| scale.of(*length)).sum();
                prop_assert!(sum <= scale.capacity(sheet), "{form:?}");
            }
        }
    }
}
