//! A mark on a gauge that the gauge cannot show, or that the fan cannot bring about.

use crate::base::vocabulary::Thing;

use super::super::ask::Ask;
use super::super::kinds::Kind;
use super::super::statements::surely_less;
use super::impossible::Impossible;

/// Whether the reading that is marked on the gauge of a system cannot be.
pub(in crate::facts) fn beyond(ask: &mut Ask<'_>, system: Thing) -> Option<Impossible> {
    let (_, record) = ask.design().systems.things().nth(system.number as usize)?;
    let gauge = record.gauge.known()?;
    let here = &gauge.here;
    let mark = ask.statement(gauge.mark.want(here), |ask| ask.quantity(here, &gauge.mark));
    let range = ask.statement(gauge.range.want(here), |ask| ask.quantity(here, &gauge.range));
    if surely_less(&range, &mark) {
        let what = "The reading that is marked on the gauge is more than the gauge can show";
        let todo = "Read the gauge again, and correct the mark or the range";
        return Some(
            Impossible::new(what, todo).at(mark.want, "the mark").at(range.want, "the most it can show"),
        );
    }
    let fans = ask.things().owned(Kind::Fan, system.number);
    let [fan] = fans.as_slice() else { return None };
    let own = ask.things().fans.get(fan.number as usize)?.it;
    let by = if own.shut_off.is_missing() { own.curve.want(&own.here) } else { own.shut_off.want(&own.here) };
    let most = ask.statement(by, |ask| ask.number(*fan, "shut_off"));
    if !surely_less(&most, &mark) {
        return None;
    }
    let what = "The reading that is marked on the gauge is more than the fan can pull with no air moving";
    let todo = "Read the gauge again, and correct the mark or what is stated of the fan";
    Some(Impossible::new(what, todo).at(mark.want, "the mark").at(most.want, "the most the fan can pull"))
}

/// Every mark that cannot be.
pub(super) fn marks(ask: &mut Ask<'_>) -> Vec<Impossible> {
    ask.things().all(Kind::System).into_iter().filter_map(|system| beyond(ask, system)).collect()
}
