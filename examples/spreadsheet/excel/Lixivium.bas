Attribute VB_Name = "Lixivium"
' Lixivium in Excel: exact soap arithmetic in cells, through lixivium.dll.
'
' NOT RUN IN EXCEL. No Excel was at hand where this was written: a test compares each Declare with
' lixivium.h, and nothing more. Check the first figures against the batch sheet or the Calc add-in.
'
' Lye burns. Wear chemical splash goggles and gloves, add the alkali to the water and never water
' to the alkali, and follow the safety data sheet of your alkali and the rules of your place.
'
' For 64-bit Excel on Windows. Keep lixivium.dll in the folder of this workbook. A cell that cannot
' be worked out shows why, as text.
Option Explicit

#If Not Win64 Then
    This module needs 64-bit Excel, since lixivium.dll is a 64-bit library.
#End If

' The header's types: double is Double, int32_t and uint32_t are Long, size_t and every pointer that
' is passed on are LongPtr, a pointer to where a value goes is ByRef.
Private Declare PtrSafe Function c_call_n Lib "lixivium.dll" Alias "lxv_call_n" ( _
    ByVal operation As LongPtr, ByVal operation_bytes As LongPtr, _
    ByVal request As LongPtr, ByVal request_bytes As LongPtr, _
    ByRef answer As LongPtr, ByRef answer_bytes As LongPtr) As Long
Private Declare PtrSafe Sub c_free Lib "lixivium.dll" Alias "lxv_free" (ByVal answer As LongPtr)
Private Declare PtrSafe Function c_version Lib "lixivium.dll" Alias "lxv_version" () As LongPtr
Private Declare PtrSafe Function c_abi_version Lib "lixivium.dll" Alias "lxv_abi_version" () As Long
Private Declare PtrSafe Function c_reason Lib "lixivium.dll" Alias "lxv_reason" ( _
    ByVal status As Long) As LongPtr
Private Declare PtrSafe Function c_naoh_for_fat Lib "lixivium.dll" _
    Alias "lxv_naoh_for_fat_checked" ( _
    ByVal fat_g As Double, ByVal saponification_value As Double, _
    ByVal superfat_percent As Double, ByVal purity_percent As Double, _
    ByVal scale_step_g As Double, ByRef naoh_g As Double) As Long
Private Declare PtrSafe Function c_koh_for_fat Lib "lixivium.dll" _
    Alias "lxv_koh_for_fat_checked" ( _
    ByVal fat_g As Double, ByVal saponification_value As Double, _
    ByVal superfat_percent As Double, ByVal purity_percent As Double, _
    ByVal scale_step_g As Double, ByRef koh_g As Double) As Long
Private Declare PtrSafe Function c_water Lib "lixivium.dll" _
    Alias "lxv_water_for_lye_concentration_checked" ( _
    ByVal alkali_g As Double, ByVal lye_concentration_percent As Double, _
    ByVal scale_step_g As Double, ByRef water_g As Double) As Long
Private Declare PtrSafe Function c_lye_concentration Lib "lixivium.dll" _
    Alias "lxv_lye_concentration_checked" ( _
    ByVal alkali_g As Double, ByVal water_g As Double, _
    ByRef lye_concentration_percent As Double) As Long
Private Declare PtrSafe Function c_superfat Lib "lixivium.dll" Alias "lxv_superfat_checked" ( _
    ByVal fat_g As Double, ByVal saponification_value As Double, _
    ByVal naoh_g As Double, ByVal naoh_purity_percent As Double, _
    ByVal koh_g As Double, ByVal koh_purity_percent As Double, _
    ByRef superfat_percent As Double) As Long
Private Declare PtrSafe Function c_fats_for_volume Lib "lixivium.dll" _
    Alias "lxv_fats_for_volume_checked" ( _
    ByVal volume_cm3 As Double, ByVal batter_density As Double, _
    ByVal saponification_value As Double, ByVal superfat_percent As Double, _
    ByVal purity_percent As Double, ByVal lye_concentration_percent As Double, _
    ByRef fats_g As Double) As Long
Private Declare PtrSafe Function c_convert Lib "lixivium.dll" Alias "lxv_convert_checked" ( _
    ByVal quantity As Double, ByVal from_ As LongPtr, ByVal to_ As LongPtr, _
    ByRef converted As Double) As Long
Private Declare PtrSafe Function c_saponification_value Lib "lixivium.dll" _
    Alias "lxv_saponification_value_checked" ( _
    ByVal fat As LongPtr, ByRef saponification_value As Double) As Long

