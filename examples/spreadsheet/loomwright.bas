Attribute VB_Name = "Loomwright"
' Loomwright from Excel, 64 bits: scalar functions of loomwright.dll, generated from the C header; do not edit.
' A cell says =WireDrop(5, 0, 10, 18, 7.5, 45). A failure gives #VALUE!, and WireMessage() tells why.
' It has not been run where it was made: there is no Excel there.
'
' A computation is not an approval: local codes and licensed practice come first.
Option Explicit

Private Declare PtrSafe Function lw_last_message Lib "loomwright.dll" ( _
    ByVal buffer As String, _
    ByVal capacity As LongPtr) As LongPtr
Private Declare PtrSafe Function lw_peukert_time Lib "loomwright.dll" ( _
    ByVal capacity_ah As Double, _
    ByVal hour_rate_h As Double, _
    ByVal peukert As Double, _
    ByVal current_a As Double, _
    ByRef time_h As Double) As Long
Private Declare PtrSafe Function lw_battery_usable Lib "loomwright.dll" ( _
    ByVal chemistry As Long, _
    ByVal capacity_ah As Double, _
    ByVal floor_percent As Double, _
    ByVal ceiling_percent As Double, _
    ByVal temperature_c As Double, _
    ByRef usable_ah As Double) As Long
Private Declare PtrSafe Function lw_battery_needed Lib "loomwright.dll" ( _
    ByVal chemistry As Long, _
    ByVal charge_ah As Double, _
    ByVal floor_percent As Double, _
    ByVal ceiling_percent As Double, _
    ByVal temperature_c As Double, _
    ByRef capacity_ah As Double) As Long
Private Declare PtrSafe Function lw_sun_elevation Lib "loomwright.dll" ( _
    ByVal latitude_deg As Double, _
    ByVal longitude_deg As Double, _
    ByVal altitude_m As Double, _
    ByVal unix_s As Double, _
    ByRef elevation_deg As Double) As Long
Private Declare PtrSafe Function lw_sun_azimuth Lib "loomwright.dll" ( _
    ByVal latitude_deg As Double, _
    ByVal longitude_deg As Double, _
    ByVal altitude_m As Double, _
    ByVal unix_s As Double, _
    ByRef azimuth_deg As Double) As Long
Private Declare PtrSafe Function lw_clear_sky_global Lib "loomwright.dll" ( _
    ByVal latitude_deg As Double, _
    ByVal longitude_deg As Double, _
    ByVal altitude_m As Double, _
    ByVal unix_s As Double, _
    ByRef global_w_per_m2 As Double) As Long
Private Declare PtrSafe Function lw_clear_sky_beam Lib "loomwright.dll" ( _
    ByVal latitude_deg As Double, _
    ByVal longitude_deg As Double, _
    ByVal altitude_m As Double, _
    ByVal unix_s As Double, _
    ByRef beam_w_per_m2 As Double) As Long
Private Declare PtrSafe Function lw_clear_sky_diffuse Lib "loomwright.dll" ( _
    ByVal latitude_deg As Double, _
    ByVal longitude_deg As Double, _
    ByVal altitude_m As Double, _
    ByVal unix_s As Double, _
    ByRef diffuse_w_per_m2 As Double) As Long
Private Declare PtrSafe Function lw_torque_least Lib "loomwright.dll" ( _
    ByVal joint As String, _
    ByVal thread_mm As Double, _
    ByRef torque_nm As Double) As Long
Private Declare PtrSafe Function lw_torque_most Lib "loomwright.dll" ( _
    ByVal joint As String, _
    ByVal thread_mm As Double, _
    ByRef torque_nm As Double) As Long
Private Declare PtrSafe Function lw_pin_resistance Lib "loomwright.dll" ( _
    ByVal from_mm2 As Double, _
    ByVal to_mm2 As Double, _
    ByVal temperature_c As Double, _
    ByRef resistance_ohm As Double) As Long
Private Declare PtrSafe Function lw_conduit_fill Lib "loomwright.dll" ( _
    ByVal cables As Long, _
    ByRef share As Double) As Long
Private Declare PtrSafe Function lw_fuse_rating Lib "loomwright.dll" ( _
    ByVal current_a As Double, _
    ByVal highest_v As Double, _
    ByVal ambient_c As Double, _
    ByRef rating_a As Double) As Long
Private Declare PtrSafe Function lw_opening_latest Lib "loomwright.dll" ( _
    ByVal family As String, _
    ByVal rating_a As Double, _
    ByVal current_a As Double, _
    ByRef time_s As Double) As Long
Private Declare PtrSafe Function lw_opening_earliest Lib "loomwright.dll" ( _
    ByVal family As String, _
    ByVal rating_a As Double, _
    ByVal current_a As Double, _
    ByRef time_s As Double) As Long
