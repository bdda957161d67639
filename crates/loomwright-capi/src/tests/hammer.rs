//! Random calls of every function with arguments of every kind: nothing but a status may come back.
//!
//! `LOOMWRIGHT_CALLS` sets how many; `tests/hammer.sh` runs ten million of them under AddressSanitizer.

use std::ffi::c_char;
use std::mem::size_of;
use std::ptr::{null, null_mut};

use crate::*;

/// xorshift64*: the same calls on every machine.
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        self.0.wrapping_mul(0x2545_F491_4F6C_DD1D)
    }

    fn below(&mut self, bound: u64) -> usize {
        usize::try_from(self.next() % bound).unwrap()
    }

    /// Plausible, extreme, or no number at all.
    fn number(&mut self) -> f64 {
        const EXTREME: [f64; 14] = [
            f64::NAN,
            f64::INFINITY,
            f64::NEG_INFINITY,
            0.0,
            -0.0,
            -1.0,
            1e300,
            -1e300,
            5e-324,
            f64::EPSILON,
            1e9,
            250.0,
            16.0,
            -273.15,
        ];
        let pick = self.below(3 * 14);
        EXTREME.get(pick).copied().unwrap_or_else(|| f64::from(u32::try_from(self.below(200_000)).unwrap()) * 5e-4)
    }

    fn code(&mut self) -> i32 {
        const CODES: [i32; 12] = [0, 1, 2, 3, 4, 5, 6, 7, 10, 20, 21, -1];
        match self.below(20) {
            0 => i32::MIN,
            1 => i32::MAX,
            pick => CODES.get(pick % 12).copied().unwrap(),
        }
    }
}

const TEXTS: [&[u8]; 12] = [
    b"blade-e\0",
    b"stud\0",
    b"battery\0",
    b"blade-c\0",
    b"class-t\0",
    b"\0",
    b"blade-cc\0",
    b"\xC3\x28\0",
    b"/runs/0/drop_v\0",
    b"/findings\0",
    b"/verdict\0",
    b"~~/~2//\xF0\x9F\x98\x80\0",
];

fn calls() -> u64 {
    std::env::var("LOOMWRIGHT_CALLS").ok().and_then(|text| text.parse().ok()).unwrap_or(50_000)
}

/// Handles that live through all calls, and the buffers that every call may write to.
struct Bench {
    plan: *mut lw_plan,
    stays: *mut lw_plan,
    refused: *mut lw_plan,
    report: *mut lw_report,
    out: [f64; 2],
    text: [u8; 64],
    length: [usize; 2],
}

impl Bench {
    /// Somewhere a number may go, or may not.
    fn out(&mut self, dice: &mut Dice) -> *mut f64 {
        match dice.below(8) {
            0 => null_mut(),
            1 => self.out.as_mut_ptr().cast::<u8>().wrapping_add(1 + dice.below(7)).cast(),
            _ => self.out.as_mut_ptr(),
        }
    }

    fn buffer(&mut self, dice: &mut Dice) -> (*mut c_char, usize) {
        match dice.below(6) {
            0 => (null_mut(), 0),
            1 => (null_mut(), usize::MAX),
            _ => (self.text.as_mut_ptr().cast(), dice.below(65)),
        }
    }

    fn length(&mut self, dice: &mut Dice) -> *mut usize {
        match dice.below(6) {
            0 => null_mut(),
            1 => self.length.as_mut_ptr().cast::<u8>().wrapping_add(3).cast(),
            _ => self.length.as_mut_ptr(),
        }
    }

    fn plan(&self, dice: &mut Dice) -> *const lw_plan {
        [null(), self.plan.cast_const(), self.refused.cast_const()][dice.below(3)]
    }

    fn report(&self, dice: &mut Dice) -> *const lw_report {
        if dice.below(5) == 0 { null() } else { self.report }
    }
}

fn text(dice: &mut Dice) -> *const c_char {
    if dice.below(12) == 0 { null() } else { TEXTS[dice.below(12)].as_ptr().cast() }
}

