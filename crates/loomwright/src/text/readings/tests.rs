use uom::si::electric_potential::millivolt;

use super::*;
use crate::quantity::in_celsius;
use crate::study::reconcile::{Inside, Measured, Point, Surface};
use crate::text::read_plan;

fn van() -> Installation {
    read_plan(include_str!("../../../../../examples/plans/veterinary-van.toml")).unwrap()
}

const START: &str = "case,quantity,at,against,value,accuracy,ambient,date,surface,note\n";

fn read(lines: &str) -> ReadReadings {
    read_readings(&format!("{START}{lines}"), &van())
}

/// The one reading of one good line.
fn one(line: &str) -> Reading {
    let mut read = read(line);
    assert!(read.refused.is_empty(), "{line}: {:?}", read.refused);
    assert_eq!(read.readings.len(), 1, "{line}");
    read.readings.remove(0)
}

/// The one mistake of one bad line beside a good one, which is used all the same.
fn told(line: &str) -> String {
    let read = read(&format!("surgery,voltage,service,,13.2 V\n{line}\n"));
    assert_eq!(read.readings.len(), 1, "{line}");
    assert_eq!(read.refused.len(), 1, "{line}: {:?}", read.refused);
    assert_eq!(read.refused[0].line, 3, "{line}");
    assert!(read.refused[0].column >= 1);
    read.refused[0].message.clone()
}

fn within(line: &str) -> f64 {
    match one(line).measured {
        Measured::Voltage { within, .. } => within.value,
        Measured::Current { within, .. } => within.value,
        Measured::Temperature { within, .. } => within.value,
        Measured::Power { within, .. } => within.value,
    }
}

#[test]
fn every_quantity_is_read() {
    let plan = van();
    let reading = one("surgery,voltage,service.+,service.-,13.21 V,±2 mV,21 °C,2026-11-27,,by hand");
    assert_eq!(plan.cases[reading.case].name, "surgery");
    let Measured::Voltage { between, value, within } = reading.measured else { panic!() };
    assert_eq!(between, plan.batteries[1].nodes.map(Point::Node));
    assert!((value.value - 13.21).abs() < 1e-12 && (within.get::<millivolt>() - 5.0).abs() < 1e-9);
    assert!((in_celsius(reading.ambient.unwrap()) - 21.0).abs() < 1e-9);
    assert_eq!((reading.line, reading.assumed, reading.note.as_str()), (2, false, "by hand"));
    assert_eq!(reading.date.unwrap().to_string(), "2026-11-27");
    let run = plan.runs.iter().position(|run| run.name == "service-lead").unwrap();
    let Measured::Current { run: read, value, .. } = one("surgery,current,service-lead,,-41.5 A").measured else {
        panic!()
    };
    assert!(read == run && value.value == -41.5);
    let Measured::Temperature { at, surface, .. } =
        one("surgery,temperature,service-lead@fuse,,38 °C,infrared,,,emissivity 0.9").measured
    else {
        panic!()
    };
    assert_eq!(at, Point::Run(run, Inside::Fuse));
    assert!(matches!(surface, Surface::Emissivity(value) if value.value == 0.9));
    let Measured::Power { converter, value, .. } = one("surgery,power,inverter,,0.65 kW").measured else { panic!() };
    assert!(plan.converters[converter].name == "inverter" && value.value == 650.0);
}

