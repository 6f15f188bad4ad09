//! How a file separates its fields and writes its decimals.

/// Delimiter and decimal mark.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Dialect {
    pub(super) delimiter: u8,
    pub(super) decimal_comma: bool,
}

impl Dialect {
    /// Tabs and semicolons separate wherever they occur, since no number contains them; a comma
    /// does so only in their absence. With another separator, a comma in a number is its decimal mark.
    pub(super) fn of(text: &str) -> Self {
        let body = || text.lines().filter(|line| !line.trim().is_empty() && !line.starts_with('#')).take(50);
        let has = |mark: char| body().any(|line| line.contains(mark));
        let delimiter = match (has('\t'), has(';')) {
            (true, _) => b'\t',
            (_, true) => b';',
            _ => b',',
        };
        Self { delimiter, decimal_comma: delimiter != b',' }
    }

    /// Reads a number; `None` when the field is not one. Infinities and NaN are not numbers here.
    pub(super) fn number(self, field: &str) -> Option<f64> {
        let field = field.trim().replace('−', "-");
        let plain = if self.decimal_comma && field.matches(',').count() == 1 && !field.contains('.') {
            field.replace(',', ".")
        } else {
            field
        };
        // `parse` also takes words such as "inf" and "nan".
        let numeric = plain.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | '-' | '+' | 'e' | 'E'));
        if numeric { plain.parse().ok().filter(|value: &f64| value.is_finite()) } else { None }
    }
}

#[cfg(test)]
mod tests {
    use super::Dialect;

    #[test]
    fn the_separator_is_found_and_decides_what_a_comma_means() {
        assert_eq!(Dialect::of("t,v\n0.1,2\n").delimiter, b',');
        assert_eq!(Dialect::of("# a; note\nt;v\n0,1;2\n"), Dialect { delimiter: b';', decimal_comma: true });
        assert_eq!(Dialect::of("0,1\t2\n").number("0,1"), Some(0.1));
    }

    #[test]
    fn words_are_not_numbers() {
        let comma = Dialect { delimiter: b',', decimal_comma: false };
        for word in ["inf", "NaN", "infinity", "", "1e999", "0x10", "1,5"] {
            assert_eq!(comma.number(word), None, "{word}");
        }
        assert_eq!(comma.number(" −1.5e-3 "), Some(-0.0015));
    }
}
