//! The shop file: what a shop uses again and again.

use super::controls::{LabelOn, LabelSays};
use super::fan::Fan;
use super::job::Person;
use super::membrane::{Membrane, Sealant};
use super::pipe::{Fitting, Hangers, Pipe, PipeMaterial, PipeSize, Schedule};
use super::version::Version;
use crate::yaml::entry::{ListOf, Named};
use crate::yaml::measure::{Length, Measure, Money, Share, Volume};
use crate::yaml::name::Text;
use crate::yaml::record::record;
use crate::yaml::words::Count;

record! {
    /// A label text the shop uses.
    pub struct ShopLabel = "label text" {
        /// What it is put on.
        on: LabelOn = "on",
        /// The words on it.
        text: Text = "text",
        /// What it tells.
        says: ListOf<LabelSays> = "says",
        /// The height of its letters: `1/4 in`.
        letters: Measure<Length> = "letters",
        /// For labels repeated along a pipe: the distance from one to the next: `4 ft`.
        spacing: Measure<Length> = "spacing",
    }
}

record! {
    /// Something the shop keeps in stock.
    pub struct Stock = "stock" {
        /// What it is.
        what: Text = "what",
        /// What it is made of, for pipe.
        material: PipeMaterial = "material",
        /// Its schedule, for pipe.
        schedule: Schedule = "schedule",
        /// Its trade size, for pipe.
        size: PipeSize = "size",
        /// The length of one piece: `10 ft`.
        length: Measure<Length> = "length",
        /// The width of a roll: `12 ft`.
        width: Measure<Length> = "width",
        /// How much one holds: `10 fl oz`, for a cartridge.
        volume: Measure<Volume> = "volume",
        /// How many are in a pack.
        pack: Count = "pack",
        /// The price of one: `$50`.
        price: Measure<Money> = "price",
    }
}

record! {
    /// What a design takes from the shop where it says nothing itself.
    pub struct Defaults {
        /// What all pipe is, unless the design says otherwise.
        pipe: Pipe = "pipe",
        /// What holds runs up.
        hangers: Hangers = "hangers",
        /// What membranes are, unless the design says otherwise.
        membrane: Membrane = "membrane",
        /// The share added to material for waste: `10 %`.
        waste: Measure<Share> = "waste",
    }
}

record! {
    /// A shop file: fans, fittings, defaults and label texts that a shop uses again. It lies under every
    /// design.
    pub struct ShopFile {
        /// The version of the file format: 1.
        version: Version = "undercroft",
        /// The shop.
        shop: Person = "shop",
        /// Fans, by name.
        fans: Named<Fan> = "fans",
        /// Fittings, by name.
        fittings: Named<Fitting> = "fittings",
        /// What a design takes from the shop where it says nothing itself.
        defaults: Defaults = "defaults",
        /// Label texts, by name.
        labels: Named<ShopLabel> = "labels",
        /// Sealants, by name.
        sealants: Named<Sealant> = "sealants",
        /// Stock, by name.
        stock: Named<Stock> = "stock",
        /// Anything else worth keeping.
        notes: Text = "notes",
    }
}
