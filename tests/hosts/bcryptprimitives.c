/*
 * bcryptprimitives.dll for wine 8, which has none: Rust's standard library takes random bytes
 * from it, to seed hash maps. Windows has had it since version 7.
 */

#include <windows.h>

BOOLEAN NTAPI SystemFunction036(PVOID bytes, ULONG count);

__declspec(dllexport) BOOL WINAPI ProcessPrng(PBYTE bytes, SIZE_T count)
{
    return SystemFunction036(bytes, (ULONG)count);
}
