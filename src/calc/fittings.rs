//! Loss of pressure in what is not straight pipe: entrances, bends, tees, changes of size, ends.
//!
//! A coefficient is the loss over the pressure of the speed, `rho V^2 / 2`. Where sources disagree, each is there under
//! its own name and nothing is averaged.

use super::amounts::{Angle, Density, Length, Made, OutOfRange, Plain, Pressure, Speed, within};
use super::friction::factor_si;

/// How an opening into a pipe is shaped, and by whom its loss is told.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Entrance {
    /// Sharp and flush with a wall, after Crane TP-410: 0.5.
    FlushCrane,
    /// Sharp and flush with a wall, after Rennels and Hudson: 0.57.
    FlushRennels,
    /// A pipe end that stands into the space, after Crane TP-410: 0.78.
    Projecting,
    /// Rounded to this radius, after Rennels and Hudson.
    Rounded(Length),
}

/// The loss where gas enters a pipe.
///
/// # Meaning
/// On the pressure of the speed in the pipe.
/// # Formula
/// 0.5, 0.57 or 0.78; rounded `0.0696 (1 - 0.569 r/d) l^2 + (l - 1)^2`, `l = 1 + 0.622 (1 - 0.30 sqrt(r/d) - 0.70 r/d)^4`.
/// # Valid for
/// Inside diameters 2 mm to 2 m; r/d up to 1.
/// # Accuracy
/// 10 %; the two sources for a sharp entrance differ by 14 %.
/// # Source
/// Crane TP-410 (2009), page A-30; Rennels and Hudson, Pipe Flow (2012), chapter 9.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::{Amount, Length}, fittings::{Entrance, entrance}};
/// let k = entrance(Entrance::FlushCrane, Length::written("3 in").unwrap()).unwrap();
/// assert!((k.to_si() - 0.5).abs() < 1e-12);
/// ```
pub fn entrance(shape: Entrance, inside: Length) -> Result<Plain, OutOfRange> {
    let d = within("the inside diameter", inside, 0.002, 2.0)?;
    Ok(Plain::new(match shape {
        Entrance::FlushCrane => 0.5,
        Entrance::FlushRennels => 0.57,
        Entrance::Projecting => 0.78,
        Entrance::Rounded(radius) => {
            let r = within("the radius of the rounding", radius, 0.0, d)? / d;
            let l = 1.0 + 0.622 * (1.0 - 0.30 * r.sqrt() - 0.70 * r).powi(4);
            0.0696 * (1.0 - 0.569 * r) * l * l + (l - 1.0).powi(2)
        }
    }))
}

/// The loss at an open end: the pressure of the speed is lost whole.
///
/// # Meaning
/// On the pressure of the speed in the pipe.
/// # Formula
/// `K = 1`
/// # Valid for
/// Rough flow; for smooth flow up to 2.
/// # Accuracy
/// 10 %.
/// # Source
/// Crane TP-410 (2009), page A-30; Rennels and Hudson (2012), chapter 12.
/// # Errors
/// None.
/// # Example
/// ```
/// use undercroft::calc::{amounts::Amount, fittings::open_end};
/// assert!((open_end().to_si() - 1.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn open_end() -> Plain {
    Plain::new(1.0)
}

/// The friction factor of clean steel pipe at full roughness, on which Crane's coefficients stand.
pub(in crate::calc) fn crane_factor_si(d: f64) -> f64 {
    factor_si(7.5e6 * d, 3.412_682_535_292_5e-5 * d.powf(-1.011_2)).0
}

/// Fittings and open valves whose loss Crane gives as so many times the friction factor of full roughness.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Crane {
    /// Standard quarter bend: 30.
    QuarterBend,
    /// Quarter bend whose middle line has one and a half diameters for a radius: 14.
    LongBend,
    /// Standard eighth bend: 16.
    EighthBend,
    /// Tee, straight through: 20.
    TeeThrough,
    /// Tee, through the branch: 60.
    TeeBranch,
    /// Gate valve, full open: 8.
    Gate,
    /// Ball valve, full open: 3.
    Ball,
    /// Butterfly valve, full open: 45.
    Butterfly,
}

