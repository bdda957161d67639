//! One circuit and arrays of circuits, in structs that may grow.

use std::ffi::c_char;
use std::mem::{offset_of, size_of};
use std::sync::atomic::{AtomicUsize, Ordering};

use loomwright::heat::Duty;
use loomwright::quantity::uom::si::electric_current::ampere;
use loomwright::quantity::uom::si::electric_potential::volt;
use loomwright::quantity::uom::si::electrical_resistance::milliohm;
use loomwright::quantity::uom::si::length::{meter, millimeter};
use loomwright::quantity::uom::si::power::watt;
use loomwright::quantity::uom::si::ratio::percent;
use loomwright::quantity::uom::si::time::second;
use loomwright::quantity::{
    CrossSection, ElectricCurrent, ElectricPotential, ElectricalResistance, Length, Power, Ratio, Time, celsius,
    in_celsius, in_mm2, mm2,
};
use loomwright::study::cable::{CableError, CableQuery, DropLimit, Joints, Load, ReturnPath, Sizing, size};

use crate::border::{Failure, lw_status, run, usable, writable, write_number};
use crate::codes::{installation, kind, material, practice};

/// `power_w` and `lowest_voltage_v` are given, instead of `current_a`.
pub const LW_HAS_POWER: u32 = 1 << 0;
/// `drop_percent` is given.
pub const LW_HAS_DROP_PERCENT: u32 = 1 << 1;
/// `drop_v` is given, instead of `drop_percent`.
pub const LW_HAS_DROP_V: u32 = 1 << 2;
/// `ambient_c` is given.
pub const LW_HAS_AMBIENT: u32 = 1 << 3;
/// `insulation_c` is given.
pub const LW_HAS_INSULATION: u32 = 1 << 4;
/// `kind` is given.
pub const LW_HAS_KIND: u32 = 1 << 5;
/// `material` is given.
pub const LW_HAS_MATERIAL: u32 = 1 << 6;
/// `installation` is given.
pub const LW_HAS_INSTALLATION: u32 = 1 << 7;
/// `conductors_together` is given.
pub const LW_HAS_TOGETHER: u32 = 1 << 8;
/// `bore_mm` is given.
pub const LW_HAS_BORE: u32 = 1 << 9;
/// `duty_on_s` and `duty_period_s` are given.
pub const LW_HAS_DUTY: u32 = 1 << 10;
/// The circuit returns through the chassis.
pub const LW_HAS_CHASSIS_RETURN: u32 = 1 << 11;
/// `chassis_mohm` is given, beside `LW_HAS_CHASSIS_RETURN`.
pub const LW_HAS_CHASSIS_RESISTANCE: u32 = 1 << 12;
/// `lugs`, `screw_cages` and `isolators` are given.
pub const LW_HAS_JOINTS: u32 = 1 << 13;
/// `terminal_mm2` is given.
pub const LW_HAS_TERMINAL: u32 = 1 << 14;
/// `terminal_c` is given.
pub const LW_HAS_TERMINAL_TEMPERATURE: u32 = 1 << 15;
/// `practice` is given.
pub const LW_HAS_PRACTICE: u32 = 1 << 16;
/// Every mask of this release.
const LW_HAS_ALL: u32 = (1 << 17) - 1;

