//! The region in which a discharge may stand, in a plane upright through where it is drawn.
//!
//! The plane is cut into squares. Of each the design is judged with the outlet anywhere in it: where everything asked is
//! met so, it is met at every place in the square, because knowing more turns no verdict. Where something is known not
//! to be met so, no place in it will do. What is left is quartered, down to the least square; what cannot be told of that
//! is not taken to be allowed. So a little of the region is lost at its edge, and nothing is in it that should not be.

use std::collections::{BTreeMap, VecDeque};

use super::bench::{Asked, Bench, Doing, Outcomes};
use super::discharge::SPEAKS;
use crate::base::number::Ratio;
use crate::base::truth::Truth;
use crate::base::value::{Answer, Missing, Reason, unite};
use crate::base::vocabulary::Thing;
use crate::facts::ask::Ask;
use crate::facts::drawn;
use crate::facts::handles::{self, Reach, Stuck, is_metric};
use crate::findings::Used;
use crate::review::{DESIGN, Review};
use crate::yaml::scan;
use crate::yaml::tree::Tree;

/// A plane upright through a discharge.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Plane {
    /// From west to east.
    EastWest,
    /// From south to north.
    NorthSouth,
}

/// A part of the plane, in metres from the origin of the file: along it, east or north, and up.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Patch {
    /// From where to where along the plane.
    pub along: (Ratio, Ratio),
    /// From where to where up.
    pub up: (Ratio, Ratio),
}

/// A requirement that keeps the region where it is.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Bound {
    /// The requirement.
    pub asked: Asked,
    /// From the least to the greatest height at which the region ends because of it.
    pub up: (Ratio, Ratio),
}

/// Where a discharge may stand.
#[derive(Clone, PartialEq, Debug)]
pub struct Region {
    /// Which requirements are met in it.
    pub doing: Doing,
    /// The books they are of, by their places among those that were used.
    pub books: Vec<usize>,
    /// Where the discharge stands now: along the plane, and up.
    pub now: (Ratio, Ratio),
    /// Whether all that is asked is met with it where it stands now.
    pub stands: Truth,
    /// Where the plane lies: north of the origin for one that goes east, east of it for the other.
    pub at: Ratio,
    /// The least square.
    pub step: Ratio,
    /// Every place in these is met by all that is asked.
    pub met: Vec<Patch>,
    /// Of these it cannot be told, for what the file does not say.
    pub open: Vec<Patch>,
    /// What would have to be stated to tell.
    pub missing: Vec<Missing>,
    /// What bounds it, the lowest first.
    pub bounds: Vec<Bound>,
    /// Where nothing is known to be met all over a square: the heights straight over or under where the discharge is drawn
    /// at which everything is.
    pub plumb: Vec<(Ratio, Ratio)>,
    /// How many squares were tried.
    pub tried: usize,
}

/// Why no region can be worked out.
#[derive(Clone, PartialEq, Debug)]
pub enum NoRegion {
    /// Nothing is asked of the place.
    NothingAsked,
    /// Where the discharge is drawn is not known, for this is not stated.
    NotStated(Vec<Missing>),
    /// It is known only within bounds.
    NotExact,
    /// Field notes lie over the design: what was built stands where it stands.
    Built,
    /// It cannot be put elsewhere.
    Stuck(Stuck),
}

/// More squares than this are not tried; what is left then is not taken to be allowed.
const MOST: usize = 480;

/// Into how many parts the least square is cut for heights straight over the discharge.
const PARTS: i64 = 8;