fn circuit(dice: &mut Dice) -> lw_circuit_query {
    let mut made = super::query();
    if dice.below(40) == 0 {
        made.struct_size = u32::try_from(dice.below(1 << 16)).unwrap();
    }
    made.has =
        if dice.below(30) == 0 { u32::MAX } else { u32::try_from(dice.next() & dice.next() & 0x1_FFFF).unwrap() };
    (made.current_a, made.length_m, made.voltage_v) = (dice.number(), dice.number().abs() * 0.2, 12.0);
    (made.power_w, made.lowest_voltage_v, made.drop_percent) = (dice.number(), dice.number(), dice.number());
    (made.drop_v, made.ambient_c, made.insulation_c) = (dice.number(), dice.number(), dice.number());
    (made.bore_mm, made.duty_on_s, made.duty_period_s) = (dice.number(), dice.number(), dice.number());
    (made.chassis_mohm, made.terminal_mm2, made.terminal_c) = (dice.number(), dice.number(), dice.number());
    (made.kind, made.material, made.installation) = (dice.code(), dice.code(), dice.code());
    (made.practice, made.conductors_together, made.lugs) = (dice.code(), dice.code(), dice.code());
    (made.screw_cages, made.isolators) = (dice.code(), dice.code());
    made
}

/// A second from 2010 to 2109, one at the ends of that, or any number.
fn time(dice: &mut Dice) -> f64 {
    let any = dice.number();
    let within = 1_262_304_000.0 + f64::from(u32::try_from(dice.below(3_155_673_600)).unwrap());
    [within, 1_262_304_000.0, 4_417_977_600.0, 4_417_977_601.0, any][dice.below(5)]
}

/// A forecast of few steps and samples, or one that is refused.
///
/// # Safety
/// The handles of the bench live; `report` may be written.
unsafe fn forecast(bench: &Bench, dice: &mut Dice, report: *mut *mut lw_report) -> i32 {
    let plan = if dice.below(3) == 0 { bench.plan(dice) } else { bench.stays };
    let mut counted = |right: &'static [u8]| {
        let any = TEXTS[dice.below(12)];
        match dice.below(8) {
            0 => (any.as_ptr().cast(), any.len()),
            1 => (null(), 7),
            2 => (right.as_ptr().cast(), right.len()),
            3 => (right.as_ptr().cast(), 0),
            4 => (right.as_ptr().cast(), usize::MAX),
            _ => (null::<c_char>(), 0),
        }
    };
    let (stay, stay_length) = counted(b"spring");
    let (weather, weather_length) =
        counted(b"time,global_w_per_m2,air_c\n2026-03-02T00:00Z,0,1\n2026-03-02T01:00Z,0,1\n");
    let steps = [24, 24, 24, 48, 25, i32::MIN][dice.below(6)];
    let level = [80.0, 80.0, 1.0, dice.number()][dice.below(4)];
    let (size, series) = ([0, 0, 1, dice.code()][dice.below(4)], [0, 1, dice.code()][dice.below(3)]);
    let samples = [0, 0, 3, -1, i32::MAX][dice.below(5)];
    let threads = [1, 2, 0, i32::MIN][dice.below(4)];
    // SAFETY: as promised above, and the texts are null or as long as said, or so long that they are refused unread.
    unsafe {
        lw_plan_forecast(
            plan,
            stay,
            stay_length,
            weather,
            weather_length,
            steps,
            level,
            size,
            series,
            samples,
            dice.next(),
            threads,
            report,
        )
    }
}

/// Readings of a plan explained, a template, or steps; or one of them refused.
///
/// # Safety
/// The handles of the bench live; `report` may be written.
unsafe fn measured(bench: &Bench, dice: &mut Dice, report: *mut *mut lw_report) -> i32 {
    const READINGS: &[u8] =
        b"case,quantity,at,value,accuracy\nparked-night,voltage,house,12.71 V,multimeter\n,voltage,lamp,\"12,6 V\",\n";
    let plan = bench.plan(dice);
    let any = TEXTS[dice.below(12)];
    let (readings, length): (*const c_char, usize) = match dice.below(8) {
        0 => (any.as_ptr().cast(), any.len()),
        1 => (null(), 7),
        2 => (null(), 0),
        3 => (READINGS.as_ptr().cast(), usize::MAX),
        4 | 5 => (READINGS.as_ptr().cast(), dice.below(u64::try_from(READINGS.len()).unwrap())),
        _ => (READINGS.as_ptr().cast(), READINGS.len()),
    };
    // SAFETY: as promised above, and the readings are null, at least as long as said, or so long that they are refused unread.
    unsafe {
        match dice.below(5) {
            0 => lw_plan_readings_template(plan, dice.code(), report),
            1 => lw_plan_before_energising(plan, report),
            2 => lw_plan_reconcile(plan, readings, length, report),
            3 => lw_plan_commission(plan, readings, length, report),
            _ => lw_plan_inspect(plan, readings, length, report),
        }
    }
}