/// One circuit to size. Set `struct_size` to `sizeof(lw_circuit_query)` and `has` to the masks of what is given; what is not
/// given takes the default that the command `loomwright cable` lists. Fields that are not given are not read.
#[repr(C)]
#[derive(Clone, Copy, Debug)]
#[allow(non_camel_case_types, reason = "the names are those of the C header")]
pub struct lw_circuit_query {
    /// Size of this struct as the caller knows it.
    pub struct_size: u32,
    /// Which fields are given.
    pub has: u32,
    /// Current, above 0 to 5000 A.
    pub current_a: f64,
    /// Power at the load, instead of a current.
    pub power_w: f64,
    /// The lowest voltage at which the load takes that power.
    pub lowest_voltage_v: f64,
    /// One-way length, 0.001 to 1000 m; always read.
    pub length_m: f64,
    /// System voltage, 5 to 60 V; always read.
    pub voltage_v: f64,
    /// Permitted drop in per cent of the system voltage.
    pub drop_percent: f64,
    /// Permitted drop in volts.
    pub drop_v: f64,
    /// Hottest air around the cable, −40 to 200 °C.
    pub ambient_c: f64,
    /// Insulation class, 40 to 250 °C.
    pub insulation_c: f64,
    /// Bore of the conduit, 3 to 500 mm.
    pub bore_mm: f64,
    /// How long the current flows in every period.
    pub duty_on_s: f64,
    /// The period.
    pub duty_period_s: f64,
    /// Resistance of the chassis return.
    pub chassis_mohm: f64,
    /// The largest conductor that the terminals accept.
    pub terminal_mm2: f64,
    /// How hot the terminals may get, 40 to 250 °C.
    pub terminal_c: f64,
    /// An `lw_kind`.
    pub kind: i32,
    /// An `lw_material`.
    pub material: i32,
    /// An `lw_installation`.
    pub installation: i32,
    /// An `lw_practice`.
    pub practice: i32,
    /// Loaded conductors laid together, 1 to 40.
    pub conductors_together: i32,
    /// Lugs in both legs.
    pub lugs: i32,
    /// Screw cage terminals.
    pub screw_cages: i32,
    /// Isolators.
    pub isolators: i32,
}

/// A sized circuit. Set `struct_size` to `sizeof(lw_circuit_result)`; only so many bytes are written, so a library that
/// knows more fields than its caller leaves them out.
#[repr(C)]
#[derive(Clone, Copy, Debug)]
#[allow(non_camel_case_types, reason = "the names are those of the C header")]
pub struct lw_circuit_result {
    /// Size of this struct as the caller knows it.
    pub struct_size: u32,
    /// An `lw_status` for this circuit. `LW_NO_VALUE` when no size passes: the other fields are then 0.
    pub status: i32,
    /// Conductors in parallel in each leg.
    pub parallel: i32,
    /// Not used; 0.
    pub reserved: i32,
    /// The least margin of all checks: 1 or more passes.
    pub least_margin: f64,
    /// Cross-sectional area of one conductor.
    pub csa_mm2: f64,
    /// Drop of conductors, joints and fuse.
    pub drop_v: f64,
    /// Drop of the conductors alone.
    pub conductor_drop_v: f64,
    /// Voltage at the load.
    pub load_voltage_v: f64,
    /// Temperature of the conductor.
    pub conductor_temperature_c: f64,
    /// Heat lost in the circuit.
    pub loss_w: f64,
    /// What the conductor carries without pause here.
    pub ampacity_a: f64,
    /// Rating of the fuse.
    pub fuse_rating_a: f64,
    /// The longest run at this size, within all limits.
    pub longest_run_m: f64,
    /// The largest current at this size and length, within all limits.
    pub largest_current_a: f64,
    /// Family of the fuse: a terminated name such as "blade-c".
    pub fuse_family: [c_char; 40],
}

fn refused(error: &CableError) -> Failure {
    Failure::new(lw_status::LW_OUT_OF_RANGE, error.to_string())
}

fn count(what: &str, number: i32) -> Result<u16, Failure> {
    u16::try_from(number)
        .map_err(|_| Failure::new(lw_status::LW_OUT_OF_RANGE, format!("{what} {number} is outside 0 to 65535")))
}

/// A finite number: what is out of range is told by the engine, in its words.
fn finite(what: &str, value: f64) -> Result<f64, Failure> {
    if value.is_finite() {
        Ok(value)
    } else {
        Err(Failure::new(lw_status::LW_OUT_OF_RANGE, format!("{what} {value} is not a finite number")))
    }
}