/// The loss of a fitting after Crane.
///
/// # Meaning
/// On the pressure of the speed in the pipe.
/// # Formula
/// A number of the table times the friction factor of steel pipe at full roughness.
/// # Valid for
/// Inside diameters of 12 mm to 0.6 m; rough flow.
/// # Accuracy
/// 25 % from maker to maker; threaded patterns, so plastic drainage fittings of larger radius lose less.
/// # Source
/// Crane TP-410 (2009), pages A-27 to A-30; the friction factor by the regression of its table that the library fluids 1.3.1
/// documents.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::{Amount, Length}, fittings::{Crane, crane}};
/// let k = crane(Crane::QuarterBend, Length::written("4.026 in").unwrap()).unwrap();
/// // 30 x 0.0162
/// assert!((k.to_si() - 0.486).abs() < 0.001);
/// ```
pub fn crane(fitting: Crane, inside: Length) -> Result<Plain, OutOfRange> {
    let d = within("the inside diameter", inside, 0.012, 0.6)?;
    let times = match fitting {
        Crane::QuarterBend => 30.0,
        Crane::LongBend => 14.0,
        Crane::EighthBend => 16.0,
        Crane::TeeThrough => 20.0,
        Crane::TeeBranch => 60.0,
        Crane::Gate => 8.0,
        Crane::Ball => 3.0,
        Crane::Butterfly => 45.0,
    };
    Ok(Plain::new(times * crane_factor_si(d)))
}

/// The loss of a rounded bend after Rennels and Hudson.
///
/// # Meaning
/// On the pressure of the speed; friction along the bend is in it.
/// # Formula
/// `f a r/d + (0.10 + 2.4 f) s + 6.6 f (sqrt s + s) / (r/d)^(4a/pi)`, a the angle in radians, `s = sin(a/2)`, r the radius of
/// the centre line.
/// # Valid for
/// Angles 0 to 180 degrees, radius of the centre line 0.5 to 20 diameters, Re 4000 to 1e8.
/// # Accuracy
/// 10 to 15 %; made for smooth pipe.
/// # Source
/// Rennels and Hudson, Pipe Flow (2012), chapter 15.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::{Amount, Angle, Plain}, fittings::bend};
/// let plain = |value| Plain::from_si(value).unwrap();
/// let k = bend(Angle::written("90 deg").unwrap(), plain(1.5), plain(30_000.0), plain(0.000_587)).unwrap();
/// assert!((k.to_si() - 0.2855).abs() < 1e-3);
/// ```
pub fn bend(angle: Angle, radius: Plain, reynolds: Plain, rough: Plain) -> Result<Plain, OutOfRange> {
    let a = within("the angle of the bend", angle, 0.0, 180.0)?.to_radians();
    let r = within("the radius of the bend, in diameters", radius, 0.5, 20.0)?;
    let re = within("the Reynolds number", reynolds, 4_000.0, 1e8)?;
    let f = factor_si(re, within("the relative roughness", rough, 0.0, 0.05)?).0;
    let s = (0.5 * a).sin();
    let parting = 6.6 * f * (s.sqrt() + s) / r.powf(4.0 * a / std::f64::consts::PI);
    Ok(Plain::new(f * a * r + (0.10 + 2.4 * f) * s + parting))
}

/// The loss of a bend cut from straight pipe.
///
/// # Meaning
/// One joint; on the pressure of the speed.
/// # Formula
/// `0.42 s + 2.56 s^3`, `s = sin(angle/2)`
/// # Valid for
/// 0 to 150 degrees.
/// # Accuracy
/// 15 %.
/// # Source
/// Rennels and Hudson, Pipe Flow (2012), chapter 15.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::{Amount, Angle}, fittings::miter};
/// // s = sin 30 = 0.5: 0.21 + 0.32
/// assert!((miter(Angle::written("60 deg").unwrap()).unwrap().to_si() - 0.53).abs() < 1e-12);
/// ```
pub fn miter(angle: Angle) -> Result<Plain, OutOfRange> {
    let s = (0.5 * within("the angle of the bend", angle, 0.0, 150.0)?.to_radians()).sin();
    Ok(Plain::new(0.42 * s + 2.56 * s.powi(3)))
}

/// The two widths of a change of size, small over large, in range.
fn narrowing(small: Length, large: Length) -> Result<f64, OutOfRange> {
    let wide = within("the inside diameter of the large pipe", large, 0.002, 2.0)?;
    Ok(within("the inside diameter of the small pipe", small, 0.05 * wide, wide)? / wide)
}

