//! How many people lift something together, in numbers and in words.

/// Share of the sum of what each lifts alone that two people lift together, and three or more: two thirds and half. HSE
/// guidance L23, as Network Rail's "Lifting and handling in teams" restates it with an example (20 kg alone, 26.6 kg by two).
const TEAM: [f64; 2] = [2.0 / 3.0, 0.5];
/// Teams of more than four are unlikely to work well (HSE, at the same place); no more find room around a sump either.
pub const MOST_PEOPLE: u8 = 4;
/// What women lift by what men lift, at the same place of the figure of HSE's risk filter for lifting: 16 kg and 25 kg.
const MOST_ANYBODY_LIFTS: f64 = 16.0 / 25.0;

/// Where the numbers come from, for findings.
pub const LIFTING_SOURCE: &str = "HSE INDG143: 25 kg for men and 16 kg for women, close to the body and at knuckle height, \
    much less low down or at arm's length; teams by HSE L23: two lift two thirds of the sum, three and four half of it";

/// How many people lift `kg` together where one lifts `alone_kg`; `None` for more than find room.
///
/// `kg ≤ n · share(n) · alone_kg`, with a share of 1 for one, 2/3 for two, 1/2 for three and four. `alone_kg` is 25 kg at
/// best, for men, close to the body and between knuckle and elbow height: the risk filter for lifting of HSE's leaflet INDG143
/// (its figure's numbers from memory; the same 25 kg is the reference mass of ISO 11228-1); `strength.lift` of the file tells
/// it otherwise. Low, far from the body or through a door it is less: that is not reckoned here.
///
/// ```
/// assert_eq!(design::people_to_lift(30.0, 25.0), Some(2));
/// assert_eq!(design::people_to_lift(60.0, 25.0), None);
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

/// Of what one person lifts, which one: `one person lifts it`, or only a strong one, as it is more than 16 kg are to 25 kg.
pub fn who_lifts_alone(kg: f64, alone_kg: f64) -> &'static str {
    if kg <= MOST_ANYBODY_LIFTS * alone_kg {
        "one person lifts it, close to the body"
    } else {
        "one strong person lifts it at best, close to the body; two are better"
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// HSE INDG143 and L23: alone 25 kg, two together 33.3 kg, three 37.5 kg, four 50 kg.
    #[test]
    fn as_many_people_lift_as_guidance_says() {
        let weights = [1.0, 24.9, 25.1, 33.3, 33.4, 37.4, 37.6, 49.9, 50.1];
        let counts = weights.map(|kg| people_to_lift(kg, 25.0));
        let expected = [1, 1, 2, 2, 3, 3, 4, 4].map(Some);
        assert_eq!(counts[..8], expected);
        assert_eq!(counts[8], None);
    }

    /// Network Rail, "Lifting and handling in teams": where one lifts 20 kg, two should not lift more than about 26.6 kg.
    #[test]
    fn a_published_example_comes_out() {
        assert_eq!([26.6, 26.7].map(|kg| people_to_lift(kg, 20.0)), [Some(2), Some(3)]);
    }

    #[test]
    fn more_than_a_woman_lifts_is_for_the_strong() {
        assert!(!who_lifts_alone(16.0, 25.0).contains("strong"));
        assert!(who_lifts_alone(16.1, 25.0).contains("strong"));
    }

    #[test]
    fn who_lifts_less_alone_needs_more_hands() {
        assert!(people_to_lift(20.0, 10.0) > people_to_lift(20.0, 25.0));
        assert_eq!(people_to_lift(f64::NAN, 25.0), None);
    }
}
