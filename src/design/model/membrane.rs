//! Membranes, the sheets under slabs, and what closes gaps.

use serde_json::{Value, json};

use crate::base::value::EntryPath;
use crate::yaml::entry::{ListOf, Meaning, Named};
use crate::yaml::lay::Same;
use crate::yaml::measure::{Area, Length, Measure, Permeance, SheetThickness, TurnUp, Wanted};
use crate::yaml::name::Text;
use crate::yaml::record::{Reader, Reads, record};
use crate::yaml::schema::Schemas;
use crate::yaml::shape::PlanPoint;
use crate::yaml::tree::{NodeId, NodeKind};
use crate::yaml::words::{Count, words};

words! {
    /// What a gap is closed with.
    pub enum ClosedBy = "what closes a gap" {
        /// polyurethane sealant
        Polyurethane = "polyurethane",
        /// silicone sealant
        Silicone = "silicone",
        /// butyl sealant or tape
        Butyl = "butyl",
        /// acrylic or latex sealant
        Acrylic = "acrylic",
        /// expanding foam
        Foam = "foam",
        /// tape made for the sheet
        Tape = "tape",
        /// heat
        Weld = "weld",
        /// mortar or grout
        Mortar = "mortar",
        /// a rubber gasket
        Gasket = "gasket",
        /// a rubber boot with clamps
        Boot = "boot",
        /// sealant that stops fire
        FireSealant = "fire sealant",
        /// plastic roof cement
        RoofCement = "roof cement",
    }
}

words! {
    /// The class of a plastic vapour retarder under a slab, from strongest to weakest.
    pub enum RetarderClass = "class of a vapour retarder" {
        /// the strongest
        A = "A",
        /// the middle one
        B = "B",
        /// the weakest
        C = "C",
    }
}

words! {
    /// How the seams of a sheet are closed.
    pub enum Seams = "seams of a sheet" {
        /// with sealant
        Sealed = "sealed",
        /// with tape
        Taped = "taped",
        /// with heat
        Welded = "welded",
        /// they lie loose
        Loose = "loose",
    }
}

words! {
    /// What holds the edge of a membrane.
    pub enum HeldBy = "what holds an edge" {
        /// a batten screwed to the wall
        Batten = "batten",
        /// sealant alone
        Sealant = "sealant",
        /// pins or screws
        Fasteners = "fasteners",
        /// soil or stone laid on it
        Ballast = "ballast",
        /// tape
        Tape = "tape",
        /// stakes driven through it
        Stakes = "stakes",
    }
}

/// A measure that holds for the whole thing, with or without the word that says so: `12 in everywhere`.
#[derive(Clone, PartialEq, Debug)]
pub struct Throughout<W> {
    /// The measure.
    pub measure: Measure<W>,
    /// Whether the word `everywhere` stands behind it.
    pub everywhere: bool,
}

impl<W: Wanted> Same for Throughout<W> {
    fn same(&self, other: &Self) -> bool {
        self.measure.same(&other.measure) && self.everywhere == other.everywhere
    }
}

impl<W: Wanted> Reads for Throughout<W> {
    fn read(reader: &mut Reader<'_>, node: NodeId, path: &EntryPath) -> Option<Self> {
        if matches!(reader.tree().node(node)?.kind, NodeKind::Scalar { .. })
            && let Some(short) = reader.text(node)?.strip_suffix(" everywhere")
        {
            let quantity = reader.quantity::<W>(node, 0..short.len())?;
            return Some(Throughout {
                measure: Measure::stated(quantity, reader.span(node)),
                everywhere: true,
            });
        }
        Some(Throughout { measure: Measure::read(reader, node, path)?, everywhere: false })
    }

    fn means(&self) -> Meaning {
        match self.measure.means() {
            Meaning::Value(measure) if self.everywhere => Meaning::Value(format!("{measure} everywhere")),
            other => other,
        }
    }

    fn schema(defs: &mut Schemas) -> Value {
        let of = Measure::<W>::schema(defs);
        json!({ "anyOf": [of] })
    }
}

record! {
    /// How the edges of a membrane meet walls.
    pub struct Edges {
        /// Whether they are sealed to the wall.
        sealed: bool = "sealed",
        /// What they are sealed with; the word `none` if with nothing.
        sealed_with: ClosedBy = "sealed_with",
        /// Whether they are fixed so that they stay.
        fixed: bool = "fixed",
        /// What holds them.
        held_by: HeldBy = "held_by",
        /// How far they are turned up the wall: `8 in`.
        turn_up: Throughout<TurnUp> = "turn_up",
        /// How far below the wood they end, so that termites can be seen: `3 in`.
        below_wood: Throughout<Length> = "below_wood",
        /// Whether they touch wood of the frame that is not treated.
        touches_wood: bool = "touches_wood",
        /// Whether wood that holds them is treated or of a kind that resists rot and insects.
        battens_last: bool = "battens_last",
    }
}

record! {
    /// How a membrane meets piers and posts.
    pub struct PierEdges {
        /// Whether it is sealed to them.
        sealed: bool = "sealed",
        /// How far it is turned up: `6 in`.
        turn_up: Throughout<TurnUp> = "turn_up",
    }
}

record! {
    /// A pipe, post or cable through a membrane.
    pub struct MembranePenetration = "membrane penetration" {
        /// What passes through.
        what: Text = "what",
        /// Whether it is sealed.
        sealed: bool = "sealed",
        /// What it is sealed with; the word `none` if with nothing.
        sealed_with: ClosedBy = "sealed_with",
        /// How many there are of it.
        count: Count = "count",
    }
}

