/* The glue between R and liblixivium: R has no way to call a C function that gives text. */

#include <string.h>

#include <Rinternals.h>
#include <lixivium.h>

/* Carries out one operation, JSON text in and out: list(status, answer). */
SEXP lixivium_ask(SEXP operation, SEXP request)
{
    const char *name = Rf_translateCharUTF8(Rf_asChar(operation));
    const char *text = Rf_translateCharUTF8(Rf_asChar(request));
    char *answer = NULL;
    size_t bytes = 0;
    int32_t status = lxv_call_n(name, strlen(name), text, strlen(text), &answer, &bytes);
    SEXP given = PROTECT(Rf_allocVector(VECSXP, 2)), copy;

    SET_VECTOR_ELT(given, 0, Rf_ScalarInteger(status));
    copy = PROTECT(Rf_allocVector(RAWSXP, (R_xlen_t)bytes));
    memcpy(RAW(copy), answer, bytes);
    lxv_free(answer);
    SET_VECTOR_ELT(given, 1, copy);
    UNPROTECT(2);
    return given;
}

SEXP lixivium_abi(void)
{
    return Rf_ScalarLogical(lxv_abi_version() == LXV_ABI_VERSION);
}
