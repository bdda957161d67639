//! `Declare` lines for spreadsheets that call a Windows library, from the C header: scalar functions only.

/// The VBA module for the scalar functions of a header.
pub(crate) fn module(header: &str) -> String {
    let mut out = String::from(HEAD);
    for (name, parameters) in functions(header) {
        let declared: Option<Vec<String>> = parameters.iter().map(|parameter| declared(parameter)).collect();
        // Structs, buffers and handles are not for cells.
        let Some(declared) = declared.filter(|_| parameters.last().is_some_and(|last| last.starts_with("double *")))
        else {
            continue;
        };
        out.push_str(&format!("Private Declare PtrSafe Function {name} Lib \"loomwright.dll\" ( _\n"));
        out.push_str(&declared.iter().map(|one| format!("    {one}")).collect::<Vec<_>>().join(", _\n"));
        out.push_str(") As Long\n");
    }
    out.push_str(TAIL);
    out
}

/// Name and parameters of every function.
fn functions(header: &str) -> Vec<(String, Vec<String>)> {
    let code: String = header.lines().filter(|line| !line.trim_start().starts_with("//")).collect::<Vec<_>>().join(" ");
    let found = code.split(';').filter_map(|statement| {
        let (before, parameters) = statement.split_once('(')?;
        let name = before.rsplit([' ', '*']).next().filter(|name| name.starts_with("lw_"))?;
        before.contains("int32_t ").then_some(())?;
        let parameters = parameters.trim_end().strip_suffix(')')?;
        Some((
            name.to_owned(),
            parameters.split(',').map(|one| one.split_whitespace().collect::<Vec<_>>().join(" ")).collect(),
        ))
    });
    found.collect()
}

fn declared(parameter: &str) -> Option<String> {
    let (kind, name) = parameter.rsplit_once(' ')?;
    match (kind, name.strip_prefix('*')) {
        ("double", Some(name)) => Some(format!("ByRef {name} As Double")),
        ("double", None) => Some(format!("ByVal {name} As Double")),
        ("int32_t", None) => Some(format!("ByVal {name} As Long")),
        ("const char", Some(name)) => Some(format!("ByVal {name} As String")),
        _ => None,
    }
}

const HEAD: &str = "\
Attribute VB_Name = \"Loomwright\"
' Loomwright from Excel, 64 bits: scalar functions of loomwright.dll, generated from the C header; do not edit.
' A cell says =WireDrop(5, 0, 10, 18, 7.5, 45). A failure gives #VALUE!, and WireMessage() tells why.
' It has not been run where it was made: there is no Excel there.
'
' A computation is not an approval: local codes and licensed practice come first.
Option Explicit

Private Declare PtrSafe Function lw_last_message Lib \"loomwright.dll\" ( _
    ByVal buffer As String, _
    ByVal capacity As LongPtr) As LongPtr
";

const TAIL: &str = "
Public Function WireDrop(ByVal kind As Long, ByVal material As Long, ByVal csa_mm2 As Double, ByVal current_a As Double, _
    ByVal length_m As Double, ByVal temperature_c As Double) As Variant
    Dim found As Double
    WireDrop = Cell(lw_drop(kind, material, csa_mm2, current_a, length_m, temperature_c, found), found)
End Function

Public Function WireSize(ByVal kind As Long, ByVal material As Long, ByVal current_a As Double, ByVal length_m As Double, _
    ByVal voltage_v As Double, ByVal drop_percent As Double, ByVal ambient_c As Double, ByVal insulation_c As Double) As Variant
    Dim found As Double
    WireSize = Cell(lw_smallest_size(kind, material, current_a, length_m, voltage_v, drop_percent, ambient_c, insulation_c, _
        found), found)
End Function

Public Function WireFuse(ByVal current_a As Double, ByVal highest_v As Double, ByVal ambient_c As Double) As Variant
    Dim found As Double
    WireFuse = Cell(lw_fuse_rating(current_a, highest_v, ambient_c, found), found)
End Function

' What a rating within so many hours gives at another current, in hours.
Public Function WireBatteryHours(ByVal capacity_ah As Double, ByVal hour_rate_h As Double, ByVal peukert As Double, _
    ByVal current_a As Double) As Variant
    Dim found As Double
    WireBatteryHours = Cell(lw_peukert_time(capacity_ah, hour_rate_h, peukert, current_a, found), found)
End Function

Public Function WireBatteryUsable(ByVal chemistry As Long, ByVal capacity_ah As Double, ByVal floor_percent As Double, _
    ByVal ceiling_percent As Double, ByVal temperature_c As Double) As Variant
    Dim found As Double
    WireBatteryUsable = Cell(lw_battery_usable(chemistry, capacity_ah, floor_percent, ceiling_percent, temperature_c, _
        found), found)
End Function

' At a date and time of day in UTC, as a cell holds them.
Public Function WireSunElevation(ByVal latitude_deg As Double, ByVal longitude_deg As Double, ByVal altitude_m As Double, _
    ByVal utc As Date) As Variant
    Dim found As Double
    WireSunElevation = Cell(lw_sun_elevation(latitude_deg, longitude_deg, altitude_m, (CDbl(utc) - 25569#) * 86400#, _
        found), found)
End Function

' What a joint of such a resistance adds to its cable's temperature, in kelvins.
Public Function WireJointRise(ByVal kind As Long, ByVal material As Long, ByVal csa_mm2 As Double, ByVal installation As Long, _
    ByVal conductors_together As Long, ByVal ambient_c As Double, ByVal current_a As Double, _
    ByVal resistance_mohm As Double) As Variant
    Dim found As Double
    WireJointRise = Cell(lw_joint_rise(kind, material, csa_mm2, installation, conductors_together, ambient_c, current_a, _
        resistance_mohm, found), found)
End Function

Public Function WireMessage() As String
    Dim buffer As String
    buffer = String$(600, vbNullChar)
    lw_last_message buffer, 600
    WireMessage = Left$(buffer, InStr(buffer, vbNullChar) - 1)
End Function

Private Function Cell(ByVal status As Long, ByVal found As Double) As Variant
    If status = 0 Then Cell = found Else Cell = CVErr(2015)
End Function
";
