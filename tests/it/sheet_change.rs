//! Test welds that the sheet asks for while the air stands still.
//!
//! The expected shifts are worked by hand from two sources: the balance of AstmE1980 drawn straight,
//! `ΔT = a ΔG / (hc + 4 e σ T³)`, and (1 − θ)/θ degrees of heat for each degree of sheet with θ from
//! 0.32 to 0.41, the range over which the share of a pass is assumed (docs/physics-people-power.md):
//! 1.44 to 2.1, and 1.65 at 80 °F.

use fairseam::plan::{Cause, DayPlan, Note};
use fairseam::units::WindSpeed;
use fairseam::weather::Forecast;

use crate::proof::{Allowed, Proof};
use crate::sheet_support::{JUNE, at, checkpoint, clock, forecast, plan, site, site_of, tests};
use crate::support::example_site;

/// 68 °F all day, 900 W/m² until 13:00 and 200 from then on, under the same sky.
fn cloud_bank() -> Forecast {
    forecast(JUNE, |hour, row| {
        row.shortwave_w_m2 = Some(if hour < 13 { 900.0 } else { 200.0 });
        row.cloud_cover_pct = Some(0.0);
    })
}

/// 68 °F and 900 W/m² all day; the wind goes from 1 m/s at noon to 11 m/s at 13:00.
fn gale() -> Forecast {
    forecast(JUNE, |hour, row| {
        row.shortwave_w_m2 = Some(900.0);
        row.cloud_cover_pct = Some(0.0);
        let wind = WindSpeed::from_meters_per_second(if hour <= 12 { 1.0 } else { 11.0 });
        (row.wind, row.gust) = (Some(wind), None);
    })
}

/// From ten, when the sun's shape within the hours is flat, without breaks.
const CALM_SHIFT: [(&str, &str); 2] = [("shift.start", "\"10:00\""), ("shift.breaks", "[]")];

fn over(color: &str, weather: &Forecast, more: &[(&str, &str)]) -> DayPlan {
    let color = format!("\"{color}\"");
    let mut overrides = CALM_SHIFT.to_vec();
    overrides.push(("sheet.color", &color));
    overrides.extend(more);
    plan(&site(&overrides), JUNE, weather)
}

/// (color, absorptance, emittance): docs/physics.md.
const SHEETS: [(&str, f64, f64); 4] =
    [("white", 0.17, 0.92), ("tan", 0.42, 0.90), ("gray", 0.58, 0.90), ("black", 0.94, 0.86)];