' Windows itself.
Private Declare PtrSafe Function LoadLibraryW Lib "kernel32" (ByVal file As LongPtr) As LongPtr
Private Declare PtrSafe Function lstrlenA Lib "kernel32" (ByVal text As LongPtr) As Long
Private Declare PtrSafe Function WideCharToMultiByte Lib "kernel32" ( _
    ByVal page As Long, ByVal flags As Long, ByVal wide As LongPtr, ByVal characters As Long, _
    ByVal bytes As LongPtr, ByVal room As Long, ByVal unknown As LongPtr, _
    ByVal used As LongPtr) As Long
Private Declare PtrSafe Function MultiByteToWideChar Lib "kernel32" ( _
    ByVal page As Long, ByVal flags As Long, ByVal bytes As LongPtr, ByVal count As Long, _
    ByVal wide As LongPtr, ByVal room As Long) As Long

Private Const UTF8 As Long = 65001
Private Const ABI_VERSION As Long = 1
Private Const FAULT As Long = vbObjectError + 513
Private ready As Boolean

' --- What cells call ---

' Sodium hydroxide for a fat, in g as weighed.
Public Function LXV_NAOH_FOR_FAT(fat_g, saponification_value, superfat, purity, _
        Optional scale_step = 0) As Variant
    Dim result As Double, status As Long
    On Error GoTo Told
    Prepare
    status = c_naoh_for_fat(Number(fat_g, "fat_g"), _
        Number(saponification_value, "saponification_value"), Number(superfat, "superfat"), _
        Number(purity, "purity"), Number(scale_step, "scale_step"), result)
    LXV_NAOH_FOR_FAT = Shown(status, result)
    Exit Function
Told:
    LXV_NAOH_FOR_FAT = Err.Description
End Function

' Potassium hydroxide for a fat, in g as weighed.
Public Function LXV_KOH_FOR_FAT(fat_g, saponification_value, superfat, purity, _
        Optional scale_step = 0) As Variant
    Dim result As Double, status As Long
    On Error GoTo Told
    Prepare
    status = c_koh_for_fat(Number(fat_g, "fat_g"), _
        Number(saponification_value, "saponification_value"), Number(superfat, "superfat"), _
        Number(purity, "purity"), Number(scale_step, "scale_step"), result)
    LXV_KOH_FOR_FAT = Shown(status, result)
    Exit Function
Told:
    LXV_KOH_FOR_FAT = Err.Description
End Function

' Water for a lye, in g.
Public Function LXV_WATER(alkali_g, lye_concentration, Optional scale_step = 0) As Variant
    Dim result As Double, status As Long
    On Error GoTo Told
    Prepare
    status = c_water(Number(alkali_g, "alkali_g"), _
        Number(lye_concentration, "lye_concentration"), Number(scale_step, "scale_step"), result)
    LXV_WATER = Shown(status, result)
    Exit Function
Told:
    LXV_WATER = Err.Description
End Function

' The lye concentration of alkali and water as weighed, in percent.
Public Function LXV_LYE_CONCENTRATION(alkali_g, water_g) As Variant
    Dim result As Double, status As Long
    On Error GoTo Told
    Prepare
    status = c_lye_concentration(Number(alkali_g, "alkali_g"), Number(water_g, "water_g"), result)
    LXV_LYE_CONCENTRATION = Shown(status, result)
    Exit Function
Told:
    LXV_LYE_CONCENTRATION = Err.Description
End Function

' The superfat that weights amount to, in percent; below 0 there is free alkali.
Public Function LXV_SUPERFAT(fat_g, saponification_value, naoh_g, naoh_purity, _
        Optional koh_g = 0, Optional koh_purity = 100) As Variant
    Dim result As Double, status As Long
    On Error GoTo Told
    Prepare
    status = c_superfat(Number(fat_g, "fat_g"), _
        Number(saponification_value, "saponification_value"), Number(naoh_g, "naoh_g"), _
        Number(naoh_purity, "naoh_purity"), Number(koh_g, "koh_g"), _
        Number(koh_purity, "koh_purity"), result)
    LXV_SUPERFAT = Shown(status, result)
    Exit Function
Told:
    LXV_SUPERFAT = Err.Description
End Function

' The fats whose batter has a volume, in g.
Public Function LXV_FATS_FOR_VOLUME(volume_cm3, batter_density, saponification_value, superfat, _
        purity, lye_concentration) As Variant
    Dim result As Double, status As Long
    On Error GoTo Told
    Prepare
    status = c_fats_for_volume(Number(volume_cm3, "volume_cm3"), _
        Number(batter_density, "batter_density"), _
        Number(saponification_value, "saponification_value"), Number(superfat, "superfat"), _
        Number(purity, "purity"), Number(lye_concentration, "lye_concentration"), result)
    LXV_FATS_FOR_VOLUME = Shown(status, result)
    Exit Function
Told:
    LXV_FATS_FOR_VOLUME = Err.Description
End Function

