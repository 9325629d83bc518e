//! Laws of the arithmetic, over many random amounts.

use dovetray::domain::quantity::{Amount, MixedAmount, Portions, Unit};
use num_rational::BigRational;
use proptest::prelude::*;

fn portions() -> impl Strategy<Value = Portions> {
    (1..=Portions::MAX).prop_map(|count| Portions::new(count).unwrap())
}

fn amount() -> impl Strategy<Value = Amount> {
    let unit = prop_oneof![Just(Unit::Gram), Just(Unit::Millilitre), Just(Unit::Each)];
    let term = 1..=Amount::TERM_MAX;
    (0..=Amount::TERM_MAX, term.clone(), 0..=Amount::TERM_MAX, term, unit).prop_map(
        |(n, d, n2, d2, unit)| {
            let low = Amount::exactly(n, d, unit).unwrap();
            low.up_to(Amount::exactly(n2, d2, unit).unwrap()).unwrap()
        },
    )
}

proptest! {
    #[test]
    fn scaling_up_and_back_changes_nothing(amount in amount(), from in portions(), to in portions()) {
        prop_assert_eq!(amount.scaled_by(&from.scale_to(to)).scaled_by(&to.scale_to(from)), amount);
    }

    #[test]
    fn a_combined_list_holds_what_its_lines_hold(
        amounts in prop::collection::vec(amount(), 0..6), from in portions(), to in portions(),
    ) {
        let factor = from.scale_to(to);
        let each: MixedAmount = amounts.iter().map(|amount| amount.scaled_by(&factor)).collect();
        let whole: MixedAmount = amounts.into_iter().collect();
        prop_assert_eq!(each, whole.scaled_by(&factor));
    }

    #[test]
    fn the_order_of_lines_does_not_matter(amounts in prop::collection::vec(amount(), 0..6)) {
        let backwards: MixedAmount = amounts.iter().cloned().rev().collect();
        prop_assert_eq!(backwards, amounts.into_iter().collect());
    }
}

/// With fixed-width terms this sum is wrong from the eleventh card on, and says nothing.
#[test]
fn many_awkward_cards_add_up_exactly() {
    let one_guest = Portions::new(1).unwrap();
    let cards = (400..=Portions::MAX).map(|serves| {
        let serves = Portions::new(serves).unwrap();
        Amount::exactly(1, 1, Unit::Gram).unwrap().scaled_by(&serves.scale_to(one_guest))
    });
    let sum: MixedAmount = cards.collect();
    let mut twin = BigRational::default();
    for serves in (400..=500).rev() {
        twin += BigRational::new(1.into(), serves.into());
    }
    assert_eq!(sum.parts().next().unwrap().high(), &twin);
}
