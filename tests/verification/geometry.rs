//! What the program answers to the check values on geometry.

use serde_json::Value;
use undercroft::base::number::{Number, Ratio};
use undercroft::calc::geometry::{Block, PlanPoint, Point, around_block, around_in_plan};

fn ratio(value: &Value) -> Ratio {
    Ratio::parse_decimal(&value.to_string()).expect("a decimal number")
}

fn list(value: &Value) -> Vec<Ratio> {
    value.as_array().expect("a list").iter().map(ratio).collect()
}

fn point(value: &Value) -> Point {
    let [x, y, z]: [Ratio; 3] = list(value).try_into().expect("three coordinates");
    Point::new(x, y, z)
}

fn plan_point(value: &Value) -> PlanPoint {
    let [x, y]: [Ratio; 2] = list(value).try_into().expect("two coordinates");
    PlanPoint::new(x, y)
}

/// What the program makes of one set of inputs; `None` for a form of input that nothing here answers.
pub(super) fn answer(inputs: &Value) -> Option<Number> {
    let has = |key: &str| inputs.get(key).is_some();
    let get = |key: &str| inputs.get(key).expect("the input");
    if has("point") {
        let face = Block::between(&point(get("rect_min")), &point(get("rect_max")));
        return Some(face.distance(&point(get("point"))));
    }
    if has("building_quadrant") {
        // A quarter of the plane: a house so large that the way round its far sides is never the shorter.
        let (low, high) =
            (PlanPoint::new(Ratio::ZERO, Ratio::ZERO), PlanPoint::new(Ratio::from(1000), Ratio::from(1000)));
        return around_in_plan(&low, &high, &plan_point(get("A")), &plan_point(get("B")));
    }
    if has("building_box2d") {
        let [x0, y0, x1, y1]: [Ratio; 4] = list(get("building_box2d")).try_into().ok()?;
        let (low, high) = (PlanPoint::new(x0, y0), PlanPoint::new(x1, y1));
        return around_in_plan(&low, &high, &plan_point(get("A")), &plan_point(get("B")));
    }
    if has("rect_on_wall_x10_y") {
        let house = Block::between(&point(get("box_min")), &point(get("box_max")));
        let (y, z) = (list(get("rect_on_wall_x10_y")), list(get("rect_z")));
        let corners =
            y.iter().flat_map(|y| z.iter().map(|z| Point::new(Ratio::from(10), y.clone(), z.clone())));
        let ways: Vec<Number> =
            corners.filter_map(|corner| around_block(&house, &point(get("A")), &corner)).collect();
        return Number::least(&ways);
    }
    if has("box_min") {
        let house = Block::between(&point(get("box_min")), &point(get("box_max")));
        return around_block(&house, &point(get("A")), &point(get("B")));
    }
    if has("exhaust_z") {
        return Some(Number::exact(ratio(get("exhaust_z")) - ratio(get("opening_top_z"))));
    }
    None
}
