//! The code that gives a student an apparatus.

use crate::simulation::random::Random;
use whorl_words as words;

/// A seed, below 31⁵ = 28 629 151: few enough to be read out, enough that no two of a class share one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Seed(u32);

/// Letters and digits that look and sound unlike each other: no 0, O, 1, I, L. Their number is a prime, which the
/// check needs.
const SIGNS: &[u8; 31] = b"23456789ABCDEFGHJKMNPQRSTUVWXYZ";
const BASE: u32 = 31;
const COUNT: u32 = BASE * BASE * BASE * BASE * BASE;

/// Why a text is no code.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SeedProblem {
    /// Not six signs.
    #[error("{}", words::bench::seed_length(.0))]
    Length(usize),
    /// A sign that no code has.
    #[error("{}", words::bench::seed_sign(.0))]
    Sign(char),
    /// The check does not come out: a sign is wrong, or two are exchanged.
    #[error("{}", words::bench::seed_check())]
    Check,
}

impl Seed {
    /// The seed with this number; those beyond the last begin again.
    pub fn new(number: u64) -> Self {
        Self(u32::try_from(number % u64::from(COUNT)).unwrap_or(0))
    }

    /// Its number.
    pub fn number(self) -> u32 {
        self.0
    }

    /// Five signs and one for the check, as `FDE-QQT`.
    ///
    /// The check makes the sum of k · sign k vanish modulo 31. Since 31 is a prime and the weights differ, one
    /// wrong sign or two exchanged ones never keep it (the principle of ISBN-10's check digit, ISO 2108).
    pub fn code(self) -> String {
        let mut left = self.0;
        let mut values = [0; 6];
        for value in values.iter_mut().skip(1) {
            *value = left % BASE;
            left /= BASE;
        }
        // The check stands first in the sum, with weight 1.
        values[0] = (BASE - weighted(&values) % BASE) % BASE;
        let sign = |value: &u32| SIGNS.get(*value as usize).copied().map_or('?', char::from);
        // Read from the last value to the check.
        let signs: String = values.iter().rev().map(sign).collect();
        let (front, back) = signs.split_at(3);
        format!("{front}-{back}")
    }

    /// The seed of a code; case, spaces and hyphens do not matter.
    ///
    /// # Errors
    /// Says what is wrong with the code, and where one may have misread it.
    pub fn from_code(code: &str) -> Result<Self, SeedProblem> {
        let signs = code.chars().filter(|sign| !sign.is_whitespace() && !matches!(sign, '-' | '–'));
        let mut values = Vec::new();
        for sign in signs {
            let upper = sign.to_ascii_uppercase();
            let value = SIGNS.iter().position(|known| char::from(*known) == upper);
            values.push(u32::try_from(value.ok_or(SeedProblem::Sign(sign))?).unwrap_or(0));
        }
        if values.len() != 6 {
            return Err(SeedProblem::Length(values.len()));
        }
        values.reverse();
        if !weighted(&values).is_multiple_of(BASE) {
            return Err(SeedProblem::Check);
        }
        Ok(Self(values.iter().skip(1).rev().fold(0, |number, value| number * BASE + value)))
    }

    /// Random numbers for one purpose: `purpose` names them, so that new purposes leave the others as they are.
    pub(super) fn stream(self, purpose: &str) -> Random {
        // The hash of Fowler, Noll and Vo, 64 bits, variant 1a.
        let name = purpose.bytes().fold(0xcbf2_9ce4_8422_2325, |hash: u64, byte| {
            (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
        });
        Random::new(u64::from(self.0)).fork(name)
    }
}

/// Σ k · value, k from 1.
fn weighted(values: &[u32]) -> u32 {
    (1..).zip(values).map(|(weight, value)| weight * value).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_code_comes_back_however_it_is_typed() {
        for number in [0, 1, 30, 31, 923_521, 12_345_678, u64::from(COUNT) - 1] {
            let seed = Seed::new(number);
            let code = seed.code();
            assert_eq!(code.len(), 7);
            assert_eq!(Seed::from_code(&code), Ok(seed), "{code}");
            let spoken = code.to_lowercase().replace('-', " ");
            assert_eq!(Seed::from_code(&spoken), Ok(seed));
        }
        assert_eq!(Seed::new(u64::from(COUNT)), Seed::new(0));
    }

    #[test]
    fn a_slip_of_the_pen_is_noticed() {
        let code = Seed::new(12_345_678).code();
        let signs: Vec<char> = code.chars().filter(|sign| *sign != '-').collect();
        for place in 0..6 {
            for other in SIGNS.iter().map(|sign| char::from(*sign)).filter(|sign| *sign != signs[place]) {
                let mut slip = signs.clone();
                slip[place] = other;
                assert_eq!(Seed::from_code(&slip.iter().collect::<String>()), Err(SeedProblem::Check));
            }
            for other in 0..place {
                let mut slip = signs.clone();
                slip.swap(place, other);
                let found = Seed::from_code(&slip.iter().collect::<String>());
                assert_eq!(found.is_err(), signs[place] != signs[other]);
            }
        }
        assert_eq!(Seed::from_code("K7M-4Q"), Err(SeedProblem::Length(5)));
        assert_eq!(Seed::from_code("K7M-4Q0"), Err(SeedProblem::Sign('0')));
    }

    #[test]
    fn streams_differ_by_purpose_and_seed() {
        let word = |seed: u64, purpose: &str| Seed::new(seed).stream(purpose).bits();
        assert_eq!(word(1, "drum"), word(1, "drum"));
        assert_ne!(word(1, "drum"), word(1, "table"));
        assert_ne!(word(1, "drum"), word(2, "drum"));
    }
}