impl lw_circuit_query {
    /// The query as the engine knows it.
    fn read(&self) -> Result<CableQuery, Failure> {
        let has = |mask: u32| self.has & mask != 0;
        if self.has & !LW_HAS_ALL != 0 {
            let message = format!("has {:#x} names fields that this library does not know", self.has);
            return Err(Failure::new(lw_status::LW_UNKNOWN_VALUE, message));
        }
        let volts = |what, value| Ok::<_, Failure>(ElectricPotential::new::<volt>(finite(what, value)?));
        let degrees = |what, value| Ok::<_, Failure>(celsius(finite(what, value)?));
        let load = if has(LW_HAS_POWER) {
            Load::Power {
                power: Power::new::<watt>(finite("power_w", self.power_w)?),
                lowest_voltage: volts("lowest_voltage_v", self.lowest_voltage_v)?,
            }
        } else {
            Load::Current(ElectricCurrent::new::<ampere>(finite("current_a", self.current_a)?))
        };
        let length = Length::new::<meter>(finite("length_m", self.length_m)?);
        let mut query = CableQuery::new(load, length, volts("voltage_v", self.voltage_v)?);
        if has(LW_HAS_DROP_V) {
            query.drop = Some(DropLimit::Absolute(volts("drop_v", self.drop_v)?));
        } else if has(LW_HAS_DROP_PERCENT) {
            query.drop = Some(DropLimit::Share(Ratio::new::<percent>(finite("drop_percent", self.drop_percent)?)));
        }
        if has(LW_HAS_AMBIENT) {
            query.ambient = Some(degrees("ambient_c", self.ambient_c)?);
        }
        if has(LW_HAS_INSULATION) {
            query.insulation = Some(degrees("insulation_c", self.insulation_c)?);
        }
        if has(LW_HAS_KIND) {
            query.kind = Some(kind(self.kind)?);
        }
        if has(LW_HAS_MATERIAL) {
            query.material = Some(material(self.material)?);
        }
        if has(LW_HAS_INSTALLATION) {
            query.installation = Some(installation(self.installation)?);
        }
        if has(LW_HAS_TOGETHER) {
            query.together = Some(count("conductors_together", self.conductors_together)?);
        }
        if has(LW_HAS_BORE) {
            query.bore = Some(Length::new::<millimeter>(finite("bore_mm", self.bore_mm)?));
        }
        if has(LW_HAS_DUTY) {
            let seconds = |what, value| Ok::<_, Failure>(Time::new::<second>(finite(what, value)?));
            let duty = Duty::new(seconds("duty_on_s", self.duty_on_s)?, seconds("duty_period_s", self.duty_period_s)?);
            query.duty = Some(duty.map_err(|error| Failure::new(lw_status::LW_OUT_OF_RANGE, error.to_string()))?);
        }
        if has(LW_HAS_CHASSIS_RETURN) {
            let resistance =
                has(LW_HAS_CHASSIS_RESISTANCE).then(|| finite("chassis_mohm", self.chassis_mohm)).transpose()?;
            query.return_path = Some(ReturnPath::Chassis(resistance.map(ElectricalResistance::new::<milliohm>)));
        }
        if has(LW_HAS_JOINTS) {
            query.joints = Some(Joints {
                lugs: Some(count("lugs", self.lugs)?),
                screw_cages: count("screw_cages", self.screw_cages)?,
                isolators: count("isolators", self.isolators)?,
            });
        }
        if has(LW_HAS_TERMINAL) {
            query.terminal_size = Some(CrossSection::Area(mm2(finite("terminal_mm2", self.terminal_mm2)?)));
        }
        if has(LW_HAS_TERMINAL_TEMPERATURE) {
            query.terminal_temperature = Some(degrees("terminal_c", self.terminal_c)?);
        }
        if has(LW_HAS_PRACTICE) {
            query.practice = Some(practice(self.practice)?);
        }
        Ok(query)
    }
}

impl lw_circuit_result {
    fn blank(status: lw_status) -> Self {
        Self {
            struct_size: 0,
            status: crate::border::code(status),
            parallel: 0,
            reserved: 0,
            least_margin: 0.0,
            csa_mm2: 0.0,
            drop_v: 0.0,
            conductor_drop_v: 0.0,
            load_voltage_v: 0.0,
            conductor_temperature_c: 0.0,
            loss_w: 0.0,
            ampacity_a: 0.0,
            fuse_rating_a: 0.0,
            longest_run_m: 0.0,
            largest_current_a: 0.0,
            fuse_family: [0; 40],
        }
    }