/// Where the discharge of a system may stand within a part of the plane through it. The solid parts are no place for an
/// outlet.
///
/// # Errors
/// Why that cannot be told.
pub fn region(
    review: &Review<'_>,
    outlet: Thing,
    plane: Plane,
    window: &Patch,
    solid: &[Patch],
) -> Result<Region, NoRegion> {
    let source = review.sources.get(DESIGN).ok_or(NoRegion::NothingAsked)?;
    if review.refusal().is_some() || !review.digests.field_notes.is_empty() {
        return Err(NoRegion::Built);
    }
    let (tree, _) = scan::read(DESIGN, source.text());
    let mut ask = Ask::new(&review.design);
    let now = place(&mut ask, outlet)?;
    let owner = ask.things().system_of(outlet).ok_or(NoRegion::NothingAsked)?;
    let system = ask.things().name(owner);
    let used: Vec<Used<'_>> = review.used.clone();
    let mut last = Err(NoRegion::NothingAsked);
    // Where no place follows all advice as well, the region is that of the duties.
    for doing in [Doing::Everything, Doing::Duties] {
        let is_own = |ask: &Ask<'_>, thing| {
            let things = ask.things();
            things.system_of(thing).is_none_or(|own| things.name(own) == system)
        };
        let bench = Bench::new(source, &tree, review.stage, &used, (SPEAKS, doing), is_own);
        if bench.asks_nothing() {
            continue;
        }
        let found = Cut::new(bench, &tree, &system, (&now, plane)).region(doing, window, solid);
        let is_one = found.as_ref().is_ok_and(|found| !found.met.is_empty());
        if is_one || last.is_err() {
            last = found;
        }
        if is_one {
            break;
        }
    }
    last
}

/// Where an outlet is drawn.
fn place(ask: &mut Ask<'_>, outlet: Thing) -> Result<[Ratio; 3], NoRegion> {
    let stands = drawn::stands(ask, outlet);
    match Answer::all(vec![stands.east, stands.north, stands.up]) {
        Answer::Unknown(missing) => Err(NoRegion::NotStated(missing)),
        Answer::Known { value, .. } => {
            let exact: Option<Vec<Ratio>> = value.iter().map(|number| number.as_exact().cloned()).collect();
            exact.and_then(|all| <[Ratio; 3]>::try_from(all).ok()).ok_or(NoRegion::NotExact)
        }
    }
}

/// Rules, each by its book and its place in it.
type Rules = Vec<(usize, usize)>;

/// A square, by its lower left corner and its side in steps.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
struct Square {
    along: i64,
    up: i64,
    side: i64,
}

impl Square {
    fn quarters(self) -> [Square; 4] {
        let side = self.side / 2;
        let at = |along, up| Square { along, up, side };
        [
            at(self.along, self.up),
            at(self.along + side, self.up),
            at(self.along, self.up + side),
            at(self.along + side, self.up + side),
        ]
    }

    /// The stretch of heights over which two squares that do not overlap touch, if they do.
    fn touches(self, other: Square) -> Option<(i64, i64)> {
        let both = |a: i64, b: i64| {
            let (low, high) = (a.max(b), (a + self.side).min(b + other.side));
            (low <= high).then_some((low, high))
        };
        let (along, up) = (both(self.along, other.along)?, both(self.up, other.up)?);
        // A corner alone is no edge.
        (along.0 < along.1 || up.0 < up.1).then_some(up)
    }
}

/// What came of a square.
#[derive(Clone)]
enum Came {
    Met,
    /// These keep it out, or it cannot be told of them at its edge.
    Out(Vec<Asked>),
    /// It cannot be told, for what the file does not say.
    Open,
}

struct Cut<'b, 't> {
    bench: Bench<'b>,
    tree: &'t Tree,
    system: &'t str,
    now: &'t [Ratio; 3],
    plane: Plane,
    step: Ratio,
    largest: i64,
    missing: Vec<Missing>,
}

