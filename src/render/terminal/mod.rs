//! Words on a terminal: drawn with marks under the lines of the file, or narrated without any drawing.

pub mod in_force;
pub mod books;
pub mod catalogue;
pub mod clause;
pub mod excerpt;
pub mod front;
pub mod page;
pub mod problems;
pub mod proof;
pub mod refused;
pub mod sheet;

/// How much of a review is shown.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Show {
    /// The first part alone.
    Summary,
    /// What is unmet or open, in full.
    OpenItems,
    /// What is met, not applicable or not yet due as well.
    Everything,
}

/// How a page is to look. Nothing else decides it: not the locale, not the machine.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct Look {
    /// How many columns there are.
    pub width: usize,
    /// Whether colours may be used; every word stands without them too.
    pub colour: bool,
    /// Whether to leave out all drawing and columns, for a screen reader or a plain printer.
    pub plain: bool,
}

impl Look {
    /// Eighty columns, drawn, without colour.
    #[must_use]
    pub fn standard() -> Self {
        Look { width: 80, colour: false, plain: false }
    }

    /// The same with a width that can be read: from 40 to 200 columns.
    #[must_use]
    pub fn wide(self, width: usize) -> Self {
        Look { width: width.clamp(40, 200), ..self }
    }
}
