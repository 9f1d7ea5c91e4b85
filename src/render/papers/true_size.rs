//! Lengths of what is printed at its true size.

use crate::base::number::{Number, Ratio};

/// A length in hundredths of a millimetre, to the next one upward, so that no letter comes out too small.
pub(in crate::render) fn hundredths(length: &Number) -> i128 {
    (&length.high() * &Ratio::from(100_000)).ceil().to_int().unwrap_or(0).max(0).into()
}

/// The same in millimetres, as one writes it.
pub(in crate::render) fn millimetres(length: &Number) -> String {
    let hundredths = hundredths(length);
    format!("{}.{:02}", hundredths / 100, hundredths % 100)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::number::{Dimension, Quantity};

    #[test]
    fn letters_of_a_quarter_of_an_inch_are_six_and_35_hundredths_of_a_millimetre_high() {
        // An inch is 25.4 mm exactly.
        for (written, wanted) in [("1/4 in", "6.35"), ("1/8 in", "3.18"), ("12 mm", "12.00")] {
            let height = Quantity::parse(written, Dimension::LENGTH).unwrap_or_else(|_| panic!("{written}"));
            assert_eq!(millimetres(&height.number), wanted, "{written}");
        }
    }
}
