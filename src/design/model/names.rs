//! What references by name may point to, where it is more than one kind of thing.

use crate::yaml::name::Names;

macro_rules! names {
    ($($(#[doc = $doc:literal])+ $Name:ident: $what:literal, [$($kind:literal),*], [$($word:literal),*];)+) => {$(
        $(#[doc = $doc])+
        #[derive(Clone, Copy, PartialEq, Eq, Debug)]
        pub struct $Name;

        impl Names for $Name {
            const KINDS: &'static [&'static str] = &[$($kind),*];
            const WORDS: &'static [&'static str] = &[$($word),*];
            const WHAT: &'static str = $what;
        }
    )+};
}

names! {
    /// A space of the building, or the open air.
    SpaceOrOutdoors: "space, or the word outdoors", ["space"], ["outdoors"];
    /// An area of the foundation, or else a space.
    AreaOrSpace: "area or space", ["area", "space"], [];
    /// Where a run can begin.
    RunStart: "run or suction point, or the word fan or discharge", ["run", "suction point"], ["fan", "discharge"];
    /// Where a run can end.
    RunEnd: "suction point or run, or the word fan or discharge", ["suction point", "run"], ["fan", "discharge"];
    /// A part of the pipe at which something is read.
    PipePlace: "run or suction point, or the word fan", ["run", "suction point"], ["fan"];
    /// Anything with a place.
    AnyThing: "thing", [
        "opening", "intake", "chimney", "space", "area", "run", "suction point", "sump", "drain", "drain loop", "appliance",
        "walking surface", "neighbour", "obstacle", "wall", "footing", "joint", "passage", "penetration", "label", "system"
    ], ["fan", "discharge", "origin"];
}