/// One call; its status.
///
/// # Safety
/// The handles of the bench live, and all else that is passed is null, misaligned, or may be read and written.
unsafe fn call(bench: &mut Bench, dice: &mut Dice, which: usize) -> i32 {
    let (n, c) = ([(); 6].map(|()| dice.number()), [(); 4].map(|()| dice.code()));
    let out = bench.out(dice);
    // SAFETY: as promised above.
    unsafe {
        match which {
            0 => lw_resistance(c[0], c[1], n[0], n[1], n[2], out),
            1 => lw_drop(c[0], c[1], n[0], n[1], n[2], n[3], out),
            2 => lw_ampacity(c[0], c[1], n[0], c[2], c[3], n[1], n[2], out),
            3 => lw_conductor_temperature(c[0], c[1], n[0], c[2], c[3], n[1], n[2], out),
            4 => lw_withstand_time(c[0], c[1], n[0], n[1], n[2], n[3], out),
            5 => lw_gauge_area(c[0], out),
            6 => lw_gauge_for_area(n[0], out),
            7 => lw_converter_input_current(n[0], n[1], n[2], out),
            8 => lw_fuse_rating(n[0], n[1], n[2], out),
            9 => {
                let ((buffer, capacity), length) = (bench.buffer(dice), bench.length(dice));
                lw_fuse_family(n[0], n[1], n[2], buffer, capacity, length)
            }
            10 => lw_opening_latest(text(dice), n[0], n[1], out),
            11 => lw_opening_earliest(text(dice), n[0], n[1], out),
            12 => lw_report_number(bench.report(dice), text(dice), out),
            13 => {
                let ((buffer, capacity), length) = (bench.buffer(dice), bench.length(dice));
                lw_report_text(bench.report(dice), text(dice), buffer, capacity, length)
            }
            14 => lw_report_count(bench.report(dice), text(dice), bench.length(dice)),
            15 => lw_mistake_count(bench.plan(dice), bench.length(dice)),
            16 => {
                let ((buffer, capacity), length) = (bench.buffer(dice), bench.length(dice));
                let index = if dice.below(4) == 0 { usize::MAX } else { dice.below(3) };
                lw_mistake_text(bench.plan(dice), index, buffer, capacity, length)
            }
            17 => {
                let (buffer, capacity) = bench.buffer(dice);
                lw_last_message(buffer, capacity);
                assert!(!lw_status_text(c[0]).is_null() && !lw_version().is_null());
                0
            }
            18 => {
                let (query, mut result) = (circuit(dice), super::result());
                let query = if dice.below(50) == 0 { null() } else { &raw const query };
                let result = if dice.below(50) == 0 { null_mut() } else { &raw mut result };
                lw_size_circuit(query, result)
            }
            19 => {
                let rows: Vec<lw_circuit_query> = (0..dice.below(4)).map(|_| circuit(dice)).collect();
                let mut results = vec![super::result(); rows.len()];
                let (asked, given) = (size_of::<lw_circuit_query>(), size_of::<lw_circuit_result>());
                // A wrong stride or thread count is refused before anything is touched, and so is a count beyond all memory.
                let (count, asked) = match dice.below(12) {
                    0 => (usize::MAX / 2, asked),
                    1 => (rows.len(), asked - 1 - dice.below(20)),
                    _ => (rows.len(), asked),
                };
                let threads = if dice.below(10) == 0 { c[0] } else { 1 };
                let threads = if threads > 4 { -threads } else { threads };
                lw_size_circuits(rows.as_ptr(), asked, results.as_mut_ptr(), given, count, threads)
            }
            20 => lw_smallest_size(c[0], c[1], n[0], n[1], n[2], n[3], n[4], n[5], out),
            21 => lw_longest_run(c[0], c[1], n[0], n[1], 12.0, n[2], 40.0, n[3], out),
            22 => {
                let mut plan = null_mut();
                let text = TEXTS[dice.below(12)];
                let status =
                    lw_plan_read(text.as_ptr().cast(), dice.below(u64::try_from(text.len()).unwrap()), &raw mut plan);
                lw_plan_free(plan);
                status
            }
            23 => {
                let mut report = null_mut();
                let status = match dice.below(16) {
                    12..=15 => measured(bench, dice, &raw mut report),
                    3 => forecast(bench, dice, &raw mut report),
                    0 | 4 | 8 => lw_plan_schedule(bench.plan(dice), &raw mut report),
                    1 | 5 | 9 => lw_plan_compare(bench.plan(dice), bench.plan(dice), &raw mut report),
                    // Few variants, or a number of them that is refused.
                    _ => {
                        let samples = [1, 7, 0, -5, i32::MAX][dice.below(5)];
                        lw_plan_tolerance(
                            bench.plan(dice),
                            samples,
                            dice.next(),
                            [1, 2, c[0]][dice.below(3)].min(4),
                            &raw mut report,
                        )
                    }
                };
                lw_report_free(report);
                status
            }
            24 => lw_torque_least(text(dice), [8.0, 6.0, n[0]][dice.below(3)], out),
            25 => lw_torque_most(text(dice), [8.0, 6.0, n[0]][dice.below(3)], out),
            26 => lw_pin_resistance(n[0], n[1], n[2], out),
            27 => lw_conduit_fill(c[0], out),
            28 => lw_peukert_time(n[0], [20.0, n[1]][dice.below(2)], [1.0, 1.6, n[2]][dice.below(3)], n[3], out),
            29 => lw_battery_usable(c[0], n[0], n[1], n[2], n[3], out),
            30 => lw_battery_needed(c[0], n[0], n[1], n[2], n[3], out),
            31 => lw_sun_elevation(n[0], n[1], n[2], time(dice), out),
            32 => lw_sun_azimuth(n[0], n[1], n[2], time(dice), out),
            33 => lw_clear_sky_global(n[0], n[1], n[2], time(dice), out),
            34 => lw_clear_sky_beam(n[0], n[1], n[2], time(dice), out),
            35 => lw_clear_sky_diffuse(n[0], n[1], n[2], time(dice), out),
            36 => lw_joint_rise(c[0], c[1], n[0], c[2], c[3], n[1], n[2], n[3], out),
            37 => lw_joint_temperature(c[0], c[1], n[0], c[2], c[3], n[1], n[2], n[3], out),
            38 => lw_joint_resistance(c[0], c[1], n[0], c[2], c[3], n[1], n[2], n[3], out),
            39 => lw_spot_temperature(n[0], n[1], out),
            40 => lw_contact_voltage(n[0], n[1], out),
            _ => {
                let ((buffer, capacity), length) = (bench.buffer(dice), bench.length(dice));
                lw_report_json(bench.report(dice), buffer, capacity, length)
            }
        }
    }
}

