//! Which entries say what is to be built, and which say what is there: only the first can be changed to mend a design. What
//! was measured, read, tested or found on site, what a maker's sheet says and what somebody signed stands as it is.

use super::model::job::Work;

/// What one designs, as patterns: `*` for a name or a place in a list, `**` for all that stands inside.
pub const DESIGNED: &[&str] = &[
    "systems.*.kind",
    "systems.*.serves",
    "systems.*.reason",
    "systems.*.design_point.**",
    "systems.*.fan.**",
    "systems.*.discharge.**",
    "systems.*.pipe.**",
    "systems.*.runs.**",
    "systems.*.suction_points.**",
    "systems.*.gauge.**",
    "systems.*.alarm.**",
    "systems.*.labels.**",
    "systems.*.wiring.**",
    "seals.**",
    "papers.**",
    "foundation.areas.*.membrane.**",
    "foundation.areas.*.collectors.**",
    "foundation.areas.*.wanted_suction",
    "foundation.walls.*.holes_closed",
    "foundation.walls.*.coated_outside",
    "foundation.walls.*.coated_inside",
    "foundation.drains.*.guard",
    "foundation.drains.*.trap_depth",
    "foundation.drain_loops.*.outlets.*.guard",
    "foundation.sumps.*.lid.**",
    "foundation.sumps.*.basin_sealed",
    "foundation.sumps.*.pump",
    "foundation.sumps.*.check_valve",
    "foundation.sumps.*.pump_pipe_flexible",
    "foundation.sumps.*.backup",
    "foundation.sumps.*.pipe_detachable",
    "foundation.joints.*.closed",
    "foundation.joints.*.closed_with",
    "foundation.joints.*.backer",
    "foundation.joints.*.depth",
    "foundation.joints.*.stretch_class",
    "foundation.ducts.*.sealed",
    "building.spaces.*.vents_shut",
    "building.spaces.*.lit",
    "building.spaces.*.receptacle",
    "building.passages.*.gasket",
    "building.passages.*.latches",
    "building.passages.*.kept_shut",
    "building.detectors.**",
    "building.air_movers.*.screened",
    "building.air_movers.*.sealed",
    "building.air_movers.*.ducts_sealed",
    "building.air_movers.*.indoor_ports_apart",
    "building.air_movers.*.outdoor_ports_apart",
    "building.air_movers.*.outdoor_ports_clear",
    // Where the field of suction is going to be read is planned; what is read there is not.
    "start_up.field.*",
    "start_up.field.*.port",
    "start_up.field.*.reachable",
];

/// What one designs besides where the house is still to be built.
pub const DESIGNED_IN_A_NEW_HOUSE: &[&str] = &[
    "foundation.areas.*.under_slab.**",
    "foundation.areas.*.thickness",
    "foundation.drain_loops.**",
    "foundation.drains.**",
    "foundation.sumps.**",
    "foundation.joints.**",
    "foundation.walls.*.top",
    "foundation.walls.*.under_ledge",
    "foundation.rough_in.**",
    "building.spaces.*.airing",
    "building.spaces.*.airing_flow",
    "building.spaces.*.dries",
    "building.spaces.*.vent_area",
    "building.spaces.*.corner_to_vent",
    "building.spaces.*.walls_insulated",
    "building.passages.*.size",
    "building.air_movers.**",
];

