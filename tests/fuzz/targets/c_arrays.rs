//! C struct arrays: bytes as rows of queries, handed to the C functions as a caller would. Statuses are known ones, numbers
//! finite, results untouched where nothing was found, and one call for all rows gives what one call for each does.
//!
//! The modules of the C library stand in this program themselves: its own crate is made for C and cannot be linked to.
#![no_main]
#![allow(
    dead_code,
    unused_imports,
    non_camel_case_types,
    unexpected_cfgs,
    reason = "modules of another crate, of which some is used"
)]

#[path = "../../../crates/loomwright-capi/src/border.rs"]
mod border;
#[path = "../../../crates/loomwright-capi/src/codes.rs"]
mod codes;
#[path = "../../../crates/loomwright-capi/src/energy.rs"]
mod energy;
#[path = "../../../crates/loomwright-capi/src/joints.rs"]
mod joints;
#[path = "../../../crates/loomwright-capi/src/scalar.rs"]
mod scalar;
#[path = "../../../crates/loomwright-capi/src/sizing/mod.rs"]
mod sizing;

use std::mem::size_of;

use libfuzzer_sys::{fuzz_mutator, fuzz_target};
use loomwright_fuzz::Dice;
use sizing::{lw_circuit_query, lw_circuit_result, lw_size_circuit, lw_size_circuits};

const QUERY: usize = size_of::<lw_circuit_query>();
const RESULT: usize = size_of::<lw_circuit_result>();
const MARK: u8 = 0xA5;

/// Known statuses; a fault inside the library is none of them here.
const KNOWN: std::ops::RangeInclusive<i32> = 0..=9;

fuzz_mutator!(|data: &mut [u8], size: usize, max_size: usize, seed: u32| {
    let mut dice = Dice::new(seed);
    // Numbers that somebody would give, at the places of numbers: random bytes are none.
    const NUMBERS: [f64; 18] = [
        0.001,
        0.5,
        1.0,
        2.5,
        5.0,
        10.0,
        12.0,
        24.0,
        40.0,
        48.0,
        60.0,
        70.0,
        105.0,
        250.0,
        1000.0,
        5000.0,
        -40.0,
        f64::NAN,
    ];
    if size < 8 + QUERY || dice.below(2) == 0 {
        return libfuzzer_sys::fuzzer_mutate(data, size, max_size);
    }
    let row = 8 + QUERY * dice.below((size - 8) / QUERY);
    let number = if dice.below(2) == 0 { NUMBERS[dice.below(18)] } else { dice.below(100_000) as f64 / 100.0 };
    // Fifteen numbers after two words, then eight codes.
    if dice.below(2) == 0 {
        let at = row + 8 + 8 * dice.below(15);
        data[at..at + 8].copy_from_slice(&number.to_ne_bytes());
    } else {
        let at = row + 8 + 8 * 15 + 4 * dice.below(8);
        data[at..at + 4].copy_from_slice(&(dice.below(9) as i32).to_ne_bytes());
    }
    size
});

/// Memory of its own for rows, of exactly their size, so that a step beside it is seen.
struct Rows(Vec<u64>);

impl Rows {
    fn new(bytes: usize) -> Self {
        Self(vec![u64::from_ne_bytes([MARK; 8]); bytes / 8])
    }

    fn at<T>(&mut self, byte: usize) -> *mut T {
        self.0.as_mut_ptr().cast::<u8>().wrapping_add(byte).cast()
    }
}

fn numbers(result: &lw_circuit_result) -> [f64; 10] {
    [
        result.least_margin,
        result.csa_mm2,
        result.drop_v,
        result.conductor_drop_v,
        result.load_voltage_v,
        result.conductor_temperature_c,
        result.loss_w,
        result.ampacity_a,
        result.fuse_rating_a,
        result.longest_run_m,
    ]
}

