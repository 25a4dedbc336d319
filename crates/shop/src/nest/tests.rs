//! Guards that what is laid lies as it must, and that no bound is above a price.

use proptest::prelude::*;

use super::*;

fn size() -> impl Strategy<Value = Size> {
    (3..50, 3..50).prop_map(|(width, height)| Size { width, height })
}

fn items() -> impl Strategy<Value = Vec<Item>> {
    let one = (size(), any::<bool>(), any::<bool>()).prop_map(|(size, turns, is_open)| {
        let room =
            Rect { x: 3, y: 3, size: Size { width: size.width - 4, height: size.height - 4 } };
        let is_open = is_open && 20 < size.width && 20 < size.height;
        let rooms = if is_open { vec![room] } else { vec![] };
        Item { size, turns, openings: rooms.clone(), rooms }
    });
    prop::collection::vec(one, 1..14)
}

fn kinds() -> impl Strategy<Value = Vec<Kind>> {
    let one = (50..120, 50..120, 0_u64..90, prop::option::of(1_usize..4), any::<bool>()).prop_map(
        |(width, height, cost, quantity, turns)| Kind {
            size: Size { width, height },
            cost,
            quantity,
            turns,
        },
    );
    prop::collection::vec(one, 1..4)
}

/// A sheet of which nothing is left within its margins is of no use, and changes nothing.
#[test]
fn sheets_without_room_are_passed_over() {
    let kind = |width, height, cost| Kind {
        size: Size { width, height },
        cost,
        quantity: None,
        turns: true,
    };
    let item =
        Item { size: Size { width: 60, height: 40 }, turns: true, rooms: vec![], openings: vec![] };
    let items = vec![item; 3];
    let good = kind(100, 90, 7);
    let alone = nest(&items, std::slice::from_ref(&good), Rules::default()).expect("laid");
    for bad in [kind(-5, 500, 0), kind(-5, -5, 0), kind(0, 90, 0), kind(500, 1, 0)] {
        let both = nest(&items, &[bad, good.clone()], Rules::default()).expect("laid");
        assert_eq!((both.cost, both.bound), (alone.cost, alone.bound));
        assert!(both.sheets.iter().all(|sheet| sheet.kind == 1));
    }
}

fn rules(is_guillotine: bool) -> Rules {
    Rules { is_guillotine, rounds: 40, tidying: 10, seed: 1 }
}