/// The loss where a pipe widens all at once.
///
/// # Meaning
/// On the pressure of the speed in the small pipe.
/// # Formula
/// Borda and Carnot: `(1 - d^2/D^2)^2`
/// # Valid for
/// d/D of 0.05 to 1; rough flow.
/// # Accuracy
/// 10 %.
/// # Source
/// Borda 1766; Idelchik, diagram 4-1.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::{Amount, Length}, fittings::sudden_widening};
/// let k = sudden_widening(Length::written("0.1 m").unwrap(), Length::written("0.2 m").unwrap()).unwrap();
/// // (1 - 1/4)^2
/// assert!((k.to_si() - 0.5625).abs() < 1e-12);
/// ```
pub fn sudden_widening(small: Length, large: Length) -> Result<Plain, OutOfRange> {
    Ok(Plain::new((1.0 - narrowing(small, large)?.powi(2)).powi(2)))
}

/// The loss where a pipe widens through a cone.
///
/// # Meaning
/// On the pressure of the speed in the small pipe.
/// # Formula
/// `g (1 - b^2)^2 + f (1 - b^4) / (8 sin(a/2))`, b = d/D, a the whole angle; g is `8.30 tan(a/2)^1.75` up to 20 degrees, and
/// `1.366 sin(2(a - 15))^0.5 - 0.170` up to 60, less `3.28 (0.0625 - b^4) sqrt((a - 20)/40)` where b is below 0.5.
/// # Valid for
/// Angles above 0 and up to 60 degrees, d/D 0.05 to 1, Re 4000 to 1e8 in the small pipe, smooth.
/// # Accuracy
/// 20 %.
/// # Source
/// Rennels and Hudson, Pipe Flow (2012), chapter 11.
/// # Errors
/// [`OutOfRange`] outside the range; above 60 degrees take [`sudden_widening`].
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, fittings::widening_cone};
/// let k = widening_cone(
///     Length::written("3.068 in").unwrap(), Length::written("4.026 in").unwrap(),
///     Angle::written("20 deg").unwrap(), Plain::written("30000").unwrap(),
/// );
/// assert!((k.unwrap().to_si() - 0.0812).abs() < 1e-4);
/// ```
pub fn widening_cone(
    small: Length,
    large: Length,
    angle: Angle,
    reynolds: Plain,
) -> Result<Plain, OutOfRange> {
    let b = narrowing(small, large)?;
    let degrees = within("the angle of the cone", angle, 0.1, 60.0)?;
    let half = (0.5 * degrees).to_radians();
    let f = factor_si(within("the Reynolds number", reynolds, 4_000.0, 1e8)?, 0.0).0;
    let mut g = if degrees <= 20.0 {
        8.30 * half.tan().powf(1.75)
    } else {
        1.366 * (2.0 * (degrees - 15.0).to_radians()).sin().sqrt() - 0.170
    };
    if degrees > 20.0 && b < 0.5 {
        g -= 3.28 * (0.0625 - b.powi(4)) * ((degrees - 20.0) / 40.0).sqrt();
    }
    Ok(Plain::new(g * (1.0 - b * b).powi(2) + f * (1.0 - b.powi(4)) / (8.0 * half.sin())))
}

/// The loss where a pipe narrows through a cone, or all at once at 180 degrees.
///
/// # Meaning
/// On the pressure of the speed in the small pipe.
/// # Formula
/// `f (1 - b^4)/(8 sin(a/2)) + 0.0696 sin(a/2) (1 - b^5) l^2 + (l - 1)^2`, `l = 1 + 0.622 (a/180)^0.8 (1 - 0.215 b^2 - 0.785 b^5)`
/// # Valid for
/// Angles above 0 up to 180 degrees, d/D 0.05 to 1, a friction factor of 0 to 0.2 in the small pipe.
/// # Accuracy
/// 20 %.
/// # Source
/// Rennels and Hudson, Pipe Flow (2012), chapter 10.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, fittings::narrowing_cone};
/// let k = narrowing_cone(
///     Length::written("4.026 in").unwrap(), Length::written("3.068 in").unwrap(),
///     Angle::written("30 deg").unwrap(), Plain::written("0.024").unwrap(),
/// );
/// assert!((k.unwrap().to_si() - 0.0339).abs() < 1e-4);
/// ```
pub fn narrowing_cone(
    large: Length,
    small: Length,
    angle: Angle,
    friction: Plain,
) -> Result<Plain, OutOfRange> {
    let b = narrowing(small, large)?;
    let degrees = within("the angle of the cone", angle, 0.1, 180.0)?;
    let s = (0.5 * degrees).to_radians().sin();
    let f = within("the friction factor", friction, 0.0, 0.2)?;
    let l = 1.0 + 0.622 * (degrees / 180.0).powf(0.8) * (1.0 - 0.215 * b * b - 0.785 * b.powi(5));
    let along = f * (1.0 - b.powi(4)) / (8.0 * s);
    Ok(Plain::new(along + 0.0696 * s * (1.0 - b.powi(5)) * l * l + (l - 1.0).powi(2)))
}