#[test]
fn points_have_short_names() {
    let plan = van();
    let between = |line: &str| match one(line).measured {
        Measured::Voltage { between, .. } => between,
        other => panic!("{other:?}"),
    };
    let charger = plan.converters.iter().find(|one| one.name == "charger").unwrap();
    assert_eq!(between("surgery,voltage,service,,13.2 V"), plan.batteries[1].nodes.map(Point::Node));
    assert_eq!(between("surgery,voltage,charger.in,,13.2 V"), charger.input.unwrap().map(Point::Node));
    assert_eq!(between("surgery,voltage,charger.out,,13.2 V"), charger.output.unwrap().map(Point::Node));
    // The negatives of both its sides are one terminal with three names.
    assert_eq!(between("surgery,voltage,charger.out+,charger.in-,13.2 V"), charger.output.unwrap().map(Point::Node));
    // A grounded negative is the chassis.
    assert_eq!(between("surgery,voltage,starter.+,chassis,12.8 V"), between("surgery,voltage,starter,,12.8 V"));
    let isolator = plan.links.iter().find(|link| link.name == "isolator").unwrap();
    assert_eq!(between("surgery,voltage,isolator,,12 mV"), isolator.nodes.map(Point::Node));
    let fuse = between("surgery,voltage,board,sockets@fuse,20 mV");
    let leg = plan.runs.iter().position(|run| run.name == "sockets +").unwrap();
    assert_eq!(fuse[1], Point::Run(leg, Inside::Fuse));
    assert!(matches!(one("surgery,current,sockets,,9.8 A").measured, Measured::Current { run, .. } if run == leg));
    assert!(
        matches!(one("surgery,current,sockets -,,-9.8 A").measured, Measured::Current { run, .. } if run == leg + 1)
    );
}

/// Hand calculations: share of the value, digits of the last place as written, amounts.
#[test]
fn accuracy_is_computed_as_stated() {
    for (line, expected) in [
        ("surgery,voltage,service,,12.60 V,0.5 % + 2 digits", 0.063 + 0.02),
        ("surgery,voltage,service,,12.6 V,0.5 % + 2 digits", 0.063 + 0.2),
        ("surgery,voltage,service,,12600 mV,0.5 % + 2 digits", 0.063 + 0.002),
        ("surgery,voltage,service,,1.260e1 V,0.5 % + 2 digits", 0.063 + 0.02),
        ("surgery,voltage,service,,12.60 V,0.5 % + 30 mV", 0.093),
        ("surgery,voltage,service,,12.600 V,±2 mV", 0.002),
        ("surgery,voltage,service,,12.600 V,1.5 %", 0.189),
        // Never less than half of the last digit.
        ("surgery,voltage,service,,12.6 V,±2 mV", 0.05),
        ("surgery,voltage,service,,12.60 V,multimeter", 0.083),
        ("surgery,voltage,service,,12.60 V,precise-meter", 0.0126 + 0.02),
        ("surgery,current,service-lead,,40.0 A,class 1.5 of 100 A", 1.5),
        ("surgery,current,service-lead,,-40.0 A,clamp-meter", 1.1),
        ("surgery,current,service-lead,,40.0 A,shunt-monitor", 0.5),
        ("surgery,temperature,service.+,,150 °C,infrared", 3.0),
        ("surgery,temperature,service.+,,50 °C,infrared", 2.0),
        ("surgery,temperature,service.+,,122 °F,±1.8 °F", 1.0),
        ("surgery,temperature,service.+,,50.0 °C,contact-probe", 1.75),
        ("surgery,temperature,service.+,,500 °C,thermocouple-k-1", 2.0),
        ("surgery,power,inverter,,650 W,plug-meter", 15.0),
    ] {
        let got = within(line);
        assert!((got - expected).abs() < 1e-9, "{line}: {got} instead of {expected}");
    }
}

#[test]
fn what_is_not_said_is_the_usual() {
    let reading = one("surgery,voltage,service,,12.60 V");
    assert!(reading.assumed && (within("surgery,voltage,service,,12.60 V") - 0.083).abs() < 1e-9);
    let surface = |line: &str| match one(line).measured {
        Measured::Temperature { surface, .. } => surface,
        other => panic!("{other:?}"),
    };
    assert_eq!(surface("surgery,temperature,service.+,,40 °C"), Surface::Bare);
    assert_eq!(surface("surgery,temperature,service.+,,40 °C,infrared"), Surface::Bare);
    assert_eq!(surface("surgery,temperature,service.+,,40 °C,contact-probe"), Surface::Probe);
    assert_eq!(surface("surgery,temperature,service.+,,40 °C,contact-probe,,,bare"), Surface::Bare);
    assert!(matches!(surface("surgery,temperature,service.+,,40 °C,,,,tape"), Surface::Emissivity(_)));
}

