//! What the program answers to the check values on what goes with a system: water, energy, radon and what to buy.

use serde_json::Value;
use undercroft::base::number::{Number, Quantity};
use undercroft::calc::amounts::*;
use undercroft::calc::takeoff::{self, Floor, Pier};
use undercroft::calc::{energy, radon_decay, water};

use super::inputs::Inputs;

/// A number out of an amount, counted in a unit.
fn counted(
    amount: impl Amount,
    dimension: undercroft::base::number::Dimension,
    unit: &str,
) -> Option<Number> {
    amount.to_number().divide(&Quantity::parse(&format!("1 {unit}"), dimension).ok()?.number)
}

const DAY: f64 = 86_400.0;

pub(super) fn condensate(case: &Value) -> Option<Number> {
    use undercroft::calc::air;
    let i = Inputs(&case["inputs"]);
    let slope = |key: &str| Plain::written(&format!("{} in per ft", i.float(key)?));
    let daily = |key: &str| MassFlow::from_si(i.float(key)? / DAY);
    if i.has("inlet_rh") {
        let gas = water::Entering {
            flow: i.flow("flow_m3_s")?,
            temperature: i.celsius("inlet_c")?,
            humidity: i.plain("inlet_rh")?,
            pressure: i.pressure("pressure_pa")?,
        };
        let found = water::condensate(&gas, i.celsius("outlet_c")?).ok()?;
        return Some(Plain::from_si(found.to_si() * DAY)?.to_number());
    }
    if i.has("U_w_m2k") {
        let pipe = water::ColdPipe {
            outside: i.length("outside_diameter_m")?,
            length: i.length("length_m")?,
            transmittance: Transmittance::from_si(i.float("U_w_m2k")?)?,
        };
        let carried = MassFlow::from_si(i.float("mass_flow_kg_s")?)?;
        let heat = SpecificHeat::from_si(i.float("cp_j_kgk")?)?;
        let (gas, cold) = (i.celsius("inlet_c")?, i.celsius("outdoor_c")?);
        let found = water::exit_temperature(&pipe, gas, cold, carried, heat).ok()?;
        return Some(Plain::from_si(found.to_si() - 273.15)?.to_number());
    }
    if i.has("inside_diameter_in") {
        let (one, other) = (slope("slope_left_in_per_ft")?, slope("slope_right_in_per_ft")?);
        let pool = water::sag(i.length("inside_diameter_in")?, one, other).ok()?;
        return match case["unit"].as_str()? {
            "ft" => counted(pool.length, Length::DIMENSION, "ft"),
            _ => counted(pool.volume, Volume::DIMENSION, "gal"),
        };
    }
    if i.has("sag_volume_us_gal") {
        let volume = Volume::written(&format!("{} gal", i.float("sag_volume_us_gal")?))?;
        let density = Density::from_si(1_000.0 * i.float("water_kg_per_l")?)?;
        let time = water::time_to_fill(volume, daily("condensate_kg_day")?, density).ok()?;
        return counted(time, Time::DIMENSION, "day");
    }
    if i.has("fan_suction_pa") {
        return counted(water::lifted(i.pressure("fan_suction_pa")?).ok()?, Length::DIMENSION, "in");
    }
    if i.has("ice_density_kg_m3") {
        let mass = Mass::from_si(i.float("condensate_kg_day")? * i.float("days")?)?;
        return counted(water::ice(mass).ok()?, Volume::DIMENSION, "L");
    }
    if i.has("run_ft") {
        let fall = water::fall(i.length("run_ft")?, slope("slope_in_per_ft")?).ok()?;
        return counted(fall, Length::DIMENSION, "in");
    }
    if i.has("slope_in_per_ft") {
        let slope = slope("slope_in_per_ft")?;
        return match case["unit"].as_str()? {
            "%" => Some(Plain::from_si(slope.to_si() * 100.0)?.to_number()),
            _ => Some(Plain::from_si(slope.to_si().atan().to_degrees())?.to_number()),
        };
    }
    let temperature = i.celsius("temperature_c")?;
    if i.has("rh") {
        let ratio = air::humidity_ratio(temperature, i.pressure("pressure_pa")?, i.plain("rh")?);
        return Some(ratio.ok()?.to_number());
    }
    Some(air::saturation_pressure(temperature).ok()?.to_number())
}

pub(super) fn energy(case: &Value) -> Option<Number> {
    let i = Inputs(&case["inputs"]);
    if i.has("heating_degree_days_f") {
        // 0.075 lb/ft3 and 0.24 Btu/(lb °F)
        let heat = SpecificHeat::from_si(0.24 * 1_055.055_852_62 / 0.453_592_37 * 1.8)?;
        let days = DegreeTime::written(&format!("{} F-days", i.float("heating_degree_days_f")?))?;
        let air = Density::written("0.075 lb/ft3")?;
        let lost = energy::heat_lost(i.flow("conditioned_air_lost_cfm")?, air, heat, days).ok()?;
        return counted(lost, Energy::DIMENSION, "therm");
    }
    if i.has("heating_degree_days_c") {
        let heat = SpecificHeat::from_si(i.float("cp_j_kgk")?)?;
        let days = DegreeTime::written(&format!("{} C-days", i.float("heating_degree_days_c")?))?;
        let flow = i.flow("conditioned_air_lost_m3_s")?;
        let lost = energy::heat_lost(flow, i.density("density_kg_m3")?, heat, days).ok()?;
        return counted(lost, Energy::DIMENSION, "kWh");
    }
    let time = Time::from_si(3_600.0 * i.float("hours")?)?;
    let used = energy::used(Power::from_si(i.float("power_w")?)?, time).ok()?;
    match i.float("price_per_kwh") {
        Some(price) => Some(energy::cost(used, EnergyPrice::from_si(price / 3.6e6)?).ok()?.to_number()),
        None => counted(used, Energy::DIMENSION, "kWh"),
    }
}