Private Declare PtrSafe Function lw_joint_rise Lib "loomwright.dll" ( _
    ByVal kind As Long, _
    ByVal material As Long, _
    ByVal csa_mm2 As Double, _
    ByVal installation As Long, _
    ByVal conductors_together As Long, _
    ByVal ambient_c As Double, _
    ByVal current_a As Double, _
    ByVal resistance_mohm As Double, _
    ByRef rise_k As Double) As Long
Private Declare PtrSafe Function lw_joint_temperature Lib "loomwright.dll" ( _
    ByVal kind As Long, _
    ByVal material As Long, _
    ByVal csa_mm2 As Double, _
    ByVal installation As Long, _
    ByVal conductors_together As Long, _
    ByVal ambient_c As Double, _
    ByVal current_a As Double, _
    ByVal resistance_mohm As Double, _
    ByRef body_c As Double) As Long
Private Declare PtrSafe Function lw_joint_resistance Lib "loomwright.dll" ( _
    ByVal kind As Long, _
    ByVal material As Long, _
    ByVal csa_mm2 As Double, _
    ByVal installation As Long, _
    ByVal conductors_together As Long, _
    ByVal ambient_c As Double, _
    ByVal current_a As Double, _
    ByVal rise_k As Double, _
    ByRef resistance_mohm As Double) As Long
Private Declare PtrSafe Function lw_spot_temperature Lib "loomwright.dll" ( _
    ByVal contact_mv As Double, _
    ByVal body_c As Double, _
    ByRef spot_c As Double) As Long
Private Declare PtrSafe Function lw_contact_voltage Lib "loomwright.dll" ( _
    ByVal spot_c As Double, _
    ByVal body_c As Double, _
    ByRef contact_mv As Double) As Long
Private Declare PtrSafe Function lw_resistance Lib "loomwright.dll" ( _
    ByVal kind As Long, _
    ByVal material As Long, _
    ByVal csa_mm2 As Double, _
    ByVal length_m As Double, _
    ByVal temperature_c As Double, _
    ByRef resistance_ohm As Double) As Long
Private Declare PtrSafe Function lw_drop Lib "loomwright.dll" ( _
    ByVal kind As Long, _
    ByVal material As Long, _
    ByVal csa_mm2 As Double, _
    ByVal current_a As Double, _
    ByVal length_m As Double, _
    ByVal temperature_c As Double, _
    ByRef drop_v As Double) As Long
Private Declare PtrSafe Function lw_ampacity Lib "loomwright.dll" ( _
    ByVal kind As Long, _
    ByVal material As Long, _
    ByVal csa_mm2 As Double, _
    ByVal installation As Long, _
    ByVal conductors_together As Long, _
    ByVal ambient_c As Double, _
    ByVal limit_c As Double, _
    ByRef ampacity_a As Double) As Long
Private Declare PtrSafe Function lw_conductor_temperature Lib "loomwright.dll" ( _
    ByVal kind As Long, _
    ByVal material As Long, _
    ByVal csa_mm2 As Double, _
    ByVal installation As Long, _
    ByVal conductors_together As Long, _
    ByVal ambient_c As Double, _
    ByVal current_a As Double, _
    ByRef temperature_c As Double) As Long
Private Declare PtrSafe Function lw_withstand_time Lib "loomwright.dll" ( _
    ByVal kind As Long, _
    ByVal material As Long, _
    ByVal csa_mm2 As Double, _
    ByVal current_a As Double, _
    ByVal start_c As Double, _
    ByVal end_c As Double, _
    ByRef time_s As Double) As Long
Private Declare PtrSafe Function lw_gauge_area Lib "loomwright.dll" ( _
    ByVal gauge As Long, _
    ByRef csa_mm2 As Double) As Long
Private Declare PtrSafe Function lw_gauge_for_area Lib "loomwright.dll" ( _
    ByVal csa_mm2 As Double, _
    ByRef gauge As Double) As Long
Private Declare PtrSafe Function lw_converter_input_current Lib "loomwright.dll" ( _
    ByVal output_w As Double, _
    ByVal input_v As Double, _
    ByVal efficiency_percent As Double, _
    ByRef current_a As Double) As Long
Private Declare PtrSafe Function lw_smallest_size Lib "loomwright.dll" ( _
    ByVal kind As Long, _
    ByVal material As Long, _
    ByVal current_a As Double, _
    ByVal length_m As Double, _
    ByVal voltage_v As Double, _
    ByVal drop_percent As Double, _
    ByVal ambient_c As Double, _
    ByVal insulation_c As Double, _
    ByRef csa_mm2 As Double) As Long
Private Declare PtrSafe Function lw_longest_run Lib "loomwright.dll" ( _
    ByVal kind As Long, _
    ByVal material As Long, _
    ByVal csa_mm2 As Double, _
    ByVal current_a As Double, _
    ByVal voltage_v As Double, _
    ByVal drop_percent As Double, _
    ByVal ambient_c As Double, _
    ByVal insulation_c As Double, _
    ByRef length_m As Double) As Long

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