' A quantity in another unit: LXV_CONVERT(10, "oz", "g").
Public Function LXV_CONVERT(quantity, from_unit, to_unit) As Variant
    Dim result As Double, status As Long, from_bytes() As Byte, to_bytes() As Byte
    On Error GoTo Told
    Prepare
    from_bytes = InUtf8(CStr(from_unit))
    to_bytes = InUtf8(CStr(to_unit))
    status = c_convert(Number(quantity, "quantity"), VarPtr(from_bytes(0)), VarPtr(to_bytes(0)), _
        result)
    LXV_CONVERT = Shown(status, result)
    Exit Function
Told:
    LXV_CONVERT = Err.Description
End Function

' The saponification value of a fat of the catalogue, in mg KOH/g.
Public Function LXV_SAPONIFICATION_VALUE(fat) As Variant
    Dim result As Double, status As Long, bytes() As Byte
    On Error GoTo Told
    Prepare
    bytes = InUtf8(CStr(fat))
    status = c_saponification_value(VarPtr(bytes(0)), result)
    LXV_SAPONIFICATION_VALUE = Shown(status, result)
    Exit Function
Told:
    LXV_SAPONIFICATION_VALUE = Err.Description
End Function

' Any operation, JSON in and JSON out: LXV_CALL("plan", A1). Write numbers of the request with a
' point, whatever the place; a fault comes as JSON too. A cell takes 32767 characters.
Public Function LXV_CALL(operation, request) As Variant
    Dim operation_bytes() As Byte, request_bytes() As Byte
    Dim answer As LongPtr, answer_bytes As LongPtr, status As Long
    On Error GoTo Told
    Prepare
    operation_bytes = InUtf8(CStr(operation))
    request_bytes = InUtf8(CStr(request))
    status = c_call_n(VarPtr(operation_bytes(0)), UBound(operation_bytes), _
        VarPtr(request_bytes(0)), UBound(request_bytes), answer, answer_bytes)
    If answer = 0 Then Err.Raise FAULT, , FromUtf8(c_reason(status))
    LXV_CALL = FromUtf8(answer)
    c_free answer
    Exit Function
Told:
    LXV_CALL = Err.Description
End Function

' The version of the library.
Public Function LXV_VERSION() As Variant
    On Error GoTo Told
    Prepare
    LXV_VERSION = FromUtf8(c_version())
    Exit Function
Told:
    LXV_VERSION = Err.Description
End Function

' --- What they share ---

' Loads the library from the folder of the workbook, once; each Declare then finds it by its name.
Private Sub Prepare()
    Dim file As String
    If ready Then Exit Sub
    file = ThisWorkbook.Path & Application.PathSeparator & "lixivium.dll"
    If LoadLibraryW(StrPtr(file)) = 0 Then Err.Raise FAULT, , "cannot load " & file
    If c_abi_version() <> ABI_VERSION Then Err.Raise FAULT, , file & " has another ABI version"
    ready = True
End Sub

' A number, or a text that says what is wrong.
Private Function Shown(ByVal status As Long, ByVal result As Double) As Variant
    If status = 0 Then Shown = result Else Shown = FromUtf8(c_reason(status))
End Function

' A number of a cell. Text is refused, not read: its mark for decimals depends on the place.
Private Function Number(ByVal given As Variant, ByVal name As String) As Double
    If IsObject(given) Then given = given.Value
    If IsArray(given) Or IsError(given) Then Err.Raise FAULT, , name & ": accepted: one number"
    If IsEmpty(given) Or VarType(given) = vbString Or Not IsNumeric(given) Then
        Err.Raise FAULT, , name & ": accepted: a number"
    End If
    Number = CDbl(given)
End Function

' The bytes of a text and a NUL after them; UBound is how many bytes the text has.
Private Function InUtf8(ByVal text As String) As Byte()
    Dim bytes() As Byte, count As Long
    If Len(text) > 0 Then count = WideCharToMultiByte(UTF8, 0, StrPtr(text), Len(text), 0, 0, 0, 0)
    ReDim bytes(0 To count)
    If count > 0 Then
        WideCharToMultiByte UTF8, 0, StrPtr(text), Len(text), VarPtr(bytes(0)), count, 0, 0
    End If
    InUtf8 = bytes
End Function

' The text at a place of memory, up to the NUL.
Private Function FromUtf8(ByVal place As LongPtr) As String
    Dim bytes As Long, characters As Long, text As String
    bytes = lstrlenA(place)
    If bytes = 0 Then Exit Function
    characters = MultiByteToWideChar(UTF8, 0, place, bytes, 0, 0)
    text = String$(characters, vbNullChar)
    MultiByteToWideChar UTF8, 0, place, bytes, StrPtr(text), characters
    FromUtf8 = text
End Function