#[test]
fn case_and_date_are_those_above() {
    let read = read(
        "surgery,voltage,service,,13.2 V,,,2026-11-27\n,current,sockets,,9.8 A\n\
         parked-night,voltage,starter,,\n,voltage,service,,13.3 V,,,2026-12-01\n",
    );
    assert!(read.refused.is_empty(), "{:?}", read.refused);
    let plan = van();
    let seen: Vec<_> = read
        .readings
        .iter()
        .map(|one| (plan.cases[one.case].name.as_str(), one.date.unwrap().to_string(), one.line))
        .collect();
    // The case of a line that was not measured counts for the next one.
    let expected = [("surgery", "2026-11-27", 2), ("surgery", "2026-11-27", 3), ("parked-night", "2026-12-01", 5)];
    assert_eq!(seen, expected.map(|(case, date, line)| (case, date.to_owned(), line)));
    assert!(told_first("voltage,service,13.2 V").contains("in which case was this measured? one of: parked-night"));
}

fn told_first(line: &str) -> String {
    let read = read_readings(&format!("quantity,at,value\n{line}\n"), &van());
    assert!(read.readings.is_empty());
    read.refused[0].message.clone()
}

#[test]
fn every_kind_of_bad_line_is_told_with_what_would_be_accepted() {
    for (line, says) in [
        ("surgery,voltage,servce.+,service.-,13.2 V", &["\"servce.+\"", "did you mean \"service.+\"?"][..]),
        ("surgery,voltage,service.+,nowhere,13.2 V", &["\"nowhere\"", "known:", "RUN@start"]),
        ("surgery,voltage,charger,,13.2 V", &["\"charger\" is a device; its terminals are", "charger.in+"]),
        ("surgery,voltage,main-bar,,13.2 V", &["`at` over `against`", "\"charger.out\""]),
        ("surgery,voltage,service.+,service.+,13.2 V", &["are one place"]),
        ("surgery,voltage,service-lead@middle,service.-,13.2 V", &["\"service-lead@middle\" is no place", "RUN@fuse"]),
        ("surgery,voltage,service.-,isolator-lead@fuse,13.2 V", &["\"isolator-lead\" has no fuse", "RUN@end"]),
        ("surgery,temperature,servis-lead@end,,38 °C", &["\"servis-lead\"", "did you mean \"service-lead\"?"]),
        ("surgery,current,sockts,,9.8 A", &["\"sockts\" is no run of this plan", "known: alternator-lead"]),
        ("surgery,power,charger,,650 W", &["\"charger\" is no inverter of this plan", "known: inverter"]),
        ("surgry,voltage,service,,13.2 V", &["\"surgry\" is no case", "did you mean \"surgery\"?"]),
        ("surgery,voltge,service,,13.2 V", &["\"voltge\"", "did you mean \"voltage\"?", "power"]),
        ("surgery,,service,,13.2 V", &["what was measured? one of: voltage, current"]),
        ("surgery,voltage,service,,13.2", &["\"13.2\" has no unit", "\"13.2 V\""]),
        ("surgery,voltage,service,,13.2 A", &["\"13.2 A\" is a current", "\"12.63 V\""]),
        ("surgery,current,service-lead,,13.2 mV", &["\"13.2 mV\" is a voltage", "\"41.5 A\""]),
        ("surgery,voltage,service,,\"12,63 V\"", &["\"12,63 V\" has a comma", "write \"12.63 V\""]),
        ("surgery,voltage,service,,12,63 V,multimeter", &["\"12,63 V\" has a decimal comma", "write \"12.63 V\""]),
        ("surgery,voltage,service,,13.2 V,,,,,,,too many", &["12 cells", "the head 10"]),
        ("surgery,voltage,service,,nan V", &["not a finite number", "\"12.63 V\""]),
        ("surgery,voltage,service,,1e999 V", &["not a finite number"]),
        ("surgery,voltage,service,,much", &["does not start with a number"]),
        ("surgery,voltage,service,,1400 V", &["\"1400 V\" cannot be", "-1000 V to 1000 V"]),
        ("surgery,current,service-lead,,12 kA", &["\"12 kA\" cannot be", "10000 A"]),
        ("surgery,temperature,service.+,,-80 °C", &["cannot be", "-60 °C to 1200 °C"]),
        ("surgery,temperature,service.+,,1300 °C", &["cannot be", "-60 °C to 1200 °C"]),
        ("surgery,power,inverter,,-5 W", &["cannot be", "0 W to 100000 W"]),
        ("surgery,voltage,service,,13.2 V,clampmeter", &["\"clampmeter\" is no accuracy", "multimeter"]),
        ("surgery,voltage,service,,13.2 V,multimetr", &["did you mean \"multimeter\"?"]),
        ("surgery,voltage,service,,13.2 V,clamp-meter", &["measures a current, not a voltage", "precise-meter"]),
        ("surgery,voltage,service,,13.2 V,2 apples", &["\"2 apples\"", "0.5 % + 2 digits"]),
        ("surgery,voltage,service,,13.2 V,2 A", &["\"2 A\"", "±2 mV"]),
        ("surgery,voltage,service,,13.2 V,-1 %", &["\"-1 %\"", "0.5 % + 2 digits"]),
        ("surgery,voltage,service,,13.2 V,80 %", &["\"80 %\"", "0.5 % + 2 digits"]),
        ("surgery,voltage,service,,13.2 V,\"0,5 %\"", &["\"0,5 %\" has a comma", "0.5 % + 2 digits"]),
        ("surgery,current,service-lead,,13.2 A,class 9 of 100 A", &["class index", "class 1.5 of 100 A"]),
        ("surgery,voltage,service,,13.2 V,,21", &["\"21\" has no unit", "\"21 °C\""]),
        ("surgery,voltage,service,,13.2 V,,200 °C", &["\"200 °C\" is no air", "-60 °C to 120 °C"]),
        ("surgery,voltage,service,,13.2 V,,,27.11.2026", &["\"27.11.2026\" is no date", "2026-11-02"]),
        ("surgery,voltage,service,,13.2 V,,,,tape", &["surface goes with temperatures"]),
        ("surgery,current,service-lead,chassis,13.2 A", &["against goes with voltages"]),
        ("surgery,temperature,service.+,,40 °C,,,,rust", &["\"rust\" is no surface", "probe, tape, paint, bare"]),
        ("surgery,temperature,service.+,,40 °C,,,,emissivity 3", &["no surface", "0.05 to 1"]),
        ("surgery,voltage,\"service,,13.2 V", &["a quote is opened and not closed"]),
    ] {
        let message = told(line);
        for part in says {
            assert!(message.contains(part), "{line}: {part:?} is not in {message:?}");
        }
    }
}