record! {
    /// Tears and holes in a sheet. The word `none` for a whole one.
    /// For instance: `{closed_with: tape}`.
    pub struct Tears {
        /// What they are closed with; the word `none` if with nothing.
        closed_with: ClosedBy = "closed_with",
        /// How far the patches over them lap on all sides: `6 in`.
        patch_lap: Measure<Length> = "patch_lap",
    }
}

record! {
    /// A membrane over soil.
    pub struct Membrane {
        /// What it is made of: `polyethylene`.
        material: Text = "material",
        /// How thick it is: `6 mil`.
        thickness: Measure<SheetThickness> = "thickness",
        /// The thickness printed on the product, as printed: `6 mil (0.15 mm)`.
        marked: Text = "marked",
        /// Its class by the standard for retarders under slabs: A, B or C. The word `none` for one of no
        /// class.
        class: RetarderClass = "class",
        /// How readily vapour passes: `0.1 perm`.
        permeance: Measure<Permeance> = "permeance",
        /// Whether it stands the chemical vapours that are under the house.
        stands_vapours: bool = "stands_vapours",
        /// Whether layers are pressed together crosswise.
        cross_laminated: bool = "cross_laminated",
        /// Whether threads strengthen it.
        reinforced: bool = "reinforced",
        /// Whether it is black, so that light does not age it and nothing grows under it.
        black: bool = "black",
        /// How far sheets lie over each other: `12 in`, or `12 in everywhere`.
        lap: Throughout<Length> = "lap",
        /// How the seams are closed: `sealed`.
        seams: Seams = "seams",
        /// What the seams are closed with.
        seams_with: ClosedBy = "seams_with",
        /// How its edges meet the walls.
        edges: Edges = "edges",
        /// How it meets piers and posts.
        piers: PierEdges = "piers",
        /// What passes through it, by name.
        penetrations: Named<MembranePenetration> = "penetrations",
        /// Tears and holes in it, and how they are mended.
        tears: Tears = "tears",
        /// Its outline on the plan, corner by corner.
        outline: ListOf<PlanPoint> = "outline",
        /// Whether it covers all the soil.
        covers_all: bool = "covers_all",
        /// The area of soil it covers: `320 sq ft`.
        covers: Measure<Area> = "covers",
        /// Why some soil is left bare.
        left_bare: Text = "left_bare",
        /// Whether it also covers the walls.
        covers_walls: bool = "covers_walls",
        /// What shields it where people crawl or things are stored.
        traffic_cover: Text = "traffic_cover",
        /// What keeps it from lifting; the word `none` if nothing does.
        held_down_by: HeldBy = "held_down_by",
        /// Whether it lies under a slab or other floor rather than open.
        under_floor: bool = "under_floor",
    }
}

record! {
    /// The sheet between the fill and the slab.
    pub struct Retarder {
        /// What it is made of.
        material: Text = "material",
        /// How thick it is: `10 mil`.
        thickness: Measure<SheetThickness> = "thickness",
        /// The thickness printed on the product, as printed.
        marked: Text = "marked",
        /// Its class by the standard for retarders under slabs: A, B or C. The word `none` for one of no
        /// class.
        class: RetarderClass = "class",
        /// How readily vapour passes: `0.1 perm`.
        permeance: Measure<Permeance> = "permeance",
        /// Whether layers are pressed together crosswise.
        cross_laminated: bool = "cross_laminated",
        /// How far sheets lie over each other: `12 in`.
        lap: Throughout<Length> = "lap",
        /// How the seams are closed.
        seams: Seams = "seams",
        /// What the seams are closed with.
        seams_with: ClosedBy = "seams_with",
        /// Tears and holes in it, and how they are mended.
        tears: Tears = "tears",
        /// How far it is turned up at the wall: `6 in`.
        turn_up: Measure<TurnUp> = "turn_up",
        /// How deep the fine sand or pea gravel is between it and coarse stone below: `2 in`. The word `none` if there
        /// is none.
        bed: Measure<Length> = "bed",
        /// Whether its edges are sealed to the foundation wall.
        edges_sealed: bool = "edges_sealed",
        /// Whether pipes through it are sealed to it.
        penetrations_sealed: bool = "penetrations_sealed",
    }
}

record! {
    /// A sealant, glue or tape that is used.
    pub struct Sealant = "sealant" {
        /// What it is.
        kind: ClosedBy = "kind",
        /// The product, as its maker calls it.
        product: Text = "product",
        /// Whether it gives off few vapours.
        low_voc: bool = "low_voc",
        /// The standard it is made to.
        standard: Text = "standard",
        /// Whether the safety sheet is at hand.
        safety_sheet: bool = "safety_sheet",
    }
}

record! {
    /// Sealing work as a whole: what is used and how.
    pub struct Seals {
        /// Sealants, glues and tapes that are used, by name.
        sealants: Named<Sealant> = "sealants",
        /// Whether surfaces are cleaned and dried first.
        cleaned: bool = "cleaned",
        /// Whether the house is aired while sealants cure.
        aired: bool = "aired",
        /// What could not be closed, and why.
        left_open: Text = "left_open",
        /// Whether the owner was told what could not be closed.
        owner_told: bool = "owner_told",
    }
}