impl<'b, 't> Cut<'b, 't> {
    fn new(bench: Bench<'b>, tree: &'t Tree, system: &'t str, (now, plane): (&'t [Ratio; 3], Plane)) -> Self {
        // Squares of 8 ft down to 6 in., or of 2.4 m down to 15 cm.
        let metric = is_metric(&handles::style(tree));
        let step = if metric { Ratio::new(15, 100) } else { Ratio::new(1524, 10_000) };
        let step = step.unwrap_or_default();
        Cut { bench, tree, system, now, plane, step, largest: 16, missing: Vec::new() }
    }

    fn at(&self, steps: i64) -> Ratio {
        &self.step * &Ratio::from(steps)
    }

    fn patch(&self, one: Square) -> Patch {
        let reach = |from: i64| (self.at(from), self.at(from + one.side));
        Patch { along: reach(one.along), up: reach(one.up) }
    }

    fn reach(&self, one: Square) -> Reach {
        let Patch { along, up } = self.patch(one);
        let [east, north, _] = self.now;
        match self.plane {
            Plane::EastWest => [along, (north.clone(), north.clone()), up],
            Plane::NorthSouth => [(east.clone(), east.clone()), along, up],
        }
    }

    /// The steps that lie within a stretch.
    fn within(&self, (low, high): &(Ratio, Ratio)) -> Option<(i64, i64)> {
        let of = |metres: &Ratio| metres.checked_div(&self.step);
        let whole = |steps: Ratio| steps.floor().to_f64() as i64;
        Some((-whole(-of(low)?), whole(of(high)?)))
    }

    fn region(mut self, doing: Doing, window: &Patch, solid: &[Patch]) -> Result<Region, NoRegion> {
        let (Some(along), Some(up)) = (self.within(&window.along), self.within(&window.up)) else {
            return Err(NoRegion::NotExact);
        };
        let all: Vec<(usize, usize)> = self.bench.rules().to_vec();
        let mut waiting: VecDeque<(Square, Rules)> = VecDeque::new();
        let start = |low: i64| low.div_euclid(self.largest) * self.largest;
        let (mut x, first) = (start(along.0), start(up.0));
        while x < along.1 {
            let mut y = first;
            while y < up.1 {
                waiting.push_back((Square { along: x, up: y, side: self.largest }, all.clone()));
                y += self.largest;
            }
            x += self.largest;
        }
        let room = Room { along, up, solid, step: self.step.clone() };
        let mut came: Vec<(Square, Came)> = Vec::new();
        // The larger ones come first, so that whatever is not looked at for want of time is small.
        while let Some((one, rules)) = waiting.pop_front() {
            if room.shuts_out(one) {
                continue;
            }
            if self.bench.tried >= MOST {
                room.put(one, &Came::Open, &mut came);
                continue;
            }
            match self.judged(&self.reach(one), one.side == 1, &rules)? {
                Judgement::Is(it) => room.put(one, &it, &mut came),
                Judgement::Divided(left) if self.is_open_all_over(one, &left)? => {
                    room.put(one, &Came::Open, &mut came);
                }
                Judgement::Divided(left) => {
                    waiting.extend(one.quarters().map(|quarter| (quarter, left.clone())));
                }
            }
        }
        let plumb = match came.iter().any(|(_, came)| matches!(came, Came::Met)) {
            true => Vec::new(),
            false => self.plumb(&room, &all)?,
        };
        let stands = self.stands(&all);
        Ok(self.put_together(doing, &came, plumb, stands))
    }

    /// Whether all is met with the discharge where it is drawn.
    fn stands(&mut self, all: &[(usize, usize)]) -> Truth {
        let here = self.now.clone().map(|at| (at.clone(), at));
        let changes = handles::outlet(self.tree, self.system, self.now, &here);
        match changes.and_then(|changes| self.bench.outcomes(&changes, all)) {
            Ok(Outcomes { unmet, .. }) if !unmet.is_empty() => Truth::False,
            Ok(Outcomes { open, .. }) if open.is_empty() => Truth::True,
            _ => Truth::Unknown,
        }
    }

    /// Whether it cannot be told of a large square for what the file does not say, however small the part of it that is
    /// looked at: tried in the middle of each quarter.
    fn is_open_all_over(&mut self, one: Square, rules: &[(usize, usize)]) -> Result<bool, NoRegion> {
        if one.side < 8 {
            return Ok(false);
        }
        let mut lacks = Vec::new();
        for quarter in one.quarters() {
            let half = quarter.side / 2;
            let least = Square { along: quarter.along + half, up: quarter.up + half, side: 1 };
            let changes = handles::outlet(self.tree, self.system, self.now, &self.reach(least));
            let changes = changes.map_err(NoRegion::Stuck)?;
            let Outcomes { unmet, open } = self.bench.outcomes(&changes, rules).map_err(NoRegion::Stuck)?;
            if !unmet.is_empty() || open.is_empty() {
                return Ok(false);
            }
            lacks.extend(open.into_iter().flat_map(|(_, missing)| missing));
        }
        lacks.retain(|one| one.reason != Reason::Imprecise);
        self.missing = unite(std::mem::take(&mut self.missing), lacks);
        Ok(true)
    }

    /// Where it may stand straight over or under where it is drawn: what is said of its height alone holds there.
    fn plumb(&mut self, room: &Room<'_>, all: &[(usize, usize)]) -> Result<Vec<(Ratio, Ratio)>, NoRegion> {
        // In parts of a step, so that the height at which it begins is told more closely.
        let part = self.step.checked_div(&Ratio::from(PARTS)).unwrap_or_default();
        let metres = |parts: i64| &part * &Ratio::from(parts);
        let mut waiting: VecDeque<((i64, i64), Rules)> = VecDeque::new();
        let [east, north, _] = self.now;
        let along = match self.plane {
            Plane::EastWest => east,
            Plane::NorthSouth => north,
        };
        let is_solid = |from: i64| {
            let (low, high) = (self.at(from), self.at(from + 1));
            let holds = |solid: &Patch| {
                solid.along.0 < *along && *along < solid.along.1 && low < solid.up.1 && solid.up.0 < high
            };
            room.solid.iter().any(holds)
        };
        for from in (room.up.0..room.up.1).filter(|from| !is_solid(*from)) {
            waiting.push_back(((from * PARTS, (from + 1) * PARTS), all.to_vec()));
        }
        let mut found: Vec<(i64, i64)> = Vec::new();
        while let Some(((from, to), rules)) = waiting.pop_front() {
            let level = |at: &Ratio| (at.clone(), at.clone());
            let reach = [level(east), level(north), (metres(from), metres(to))];
            match self.judged(&reach, to - from == 1, &rules)? {
                Judgement::Is(Came::Met) => found.push((from, to)),
                Judgement::Is(_) => {}
                Judgement::Divided(left) => {
                    let middle = i64::midpoint(from, to);
                    waiting.push_back(((from, middle), left.clone()));
                    waiting.push_back(((middle, to), left));
                }
            }
        }
        found.sort_unstable();
        let mut whole: Vec<(i64, i64)> = Vec::new();
        for (from, to) in found {
            match whole.last_mut() {
                Some(last) if last.1 == from => last.1 = to,
                _ => whole.push((from, to)),
            }
        }
        Ok(whole.into_iter().map(|(from, to)| (metres(from), metres(to))).collect())
    }

    /// What came of a square, or the rules that are left to be asked of its quarters.
    fn judged(
        &mut self,
        within: &Reach,
        is_least: bool,
        rules: &[(usize, usize)],
    ) -> Result<Judgement, NoRegion> {
        let changes = handles::outlet(self.tree, self.system, self.now, within);
        let changes = changes.map_err(NoRegion::Stuck)?;
        let Outcomes { unmet, open } = self.bench.outcomes(&changes, rules).map_err(NoRegion::Stuck)?;
        if !unmet.is_empty() {
            return Ok(Judgement::Is(Came::Out(unmet)));
        }
        if open.is_empty() {
            return Ok(Judgement::Is(Came::Met));
        }
        // What is wanting wherever in the square it stands cannot be told of its quarters either.
        let wanting: Vec<&Missing> = open
            .iter()
            .filter(|(_, missing)| !missing.iter().any(|one| one.reason == Reason::Imprecise))
            .flat_map(|(_, missing)| missing)
            .collect();
        let only = open.iter().all(|(_, missing)| !missing.iter().any(|one| one.reason == Reason::Imprecise));
        if only || (is_least && !wanting.is_empty()) {
            let wanting = wanting.into_iter().cloned().collect();
            self.missing = unite(std::mem::take(&mut self.missing), wanting);
            return Ok(Judgement::Is(Came::Open));
        }
        let asked: Vec<Asked> = open.into_iter().map(|(asked, _)| asked).collect();
        if is_least {
            return Ok(Judgement::Is(Came::Out(asked)));
        }
        let mut left: Vec<(usize, usize)> = asked.iter().map(|asked| (asked.book, asked.rule)).collect();
        left.dedup();
        Ok(Judgement::Divided(left))
    }

    fn put_together(
        self,
        doing: Doing,
        came: &[(Square, Came)],
        plumb: Vec<(Ratio, Ratio)>,
        stands: Truth,
    ) -> Region {
        let of = |wanted: fn(&Came) -> bool| -> Vec<Square> {
            came.iter().filter(|(_, came)| wanted(came)).map(|(one, _)| *one).collect()
        };
        let met = of(|came| matches!(came, Came::Met));
        let open = of(|came| matches!(came, Came::Open));
        let mut bounds: BTreeMap<Asked, (i64, i64)> = BTreeMap::new();
        for (one, came) in came {
            let Came::Out(asked) = came else { continue };
            for up in met.iter().filter_map(|met| met.touches(*one)) {
                for asked in asked {
                    let known = bounds.entry(*asked).or_insert(up);
                    *known = (known.0.min(up.0), known.1.max(up.1));
                }
            }
        }
        let mut bounds: Vec<Bound> = bounds
            .into_iter()
            .map(|(asked, (low, high))| Bound { asked, up: (self.at(low), self.at(high)) })
            .collect();
        bounds.sort_by(|a, b| a.up.cmp(&b.up));
        let mut books: Vec<usize> = self.bench.rules().iter().map(|(book, _)| *book).collect();
        books.sort_unstable();
        books.dedup();
        let patches = |all: Vec<Square>| all.into_iter().map(|one| self.patch(one)).collect();
        let [east, north, up] = self.now;
        let (along, at) = match self.plane {
            Plane::EastWest => (east, north),
            Plane::NorthSouth => (north, east),
        };
        Region {
            doing,
            books,
            now: (along.clone(), up.clone()),
            stands,
            at: at.clone(),
            met: patches(met),
            open: patches(open),
            bounds,
            plumb,
            tried: self.bench.tried,
            step: self.step,
            missing: self.missing,
        }
    }
}

