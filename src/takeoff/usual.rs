//! What the trade takes for granted where neither design nor shop file says anything; each figure with the words that
//! stand beside every line it enters. Common practice, no source, unless the shop states its own.

use crate::base::number::{Dimension, Number, Quantity, Ratio, Rounding};
use crate::design::model::pipe::{PipeMaterial, PipeSize, Schedule};
use crate::design::model::shop::{ShopFile, Stock};

/// A figure, and how it is told that it was taken for granted.
pub(super) struct Usual {
    pub(super) value: Ratio,
    pub(super) said: String,
}

fn so_much(text: &str, dimension: Dimension) -> Ratio {
    Quantity::parse(text, dimension).ok().map(|quantity| quantity.number.high()).unwrap_or_default()
}

fn length(text: &str, said: impl Fn(&str) -> String) -> Usual {
    Usual { value: so_much(text, Dimension::LENGTH), said: said(text) }
}

fn stock(shop: Option<&ShopFile>, fits: impl Fn(&Stock) -> bool) -> Option<&Stock> {
    shop?.stock.things().map(|(_, stock)| stock).find(|stock| fits(stock))
}

fn says(stock: &Stock, word: &str) -> bool {
    stock.what.known().is_some_and(|what| what.as_str().to_lowercase().contains(word))
}

/// The length in which a pipe is sold.
pub(super) fn pipe(
    shop: Option<&ShopFile>,
    material: PipeMaterial,
    size: PipeSize,
    schedule: Option<Schedule>,
) -> Usual {
    let own = stock(shop, |stock| {
        stock.material.known() == Some(&material)
            && stock.size.known().is_none_or(|own| *own == size)
            && stock.schedule.known().is_none_or(|own| Some(*own) == schedule)
            && stock.length.known().is_some()
    });
    match own.and_then(|stock| stock.length.known()) {
        Some(stated) => Usual {
            value: stated.number().low(),
            said: format!("pipe comes in lengths of {}, as the shop file says", stated.quantity),
        },
        None => length("10 ft", |text| format!("pipe comes in lengths of {text}")),
    }
}

/// What a cut takes.
pub(super) fn saw() -> Usual {
    length("1/8 in", |text| format!("each cut takes {text}"))
}

/// The share that is added for waste.
pub(super) fn waste(shop: Option<&ShopFile>) -> Usual {
    let own = shop.and_then(|shop| shop.defaults.known()).and_then(|defaults| defaults.waste.known());
    match own {
        Some(stated) => Usual {
            value: stated.number().high(),
            said: format!("{} more for waste, as the shop file says", stated.quantity),
        },
        None => Usual { value: so_much("10 %", Dimension::ONE), said: "10 % more for waste".to_owned() },
    }
}

/// What a cartridge of sealant holds.
pub(super) fn cartridge(shop: Option<&ShopFile>) -> (Usual, String) {
    let own = stock(shop, |stock| says(stock, "cartridge") && stock.volume.known().is_some());
    match own.and_then(|stock| stock.volume.known()) {
        Some(stated) => {
            let said = format!("a cartridge holds {}, as the shop file says", stated.quantity);
            (Usual { value: stated.number().low(), said }, stated.quantity.to_string())
        }
        None => {
            let text = "10 fl oz";
            let said = format!("a cartridge holds {text}");
            (Usual { value: so_much(text, Dimension::VOLUME), said }, text.to_owned())
        }
    }
}

/// A roll: how wide and how long it is, in words too.
pub(super) struct Roll {
    pub(super) width: Ratio,
    pub(super) length: Ratio,
    pub(super) called: String,
    pub(super) said: String,
}

/// A roll of membrane.
pub(super) fn membrane(shop: Option<&ShopFile>) -> Roll {
    let own = stock(shop, |stock| {
        says(stock, "membrane") && stock.width.known().is_some() && stock.length.known().is_some()
    });
    match own.and_then(|stock| stock.width.known().zip(stock.length.known())) {
        Some((width, long)) => {
            let called = format!("{} x {}", width.quantity, long.quantity);
            let said = format!("membrane comes in rolls of {called}, as the shop file says");
            Roll { width: width.number().low(), length: long.number().low(), called, said }
        }
        None => {
            let (width, long) = ("12 ft", "100 ft");
            let called = format!("{width} x {long}");
            let said = format!("membrane comes in rolls of {called}");
            let of = |text| so_much(text, Dimension::LENGTH);
            Roll { width: of(width), length: of(long), called, said }
        }
    }
}

/// A roll of tape: its length, and what it is called.
pub(super) fn tape(shop: Option<&ShopFile>) -> (Usual, String) {
    let own = stock(shop, |stock| says(stock, "tape") && stock.length.known().is_some());
    match own.and_then(|stock| stock.length.known()) {
        Some(stated) => {
            let said = format!("tape comes in rolls of {}, as the shop file says", stated.quantity);
            (Usual { value: stated.number().low(), said }, stated.quantity.to_string())
        }
        None => {
            let text = "100 ft";
            (length(text, |text| format!("tape comes in rolls of {text}")), text.to_owned())
        }
    }
}

/// How deep sealant fills a gap, where nothing says so.
pub(super) fn depth() -> Usual {
    length("1/2 in", |text| format!("sealant {text} deep"))
}

/// How wide and how deep a bead is that holds the edge of a sheet.
pub(super) fn bead() -> Usual {
    length("3/8 in", |text| format!("a bead {text} wide and as deep along sheets"))
}

/// A gap that is wider than this has a backer put in.
pub(super) fn backed() -> Usual {
    length("1/2 in", |text| format!("backer rod in gaps wider than {text}"))
}

/// What a bucket carries.
pub(super) fn bucket() -> Usual {
    let text = "5 gal";
    Usual { value: so_much(text, Dimension::VOLUME), said: format!("buckets of {text}, filled to the brim") }
}

/// A length as the trade cuts it: to the nearest eighth of an inch.
pub(super) fn to_the_eighth(length: &Number) -> Ratio {
    let eighth = so_much("1/8 in", Dimension::LENGTH);
    length.high().round_to(&eighth, Rounding::Nearest).unwrap_or_else(|| length.high())
}

/// A length up to the next inch.
pub(super) fn to_the_inch(length: &Ratio) -> Ratio {
    let inch = so_much("1 in", Dimension::LENGTH);
    length.round_to(&inch, Rounding::Up).unwrap_or_else(|| length.clone())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_figure_is_one() {
        for usual in
            [saw(), waste(None), cartridge(None).0, tape(None).0, depth(), bead(), backed(), bucket()]
        {
            assert!(usual.value.signum() > 0, "{}", usual.said);
        }
        let pipe = pipe(None, PipeMaterial::Pvc, PipeSize::Four, None);
        assert_eq!(pipe.value, Ratio::new(3048, 1000).unwrap());
        assert!(membrane(None).width.signum() > 0 && membrane(None).length > membrane(None).width);
    }

    #[test]
    fn a_length_is_cut_to_the_nearest_eighth() {
        for (length, cut) in [("1 ft 0.1 in", "1 ft 1/8 in"), ("8 ft 0.02 in", "8 ft")] {
            let length = Quantity::parse(length, Dimension::LENGTH).unwrap();
            assert_eq!(to_the_eighth(&length.number), so_much(cut, Dimension::LENGTH));
        }
    }
}
