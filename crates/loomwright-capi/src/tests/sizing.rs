//! Circuits by struct and by array.

use std::mem::size_of;
use std::ptr::null;

use super::{query, result};
use crate::{
    LW_HAS_AMBIENT, LW_HAS_DUTY, LW_HAS_INSTALLATION, LW_HAS_KIND, LW_HAS_POWER, lw_circuit_query, lw_circuit_result,
    lw_size_circuit, lw_size_circuits,
};
use loomwright::quantity::{ElectricCurrent, ElectricPotential, FromText, Length, celsius, in_mm2};
use loomwright::study::cable::{CableQuery, Load, size};

#[test]
fn a_circuit_is_the_engine_s_to_the_last_bit() {
    let asked = query();
    let mut given = result();
    // SAFETY: pointers to local structs of the size they say.
    assert_eq!(unsafe { lw_size_circuit(&raw const asked, &raw mut given) }, 0);
    let current = Load::Current(ElectricCurrent::from_text("40 A").unwrap());
    let engine =
        CableQuery::new(current, Length::from_text("5.5 m").unwrap(), ElectricPotential::from_text("12 V").unwrap());
    let chosen = size(&engine).unwrap().chosen.unwrap();
    assert_eq!(given.status, 0);
    assert_eq!(given.csa_mm2.to_bits(), in_mm2(chosen.conductor.area).to_bits());
    assert_eq!(given.drop_v.to_bits(), chosen.operating.unwrap().drop.value.to_bits());
    assert_eq!(given.longest_run_m.to_bits(), chosen.longest_run.value.to_bits());
    let family: Vec<u8> =
        given.fuse_family.iter().take_while(|letter| **letter != 0).map(|letter| letter.to_ne_bytes()[0]).collect();
    assert_eq!(String::from_utf8(family).unwrap(), chosen.fuse.unwrap().family.name());
    // Given fields are read, others are not.
    let hot =
        lw_circuit_query { has: LW_HAS_AMBIENT | LW_HAS_KIND, ambient_c: 60.0, kind: 2, drop_v: f64::NAN, ..asked };
    // SAFETY: as above.
    assert_eq!(unsafe { lw_size_circuit(&raw const hot, &raw mut given) }, 0);
    let engine = CableQuery { ambient: Some(celsius(60.0)), kind: Some(loomwright::conductor::Kind::Iec2), ..engine };
    assert_eq!(given.ampacity_a.to_bits(), size(&engine).unwrap().chosen.unwrap().ampacity.value.to_bits());
}

#[test]
fn structs_of_other_sizes_and_foreign_fields() {
    let mut given = result();
    // SAFETY: pointers to local structs; a size that is too small or too large is refused before more is touched.
    unsafe {
        assert_eq!(lw_size_circuit(null(), &raw mut given), 1);
        for wrong in [0, 8, 1 << 20] {
            let asked = lw_circuit_query { struct_size: wrong, ..query() };
            assert_eq!(lw_size_circuit(&raw const asked, &raw mut given), 6, "{wrong}");
        }
        let asked = query();
        given.struct_size = 8;
        assert_eq!(lw_size_circuit(&raw const asked, &raw mut given), 6);
        let foreign = lw_circuit_query { has: 1 << 30, ..query() };
        given = result();
        assert_eq!(lw_size_circuit(&raw const foreign, &raw mut given), 3);
        for (has, broken) in [
            (0, lw_circuit_query { current_a: f64::NAN, ..query() }),
            (LW_HAS_POWER, lw_circuit_query { power_w: f64::INFINITY, ..query() }),
            (LW_HAS_AMBIENT, lw_circuit_query { ambient_c: 1e9, ..query() }),
            (LW_HAS_DUTY, lw_circuit_query { duty_on_s: 9.0, duty_period_s: 3.0, ..query() }),
        ] {
            let broken = lw_circuit_query { has, ..broken };
            assert_eq!(lw_size_circuit(&raw const broken, &raw mut given), 2, "{has}");
        }
        let nowhere = lw_circuit_query { has: LW_HAS_INSTALLATION, installation: 77, ..query() };
        assert_eq!(lw_size_circuit(&raw const nowhere, &raw mut given), 3);
        // What nothing carries is no failure of the call.
        let endless = lw_circuit_query { length_m: 1000.0, voltage_v: 5.0, current_a: 5000.0, ..query() };
        assert_eq!(lw_size_circuit(&raw const endless, &raw mut given), 0);
        assert_eq!((given.status, given.csa_mm2), (7, 0.0));
        // A caller with a newer header has a larger result: its first bytes are written.
        #[repr(C)]
        struct Larger {
            known: lw_circuit_result,
            more: [f64; 4],
        }
        let mut larger = Larger { known: result(), more: [3.25; 4] };
        larger.known.struct_size = u32::try_from(size_of::<Larger>()).unwrap();
        assert_eq!(lw_size_circuit(&raw const asked, (&raw mut larger).cast()), 0);
        assert!(larger.known.csa_mm2 > 0.0 && larger.more == [3.25; 4]);
    }
}

#[test]
fn arrays_are_the_same_on_any_number_of_threads() {
    let rows: Vec<lw_circuit_query> = (0..1000)
        .map(|row| {
            let row = f64::from(row);
            let bad = row == 500.0;
            lw_circuit_query {
                current_a: if bad { f64::NAN } else { 1.0 + row * 0.3 },
                length_m: 1.0 + row % 17.0,
                ..query()
            }
        })
        .collect();
    let solve = |threads: i32| {
        let mut results = vec![result(); rows.len()];
        // SAFETY: arrays of as many rows as said.
        let status = unsafe {
            let strides = (size_of::<lw_circuit_query>(), size_of::<lw_circuit_result>());
            lw_size_circuits(rows.as_ptr(), strides.0, results.as_mut_ptr(), strides.1, rows.len(), threads)
        };
        assert_eq!(status, 0);
        results
    };
    let alone = solve(1);
    assert_eq!((alone[500].status, alone[499].status), (2, 0));
    for threads in [2, 3, 16] {
        for (one, other) in alone.iter().zip(solve(threads)) {
            assert_eq!(format!("{one:?}"), format!("{other:?}"));
        }
    }
    let mut results = vec![result(); rows.len()];
    // SAFETY: refused before anything is touched.
    unsafe {
        let (asked, given) = (size_of::<lw_circuit_query>(), size_of::<lw_circuit_result>());
        let to = results.as_mut_ptr();
        assert_eq!(lw_size_circuits(rows.as_ptr(), asked, to, given, 0, 1), 0);
        assert_eq!(lw_size_circuits(null(), asked, to, given, 5, 1), 1);
        assert_eq!(lw_size_circuits(rows.as_ptr(), asked - 8, to, given, 5, 1), 6);
        assert_eq!(lw_size_circuits(rows.as_ptr(), asked + 3, to, given, 5, 1), 6);
        assert_eq!(lw_size_circuits(rows.as_ptr(), asked, to, given, usize::MAX, 1), 2);
        for threads in [0, -1, 257, i32::MAX] {
            assert_eq!(lw_size_circuits(rows.as_ptr(), asked, to, given, 5, threads), 2);
        }
        // A row whose result says no size is left alone.
        results[1].struct_size = 0;
        assert_eq!(lw_size_circuits(rows.as_ptr(), asked, to, given, 3, 2), 0);
    }
    assert!(results[0].csa_mm2 > 0.0 && results[1].csa_mm2 == 0.0 && results[2].csa_mm2 > 0.0);
}