enum Judgement {
    Is(Came),
    Divided(Rules),
}

/// What of the plane is looked at.
struct Room<'s> {
    along: (i64, i64),
    up: (i64, i64),
    solid: &'s [Patch],
    step: Ratio,
}

impl Room<'_> {
    /// Whether a square lies all outside of it, or all in something solid.
    fn shuts_out(&self, one: Square) -> bool {
        let apart = |from: i64, (low, high): (i64, i64)| from >= high || from + one.side <= low;
        apart(one.along, self.along)
            || apart(one.up, self.up)
            || self.solid.iter().any(|solid| self.in_it(one, solid).0)
    }

    /// Whether a square lies all in it and touches nothing solid.
    fn takes_in(&self, one: Square) -> bool {
        let within = |from: i64, (low, high): (i64, i64)| from >= low && from + one.side <= high;
        within(one.along, self.along)
            && within(one.up, self.up)
            && !self.solid.iter().any(|solid| self.in_it(one, solid).1)
    }

    /// Whether a square lies all in something solid, and whether some of it does.
    fn in_it(&self, one: Square, solid: &Patch) -> (bool, bool) {
        let metres = |steps: i64| &self.step * &Ratio::from(steps);
        let (left, right) = (metres(one.along), metres(one.along + one.side));
        let (low, high) = (metres(one.up), metres(one.up + one.side));
        let Patch { along, up } = solid;
        let all = left >= along.0 && right <= along.1 && low >= up.0 && high <= up.1;
        (all, left < along.1 && along.0 < right && low < up.1 && up.0 < high)
    }

    /// Keeps what came of a square for as much of it as is looked at.
    fn put(&self, one: Square, it: &Came, came: &mut Vec<(Square, Came)>) {
        if self.takes_in(one) {
            came.push((one, it.clone()));
        } else if one.side > 1 {
            for quarter in one.quarters().into_iter().filter(|quarter| !self.shuts_out(*quarter)) {
                self.put(quarter, it, came);
            }
        }
    }
}
