//! How many people lift something together.

/// Share of the sum of what each lifts alone that two people lift together, and three or more: two thirds and half. HSE
/// guidance L23 (from memory).
const TEAM: [f64; 2] = [2.0 / 3.0, 0.5];
/// Three and four people find room around a sump; more do not (our judgement).
pub const MOST_PEOPLE: u8 = 4;

/// How many people lift `kg` together where one lifts `alone_kg`; `None` for more than find room.
///
/// `kg ≤ n · share(n) · alone_kg`, with a share of 1 for one, 2/3 for two, 1/2 for three and four (HSE guidance L23, from
/// memory). `alone_kg` is 23 kg at best, close to the body and at knuckle height: the load constant of the revised NIOSH
/// lifting equation (T. R. Waters, V. Putz-Anderson, A. Garg, L. J. Fine, *Ergonomics* 36 (1993) 749–776,
/// doi:10.1080/00140139308967940); `strength.lift` of the file tells it otherwise. Low, far from the body or through a door
/// it is less: that is not reckoned here.
///
/// ```
/// assert_eq!(design::people_to_lift(30.0, 23.0), Some(2));
/// assert_eq!(design::people_to_lift(60.0, 23.0), None);
/// ```
pub fn people_to_lift(kg: f64, alone_kg: f64) -> Option<u8> {
    let together = |n: u8| {
        let share = match n {
            1 => 1.0,
            2 => TEAM[0],
            _ => TEAM[1],
        };
        f64::from(n) * share * alone_kg
    };
    (1..=MOST_PEOPLE).find(|&n| kg <= together(n))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NIOSH and HSE L23: alone 23 kg, two together 30.7 kg, three 34.5 kg, four 46 kg.
    #[test]
    fn as_many_people_lift_as_guidance_says() {
        let weights = [1.0, 22.9, 23.1, 30.6, 30.8, 34.4, 34.6, 45.9, 46.1];
        let counts = weights.map(|kg| people_to_lift(kg, 23.0));
        let expected = [1, 1, 2, 2, 3, 3, 4, 4].map(Some);
        assert_eq!(counts[..8], expected);
        assert_eq!(counts[8], None);
    }

    #[test]
    fn who_lifts_less_alone_needs_more_hands() {
        assert!(people_to_lift(20.0, 10.0) > people_to_lift(20.0, 23.0));
        assert_eq!(people_to_lift(f64::NAN, 23.0), None);
    }
}
