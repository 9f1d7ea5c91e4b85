//! Spellings that are read, each with its value in SI base units worked out by hand from definitions.
//!
//! The values are products and quotients of decimal numbers. Definitions used: 1 in = 0.0254 m, 1 ft = 0.3048 m,
//! 1 yd = 0.9144 m, 1 lb = 0.45359237 kg, 1 gal = 231 in3, 1 L = 0.001 m3 (NIST Special Publication 811, 2008,
//! appendix B; NIST Handbook 44, appendix C); standard gravity 9.80665 m/s2 and water of 1000 kg/m3 for the
//! conventional inch of water, mercury of 13595.1 kg/m3 for the conventional inch of mercury (SP 811); Btu (IT) =
//! 1055.05585262 J (SP 811); 0 °C = 273.15 K, 0 °F = 459.67 °R, 1 K = 9/5 °R; 1 Ci = 3.7e10 Bq, so 1 pCi/L = 37
//! Bq/m3; 1 WL = 1.3e5 MeV/L (UNSCEAR and EPA usage), 1 eV = 1.602176634e-19 J (SI, 2019); 1 gr = 64.79891 mg.

use undercroft::base::number::Dimension as D;

/// Dimension, value in SI base units, spellings of that value.
#[rustfmt::skip]
pub(super) const ACCEPTED: &[(D, &str, &[&str])] = &[
    // Lengths.
    (D::LENGTH, "3.5 * 0.0254", &["3 1/2 in", "3-1/2 in", "3½ in", "3 ½ in", "3½\"", "3 1/2\"", "3-1/2\"", "3.5 in", "3.50 in", "3 1/2 inches", "3 1/2 in.", "3 2/4 in", "7/2 in", "3 1⁄2 in", "3.5″", "3.5”", "3½''", "+3.5 in", "3‑1/2 in", "3\u{a0}1/2\u{a0}in"]),
    (D::LENGTH, "66 * 0.0254", &["5' 6\"", "5'6\"", "5'-6\"", "5' - 6\"", "5′ 6″", "5’ 6”", "5 ft 6 in", "5 ft. 6 in.", "5 feet 6 inches", "5 ft, 6 in", "5ft6in", "5ft 6in", "66 in", "5.5 ft", "5 1/2 ft", "5½ ft", "5-1/2 ft", "5 FT 6 IN", "5 foot 6 inch"]),
    (D::LENGTH, "66.5 * 0.0254", &["5' 6 1/2\"", "5'-6 1/2\"", "5'-6½\"", "5 ft 6 1/2 in", "5 ft 6.5 in", "5' 6-1/2\""]),
    (D::LENGTH, "126 * 0.0254", &["10 ft 6 in", "10ft6in", "10 ft 6 inches", "10' 6\""]),
    (D::LENGTH, "122 * 0.0254", &["10ft2in", "10 ft 2in", "10' 2\""]),
    (D::LENGTH, "10 * 0.3048", &["10 ft", "10'", "10 feet", "10ft", "10 ft.", "10 FT", "10.0 ft", "  10 ft  ", "010 ft", "120 in", "10 ft 0 in"]),
    (D::LENGTH, "-1 * 0.3048", &["-1 ft", "−1 ft", "-12 in", "-1'", "-1 foot"]),
    (D::LENGTH, "-15 * 0.0254", &["-1 ft 3 in", "-1' 3\""]),
    (D::LENGTH, "0.25 * 0.0254", &["1/4 in", "¼ in", "¼\"", ".25 in", "0.25 in", "1/4\"", "1/4 inch"]),
    (D::LENGTH, "0.3125 * 0.0254", &["5/16 in", "0.3125 in"]),
    (D::LENGTH, "0.3048 / 3", &["1/3 ft", "⅓ ft", "4 in"]),
    (D::LENGTH, "6 * 0.0254 / 1000", &["6 mil", "6 mils", "0.006 in", "6mil"]),
    (D::LENGTH, "0.00015", &["0.15 mm", "150 µm", "150 μm", "150 um", "150 microns", ".15 mm"]),
    (D::LENGTH, "0.09", &["90 mm", "9 cm", "0.09 m", "90 millimeters", "90mm", "90 MM"]),
    (D::LENGTH, "3.2", &["3.2 m", "3 m 20 cm", "3.2 metres", "3200 mm", "3 m 200 mm"]),
    (D::LENGTH, "2 * 0.9144", &["2 yd", "2 yards", "6 ft"]),
    (D::LENGTH, "1300 * 0.3048", &["1,300 ft", "1300 ft"]),
    (D::LENGTH, "0", &["0 ft", "0 in", "0 mm", "-0 ft"]),
    // Areas.
    (D::AREA, "1300 * 0.3048 * 0.3048", &["1,300 sq ft", "1300 sq ft", "1300 ft2", "1300 ft²", "1,300 square feet", "1300 sq. ft.", "1300 sqft", "1300 SF", "1300 sf", "1300 ft^2", "1,300.0 sq ft"]),
    (D::AREA, "1234567 * 0.3048 * 0.3048", &["1,234,567 sq ft"]),
    (D::AREA, "12.5 * 0.0254 * 0.0254", &["12.5 in2", "12 1/2 sq in", "12.5 in²", "12.5 square inches"]),
    (D::AREA, "120.5", &["120.5 m2", "120.5 m²", "120.5 sq m", "120.5 square metres"]),
    (D::AREA, "0.0025", &["25 cm2", "25 cm²", "2500 mm2"]),
    // Volumes.
    (D::VOLUME, "12 * 231 * 0.0254 * 0.0254 * 0.0254", &["12 gal", "12 gallons", "12 gal.", "48 qt", "48 quarts", "96 pt", "1536 fl oz", "1536 oz", "1536 fluid ounces"]),
    (D::VOLUME, "0.25 * 0.3048 * 0.3048 * 0.3048", &["0.25 ft3", "1/4 ft3", "0.25 ft³", "0.25 cu ft", "¼ cubic foot", "0.25 cu. ft.", "432 in3", "432 cu in", "432 cubic inches"]),
    (D::VOLUME, "0.045", &["45 L", "45 l", "45 liters", "45 litres", "45 dm3", "0.045 m3", "0.045 m³", "45000 mL", "45000 cm3", "45000 cc", "45 dm³"]),
    // Pressures.
    (D::PRESSURE, "1.25 * 0.0254 * 1000 * 9.80665", &["1.25 in WC", "1.25 in. WC", "1.25 in wc", "1.25 in. w.c.", "1.25 in w.c.", "1.25 inWC", "1.25\"wc", "1.25\" WC", "1.25 \"WC", "1.25 in H2O", "1.25 in. H2O", "1.25 in H₂O", "1.25 inH2O", "1.25 in wg", "1.25 in. w.g.", "1.25 inches WC", "1.25 inches of water", "1.25 inches water column", "1 1/4 in WC", "1¼\" w.c.", "1.25 IN WC"]),
    (D::PRESSURE, "-0.02 * 0.0254 * 1000 * 9.80665", &["-0.02 in WC", "−0.020 in. w.c."]),
    (D::PRESSURE, "250", &["250 Pa", "0.25 kPa", "2.5 hPa", "2.5 mbar", "250 pascals", "250Pa", "250 PA"]),
    (D::PRESSURE, "2 * 0.45359237 * 9.80665 / 0.0254 / 0.0254", &["2 psi", "2 lb/in2", "2 PSI"]),
    (D::PRESSURE, "29.92 * 0.0254 * 13595.1 * 9.80665", &["29.92 in Hg", "29.92 inHg", "29.92 inches of mercury"]),
    // Flow.
    (D::FLOW, "40 * 0.3048 * 0.3048 * 0.3048 / 60", &["40 cfm", "40 CFM", "40 ft3/min", "40 ft³/min", "40 cu ft/min", "40cfm", "40 Cfm", "40 cubic feet per minute"]),
    (D::FLOW, "0.02", &["20 L/s", "20 l/s", "72 m3/h", "72 m³/h", "0.02 m3/s", "1.2 m3/min", "1200 L/min"]),
    (D::FLOW, "3 * 231 * 0.0254 * 0.0254 * 0.0254 / 86400", &["3 gal/day", "12 qt/day", "3 gallons per day"]),
    (D::FLOW, "10 * 231 * 0.0254 * 0.0254 * 0.0254 / 60", &["10 gpm", "10 gal/min"]),
    // Speed.
    (D::SPEED, "700 * 0.3048 / 60", &["700 fpm", "700 ft/min", "700 feet per minute"]),
    (D::SPEED, "15 * 1609.344 / 3600", &["15 mph"]),
    (D::SPEED, "3.5", &["3.5 m/s", "12.6 km/h"]),
    // Time.
    (D::TIME, "86400", &["24 h", "24 hours", "24 hr", "24 hrs", "1440 min", "86400 s", "1 day", "1 d"]),
    (D::TIME, "5400", &["90 min", "1 h 30 min", "1.5 h", "1 1/2 hours", "90 minutes"]),
    (D::TIME, "30 * 86400", &["30 days", "720 h", "4 weeks 2 days"]),
    (D::TIME, "14 * 86400", &["2 weeks", "14 days", "2 wks"]),
    (D::TIME, "45", &["45 s", "45 sec", "45 seconds"]),
    // Power and energy.
    (D::POWER, "90", &["90 W", "0.09 kW", "90 watts", "90W", "90 VA", "90 volt-amperes"]),
    (D::POWER, "38 * 1055.05585262 * 1000 / 3600", &["38 kBtu/h", "38000 Btu/h", "38,000 Btu/h", "38 MBH", "38 kBtu/hr", "0.038 MMBtu/h", "38,000 BTU/hr", "38,000 BTUH"]),
    (D::POWER, "0.5 * 550 * 0.3048 * 0.45359237 * 9.80665", &["1/2 hp", "0.5 hp", "½ HP"]),
    (D::ENERGY, "700 * 3600000", &["700 kWh", "700 kilowatt hours", "0.7 MWh", "700000 Wh", "2520 MJ", "700 KWH"]),
    (D::ENERGY, "3 * 1055.05585262 * 100000", &["3 therms", "300 kBtu", "300,000 Btu"]),
    (D::ENERGY, "5000", &["5000 J", "5 kJ"]),
    // Electricity.
    (D::CURRENT, "1.3", &["1.3 A", "1.3 amps", "1300 mA"]),
    (D::VOLTAGE, "120", &["120 V", "120 volts", "120 VAC", "0.12 kV"]),
    (D::RESISTANCE, "0.4", &["0.4 ohm", "0.4 ohms", "0.4 Ω", "0.4 \u{2126}"]),
    (D::RESISTANCE_PER_LENGTH, "1.6 / 304.8", &["1.6 ohm/kft", "1.6 ohm/1000 ft"]),
    // Temperatures.
    (D::TEMPERATURE, "464.67 * 5 / 9", &["5 degF", "5 °F", "5°F", "5 deg F", "5 F", "5 degrees F", "5 ℉"]),
    (D::TEMPERATURE, "454.67 * 5 / 9", &["-5 °F", "-5 degF", "−5°F"]),
    (D::TEMPERATURE, "258.15", &["-15 °C", "-15 degC", "-15°C", "5 °F", "258.15 K"]),
    (D::TEMPERATURE, "273.15", &["32 °F", "0 °C", "0 degC"]),
    (D::TEMPERATURE_DIFFERENCE, "10 * 5 / 9", &["10 F deg", "10 °F", "10 degF", "10 F°", "10 °F difference"]),
    (D::TEMPERATURE_DIFFERENCE, "-5", &["-5 C deg", "-5 °C", "-5 K", "-9 F deg"]),
    (D::DEGREE_TIME, "5200 * 86400 * 5 / 9", &["5200 F-days", "5,200 °F·days"]),
    // Insulation, permeance, density, weight.
    (D::INSULATION, "4 * 0.3048 * 0.3048 * 5 / 9 * 3600 / 1055.05585262", &["R-4", "R 4", "R4", "R-4.0", "4 h·ft2·°F/Btu", "4 ft2·°F·h/Btu", "r-4"]),
    (D::INSULATION, "0.7", &["RSI 0.7", "RSI-0.7", "RSI0.7", "0.7 m2·K/W", "0.7 m² K/W"]),
    (D::PERMEANCE, "0.1 * 0.00006479891 / 3600 / 0.3048 / 0.3048 / 0.0254 / 13595.1 / 9.80665", &["0.1 perm", "0.1 perms", "0.1 US perm"]),
    (D::PERMEANCE, "5.7 / 1000000000000", &["5.7 ng/(s·m2·Pa)", "5.7 ng/(s m2 Pa)", "5.7 ng/(s·m²·Pa)", "5.7 ng/(Pa·s·m2)"]),
    (D::DENSITY, "0.075 * 0.45359237 / 0.3048 / 0.3048 / 0.3048", &["0.075 lb/ft3", "0.075 lb/ft³", "0.075 pcf"]),
    (D::DENSITY, "1.2", &["1.2 kg/m3", "1.2 kg/m³"]),
    (D::MASS, "35 * 0.45359237 / 16", &["2 lb 3 oz", "35 oz", "35 oz wt"]),
    (D::MASS, "12 * 0.45359237", &["12 lb", "12 lbs", "12 pounds"]),
    (D::MASS, "5", &["5 kg", "5000 g"]),
    // Slopes, pitches, shares, plain numbers.
    (D::ONE, "1 / 48", &["1/4 in per ft", "1/4 in. per ft", "1/4 in. per foot", "1/4\" per ft", "1/4\" per foot", "1/4 in/ft", "1/4\"/ft", "1/4 inch per foot", "1 in per 4 ft", "0.25 in per ft", "1 in 48", "1:48", "1/48", "¼ in per ft", "1/4 in / ft"]),
    (D::ONE, "1 / 96", &["1/8 in per ft", "1/8\" per foot", "⅛ in per ft", "1 in 96"]),
    (D::ONE, "0.02", &["2 %", "2%", "20 mm/m", "20 mm per m", "2 percent", "2 ft per 100 ft", "2 cm/m", "0.02", "1:50"]),
    (D::ONE, "0.5", &["6 in 12", "6/12", "6:12", "6 on 12", "1/2", "50 %"]),
    (D::ONE, "5.5 / 12", &["5 1/2 in 12", "5.5:12"]),
    (D::ONE, "-1 / 96", &["-1/8 in per ft", "-1 in 96"]),
    (D::ONE, "0.4", &["40 %", "40%", "0.4", ".4"]),
    (D::ONE, "12", &["12", "12.0", "1200 %"]),
    // Radon.
    (D::CONCENTRATION, "148", &["4 pCi/L", "4.0 pCi/L", "4 pCi/l", "148 Bq/m3", "148 Bq/m³", "0.148 kBq/m3", "4 picocuries per liter"]),
    (D::DECAY_ENERGY, "0.02 * 130000 * 1000 * 1000000 * 0.0000000000000000001602176634", &["0.02 WL", "20 mWL", "0.02 working levels"]),
    // A working level month is 170 hours of work at one working level.
    (D::EXPOSURE, "170 * 3600 * 130000 * 1000 * 1000000 * 0.0000000000000000001602176634", &["1 WLM", "170 WL h", "1 working level month"]),
    // Sound, money, angles, rates.
    (D::LOUDNESS, "45", &["45 dB", "45 dBA", "45 dB(A)"]),
    (D::MONEY, "120", &["$120", "$ 120", "$120.00", "120 USD", "€120", "£120", "120 euros"]),
    (D::MONEY, "-1200.5", &["-$1,200.50"]),
    (D::PRICE_OF_ENERGY, "0.16 / 3600000", &["$0.16/kWh", "$0.16 per kWh", "0.16 $/kWh", "0.16 USD/kWh", "16 ¢/kWh", "16 cents/kWh", "16 cents per kWh", "€0.16/kWh", "£0.16/kWh"]),
    (D::ANGLE, "45", &["45 deg", "45°", "45 degrees"]),
    (D::RATE, "0.35 / 3600", &["0.35 per hour", "0.35 ACH"]),
    (D::RATE, "60", &["60 Hz"]),
    (D::PRESSURE_GRADIENT, "0.1 * 0.0254 * 1000 * 9.80665 / 30.48", &["0.1 in WC per 100 ft", "0.1 in. w.c. per 100 ft"]),
    (D::PRESSURE_GRADIENT, "0.8", &["0.8 Pa/m"]),
];