    fn of(sized: &Sizing) -> Self {
        let Some((chosen, point)) = sized.chosen.as_ref().and_then(|chosen| Some((chosen, chosen.operating?))) else {
            return Self::blank(lw_status::LW_NO_VALUE);
        };
        let mut found = Self {
            parallel: i32::from(chosen.parallel),
            least_margin: chosen.binding().map_or(0.0, |binding| binding.margin.value),
            csa_mm2: in_mm2(chosen.conductor.area),
            drop_v: point.drop.get::<volt>(),
            conductor_drop_v: point.conductor_drop.get::<volt>(),
            load_voltage_v: point.load_voltage.get::<volt>(),
            conductor_temperature_c: in_celsius(point.temperature),
            loss_w: point.loss.get::<watt>(),
            ampacity_a: chosen.ampacity.get::<ampere>(),
            longest_run_m: chosen.longest_run.get::<meter>(),
            largest_current_a: chosen.largest_current.get::<ampere>(),
            ..Self::blank(lw_status::LW_OK)
        };
        if let Some(fuse) = chosen.fuse {
            found.fuse_rating_a = fuse.rating.get::<ampere>();
            // A zero at the end stays; no family's name is that long, and a longer one would be cut.
            let [letters @ .., _] = &mut found.fuse_family;
            for (slot, letter) in letters.iter_mut().zip(fuse.family.name().bytes()) {
                *slot = c_char::from_ne_bytes([letter]);
            }
        }
        found
    }
}

/// The smallest struct that this library reads or writes: all of the first release.
const LEAST_QUERY: usize = size_of::<lw_circuit_query>();
const LEAST_RESULT: usize = offset_of!(lw_circuit_result, fuse_family) + 40;

/// Reads a query of the size that it says.
///
/// # Safety
/// `query` is null or points to a struct whose first field says how many bytes may be read.
unsafe fn read_query(query: *const lw_circuit_query) -> Result<lw_circuit_query, Failure> {
    let query = usable(query, "query")?;
    // SAFETY: not null and aligned, and the caller promises its first field.
    let stated = unsafe { (&raw const (*query).struct_size).read() };
    // A larger one comes from a newer header: what this library does not know cannot be left out in silence.
    if usize::try_from(stated) != Ok(LEAST_QUERY) {
        let message = format!("query.struct_size {stated} is not {LEAST_QUERY}");
        return Err(Failure::new(lw_status::LW_BAD_SIZE, message));
    }
    // SAFETY: the caller promises as many bytes as it says, which are those of the struct.
    Ok(unsafe { query.read() })
}

/// The stated size of a result, which must be all of the first release or more.
///
/// # Safety
/// `result` is null or points to a struct whose first field can be read.
unsafe fn result_size(result: *mut lw_circuit_result) -> Result<u32, Failure> {
    let result = writable(result, "result")?;
    // SAFETY: not null and aligned, and the caller promises its first field.
    let stated = unsafe { (&raw const (*result).struct_size).read() };
    if usize::try_from(stated).is_ok_and(|stated| stated >= LEAST_RESULT) {
        return Ok(stated);
    }
    let message = format!("result.struct_size {stated} is less than {LEAST_RESULT}");
    Err(Failure::new(lw_status::LW_BAD_SIZE, message))
}

/// Writes a result, keeping the size that the caller has stated.
///
/// # Safety
/// `result` is not null, aligned, and valid for writing this library's struct.
unsafe fn write_result(result: *mut lw_circuit_result, stated: u32, found: lw_circuit_result) {
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe { result.write(lw_circuit_result { struct_size: stated, ..found }) };
}

/// Sizes one circuit: the smallest standard conductor, with its fuse, that satisfies every check at once.
///
/// Returns `LW_OK` also where no size passes: `result.status` is then `LW_NO_VALUE`. A query of another size than this
/// library's is refused with `LW_BAD_SIZE`; of a larger result only the known fields are written.
///
/// # Safety
/// `query` is null or points to a struct of the size that it says; so does `result`, which may be written.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_size_circuit(query: *const lw_circuit_query, result: *mut lw_circuit_result) -> i32 {
    run(|| {
        // SAFETY: the caller's promises are passed on unchanged.
        let (query, stated) = unsafe { (read_query(query)?, result_size(result)?) };
        let sized = size(&query.read()?).map_err(|error| refused(&error))?;
        // SAFETY: checked above, and as large as it says.
        unsafe { write_result(result, stated, lw_circuit_result::of(&sized)) };
        Ok(())
    })
}

/// Rows that a thread takes at a time.
const ROWS_AT_A_TIME: usize = 64;
/// Most threads that are started.
const MOST_THREADS: i32 = 256;

