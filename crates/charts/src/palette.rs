//! Colors for light and dark paper.
//!
//! Every ink keeps a contrast of at least 3:1 with its paper and every text color 4.5:1 (WCAG 2.2,
//! success criteria 1.4.11 and 1.4.3), and the inks stay apart for readers who see no red, no green or
//! no blue. The tests below compute both.

use crate::figure::Ink;

/// A color as red, green and blue, 0 to 255.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rgb(pub u8, pub u8, pub u8);

/// The colors of one theme.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Palette {
    /// Background.
    pub paper: Rgb,
    /// Captions and the legend.
    pub text: Rgb,
    /// Numbers beside the ticks.
    pub faint_text: Rgb,
    /// Axis lines and ticks.
    pub axis: Rgb,
    /// Grid lines: only a hint, everything they say is in the ticks too.
    pub grid: Rgb,
    /// [`Ink::First`].
    pub first: Rgb,
    /// [`Ink::Second`].
    pub second: Rgb,
    /// [`Ink::Third`].
    pub third: Rgb,
    /// [`Ink::Fourth`].
    pub fourth: Rgb,
    /// [`Ink::Muted`].
    pub muted: Rgb,
    /// [`Ink::Accent`].
    pub accent: Rgb,
}

impl Palette {
    /// Dark inks on warm white paper.
    pub const LIGHT: Self = Self {
        paper: Rgb(0xfb, 0xf7, 0xef),
        text: Rgb(0x2a, 0x26, 0x22),
        faint_text: Rgb(0x5d, 0x55, 0x4b),
        axis: Rgb(0x6b, 0x62, 0x57),
        grid: Rgb(0xe9, 0xe2, 0xd6),
        first: Rgb(0x0b, 0x3d, 0x6e),
        second: Rgb(0xdf, 0x5f, 0x12),
        third: Rgb(0x0a, 0x75, 0x68),
        fourth: Rgb(0x84, 0x36, 0xb4),
        muted: Rgb(0x84, 0x80, 0x79),
        accent: Rgb(0xa8, 0x26, 0x0f),
    };

    /// Light inks on warm black paper.
    pub const DARK: Self = Self {
        paper: Rgb(0x1f, 0x1c, 0x18),
        text: Rgb(0xef, 0xe8, 0xdc),
        faint_text: Rgb(0xb9, 0xaf, 0xa0),
        axis: Rgb(0xa2, 0x98, 0x8a),
        grid: Rgb(0x35, 0x30, 0x2a),
        first: Rgb(0xa0, 0xd4, 0xfb),
        second: Rgb(0xf2, 0x7a, 0x1a),
        third: Rgb(0x4f, 0xae, 0x98),
        fourth: Rgb(0xb5, 0x6f, 0xf5),
        muted: Rgb(0x7a, 0x76, 0x71),
        accent: Rgb(0xfb, 0xd3, 0x6b),
    };