/// Two flows that join: coefficients of both ways, on the pressure of the speed after the joint.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Joining {
    /// What the flow out of the branch loses; below nought where it is drawn along.
    pub branch: Plain,
    /// What the flow straight through loses.
    pub through: Plain,
}

/// The losses where a branch joins a run.
///
/// # Meaning
/// On the pressure of the speed of both flows together, in the run.
/// # Formula
/// `C (1 + D (q/B)^2 - E (1 - q)^2 - F q^2/B)`: q the branch's share of the flow, B the branch's area over the run's.
/// Branch: D 1, E 2; C is 1 for B up to 0.35, else `0.9 (1 - q)` for q up to 0.4, else 0.55. Through: C 1, D 0, E 1;
/// at a right angle `1.55 q - q^2`. F is 1.74, 1.41, 1, 0 at 30, 45, 60, 90 degrees.
/// # Valid for
/// Angles of 30 to 90 degrees, shares of 0 to 1, diameters of 0.05 to 1.
/// # Accuracy
/// 25 %.
/// # Source
/// Crane TP-410 (2009), page 2-15 with its errata.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, fittings::joining};
/// let half = Plain::written("0.5").unwrap();
/// let d = Length::written("3 in").unwrap();
/// let k = joining(d, d, half, Angle::written("90 deg").unwrap()).unwrap();
/// // 0.55 (1 + 0.25 - 0.5) and 0.775 - 0.25
/// assert!((k.branch.to_si() - 0.4125).abs() < 1e-9 && (k.through.to_si() - 0.525).abs() < 1e-9);
/// ```
pub fn joining(run: Length, branch: Length, share: Plain, angle: Angle) -> Result<Joining, OutOfRange> {
    let area = narrowing(branch, run)?.powi(2);
    let q = within("the share of the branch", share, 0.0, 1.0)?;
    let degrees = within("the angle of the branch", angle, 30.0, 90.0)?;
    let line = |low: f64, high: f64, at_low: f64, at_high: f64| {
        at_low + (at_high - at_low) * (degrees - low) / (high - low)
    };
    let f = match degrees {
        d if d <= 45.0 => line(30.0, 45.0, 1.74, 1.41),
        d if d <= 60.0 => line(45.0, 60.0, 1.41, 1.0),
        _ => line(60.0, 90.0, 1.0, 0.0),
    };
    let c = match (area <= 0.35, q <= 0.4) {
        (true, _) => 1.0,
        (_, true) => 0.9 * (1.0 - q),
        _ => 0.55,
    };
    let out = c * (1.0 + (q / area).powi(2) - 2.0 * (1.0 - q).powi(2) - f * q * q / area);
    let through = if degrees > 75.0 {
        1.55 * q - q * q
    } else {
        // between 60 and 75 degrees the factor of 60 stands
        1.0 - (1.0 - q).powi(2) - f.max(1.0) * q * q / area
    };
    Ok(Joining { branch: Plain::new(out), through: Plain::new(through) })
}

/// A coefficient that grows where the flow is slow, after Hooper.
///
/// # Meaning
/// On the pressure of the speed in the pipe.
/// # Formula
/// `K1/Re + K (1 + 1 in / d)`
/// # Valid for
/// Re 10 to 1e8, inside diameters 10 mm to 0.6 m, both constants 0 to 5000.
/// # Accuracy
/// 30 %.
/// # Source
/// Hooper, Chemical Engineering, 24 August 1981.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::{Amount, Length, Plain}, fittings::hooper};
/// let plain = |value| Plain::from_si(value).unwrap();
/// let k = hooper(plain(800.0), plain(0.4), plain(20_000.0), Length::written("2 in").unwrap()).unwrap();
/// // 800/20000 + 0.4 x 1.5
/// assert!((k.to_si() - 0.64).abs() < 1e-12);
/// ```
pub fn hooper(slow: Plain, fast: Plain, reynolds: Plain, inside: Length) -> Result<Plain, OutOfRange> {
    let slow = within("the constant of slow flow", slow, 0.0, 5_000.0)?;
    let fast = within("the constant of fast flow", fast, 0.0, 5_000.0)?;
    let re = within("the Reynolds number", reynolds, 10.0, 1e8)?;
    let d = within("the inside diameter", inside, 0.01, 0.6)?;
    Ok(Plain::new(slow / re + fast * (1.0 + 0.0254 / d)))
}