/// Pointers that threads share: each row is read and written by one thread only.
#[derive(Clone, Copy)]
struct Rows {
    queries: *const u8,
    query_stride: usize,
    results: *mut u8,
    result_stride: usize,
}

// SAFETY: the caller promises that all rows may be read and written from any thread until the call returns, and each row is
// taken by one thread.
unsafe impl Send for Rows {}
// SAFETY: as above.
unsafe impl Sync for Rows {}

impl Rows {
    /// Sizes one row; its status says what went wrong there.
    ///
    /// # Safety
    /// `row` is below the count for which the caller promised rows of both strides.
    unsafe fn size(&self, row: usize) {
        // SAFETY: the caller promises that many rows of these strides, so both stay within their arrays.
        let (query, result) = unsafe {
            let query = self.queries.add(row * self.query_stride).cast::<lw_circuit_query>();
            (query, self.results.add(row * self.result_stride).cast::<lw_circuit_result>())
        };
        // SAFETY: both stay within their arrays, and strides keep them aligned.
        let Ok(stated) = (unsafe { result_size(result) }) else { return };
        let work = || {
            // SAFETY: as above.
            let query = unsafe { read_query(query) }?;
            #[cfg(feature = "panic-on-purpose")]
            assert!((query.current_a - 12345.0).abs() > 0.5, "on purpose");
            size(&query.read()?).map(|sized| lw_circuit_result::of(&sized)).map_err(|error| refused(&error))
        };
        let outcome = std::panic::catch_unwind(std::panic::AssertUnwindSafe(work));
        let found = match outcome {
            Ok(Ok(found)) => found,
            Ok(Err(failure)) => lw_circuit_result::blank(failure.status),
            Err(_) => lw_circuit_result::blank(lw_status::LW_INTERNAL),
        };
        // SAFETY: as above.
        unsafe { write_result(result, stated, found) };
    }
}

fn stride(what: &str, given: usize, least: usize, align: usize) -> Result<usize, Failure> {
    if given >= least && given.is_multiple_of(align) {
        return Ok(given);
    }
    let message = format!("{what} {given} is below {least} or no multiple of {align}");
    Err(Failure::new(lw_status::LW_BAD_SIZE, message))
}

/// Sizes an array of circuits on so many threads; the results are the same on any number of them.
///
/// Query `i` stands `i * query_stride` bytes after `queries`, result `i` `i * result_stride` bytes after `results`. Every
/// row has its own status and, before the call, the `struct_size` of its result set; a row whose result has none is left as
/// it is. `threads`: 1 to 256. Returns `LW_OK` when all rows were gone through.
///
/// # Safety
/// `queries` and `results` are null or hold `count` rows of those strides, which no other thread touches until the call
/// returns.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_size_circuits(
    queries: *const lw_circuit_query,
    query_stride: usize,
    results: *mut lw_circuit_result,
    result_stride: usize,
    count: usize,
    threads: i32,
) -> i32 {
    run(|| {
        if count == 0 {
            return Ok(());
        }
        let rows = Rows {
            queries: usable(queries, "queries")?.cast(),
            query_stride: stride("query_stride", query_stride, LEAST_QUERY, align_of::<lw_circuit_query>())?,
            results: writable(results, "results")?.cast(),
            result_stride: stride("result_stride", result_stride, LEAST_RESULT, align_of::<lw_circuit_result>())?,
        };
        let fits = |stride: usize| count.checked_mul(stride).is_some_and(|bytes| isize::try_from(bytes).is_ok());
        if !fits(rows.query_stride) || !fits(rows.result_stride) {
            return Err(Failure::new(lw_status::LW_OUT_OF_RANGE, format!("{count} rows are more than there can be")));
        }
        if !(1..=MOST_THREADS).contains(&threads) {
            return Err(Failure::new(
                lw_status::LW_OUT_OF_RANGE,
                format!("threads {threads} is outside 1 to {MOST_THREADS}"),
            ));
        }
        let next = AtomicUsize::new(0);
        let work = || {
            let rows = &rows;
            loop {
                let first = next.fetch_add(ROWS_AT_A_TIME, Ordering::Relaxed);
                if first >= count {
                    return;
                }
                for row in first..count.min(first + ROWS_AT_A_TIME) {
                    // SAFETY: below the count, and taken by this thread alone.
                    unsafe { rows.size(row) };
                }
            }
        };
        std::thread::scope(|scope| {
            for _ in 1..threads {
                // Where no more threads can be had, those there are do it all.
                let _ = std::thread::Builder::new().spawn_scoped(scope, work);
            }
            work();
        });
        Ok(())
    })
}

