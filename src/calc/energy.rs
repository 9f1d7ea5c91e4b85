//! What a system costs to run: current for the fan, and warm air that goes with it.

use super::amounts::{
    DegreeTime, Density, Energy, EnergyPrice, Flow, Made, Money, OutOfRange, Power, SpecificHeat, Time,
    within,
};

/// The energy that a power takes in a time.
///
/// # Meaning
/// The fan draws this power all the while.
/// # Formula
/// `P t`
/// # Valid for
/// 0 to 100 kW, 0 to 10 years.
/// # Accuracy
/// As its inputs; a fan draws what its curve says at its flow, and not what stands on its label.
/// # Source
/// Definition.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, energy::used};
/// let year = used(Power::written("20 W").unwrap(), Time::written("8760 h").unwrap()).unwrap();
/// // 20 x 8760 = 175.2 kWh
/// assert!((year.to_si() / 3.6e6 - 175.2).abs() < 1e-9);
/// ```
pub fn used(power: Power, time: Time) -> Result<Energy, OutOfRange> {
    let p = within("the power", power, 0.0, 100_000.0)?;
    Ok(Energy::new(p * within("the time", time, 0.0, 10.0 * 366.0 * 86_400.0)?))
}

/// What an energy costs.
///
/// # Meaning
/// In the currency of the price.
/// # Formula
/// Energy times price.
/// # Valid for
/// 0 to 1e15 J, prices of 0 to 100 for a kilowatt hour.
/// # Accuracy
/// As its inputs.
/// # Source
/// Definition.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, energy::cost};
/// let price = EnergyPrice::written("$0.16/kWh").unwrap();
/// assert!((cost(Energy::written("175.2 kWh").unwrap(), price).unwrap().to_si() - 28.032).abs() < 1e-9);
/// ```
pub fn cost(energy: Energy, price: EnergyPrice) -> Result<Money, OutOfRange> {
    let e = within("the energy", energy, 0.0, 1e15)?;
    Ok(Money::new(e * within("the price of energy", price, 0.0, 100.0 / 3.6e6)?))
}

/// The heat that goes with air drawn out of a heated house.
///
/// # Meaning
/// Air from the rooms that the system draws through cracks has to be made up by outdoor air, and that is heated. What the
/// heating makes of its fuel is not in it.
/// # Formula
/// `Q rho cp D`, D the degree days.
/// # Valid for
/// 0 to 10 m3/s, densities of 0.2 to 3 kg/m3, up to 20 000 degree days (Celsius).
/// # Accuracy
/// 10 % for the flow that is known; how much of the flow comes from the rooms is seldom known within half.
/// # Source
/// Sensible heat; degree days as in ASHRAE Fundamentals, chapter Energy Estimating.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, energy::heat_lost};
/// let (rho, cp) = (Density::from_si(1.2).unwrap(), SpecificHeat::from_si(1000.0).unwrap());
/// let flow = Flow::written("10 L/s").unwrap();
/// // 0.01 x 1.2 x 1000 x 3000 x 24 h = 864 kWh
/// let heat = heat_lost(flow, rho, cp, DegreeTime::written("3000 C-days").unwrap()).unwrap();
/// assert!((heat.to_si() / 3.6e6 - 864.0).abs() < 1e-6);
/// ```
pub fn heat_lost(
    flow: Flow,
    density: Density,
    heat: SpecificHeat,
    degree_days: DegreeTime,
) -> Result<Energy, OutOfRange> {
    let q = within("the flow out of the rooms", flow, 0.0, 10.0)?;
    let rho = within("the density of the air", density, 0.2, 3.0)?;
    let cp = within("the heat that the air takes", heat, 500.0, 5_000.0)?;
    Ok(Energy::new(q * rho * cp * within("the degree days", degree_days, 0.0, 20_000.0 * 86_400.0)?))
}
