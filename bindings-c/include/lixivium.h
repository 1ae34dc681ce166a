/* Generated from bindings-c/src/lib.rs by cbindgen; change it there, then run
 *     WRITE_HEADER=1 cargo test -p lixivium-c --test header
 */

/*
 * Lixivium: exact soap arithmetic.
 *
 * One call does everything: it takes the name of an operation and a request in JSON, and gives
 * an answer in JSON. The operations, their requests and their answers are described in README.md.
 *
 *     char *answer = NULL;
 *     int32_t status = lxv_call("plan", request, &answer);
 *     puts(answer);
 *     lxv_free(answer);
 *
 * Lye burns. Answers that have lye in them carry cautions: show them to whoever will weigh.
 *
 * Conventions
 *
 * Names      Functions begin with lxv_, constants with LXV_.
 * Order      Parameters that are read come before those that are written.
 * Text       UTF-8. Text that is read ends in NUL, unless its length is given beside it.
 *            It is copied where needed, and may be changed or released after the call.
 * Pointers   NULL never crashes: it gives LXV_BAD_ARGUMENT, or is allowed where that is said.
 *            A pointer that is not NULL must be valid.
 * Statuses   An int32_t, one of the constants below. A status keeps its number for ever; a
 *            later version may add one, so treat an unknown one as a failure.
 * Answers    With LXV_OK, the answer of the operation. With any other status, an error answer:
 *                {"error": {"faults": [{"code": "...", "at": "fats[2].mass", "says": "..."}]}}
 *            lists every fault with a stable code, its place and a sentence for the person.
 *            Only where the pointer to the answer is itself NULL there is no answer.
 * Owner      What a function gives belongs to whom its comment says. Answers are released with
 *            lxv_free(), never with C's free().
 * Threads    There is no state between calls. Every function may be called from any thread,
 *            from several at the same time too.
 * Numbers    Every number of an answer has two views, as a number and as an exact text:
 *                {"value": 68.9, "exact": "689/10"}
 */


#ifndef LIXIVIUM_H
#define LIXIVIUM_H

#include <stddef.h>
#include <stdint.h>

/**
 * Version of the ABI that this header describes; it is the number in the name of the shared
 * library, liblixivium.so.1. A new operation or a new function does not change it. A program
 * that loads the library by itself compares it with lxv_abi_version().
 */
#define LXV_ABI_VERSION 1

/**
 * The answer is the one asked for.
 */
#define LXV_OK 0

/**
 * The request has faults; the answer lists all of them.
 */
#define LXV_FAULTS 1

/**
 * A pointer that must not be NULL is NULL.
 */
#define LXV_BAD_ARGUMENT 2

/**
 * The operation or the request is not UTF-8.
 */
#define LXV_NOT_UTF8 3

/**
 * The request is longer than the library reads; the answer names the limit.
 */
#define LXV_TOO_LARGE 4

/**
 * The library has a defect, which it survived. Later calls work.
 */
#define LXV_INTERNAL 5

#ifdef __cplusplus
extern "C" {
#endif // __cplusplus

/**
 * Carries out one operation: JSON in, JSON out.
 *
 * operation: its name, such as "plan".
 * request: a JSON object, as the operation describes it.
 * answer: where the answer goes; it is set to NULL first, then to the answer.
 *
 * NULL: a NULL operation or request gives LXV_BAD_ARGUMENT and an answer that says so; a NULL
 * answer gives LXV_BAD_ARGUMENT alone.
 * Owner: the caller owns the answer and releases it with lxv_free().
 * Returns: LXV_OK, or another status with an error answer.
 * Threads: any, at the same time too.
 */
int32_t lxv_call(const char *operation,
                 const char *request,
                 char **answer);

/**
 * The same as lxv_call(), for text that has a length and need not end in NUL.
 *
 * operation, operation_bytes: the operation's name and how many bytes it has.
 * request, request_bytes: a JSON object and how many bytes it has.
 * answer: where the answer goes; it is set to NULL first, then to the answer, which ends in NUL.
 * answer_bytes: where the answer's length goes, without the NUL; 0 if there is no answer.
 *
 * NULL: a NULL operation or request gives LXV_BAD_ARGUMENT and an answer that says so; a NULL
 * answer gives LXV_BAD_ARGUMENT alone; answer_bytes may be NULL.
 * Owner: the caller owns the answer and releases it with lxv_free().
 * Returns: LXV_OK, or another status with an error answer.
 * Threads: any, at the same time too.
 */
int32_t lxv_call_n(const char *operation,
                   size_t operation_bytes,
                   const char *request,
                   size_t request_bytes,
                   char **answer,
                   size_t *answer_bytes);

/**
 * Releases an answer.
 *
 * answer: what lxv_call() or lxv_call_n() gave, not released before. C's free() must not be
 * used on it, nor this function on anything else.
 *
 * NULL: does nothing.
 * Threads: any.
 */
void lxv_free(char *answer);

/**
 * The version of the library, such as "0.1.0".
 *
 * Owner: the library; the text is never released.
 * Threads: any.
 */
const char *lxv_version(void);

/**
 * The version of the ABI that the library has: LXV_ABI_VERSION of the header it was built with.
 *
 * Threads: any.
 */
uint32_t lxv_abi_version(void);

#ifdef __cplusplus
}  // extern "C"
#endif  // __cplusplus

#endif  /* LIXIVIUM_H */