    /// The color of `ink` in this theme.
    pub fn ink(&self, ink: Ink) -> Rgb {
        match ink {
            Ink::First => self.first,
            Ink::Second => self.second,
            Ink::Third => self.third,
            Ink::Fourth => self.fourth,
            Ink::Muted => self.muted,
            Ink::Accent => self.accent,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const THEMES: [(&str, Palette); 2] = [("light", Palette::LIGHT), ("dark", Palette::DARK)];
    const INKS: [Ink; 6] = [Ink::First, Ink::Second, Ink::Third, Ink::Fourth, Ink::Muted, Ink::Accent];

    /// Linear red, green and blue, 0 to 1 (IEC 61966-2-1).
    fn linear(color: Rgb) -> [f64; 3] {
        [color.0, color.1, color.2].map(|channel| {
            let value = f64::from(channel) / 255.0;
            if value <= 0.04045 { value / 12.92 } else { ((value + 0.055) / 1.055).powf(2.4) }
        })
    }

    /// Contrast ratio as WCAG 2.2 defines it.
    fn contrast(a: Rgb, b: Rgb) -> f64 {
        let luminance = |color| {
            let [red, green, blue] = linear(color);
            0.2126 * red + 0.7152 * green + 0.0722 * blue
        };
        let (a, b) = (luminance(a), luminance(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    #[test]
    fn black_on_white_has_the_contrast_the_standard_gives_it() {
        assert!((contrast(Rgb(0, 0, 0), Rgb(255, 255, 255)) - 21.0).abs() < 1e-9);
    }

    #[test]
    fn every_ink_stands_out_from_its_paper() {
        for (name, palette) in THEMES {
            for ink in INKS {
                let found = contrast(palette.ink(ink), palette.paper);
                assert!(found >= 3.0, "{name} {ink:?}: {found:.2}");
            }
            let found = contrast(palette.axis, palette.paper);
            assert!(found >= 3.0, "{name} axis: {found:.2}");
        }
    }

    #[test]
    fn all_text_can_be_read() {
        for (name, palette) in THEMES {
            for text in [palette.text, palette.faint_text] {
                let found = contrast(text, palette.paper);
                assert!(found >= 4.5, "{name}: {found:.2}");
            }
        }
    }

    type Matrix = [[f64; 3]; 3];

    /// What a reader sees who lacks one kind of cone: Machado, Oliveira and Fernandes (2009), table 1, severity 1.
    const VISIONS: [(&str, Matrix); 4] = [
        ("all cones", [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]),
        (
            "no red",
            [
                [0.152_286, 1.052_583, -0.204_868],
                [0.114_503, 0.786_281, 0.099_216],
                [-0.003_882, -0.048_116, 1.051_998],
            ],
        ),
        (
            "no green",
            [
                [0.367_322, 0.860_646, -0.227_968],
                [0.280_085, 0.672_501, 0.047_413],
                [-0.011_820, 0.042_940, 0.968_881],
            ],
        ),
        (
            "no blue",
            [
                [1.255_528, -0.076_749, -0.178_779],
                [-0.078_411, 0.930_809, 0.147_602],
                [0.004_733, 0.691_367, 0.303_900],
            ],
        ),
    ];

    fn apply(matrix: Matrix, color: [f64; 3]) -> [f64; 3] {
        matrix.map(|row| row[0] * color[0] + row[1] * color[1] + row[2] * color[2])
    }

    /// Ottosson's perceptual space (2020): equal distances look about equally different.
    fn perceived(color: [f64; 3]) -> [f64; 3] {
        let cones = apply(
            [
                [0.412_221_470_8, 0.536_332_536_3, 0.051_445_992_9],
                [0.211_903_498_2, 0.680_699_545_1, 0.107_396_956_6],
                [0.088_302_461_9, 0.281_718_837_6, 0.629_978_700_5],
            ],
            color.map(|channel| channel.clamp(0.0, 1.0)),
        );
        apply(
            [
                [0.210_454_255_3, 0.793_617_785_0, -0.004_072_046_8],
                [1.977_998_495_1, -2.428_592_205_0, 0.450_593_709_9],
                [0.025_904_037_1, 0.782_771_766_2, -0.808_675_766_0],
            ],
            cones.map(f64::cbrt),
        )
    }

    #[test]
    fn inks_stay_apart_for_the_color_blind() {
        // A step of about 0.02 is just visible side by side. Gray may come nearer: it means "context".
        for (name, palette) in THEMES {
            for (vision, matrix) in VISIONS {
                for (index, one) in INKS.into_iter().enumerate() {
                    for other in INKS.into_iter().skip(index + 1) {
                        let look = |ink| perceived(apply(matrix, linear(palette.ink(ink))));
                        let (a, b) = (look(one), look(other));
                        let distance = a.iter().zip(b).map(|(p, q)| (p - q).powi(2)).sum::<f64>().sqrt();
                        let least = if [one, other].contains(&Ink::Muted) { 0.06 } else { 0.1 };
                        assert!(
                            distance >= least,
                            "{name}, {vision}: {one:?} and {other:?} differ by {distance:.3}"
                        );
                    }
                }
            }
        }
    }
}