#[test]
fn a_cloud_bank_moves_the_middle_by_what_the_hand_finds() {
    let weather = cloud_bank();
    let mut drops = Proof::of(
        "sheet/cloud-bank",
        "Drop of the sheet under a bank of cloud, four colors",
        "AstmE1980, its balance drawn straight, by hand",
        "drops",
        Allowed::Relative(0.03),
    );
    let mut ratios = Proof::of(
        "heat/cloud-bank",
        "Heat asked for by each degree that a bank of cloud cools the sheet",
        "(1 − θ)/θ drawn straight between 40 and 80 °F, by hand",
        "ratios",
        Allowed::absolute(0.08, ""),
    );
    for (color, absorptance, emittance) in SHEETS {
        // Every color is made to test, so that the shift can be read.
        let plan = over(color, &weather, &[("rules.sheet_shift_heat", "5")]);
        assert!(plan.course.windows(2).all(|pair| pair[0].air == pair[1].air));
        let sheet = |clock: &str| {
            let at = at(JUNE, clock);
            plan.course.iter().find(|m| m.time == at).unwrap().sheet.unwrap().nominal.celsius()
        };
        let (sunny, gray) = (sheet("12:59"), sheet("13:00"));
        let middle_k = f64::midpoint(sunny, gray) + 273.15;
        // hc = 4 + 2.6 · 3 m/s = 11.8 W/(m² K).
        let sheds = 11.8 + 4.0 * emittance * 5.670e-8 * middle_k.powi(3);
        let sun = |clock: &str| {
            let at = at(JUNE, clock);
            plan.course.iter().find(|m| m.time == at).unwrap().radiation.unwrap().w_m2
        };
        let expected_drop = absorptance * (sun("12:59") - sun("13:00")) / sheds;
        let drop = sunny - gray;
        // The curve's bend is worth some percent over 35 K.
        drops.near(drop, expected_drop, || color.to_owned());
        let point = plan.checkpoints.iter().find(|point| point.time == at(JUNE, "13:00")).unwrap();
        assert_eq!(point.cause, Cause::SheetChange, "{color}");
        let before = plan.checkpoints.iter().rev().find(|p| p.time < point.time).unwrap();
        let since = before.sheet.unwrap().nominal - point.sheet.unwrap().nominal;
        let shift = point.center_shift.unwrap();
        let ratio = shift.nominal.kelvin() / since.kelvin();
        assert!((1.46..=1.84).contains(&ratio), "{color}: {ratio}");
        // 1.65 at 80 °F and 1.46 at 40 °F: 1.59 at 68 °F, drawn straight.
        ratios.near(ratio, 1.59, || color.to_owned());
        assert!(shift.low.kelvin() > 0.0 && shift.low.kelvin() <= shift.nominal.kelvin());
        assert!(shift.high.kelvin() >= shift.nominal.kelvin());
        assert!(point.change_since_last.unwrap().kelvin().abs() < 1e-9, "{color}");
    }
    drops.done();
    ratios.done();
}

#[test]
fn a_dark_sheet_is_tested_again_where_a_thermometer_would_see_nothing() {
    let cloud = cloud_bank();
    // Drop of the sheet by hand, 0.94 · 700 / (11.8 + 6.2): 36 K, which is 36 · 1.6 · 1.8 = 104 °F of
    // heat for black; 16 K and 46 °F for tan; 6 K and 18 °F for white. Half of the 100 °F step: 50 °F.
    let mut proof = Proof::of(
        "plan/sheet-changes",
        "Test welds that a bank of cloud asks for, black, tan and white, or the air alone",
        "AstmE1980, its balance drawn straight, by hand",
        "shifts",
        Allowed::Nothing,
    );
    let changes = ["start 10:00", "sheet-change-1 13:00"];
    proof.same(&tests(&over("black", &cloud, &[])), &changes, || "black".to_owned());
    proof.same(&tests(&over("white", &cloud, &[])), &["start 10:00"], || "white".to_owned());
    let tan = over("tan", &cloud, &[("rules.sheet_shift_heat", "35")]);
    proof.same(&tests(&tan), &changes, || "tan".to_owned());
    // Air and wind the same, only the sky: the thermometer's own rule has nothing to say.
    let air = over("black", &cloud, &[("rules.sheet_shift_heat", "500")]);
    proof.same(&tests(&air), &["start 10:00"], || "air".to_owned());
    proof.done();
}

#[test]
fn a_gale_over_sunlit_sheet_asks_for_a_test_on_black_and_not_on_white() {
    let gale = gale();
    let black = over("black", &gale, &[]);
    let change = checkpoint(&black, "sheet-change-1");
    // By hand: 846 W/m² over 6.6 + 6 in the light wind, over 32.6 + 6 in the gale: about 60 K above
    // the air, then 20 K. The 17 K that 50 °F of heat stand for are gone in the hour from noon.
    assert!((at(JUNE, "12:01")..at(JUNE, "13:00")).contains(&change.time), "{:?}", tests(&black));
    assert!(change.center_shift.unwrap().nominal.kelvin() > 0.0, "cooler sheet, more heat");
    assert!(change.change_since_last.unwrap().kelvin().abs() < 1e-9);
    assert!(black.checkpoints.iter().all(|point| point.cause != Cause::AmbientChange));
    assert_eq!(tests(&over("white", &gale, &[])), ["start 10:00"]);
}