#[test]
fn every_mistake_of_a_line_is_told_at_its_cell() {
    let read = read("surgry,voltage,servce,,12.6,quickly\n");
    let places: Vec<_> = read.refused.iter().map(|error| (error.line, error.column, error.key.as_str())).collect();
    assert_eq!(places, [(2, 1, "case"), (2, 16, "at"), (2, 24, "value")], "{:?}", read.refused);
}

#[test]
fn readings_that_exclude_each_other_are_both_told() {
    let lines = "surgery,voltage,service.+,service.-,12.60 V,±10 mV\nsurgery,voltage,service,,12.61 V,±10 mV\n\
                 surgery,voltage,service.-,service.+,-11.90 V,±10 mV\nsurgery,current,sockets,,9.8 A\n\
                 surgery,current,sockets,,9.8 A\nparked-night,voltage,service,,11.90 V,±10 mV\n";
    let read = read(lines);
    let lines: Vec<_> = read.refused.iter().map(|error| error.line).collect();
    assert_eq!(lines, [2, 3, 4]);
    assert!(
        read.refused[0].message.contains("12.60 V ± 0.01 V here and -11.90 V ± 0.01 V in line 4"),
        "{:?}",
        read.refused
    );
    assert!(read.refused[2].message.contains("neither is used"));
    // Equal ones, and those of another case, are no contradiction.
    assert_eq!(read.readings.iter().map(|one| one.line).collect::<Vec<_>>(), [5, 6, 7]);
}

