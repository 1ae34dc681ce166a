//! Laws of the exact numbers, held against `BigRational` alone as the slow, plain reference.

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::{Signed, ToPrimitive};
use proptest::prelude::*;

use super::{Interval, NumberFault, Rational, Tally};

fn big(r: &Rational) -> BigRational {
    r.to_fraction()
}

/// Numbers around the edges: 0, 1, 64 bits, 128 bits, beyond.
fn edge() -> impl Strategy<Value = BigInt> {
    (0u32..200, -3i64..4, any::<bool>(), any::<i64>()).prop_map(|(bits, near, plain, random)| {
        if plain {
            BigInt::from(random)
        } else {
            (BigInt::from(1) << bits) * (if random < 0 { -1 } else { 1 }) + near
        }
    })
}

fn rational() -> impl Strategy<Value = Rational> {
    (edge(), edge()).prop_map(|(n, d)| {
        let number = |b: &BigInt| {
            // Built by arithmetic from pieces of 32 bits, so that no shortcut is shared.
            let digits = b.magnitude().to_u32_digits();
            let size = digits.iter().rev().fold(Rational::ZERO, |sum, digit| {
                sum * Rational::integer(1 << 32) + Rational::integer((*digit).into())
            });
            if b.sign() == num_bigint::Sign::Minus {
                -size
            } else {
                size
            }
        };
        let denominator = if d == BigInt::ZERO {
            BigInt::from(1)
        } else {
            d
        };
        number(&n).checked_div(&number(&denominator)).unwrap()
    })
}

proptest! {
    #[test]
    fn arithmetic_is_that_of_big_rationals(a in rational(), b in rational()) {
        prop_assert_eq!(big(&(&a + &b)), big(&a) + big(&b));
        prop_assert_eq!(big(&(&a - &b)), big(&a) - big(&b));
        prop_assert_eq!(big(&(&a * &b)), big(&a) * big(&b));
        if !b.is_zero() {
            prop_assert_eq!(big(&a.checked_div(&b).unwrap()), big(&a) / big(&b));
        }
        prop_assert_eq!(a.cmp(&b), big(&a).cmp(&big(&b)));
        prop_assert_eq!(a == b, big(&a) == big(&b));
        prop_assert_eq!(big(&-&a), -big(&a));
        prop_assert_eq!(a.to_string(), big(&a).to_string());
    }

    #[test]
    fn rounding_goes_where_it_says(a in rational(), step in rational()) {
        let step = step.abs();
        if step.is_zero() {
            prop_assert!(a.floor_to(&step).is_none());
            return Ok(());
        }
        let (down, up) = (a.floor_to(&step).unwrap(), a.ceil_to(&step).unwrap());
        let nearest = a.round_to(&step).unwrap();
        prop_assert!(down <= a && a <= up);
        prop_assert!(&up - &down == step || (up == down && up == a));
        for rounded in [&down, &up, &nearest] {
            prop_assert!(big(&rounded.checked_div(&step).unwrap()).is_integer());
        }
        let (below, above) = (&a - &down, &up - &a);
        prop_assert_eq!(nearest, if below < above { down } else { up });
    }

    #[test]
    fn text_is_read_back(a in rational()) {
        let text = a.to_string();
        if text.split('/').all(|n| n.len() <= 64) {
            prop_assert_eq!(Rational::parse(&text).unwrap(), a);
        }
    }

    #[test]
    fn doubles_enter_as_their_shortest_decimal(x in any::<f64>()) {
        prop_assume!(x.is_finite());
        let exact = Rational::from_f64(x).unwrap();
        prop_assert_eq!(exact.to_f64(), x);
    }

    /// The standard library prints the shortest decimal: an independent reference.
    #[test]
    fn short_decimals_enter_as_they_are_printed(
        mantissa in -2_000_000_000_000_000i64..2_000_000_000_000_000,
        scale in 0i32..14,
        is_next in any::<bool>(),
    ) {
        let near = mantissa as f64 / 10f64.powi(scale);
        let double = if is_next { near.next_up() } else { near };
        let printed = Rational::parse(&format!("{double:e}")).unwrap();
        prop_assert_eq!(Rational::from_f64(double).unwrap(), printed);
    }

    /// The standard library's decimal parser rounds correctly: an independent reference.
    #[test]
    fn doubles_leave_correctly_rounded(mantissa in any::<i64>(), exponent in -350..310) {
        let text = format!("{mantissa}e{exponent}");
        prop_assert_eq!(Rational::parse(&text).unwrap().to_f64(), text.parse::<f64>().unwrap());
    }

    /// No other double is nearer, and of two equally near ones it is the even one.
    #[test]
    fn doubles_leave_as_the_nearest(a in rational()) {
        let double = a.to_f64();
        let exactly = |x: f64| BigRational::from_float(x).unwrap();
        let distance = |x: f64| (big(&a) - exactly(x)).abs();
        for other in [double.next_up(), double.next_down()] {
            let is_even = double.to_bits() % 2 == 0;
            let near = distance(double).cmp(&distance(other));
            prop_assert!(near.is_lt() || (near.is_eq() && is_even), "{a} {double:e}");
        }
    }

    #[test]
    fn reducing_divides_by_the_greatest_common_divisor(a in rational(), n in any::<i64>()) {
        let n = if n == 0 { 1 } else { n };
        let n = Rational::from(n);
        let same = (&a * &n).checked_div(&n).unwrap();
        prop_assert_eq!(same.to_string(), big(&a).to_string());
        prop_assert_eq!(same.reduced().to_string(), big(&a).to_string());
        let reduced = |n: &Rational| n.in_lowest_terms();
        prop_assert_eq!(reduced(&same), reduced(&a));
    }

    #[test]
    fn sums_are_those_of_big_rationals(terms in prop::collection::vec((rational(), rational()), 0..9)) {
        let mut tally = Tally::NOTHING;
        let mut slow = BigRational::from_integer(0.into());
        for (a, b) in &terms {
            Tally::add_products(std::array::from_mut(&mut tally), a, [b]);
            tally.add(a);
            slow += big(a) * big(b) + big(a);
        }
        prop_assert_eq!(big(&tally.total()), slow);
    }

    #[test]
    fn no_text_panics(text in "[-+0-9 ./,eE'x%_]{0,90}") {
        let _ = Rational::parse(&text);
    }

    #[test]
    fn intervals_hold_all_results(a in rational(), b in rational(), c in rational(), d in rational()) {
        let of = |x: &Rational, y: &Rational| {
            Interval::new(x.min(y).clone(), x.max(y).clone()).unwrap()
        };
        let (left, right) = (of(&a, &b), of(&c, &d));
        prop_assert!((&left + &right).contains(&(&a + &d)));
        prop_assert!((&left - &right).contains(&(&b - &c)));
        prop_assert!((&left * &right).contains(&(&a * &c)));
        prop_assert!((&left * &right).contains(&(&b * &d)));
        if let Some(quotient) = left.checked_div(&right) {
            prop_assert!(quotient.contains(&a.checked_div(&d).unwrap()));
        } else {
            prop_assert!(right.contains(&Rational::ZERO));
        }
    }
}

