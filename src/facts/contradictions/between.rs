//! A tape drawn round something, where nothing stands that it could go round.

use super::super::ask::Ask;
use super::super::kinds::Kind;
use super::super::obstacles;
use super::impossible::Impossible;

/// Every tape that goes round nothing.
pub(super) fn nothing_between(ask: &mut Ask<'_>) -> Vec<Impossible> {
    let kinds = [Kind::Opening, Kind::NeighbourOpening, Kind::Intake, Kind::Chimney, Kind::WalkingSurface];
    let things: Vec<_> = kinds.into_iter().flat_map(|kind| ask.things().all(kind)).collect();
    things.into_iter().filter_map(|it| obstacles::goes_round_nothing(ask, it)).collect()
}