#[test]
fn a_head_may_be_in_any_order_and_parted_otherwise() {
    for (file, line) in [
        ("# of the van\n\nvalue;at;quantity;case\n13.2 V;service;voltage;surgery\n", 4),
        ("VALUE\tat\tquantity\tcase\n13.2 V\tservice\tvoltage\tsurgery\r\n", 2),
        (
            "\u{feff}\"# a comment, quoted\",,,\nvalue,at,quantity,case,expected,step\r\n13.2 V,service,voltage,surgery,13 V,1\r\n",
            3,
        ),
    ] {
        let read = read_readings(file, &van());
        assert!(read.refused.is_empty() && read.readings.len() == 1, "{file:?}: {:?}", read.refused);
        assert_eq!(read.readings[0].line, line);
    }
    let semicolon = read_readings("value;at;quantity;case\n13,2 V;service;voltage;surgery\n", &van());
    assert!(semicolon.refused[0].message.contains("write \"13.2 V\""));
}

#[test]
fn a_bad_head_is_told() {
    let first = |file: &str| read_readings(file, &van()).refused[0].clone();
    assert!(first("").message.contains("begins with a head such as case,quantity,at"));
    assert!(first("# nothing\n").message.contains("begins with a head"));
    let error = first("\nsurgery,service,13.2 V\n");
    assert!(error.line == 2 && error.message.contains("has none of them"), "{error}");
    assert!(first("case,quantity,at\nsurgery,voltage,service\n").message.contains("the head lacks value"));
    let unknown = read_readings("case,quantity,at,vallue,value\nsurgery,voltage,service,,13.2 V\n", &van());
    assert!(unknown.refused[0].message.contains("did you mean \"value\"?") && unknown.refused[0].column == 18);
    assert_eq!(unknown.readings.len(), 1);
    let twice = read_readings("case,quantity,at,value,value\nsurgery,voltage,service,13.2 V,1 V\n", &van());
    assert!(twice.refused[0].message.contains("stands twice") && twice.readings.len() == 1);
    let large = "#".repeat(LARGEST_READINGS + 1);
    assert!(first(&large).message.contains("at most 1048576 are read"));
}

#[test]
fn toml_says_the_same() {
    let file = "# of the van\nformat = 1\ncase = \"surgery\"\ndate = 2026-11-27\nambient = \"21 °C\"\n\n[[readings]]\nquantity = \
                \"voltage\"\nat = \"service\"\nvalue = \"13.2 V\"\n\n[[readings]]\ncase = \"parked-night\"\nquantity = \"current\"\nat = \
                \"sockets\"\nvalue = \"9,8 A\"\n[[readings]]\nquantity = \"current\"\nat = \"sockets\"\nvalue = 9.8\n\
                [[readings]]\nquantity = \"current\"\nat = \"sockets\"\nvalue = \"9.8 A\"\ncolour = \"red\"\n\
                [[readings]]\nquantity = \"voltage\"\nat = \"starter\"\nvalue = \"\"\n";
    let read = read_readings(file, &van());
    let told: Vec<_> = read.refused.iter().map(|error| (error.line, error.key.as_str())).collect();
    assert_eq!(told, [(16, "value"), (20, "value"), (25, "")], "{:?}", read.refused);
    assert!(read.refused[0].message.contains("write \"9.8 A\""));
    assert!(read.refused[1].message.contains("written as text with its unit"));
    assert!(read.refused[2].message.contains("\"colour\" is no key of a reading"));
    let plan = van();
    let seen: Vec<_> = read.readings.iter().map(|one| (plan.cases[one.case].name.as_str(), one.line)).collect();
    assert_eq!(seen, [("surgery", 7), ("surgery", 21)]);
    assert!(read.readings.iter().all(|one| one.date.is_some() && one.ambient.is_some()));
    let without = read_readings("[[readings]]\nquantity = \"voltage\"\n", &plan);
    assert!(without.refused[0].message.contains("starts with format = 1"));
}

#[test]
fn very_many_mistakes_are_counted_and_good_lines_still_used() {
    let mut lines = "surgery,voltage,service,,13\n".repeat(150);
    lines.push_str("surgery,voltage,service,,13.2 V\n");
    let read = read(&lines);
    assert_eq!((read.refused.len(), read.readings.len()), (101, 1));
    assert!(read.refused[100].message.contains("50 more mistakes"));
    let many = super::tests::read(&"surgery,voltage,service,,13.2 V\n".repeat(5001));
    assert_eq!(many.readings.len(), 5000);
    assert!(many.refused[0].message.contains("at most 5000 lines") && many.refused[0].line == 5002);
}