/// All that a nest must be, but for its price.
fn check(items: &[Item], kinds: &[Kind], nest: &Nest, is_guillotine: bool) {
    let mut seen: Vec<usize> =
        nest.sheets.iter().flat_map(|s| &s.puts).map(|put| put.item).collect();
    seen.sort_unstable();
    assert_eq!(seen, (0..items.len()).collect::<Vec<_>>(), "each lies once");
    for (k, kind) in kinds.iter().enumerate() {
        let used = nest.sheets.iter().filter(|sheet| sheet.kind == k).count();
        assert!(kind.quantity.is_none_or(|quantity| used <= quantity));
    }
    let cost: u64 = nest.sheets.iter().map(|sheet| kinds[sheet.kind].cost).sum();
    assert_eq!(cost, nest.cost);
    assert!(nest.bound <= nest.cost, "{} is above {}", nest.bound, nest.cost);
    for sheet in &nest.sheets {
        let kind = &kinds[sheet.kind];
        let whole = Rect { x: 0, y: 0, size: kind.size };
        for (k, put) in sheet.puts.iter().enumerate() {
            let item = &items[put.item];
            assert!(whole.contains(put.rect));
            assert!(!put.is_turned || item.turns && kind.turns);
            let wanted = if put.is_turned { item.size.turned() } else { item.size };
            assert_eq!(put.rect.size, wanted);
            for other in &sheet.puts[..k] {
                let in_room = other.rooms(&items[other.item]).any(|room| room.contains(put.rect));
                assert!(!put.rect.overlaps(other.rect) || in_room && !is_guillotine);
            }
        }
        if is_guillotine {
            let parts: Vec<Rect> = sheet.puts.iter().map(|put| put.rect).collect();
            assert!(saw::cuts(kind.size, &parts, 0).is_some());
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn all_lies_as_it_must(items in items(), kinds in kinds(), is_guillotine: bool) {
        match nest(&items, &kinds, rules(is_guillotine)) {
            Ok(nest) => check(&items, &kinds, &nest, is_guillotine),
            Err(NestError::TooLarge(items)) => prop_assert!(!items.is_empty()),
            Err(NestError::TooFew { left, .. }) => prop_assert!(!left.is_empty()),
        }
    }

    #[test]
    fn the_same_question_has_the_same_answer(items in items(), kinds in kinds()) {
        prop_assert_eq!(nest(&items, &kinds, rules(false)), nest(&items, &kinds, rules(false)));
    }

    /// Sheets are cut into pieces at random: all pieces lie on so many sheets, so no bound may be above their price.
    #[test]
    fn no_bound_is_above_a_price_that_is_known(
        sheets in prop::collection::vec((0_usize..3, prop::collection::vec((any::<bool>(), 1..9), 0..9)), 1..5),
        sizes in prop::collection::vec((size(), 1_u64..90), 3),
        turns: bool,
    ) {
        let kinds: Vec<Kind> = sizes.iter().map(|(size, cost)| Kind { size: *size, cost: *cost, quantity: None, turns }).collect();
        let mut items = Vec::new();
        let mut price = 0;
        for (kind, cuts) in sheets {
            price += kinds[kind].cost;
            let mut pieces = vec![kinds[kind].size];
            for (k, (is_upright, share)) in cuts.into_iter().enumerate() {
                let Size { width, height } = pieces[k % pieces.len()];
                let at = if is_upright { width * share / 10 } else { height * share / 10 };
                if at == 0 {
                    continue;
                }
                let which = k % pieces.len();
                let both = if is_upright {
                    [Size { width: at, height }, Size { width: width - at, height }]
                } else {
                    [Size { width, height: at }, Size { width, height: height - at }]
                };
                pieces[which] = both[0];
                pieces.push(both[1]);
            }
            items.extend(pieces.into_iter().map(|size| Item { size, turns, rooms: vec![], openings: vec![] }));
        }
        let bound = bound::of(&items, &kinds).unwrap();
        prop_assert!(bound <= price, "{bound} is above {price}");
    }
}

#[test]
fn an_item_in_a_room_needs_no_sheet_of_its_own() {
    let rooms = vec![Rect { x: 10, y: 10, size: Size { width: 80, height: 30 } }];
    let size = Size { width: 100, height: 50 };
    let frame = Item { size, turns: true, openings: rooms.clone(), rooms };
    let small =
        Item { size: Size { width: 30, height: 80 }, turns: true, rooms: vec![], openings: vec![] };
    let kinds =
        [Kind { size: Size { width: 50, height: 100 }, cost: 7, quantity: None, turns: true }];
    let nest = nest(&[frame, small], &kinds, Rules::default()).unwrap();
    assert_eq!(nest.sheets.len(), 1);
    assert!(nest.is_proved());
}

/// In a place that the search does not know it might need none: the price is not proved.
#[test]
fn an_opening_without_a_room_proves_nothing() {
    let opening = Rect { x: 10, y: 10, size: Size { width: 80, height: 30 } };
    let size = Size { width: 100, height: 50 };
    let frame = |openings| Item { size, turns: true, rooms: vec![], openings };
    let small = Item { size: opening.size, turns: true, rooms: vec![], openings: vec![] };
    let kinds = [Kind { size, cost: 7, quantity: None, turns: true }];
    let laid = |openings| {
        let nest = nest(&[frame(openings), small.clone()], &kinds, Rules::default()).unwrap();
        (nest.cost, nest.bound)
    };
    assert_eq!(laid(vec![]), (14, 14));
    assert_eq!(laid(vec![opening]), (14, 7));
}

#[test]
fn what_is_larger_than_every_sheet_is_named() {
    let item = |width| Item {
        size: Size { width, height: 20 },
        turns: true,
        rooms: vec![],
        openings: vec![],
    };
    let kinds =
        [Kind { size: Size { width: 100, height: 50 }, cost: 1, quantity: None, turns: true }];
    let nest = nest(&[item(90), item(120)], &kinds, Rules::default());
    assert_eq!(nest, Err(NestError::TooLarge(vec![1])));
}

#[test]
fn too_few_sheets_are_proved_to_be_too_few() {
    let item =
        Item { size: Size { width: 60, height: 60 }, turns: true, rooms: vec![], openings: vec![] };
    let size = Size { width: 100, height: 100 };
    let kinds = [Kind { size, cost: 0, quantity: Some(2), turns: true }];
    let nest = nest(&[item.clone(), item.clone(), item], &kinds, Rules::default());
    assert!(matches!(nest, Err(NestError::TooFew { left, is_proved: true }) if left.len() == 1));
}

#[test]
fn at_the_same_price_less_sheet_is_taken() {
    let item =
        Item { size: Size { width: 40, height: 40 }, turns: true, rooms: vec![], openings: vec![] };
    let kind = |side| Kind {
        size: Size { width: side, height: side },
        cost: 0,
        quantity: Some(1),
        turns: true,
    };
    let kinds = [kind(200), kind(50), kind(90)];
    let nest = nest(&[item.clone(), item], &kinds, Rules::default()).unwrap();
    assert_eq!(nest.sheets.iter().map(|sheet| sheet.kind).collect::<Vec<_>>(), [2]);
}
