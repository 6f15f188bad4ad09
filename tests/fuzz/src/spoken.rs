//! What a user says of a file, as bytes in front of it.

use whorl_core::readings::{Choice, Choices, DecimalMark, Delimiter, Encoding, Role};

/// How many bytes the choices take.
pub const N_SPOKEN: usize = 5;

/// The choices, and the file behind them; `None` when there are not even choices.
///
/// Bytes: encoding, delimiter, decimal mark, a column, what it holds. A byte beyond the last answer says
/// nothing, so that five times `0xFF` in front of a file leave everything to be guessed.
pub fn choices_and_file(input: &[u8]) -> Option<(Choices, &[u8])> {
    let (&[encoding, delimiter, decimal, column, role], file) = input.split_first_chunk::<N_SPOKEN>()?;
    let mut choices = Choices::default();
    choices.encoding = Encoding::ALL.get(usize::from(encoding)).copied();
    choices.delimiter = Delimiter::ALL.get(usize::from(delimiter)).copied();
    choices.decimal = DecimalMark::ALL.get(usize::from(decimal)).copied();
    if let Some(role) = Role::all().nth(usize::from(role)) {
        choices.set(Choice::Column(usize::from(column).max(1), role));
    }
    Some((choices, file))
}