#[test]
fn text_as_people_write_it() {
    for (text, exact) in [
        ("12.5", "25/2"),
        ("1/3", "1/3"),
        ("2 1/2", "5/2"),
        ("-2 1/2", "-5/2"),
        (".5", "1/2"),
        ("5.", "5"),
        ("1e3", "1000"),
        ("2.50E-2", "1/40"),
        ("+7", "7"),
        ("007", "7"),
        (" 3 ", "3"),
        ("0.123456789", "123456789/1000000000"),
    ] {
        assert_eq!(Rational::parse(text).unwrap().to_string(), exact, "{text}");
    }
}

#[test]
fn text_that_is_no_number_is_explained() {
    let says = |text: &str| Rational::parse(text).unwrap_err();
    assert_eq!(says(""), NumberFault::Empty);
    assert_eq!(says("12,5"), NumberFault::DecimalComma("12.5".into()));
    assert_eq!(says(",5"), NumberFault::DecimalComma("0.5".into()));
    assert_eq!(
        says("1,000"),
        NumberFault::Grouped("1000 (or 1.000)".into())
    );
    assert_eq!(says("1,000,000"), NumberFault::Grouped("1000000".into()));
    assert_eq!(says("1 000"), NumberFault::Grouped("1000".into()));
    assert_eq!(says("1'000"), NumberFault::Grouped("1000".into()));
    assert_eq!(says("1/0"), NumberFault::ZeroDenominator);
    assert_eq!(says("1e401"), NumberFault::ExponentTooLarge);
    assert_eq!(says("1e99999999999"), NumberFault::ExponentTooLarge);
    assert_eq!(says(&"1".repeat(65)), NumberFault::TooManyDigits);
    for text in [
        "abc", "1.2.3", "--1", "1/2/3", "1/", "/2", "0x10", "1 2", "NaN", "inf", "½", ".",
        "1.234,5", "1 234,5", "1.5'000",
    ] {
        assert!(matches!(says(text), NumberFault::NotANumber(_)), "{text}");
    }
}

#[test]
fn the_edge_of_128_bits_is_not_seen() {
    let max = Rational::parse(&i128::MAX.to_string()).unwrap();
    let more = &max + &Rational::ONE;
    assert_eq!(more.to_string(), "170141183460469231731687303715884105728");
    assert_eq!((&more - &Rational::ONE), max);
    let min = -&more;
    assert_eq!((-&min), more);
    assert_eq!(min.abs(), more);
    assert_eq!(
        Rational::ONE
            .checked_div(&min)
            .unwrap()
            .checked_div(&min)
            .unwrap()
            * &min
            * &min,
        Rational::ONE
    );
    assert_eq!(big(&max).to_integer().to_i128(), Some(i128::MAX));
    assert_eq!(Rational::parse("1e300").unwrap().to_f64(), 1e300);
}
