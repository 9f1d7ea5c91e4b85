//! An opening of a neighbour that is nearer than the building that it is in.

use std::collections::BTreeSet;

use crate::base::value::Missing;

use super::super::ask::Ask;
use super::super::kinds::Kind;
use super::super::neighbours::nearer_than_its_building;
use super::impossible::Impossible;

/// Every opening of a neighbour that is said to be nearer to the discharge than its building.
pub(super) fn nearer(ask: &mut Ask<'_>) -> Vec<Impossible> {
    let neighbours = ask.design().building.neighbours.things();
    // The building of each opening, in the order in which the openings stand.
    let buildings: Vec<_> =
        neighbours.flat_map(|one| one.1.openings.things().map(move |(name, _)| (name, one))).collect();
    let mut found = Vec::new();
    let mut told = BTreeSet::new();
    for (it, at) in ask.things().all(Kind::NeighbourOpening).into_iter().zip((0..buildings.len()).cycle()) {
        let Some((name, (building, neighbour))) = buildings.get(at).copied() else { continue };
        if told.contains(&at) {
            continue;
        }
        let Some((opening, off)) = nearer_than_its_building(ask, it, neighbour) else { continue };
        told.insert(at);
        let what = format!(
            "{name} is said to be nearer to the discharge than {building}, the building that it is in"
        );
        let todo = "Measure both again: the nearest edge of a building is no farther off than anything in it";
        let own = opening.by.first().map_or(opening.want.clone(), |said| Missing {
            entry: said.entry.clone(),
            at: Some(said.at),
            ..opening.want.clone()
        });
        found.push(Impossible::new(what, todo).at(own, "the opening").at(off.want.clone(), "the building"));
    }
    found
}