/// Functions of numbers: the result is finite, or untouched.
fn cells(codes: [i32; 3], n: [f64; 7]) {
    let call = |work: &dyn Fn(*mut f64) -> i32| {
        let mut out = Box::new(12.5);
        let status = work(&raw mut *out);
        assert!(KNOWN.contains(&status), "status {status}");
        assert!(if status == 0 { out.is_finite() } else { *out == 12.5 }, "{out} with status {status}");
    };
    let [kind, material, more] = codes;
    // SAFETY: the pointer of each call is of a number that lives.
    unsafe {
        call(&|out| sizing::lw_smallest_size(kind, material, n[0], n[1], n[2], n[3], n[4], n[5], out));
        call(&|out| sizing::lw_longest_run(kind, material, n[6], n[0], n[2], n[3], n[4], n[5], out));
        call(&|out| joints::lw_joint_rise(kind, material, n[6], more, 2, n[4], n[0], n[1], out));
        call(&|out| joints::lw_joint_resistance(kind, material, n[6], more, 2, n[4], n[0], n[1], out));
        call(&|out| joints::lw_spot_temperature(n[0], n[4], out));
        call(&|out| energy::lw_peukert_time(n[0], n[1], n[2], n[3], out));
        call(&|out| energy::lw_battery_usable(more, n[0], n[3], n[5], n[4], out));
        call(&|out| energy::lw_sun_elevation(n[4], n[5], n[0], n[6] * 1e9, out));
    }
}

fuzz_target!(|data: &[u8]| {
    let Some((head, body)) = data.split_at_checked(8) else { return };
    // Room between rows, and rows that say a wrong size or ask for what is not known, only where the head asks for it.
    let (room, keep) = (8 * usize::from(head[0] % 4), head[1] % 8 == 7);
    let threads = i32::from(head[2] % 3) + 1;
    let (query_stride, result_stride) = (QUERY + room, RESULT + room);
    let count = (body.len() / QUERY).min(150);
    let (mut queries, mut results) = (Rows::new(count * query_stride), Rows::new(count * result_stride));
    for row in 0..count {
        let bytes = &body[row * QUERY..(row + 1) * QUERY];
        // SAFETY: both are as long as a row, and the memory is ours; any bytes are a query, which has numbers only.
        unsafe {
            let query = queries.at::<u8>(row * query_stride);
            query.copy_from_nonoverlapping(bytes.as_ptr(), QUERY);
            let query = &mut *query.cast::<lw_circuit_query>();
            if !keep {
                query.struct_size = QUERY as u32;
                query.has &= (1 << 17) - 1;
            }
            let stated = if keep && query.kind % 5 == 4 { 8 } else { RESULT as u32 };
            results.at::<u32>(row * result_stride).write(stated);
            let n = [
                query.current_a,
                query.length_m,
                query.voltage_v,
                query.drop_percent,
                query.ambient_c,
                query.insulation_c,
                query.terminal_mm2,
            ];
            if row == 0 {
                cells([query.kind, query.material, query.installation], n);
            }
        }
    }
    // SAFETY: both arrays hold so many rows of these strides, and no other thread knows them.
    let status = unsafe { lw_size_circuits(queries.at(0), query_stride, results.at(0), result_stride, count, threads) };
    assert_eq!(status, 0);
    for row in 0..count {
        // SAFETY: rows of ours; every byte of a result was written, so it is one.
        let (query, result) = unsafe {
            (queries.at::<lw_circuit_query>(row * query_stride), &*results.at::<lw_circuit_result>(row * result_stride))
        };
        let marked = i32::from_ne_bytes([MARK; 4]);
        if result.struct_size != RESULT as u32 {
            assert!(result.struct_size == 8 && result.status == marked, "a result without its size was written");
            continue;
        }
        assert!(KNOWN.contains(&result.status), "status {}", result.status);
        assert!(numbers(result).iter().all(|number| number.is_finite()), "{result:?}");
        assert!(result.status == 0 || numbers(result) == [0.0; 10], "{result:?}");
        let mut alone = Rows::new(RESULT);
        // SAFETY: a query of ours that says its size, and a result of exactly its size.
        let (status, alone) = unsafe {
            alone.at::<u32>(0).write(RESULT as u32);
            (lw_size_circuit(query, alone.at(0)), &*alone.at::<lw_circuit_result>(0))
        };
        assert!(KNOWN.contains(&status));
        match status {
            0 => assert_eq!(format!("{alone:?}"), format!("{result:?}")),
            _ => assert!(alone.status == marked && status == result.status, "{status}: {alone:?}"),
        }
    }
});
