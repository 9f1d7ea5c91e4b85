//! Reading inputs of check values as the amounts they stand for.

use serde_json::Value;
use undercroft::calc::amounts::*;

/// The inputs of one check value.
#[derive(Clone, Copy)]
pub(super) struct Inputs<'a>(pub(super) &'a Value);

impl Inputs<'_> {
    pub(super) fn has(&self, key: &str) -> bool {
        self.0.get(key).is_some()
    }

    pub(super) fn float(&self, key: &str) -> Option<f64> {
        self.0.get(key)?.as_f64()
    }

    pub(super) fn text(&self, key: &str) -> Option<&str> {
        self.0.get(key)?.as_str()
    }

    pub(super) fn plain(&self, key: &str) -> Option<Plain> {
        Plain::from_si(self.float(key)?)
    }

    /// A length in metres or in inches, by the ending of its name.
    pub(super) fn length(&self, key: &str) -> Option<Length> {
        let value = self.float(key)?;
        match key.rsplit_once('_')?.1 {
            "m" => Length::from_si(value),
            "mm" => Length::written(&format!("{value} mm")),
            "in" => Length::written(&format!("{value} in")),
            "ft" => Length::written(&format!("{value} ft")),
            _ => None,
        }
    }

    pub(super) fn flow(&self, key: &str) -> Option<Flow> {
        let value = self.float(key)?;
        if key.ends_with("cfm") || key.contains("cfm50") {
            return Flow::written(&format!("{value} cfm"));
        }
        Flow::from_si(value)
    }

    pub(super) fn pressure(&self, key: &str) -> Option<Pressure> {
        Pressure::from_si(self.float(key)?)
    }

    pub(super) fn density(&self, key: &str) -> Option<Density> {
        Density::from_si(self.float(key)?)
    }

    pub(super) fn viscosity(&self) -> Option<Viscosity> {
        Viscosity::from_si(self.float("viscosity_pa_s")?)
    }

    pub(super) fn celsius(&self, key: &str) -> Option<Temperature> {
        Temperature::from_si(self.float(key)? + 273.15)
    }

    pub(super) fn degrees(&self, key: &str) -> Option<Angle> {
        Angle::from_si(self.float(key)?)
    }

    /// Pairs of numbers.
    pub(super) fn pairs(&self, key: &str) -> Option<Vec<(f64, f64)>> {
        let list = self.0.get(key)?.as_array()?;
        list.iter().map(|pair| Some((pair.get(0)?.as_f64()?, pair.get(1)?.as_f64()?))).collect()
    }
}
