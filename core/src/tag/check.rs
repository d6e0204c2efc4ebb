//! Check digits by ISO/IEC 7064 MOD 97-10, over digits only.
//!
//! Two digits instead of one, because 97 is a prime greater than 90: the
//! remainder changes with any one digit and with any swap of neighbours, always.
//! The one-digit scheme MOD 11,10 lets some swaps through.

/// The remainder by 97 of the number that `digits` spell. `None` when there is
/// anything but digits, or nothing.
pub fn remainder(digits: &str) -> Option<u32> {
    if digits.is_empty() {
        return None;
    }
    digits.chars().try_fold(0, |rest, digit| {
        Some((rest * 10 + digit.to_digit(10)?) % 97)
    })
}

/// The two check digits as a number from 2 to 98, to be written with both
/// digits after `payload`. `None` as for [`remainder`].
///
/// ```
/// assert_eq!(countback_core::tag::check::check_pair("123456"), Some(76));
/// ```
pub fn check_pair(payload: &str) -> Option<u32> {
    Some(98 - remainder(payload)? * 100 % 97)
}

/// Whether the last two of `full` are the check digits of the rest.
pub fn is_valid(full: &str) -> bool {
    full.len() > 2 && remainder(full) == Some(1)
}