/// What among all that was found, read, tested, signed, or comes from a maker's sheet.
pub const FOUND: &[&str] = &[
    "systems.*.installed",
    "systems.*.installed_by",
    "systems.*.design_point.analysis",
    "systems.*.design_point.sizes_justified",
    "systems.*.design_point.laid_out_by.**",
    "systems.*.fan.curve.**",
    "systems.*.fan.curve_density",
    "systems.*.fan.curve_from",
    "systems.*.fan.shut_off",
    "systems.*.fan.power",
    "systems.*.fan.current",
    "systems.*.fan.voltage",
    "systems.*.fan.loudness",
    "systems.*.fan.inlet",
    "systems.*.fan.outlet",
    "systems.*.fan.sealed_housing",
    "systems.*.fan.continuous",
    "systems.*.fan.overload_resets",
    "systems.*.fan.listed",
    "systems.*.fan.serial",
    "systems.*.fan.bought",
    "systems.*.fan.running",
    // How far the line of the property is; who moves the discharge works it out anew, as a tape.
    "systems.*.discharge.from_property_line",
    "systems.*.discharge.strikes",
    "systems.*.runs.*.in_cold",
    "systems.*.runs.*.in_sun",
    "systems.*.runs.*.sweat_harms",
    "systems.*.runs.*.from_hot",
    "systems.*.runs.*.blocks",
    "systems.*.runs.*.low_points.*.sag",
    "systems.*.runs.*.hangers.places",
    "systems.*.runs.*.fittings.*.loss",
    "systems.*.runs.*.pierces.*.fire_rated",
    "systems.*.runs.*.pierces.*.framing.member",
    "systems.*.runs.*.pierces.*.framing.depth",
    "systems.*.runs.*.pierces.*.framing.span",
    "systems.*.runs.*.pierces.*.framing.allowed_by",
    "systems.*.suction_points.*.water_still_drains",
    "systems.*.gauge.mark",
    "systems.*.alarm.loudness",
    "systems.*.labels.*.number",
    "systems.*.labels.*.put_up",
    "systems.*.labels.*.in_place",
    "systems.*.wiring.by.**",
    "systems.*.wiring.load",
    "systems.*.wiring.permit",
    "systems.*.wiring.inspected",
    "systems.*.wiring.under_drive",
    "systems.*.wiring.circuit.other_loads",
    "systems.*.wiring.circuit.voltage",
    "seals.aired",
    "seals.left_open",
    "seals.owner_told",
    "seals.sealants.*.safety_sheet",
    "foundation.areas.*.membrane.marked",
    // How tears are mended is work; that there are some was found.
    "foundation.areas.*.membrane.tears",
    "foundation.areas.*.under_slab.probe",
    "foundation.areas.*.under_slab.settled",
    "foundation.areas.*.under_slab.sheet.marked",
    "foundation.drains.*.still_drains",
    "foundation.drains.*.in_use",
    "foundation.sumps.*.water",
    "foundation.sumps.*.takes_floor_water",
    "foundation.sumps.*.still_pumps",
    "foundation.joints.*.length",
    "foundation.joints.*.width",
    "foundation.joints.*.count",
    "foundation.joints.*.owner_told",
    "papers.list.*.on",
    "papers.list.*.done",
    "papers.list.*.handed_over",
    "papers.list.*.number",
    "papers.list.*.signed",
    "papers.retest_advised",
    "papers.test_kit_left",
    "papers.owner_package",
    "papers.filings.**",
    "papers.permits_in_hand",
    "papers.test_waived",
    "papers.upkeep.energy",
    "papers.upkeep.cost",
    "papers.upkeep.looks.**",
];

/// Whether an entry, given by the steps that lead to it, says what is to be built.
#[must_use]
pub fn is_designed(steps: &[&str], work: Option<Work>) -> bool {
    let any = |patterns: &[&str]| patterns.iter().any(|pattern| is_inside(pattern, steps));
    let new_house = work == Some(Work::NewHouse) && any(DESIGNED_IN_A_NEW_HOUSE);
    (any(DESIGNED) || new_house) && !any(FOUND)
}

/// Whether steps lead to what a pattern means; one with `**` means also the section itself.
fn is_inside(pattern: &str, steps: &[&str]) -> bool {
    let mut wanted = pattern.split('.');
    for step in steps {
        match wanted.next() {
            Some("**") => return true,
            Some("*") => {}
            Some(key) if key == *step => {}
            _ => return false,
        }
    }
    matches!(wanted.next(), None | Some("**"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::keys::Key;

    #[test]
    fn every_pattern_leads_to_a_key() {
        for pattern in DESIGNED.iter().chain(DESIGNED_IN_A_NEW_HOUSE).chain(FOUND) {
            let steps = pattern
                .split('.')
                .filter(|step| *step != "**")
                .map(|step| if step == "*" { "x" } else { step });
            assert!(Key::at(steps.clone()).is_some(), "{pattern}");
            let known = steps.clone().count();
            let parent = Key::at(steps.clone().take(known - 1)).map(Key::order).unwrap_or_default();
            let last = steps.clone().next_back().unwrap_or("");
            assert!(last == "x" || parent.contains(&last), "{pattern}");
        }
    }

    #[test]
    fn what_was_found_is_never_designed() {
        let designed = |path: &str| is_designed(&path.split('.').collect::<Vec<_>>(), None);
        for path in [
            "building.openings.bath.corners",
            "site.ground.main",
            "start_up.readings",
            "start_up.field.far_corner.on",
            "radon_tests.after.result",
            "looked_for.openings",
            "before_drilling.post_tension",
            "job.stage",
            "systems.main.fan.curve",
            "systems.main.gauge.mark",
            "diagnostics.communication.first.flow",
            "foundation.areas.den.size",
            "foundation.areas.basement.under_slab.kind",
            "variances.one",
        ] {
            assert!(!designed(path), "{path}");
        }
        for path in
            ["systems.main.discharge.above_roof", "systems.main.labels.pipe", "systems.main.runs.riser.size"]
        {
            assert!(designed(path), "{path}");
        }
        let sheet = ["foundation", "areas", "basement", "under_slab", "sheet", "lap"];
        assert!(is_designed(&sheet, Some(Work::NewHouse)) && !is_designed(&sheet, Some(Work::NewSystem)));
    }
}