pub(super) fn radon(case: &Value) -> Option<Number> {
    let i = Inputs(&case["inputs"]);
    let picocuries = |key: &str| Concentration::written(&format!("{} pCi/L", i.float(key)?));
    let days = |key: &str| Time::from_si(DAY * i.float(key)?);
    let percent = |share: Plain| Some(Plain::from_si(share.to_si() * 100.0)?.to_number());
    if i.has("equilibrium_fraction") {
        let found =
            radon_decay::decay_products(picocuries("pci_l")?, i.plain("equilibrium_fraction")?).ok()?;
        return counted(found, DecayEnergy::DIMENSION, "WL");
    }
    if i.has("pci_l") {
        return Some(picocuries("pci_l")?.to_number());
    }
    if let Some(level) = i.float("bq_m3") {
        return counted(Concentration::from_si(level)?, Concentration::DIMENSION, "pCi/L");
    }
    if i.has("before") {
        let level = |key: &str| Concentration::from_si(i.float(key)?);
        return percent(radon_decay::reduction(level("before")?, level("after")?).ok()?);
    }
    if i.has("test1_pci_l") {
        let pair = radon_decay::pair(picocuries("test1_pci_l")?, picocuries("test2_pci_l")?).ok()?;
        return match case["unit"].as_str()? {
            "pCi/L" => counted(pair.mean, Concentration::DIMENSION, "pCi/L"),
            _ => percent(pair.apart),
        };
    }
    if i.has("entry_bq_s") {
        let (source, volume) =
            (Activity::from_si(i.float("entry_bq_s")?)?, Volume::from_si(i.float("volume_m3")?)?);
        let changes = Rate::from_si(i.float("ach_per_h")? / 3_600.0)?;
        return Some(radon_decay::settled(source, volume, changes).ok()?.to_number());
    }
    if i.has("days") {
        return Some(radon_decay::left(days("days")?, days("half_life_d")?).ok()?.to_number());
    }
    let rate = radon_decay::decay_rate(days("half_life_d")?).ok()?;
    match case["unit"].as_str()? {
        "1/h" => Some(Plain::from_si(rate.to_si() * 3_600.0)?.to_number()),
        _ => Some(rate.to_number()),
    }
}

fn floor(i: &Inputs) -> Option<Floor> {
    let feet = |value: &Value| Length::written(&format!("{value} ft"));
    let piers = i.0["piers_ft"].as_array()?.iter();
    let pier =
        |pier: &Value| Some(Pier { one: feet(&pier[0])?, other: feet(&pier[1])?, collar: feet(&pier[2])? });
    Some(Floor {
        length: i.length("length_ft")?,
        width: i.length("width_ft")?,
        turn_up: i.length("wall_turnup_ft")?,
        roll: i.length("roll_width_ft")?,
        lap: i.length("seam_overlap_ft")?,
        piers: piers.map(pier).collect::<Option<Vec<Pier>>>()?,
    })
}

pub(super) fn membrane(case: &Value) -> Option<Number> {
    let sheets = takeoff::sheets(&floor(&Inputs(&case["inputs"]))?).ok()?;
    let feet = |length: Length| counted(length, Length::DIMENSION, "ft");
    let square = |area: Area| counted(area, Area::DIMENSION, "sq ft");
    match case["id"].as_str()?.rsplit('.').next()? {
        "strips" => Some(Number::whole(i64::from(sheets.strips))),
        "strip_len" => feet(sheets.strip),
        "roll_area" => square(sheets.off_the_roll),
        "net_floor" => square(sheets.floor),
        "turnup" => square(sheets.turned_up),
        "seam" => feet(sheets.seams),
        "perim" => feet(sheets.edge),
        "collar_len" => feet(sheets.collars),
        "collar_area" => square(sheets.collar_area),
        _ => None,
    }
}

pub(super) fn sealant(case: &Value) -> Option<Number> {
    let i = Inputs(&case["inputs"]);
    let ounces = |key: &str| Volume::written(&format!("{} fl oz", i.float(key)?));
    let bead = || Area::written(&format!("{} sq in", i.float("bead_area_in2")?));
    let whole = |count: u32| Some(Number::whole(i64::from(count)));
    if i.has("volume_us_floz") {
        return counted(ounces("volume_us_floz")?, Volume::DIMENSION, "cu in");
    }
    if i.has("roll_ft") {
        let feet = i.float("seam_ft")? + i.float("collars_ft")?;
        let length = Length::written(&format!("{feet} ft"))?;
        return whole(takeoff::rolls(length, i.length("roll_ft")?, i.plain("waste_fraction")?).ok()?);
    }
    if i.has("core_hole_in") {
        let (hole, pipe) = (i.length("core_hole_in")?, i.length("pipe_od_in")?);
        let fill = takeoff::ring_of_sealant(hole, pipe, i.length("depth_in")?).ok()?;
        if i.has("cartridge_us_floz") {
            return fill.to_number().divide(&ounces("cartridge_us_floz")?.to_number());
        }
        return counted(fill, Volume::DIMENSION, "cu in");
    }
    let cartridge = ounces("cartridge_us_floz")?;
    if i.has("length_ft") {
        let waste = i.plain("waste_fraction")?;
        return whole(takeoff::cartridges(i.length("length_ft")?, bead()?, cartridge, waste).ok()?);
    }
    counted(takeoff::run_of_cartridge(cartridge, bead()?).ok()?, Length::DIMENSION, "ft")
}