#[test]
fn without_the_sky_no_test_is_asked_for_by_the_sheet() {
    let blind = forecast(JUNE, |_, row| row.cloud_cover_pct = None);
    let plan = over("black", &blind, &[("rules.sheet_shift_heat", "1")]);
    assert_eq!(tests(&plan), ["start 10:00"]);
    assert!(plan.checkpoints[0].sheet.is_none());
}

#[test]
fn the_limit_is_half_of_the_smallest_step_unless_the_site_says_otherwise() {
    let cloud = cloud_bank();
    let two = |second_step: &str| {
        let mut overrides = CALM_SHIFT.to_vec();
        overrides.push(("sheet.color", "\"tan\""));
        let text = example_site(&overrides);
        let second = format!(
            "\n[[welders]]\nname = \"second\"\nkind = \"hand\"\nheat_low = 700\nheat_max = 1100\n\
             heat_step = {second_step}\n"
        );
        tests(&plan(&site_of(&(text + &second)), JUNE, &cloud))
    };
    // Tan moves by about 46 °F: less than half of 100 °F, more than half of 60 °F.
    let mut proof = Proof::of(
        "plan/sheet-limit",
        "Whether that bank of cloud asks for a test, by the steps of the machines or the site's own limit",
        "AstmE1980, its balance drawn straight, by hand",
        "limits",
        Allowed::Nothing,
    );
    proof.same(&two("100"), &["start 10:00"], || "half of 100 °F".to_owned());
    let changes = ["start 10:00", "sheet-change-1 13:00"];
    proof.same(&two("60"), &changes, || "half of 60 °F".to_owned());
    // The site's own limit: the same bank of cloud on black, 104 °F by hand.
    let black = |limit: &str| tests(&over("black", &cloud, &[("rules.sheet_shift_heat", limit)]));
    proof.same(&black("85").len(), &2, || "85 °F".to_owned());
    proof.same(&black("125").len(), &1, || "125 °F".to_owned());
    proof.done();
}

#[test]
fn a_change_of_the_sheet_waits_for_a_break_and_stops_at_the_last_half_hour() {
    let cloud = cloud_bank();
    let with_break = |start: &str| {
        let breaks = format!("[{{ name = \"lunch\", start = \"{start}\", minutes = 30 }}]");
        let color = ("sheet.color", "\"black\"");
        let overrides = [("shift.start", "\"10:00\""), ("shift.breaks", &breaks), color];
        plan(&site(&overrides), JUNE, &cloud)
    };
    // Due at 13:00, 20 minutes before the break: it waits; at 21 it does not.
    let waits = with_break("13:20");
    assert_eq!(tests(&waits), ["start 10:00", "after-lunch 13:50"]);
    let Some(Note::ChangeWaits { due, of_sheet, change, break_name, test_at }) =
        waits.notes.iter().find(|note| matches!(note, Note::ChangeWaits { .. }))
    else {
        panic!("{:?}", waits.notes)
    };
    assert_eq!((clock(&waits, *due), clock(&waits, *test_at)), ("13:00".into(), "13:50".into()));
    assert!(*of_sheet && break_name == "lunch");
    assert!((-40.0..-30.0).contains(&change.kelvin()), "{change:?}: 36 K by hand");
    let at_once = with_break("13:21");
    assert_eq!(tests(&at_once), ["start 10:00", "sheet-change-1 13:00", "after-lunch 13:51"]);

    // The shift ends at 13:30: 13:00 is inside the last thirty minutes; with 13:31 it is not.
    let late = over("black", &cloud, &[("shift.end", "\"13:30\"")]);
    assert_eq!(tests(&late), ["start 10:00"]);
    let due = at(JUNE, "13:00");
    let note = Note::TooLate { due, cause: Cause::SheetChange };
    assert!(late.notes.contains(&note), "{:?}", late.notes);
    let in_time = over("black", &cloud, &[("shift.end", "\"13:31\"")]);
    assert_eq!(tests(&in_time), ["start 10:00", "sheet-change-1 13:00"]);
}