/// A circuit with the usual defaults, in the terms of a spreadsheet cell.
fn cell(
    (kind_number, material_number): (i32, i32),
    (current_a, length_m, voltage_v): (f64, f64, f64),
    (drop_percent, ambient_c, insulation_c): (f64, f64, f64),
) -> Result<Sizing, Failure> {
    let query = CableQuery {
        kind: Some(kind(kind_number)?),
        material: Some(material(material_number)?),
        drop: Some(DropLimit::Share(Ratio::new::<percent>(finite("drop_percent", drop_percent)?))),
        ambient: Some(celsius(finite("ambient_c", ambient_c)?)),
        insulation: Some(celsius(finite("insulation_c", insulation_c)?)),
        ..CableQuery::new(
            Load::Current(ElectricCurrent::new::<ampere>(finite("current_a", current_a)?)),
            Length::new::<meter>(finite("length_m", length_m)?),
            ElectricPotential::new::<volt>(finite("voltage_v", voltage_v)?),
        )
    };
    size(&query).map_err(|error| refused(&error))
}

fn nothing_passes() -> Failure {
    Failure::new(lw_status::LW_NO_VALUE, "no size passes")
}

/// The smallest conductor of a two-wire circuit, enclosed, with its fuse. Result in mm² of all conductors of a leg together.
///
/// `kind`: an `lw_kind`. `material`: an `lw_material`. `current_a`: above 0 to 5000 A. `length_m`: one way, 0.001 to 1000 m.
/// `voltage_v`: 5 to 60 V. `drop_percent`: above 0, below 50 %. `ambient_c`: −40 to 200 °C. `insulation_c`: 40 to 250 °C.
/// `LW_NO_VALUE` where no size passes.
///
/// # Safety
/// `csa_mm2` is null or valid for writing one `double`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_smallest_size(
    kind: i32,
    material: i32,
    current_a: f64,
    length_m: f64,
    voltage_v: f64,
    drop_percent: f64,
    ambient_c: f64,
    insulation_c: f64,
    csa_mm2: *mut f64,
) -> i32 {
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe {
        write_number(csa_mm2, || {
            let asked = (current_a, length_m, voltage_v);
            let sized = cell((kind, material), asked, (drop_percent, ambient_c, insulation_c))?;
            let chosen = sized.chosen.ok_or_else(nothing_passes)?;
            Ok(in_mm2(chosen.conductor.area) * f64::from(chosen.parallel))
        })
    }
}

/// The longest one-way run at which the smallest conductor that passes is no larger than this one, within all limits: drop,
/// ampacity and fuse. Result in metres, up to 1000 m; `LW_NO_VALUE` where it is too small for any length.
///
/// The others as in `lw_smallest_size`.
///
/// # Safety
/// `length_m` is null or valid for writing one `double`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_longest_run(
    kind: i32,
    material: i32,
    csa_mm2: f64,
    current_a: f64,
    voltage_v: f64,
    drop_percent: f64,
    ambient_c: f64,
    insulation_c: f64,
    length_m: *mut f64,
) -> i32 {
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe {
        write_number(length_m, || {
            let conductor = crate::codes::conductor(kind, material, csa_mm2)?;
            let most = in_mm2(conductor.area) * (1.0 + 1e-9);
            // The size that passes only ever grows with length.
            let passes = |length_m: f64| {
                let asked = (current_a, length_m, voltage_v);
                let sized = cell((kind, material), asked, (drop_percent, ambient_c, insulation_c))?;
                Ok(sized.chosen.is_some_and(|chosen| chosen.parallel == 1 && in_mm2(chosen.conductor.area) <= most))
            };
            let (mut low, mut high) = (1e-3, 1e3);
            if passes(high)? {
                return Ok(high);
            }
            if !passes(low)? {
                return Err(nothing_passes());
            }
            // To a millionth: far below what anybody measures.
            while high > low * (1.0 + 1e-6) {
                let middle = (low * high).sqrt();
                if passes(middle)? { low = middle } else { high = middle }
            }
            Ok(low)
        })
    }
}