/// Fittings whose loss the tables of gas piping give as so many diameters of straight pipe.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum InDiameters {
    /// Screwed quarter bend: 30.
    QuarterBend,
    /// Screwed eighth bend: 14.
    EighthBend,
    /// Tee through the branch: 60.
    TeeBranch,
    /// Quarter bend of one diameter's radius: 16.
    BendOfOne,
    /// Quarter bend of one and a third diameters' radius: 12.
    BendOfOneAndAThird,
    /// Quarter bend of two diameters' radius: 9.
    BendOfTwo,
}

/// The straight pipe that loses as much as a fitting, by the tables of gas piping.
///
/// # Meaning
/// A length to add to the run.
/// # Formula
/// A number of diameters times the inside diameter.
/// # Valid for
/// Inside diameters of 5 mm to 0.3 m.
/// # Accuracy
/// 30 %; the printed table rounds the branch of a 4 in tee up, from 20.13 to 20.2 ft.
/// # Source
/// International Residential Code 2018, appendix A, table A.2.2.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::{Amount, Length}, fittings::{InDiameters, equivalent_pipe}};
/// let l = equivalent_pipe(InDiameters::QuarterBend, Length::written("4 in").unwrap()).unwrap();
/// // 30 x 4 in = 10 ft
/// assert!((l.to_si() - 3.048).abs() < 1e-9);
/// ```
pub fn equivalent_pipe(fitting: InDiameters, inside: Length) -> Result<Length, OutOfRange> {
    let times = match fitting {
        InDiameters::QuarterBend => 30.0,
        InDiameters::EighthBend => 14.0,
        InDiameters::TeeBranch => 60.0,
        InDiameters::BendOfOne => 16.0,
        InDiameters::BendOfOneAndAThird => 12.0,
        InDiameters::BendOfTwo => 9.0,
    };
    Ok(Length::new(times * within("the inside diameter", inside, 0.005, 0.3)?))
}

/// The straight pipe that loses as much as a coefficient says.
///
/// # Meaning
/// A length to add to the run.
/// # Formula
/// `K D / f`
/// # Valid for
/// Coefficients -10 to 1e6, friction factors 0.005 to 1, inside diameters 2 mm to 2 m.
/// # Accuracy
/// As its inputs.
/// # Source
/// Darcy and Weisbach.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::{Amount, Length, Plain}, fittings::pipe_for_coefficient};
/// let plain = |text| Plain::written(text).unwrap();
/// let l = pipe_for_coefficient(plain("0.5"), Length::written("0.1 m").unwrap(), plain("0.025")).unwrap();
/// assert!((l.to_si() - 2.0).abs() < 1e-12);
/// ```
pub fn pipe_for_coefficient(
    coefficient: Plain,
    inside: Length,
    friction: Plain,
) -> Result<Length, OutOfRange> {
    let k = within("the coefficient", coefficient, -10.0, 1e6)?;
    let d = within("the inside diameter", inside, 0.002, 2.0)?;
    Ok(Length::new(k * d / within("the friction factor", friction, 0.005, 1.0)?))
}

/// What a coefficient takes at a speed.
///
/// # Meaning
/// Pressure lost, with the sign of the speed.
/// # Formula
/// `K rho V^2 / 2`
/// # Valid for
/// Coefficients -10 to 1e9, densities 0.2 to 3 kg/m3, speeds up to 100 m/s.
/// # Accuracy
/// As its inputs.
/// # Source
/// Definition of the coefficient.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::{Amount, Density, Plain, Speed}, fittings::loss};
/// let (k, rho) = (Plain::written("0.9").unwrap(), Density::from_si(1.2).unwrap());
/// // 0.9 x 1.2 x 36 / 2
/// assert!((loss(k, rho, Speed::written("6 m/s").unwrap()).unwrap().to_si() - 19.44).abs() < 1e-9);
/// ```
pub fn loss(coefficient: Plain, density: Density, speed: Speed) -> Result<Pressure, OutOfRange> {
    let k = within("the coefficient", coefficient, -10.0, 1e9)?;
    let rho = within("the density of the air", density, 0.2, 3.0)?;
    let v = within("the speed", speed, -100.0, 100.0)?;
    Ok(Pressure::new(0.5 * k * rho * v * v.abs()))
}