#[test]
fn random_calls_give_nothing_but_a_status() {
    let (_, plan) = super::read(include_str!("../../../loomwright/examples/lamp.toml"));
    let (_, stays) = super::read(include_str!("../../../loomwright/examples/cabin.toml"));
    let (_, refused) = super::read("format = 1\n[plan]\n");
    let mut report = null_mut();
    // SAFETY: the handles are ours and live to the end.
    unsafe {
        assert_eq!(lw_plan_check(plan, &raw mut report), 0);
        let mut bench = Bench { plan, stays, refused, report, out: [0.0; 2], text: [0; 64], length: [0; 2] };
        let mut dice = Dice(0x9E37_79B9_7F4A_7C15);
        let mut seen = [0_u64; 10];
        for _ in 0..calls() {
            // Searches take a hundred times as long as the others: one in some hundred calls.
            let which = match dice.below(400) {
                0 => 19,
                1 => 20,
                2 => 21,
                3 => 22,
                4 => 23,
                // Twenty cheap ones, four of fittings, eight of energy and five of joints.
                pick => [pick % 37, pick % 37 + 4][usize::from(pick % 37 >= 20)],
            };
            let which = if which == 19 && dice.below(4) != 0 { 41 } else { which };
            let status = call(&mut bench, &mut dice, which);
            assert!((0..=9).contains(&status), "{which}: {status}");
            seen[usize::try_from(status).unwrap()] += 1;
            assert!(bench.out[0].is_finite(), "{which} wrote {}", bench.out[0]);
        }
        assert!(seen.iter().all(|count| *count > 0), "every status has come: {seen:?}");
        lw_report_free(report);
        [plan, stays, refused].into_iter().for_each(|plan| lw_plan_free(plan));
    }
}
