/*
 * What the header promises of the boundary, seen from C: statuses, NULL, text that is not
 * UTF-8, requests that are too long, lengths, ownership.
 *
 * With an argument it does what the header forbids, so that whoever watches the memory can
 * itself be checked: "leak" forgets to release an answer, "stale" reads one that was released,
 * "beyond" states a length that is one byte too long, which the library then reads.
 */

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <lixivium.h>

static int failures = 0;

static void check(int holds, const char *what, int line)
{
    if (!holds) {
        printf("boundary.c:%d: does not hold: %s\n", line, what);
        failures++;
    }
}
#define CHECK(condition) check(condition, #condition, __LINE__)

/* Whether lxv_call() gives this status and an answer that has both of these parts. */
static int gives(const char *operation, const char *request, int32_t status, const char *part,
                 const char *other)
{
    char *answer = NULL;
    int32_t got = lxv_call(operation, request, &answer);
    int right = got == status && answer != NULL && strstr(answer, part) != NULL
        && strstr(answer, other) != NULL;

    if (!right)
        printf("status %d, answer %.300s\n", (int)got, answer == NULL ? "NULL" : answer);
    lxv_free(answer);
    return right;
}

/*
 * 1000 g of a fat with saponification value 197.5 mg KOH/g take 197.5 g of pure potassium
 * hydroxide: the definition of the saponification value, ISO 3657.
 */
static const char PLAN[] =
    "{\"fats\": [{\"fat\": {\"name\": \"house tallow\", \"saponification_value\": 197.5},"
    " \"mass\": 1000}],"
    " \"superfat\": 0, \"alkali\": {\"koh_share\": 100}, \"water\": {\"lye_concentration\": 33}}";

static void test_statuses(void)
{
    CHECK(gives("plan", PLAN, LXV_OK, "\"koh_mass\":{\"value\":197.5,\"exact\":\"395/2\"}",
                "\"cautions\""));
    CHECK(gives("plan", "{}", LXV_FAULTS, "{\"error\":{\"faults\":[", "\"says\""));
    CHECK(gives("plan", "{", LXV_FAULTS, "{\"error\":{\"faults\":[", "\"says\""));
    CHECK(gives("plan", "", LXV_FAULTS, "{\"error\":{\"faults\":[", "\"says\""));
    CHECK(gives("no such operation", PLAN, LXV_FAULTS, "{\"error\":{\"faults\":[", "plan"));
}

static void test_null(void)
{
    char *answer = NULL;
    size_t bytes = 7;

    CHECK(gives(NULL, PLAN, LXV_BAD_ARGUMENT, "\"code\":\"null_argument\"",
                "\"at\":\"operation\""));
    CHECK(gives("plan", NULL, LXV_BAD_ARGUMENT, "\"code\":\"null_argument\"",
                "\"at\":\"request\""));
    CHECK(lxv_call("plan", PLAN, NULL) == LXV_BAD_ARGUMENT);

    CHECK(lxv_call_n("plan", 4, PLAN, strlen(PLAN), NULL, &bytes) == LXV_BAD_ARGUMENT);
    CHECK(bytes == 0);
    CHECK(lxv_call_n("plan", 4, PLAN, strlen(PLAN), NULL, NULL) == LXV_BAD_ARGUMENT);
    CHECK(lxv_call_n("plan", 4, NULL, 0, &answer, &bytes) == LXV_BAD_ARGUMENT);
    CHECK(answer != NULL && bytes == strlen(answer));
    lxv_free(answer);
    CHECK(lxv_call_n(NULL, 4, PLAN, strlen(PLAN), &answer, NULL) == LXV_BAD_ARGUMENT);
    CHECK(answer != NULL);
    lxv_free(answer);

    lxv_free(NULL);
}

static void test_text(void)
{
    /* A byte that never occurs, a character cut off, and a surrogate. */
    static const char *const not_utf8[] = {"{\"fats\": \xff}", "\xe2\x82", "\xed\xa0\x80"};
    size_t i;

    for (i = 0; i < sizeof not_utf8 / sizeof *not_utf8; i++) {
        CHECK(gives("plan", not_utf8[i], LXV_NOT_UTF8, "\"code\":\"not_utf8\"",
                    "\"at\":\"request\""));
        CHECK(gives(not_utf8[i], PLAN, LXV_NOT_UTF8, "\"code\":\"not_utf8\"",
                    "\"at\":\"operation\""));
    }
}

static void test_length(void)
{
    const size_t huge = (size_t)1 << 28;
    char *spaces = (char *)malloc(huge + 1);
    char *answer, *counted;
    char joined[2 * sizeof PLAN];
    size_t bytes;

    CHECK(spaces != NULL);
    if (spaces == NULL)
        return;
    memset(spaces, ' ', huge);
    spaces[huge] = '\0';
    CHECK(gives("plan", spaces, LXV_TOO_LARGE, "\"code\":\"request_too_large\"", "\"at\":\"request\""));
    CHECK(gives(spaces, PLAN, LXV_TOO_LARGE, "\"code\":\"request_too_large\"", "\"at\":\"operation\""));
    free(spaces);

    /* A negative length by mistake. The bytes are not there, and are not read. */
    CHECK(lxv_call_n("plan", 4, PLAN, (size_t)-1, &answer, &bytes) == LXV_TOO_LARGE);
    CHECK(bytes == strlen(answer));
    lxv_free(answer);

    /* The length counts, not a NUL: what follows is not read. */
    strcpy(joined, PLAN);
    strcat(joined, "and more");
    CHECK(lxv_call("plan", PLAN, &answer) == LXV_OK);
    CHECK(lxv_call_n("planning", 4, joined, strlen(PLAN), &counted, &bytes) == LXV_OK);
    CHECK(strcmp(answer, counted) == 0);
    CHECK(bytes == strlen(counted));
    lxv_free(counted);
    lxv_free(answer);

    /* A NUL inside is a character like another, and not one that JSON allows. */
    CHECK(lxv_call_n("plan", 4, "{\0}", 3, &answer, &bytes) == LXV_FAULTS);
    CHECK(bytes == strlen(answer));
    lxv_free(answer);
}

static void test_versions(void)
{
    CHECK(lxv_abi_version() == LXV_ABI_VERSION);
    CHECK(lxv_version() != NULL && strchr(lxv_version(), '.') != NULL);
}

static int planted(const char *what)
{
    char *answer = NULL, *request;
    int seen = 0;

    if (strcmp(what, "leak") == 0) {
        lxv_call("plan", PLAN, &answer);
        answer = NULL;
    } else if (strcmp(what, "stale") == 0) {
        lxv_call("plan", PLAN, &answer);
        lxv_free(answer);
        seen = *(volatile char *)answer;
    } else if (strcmp(what, "beyond") == 0 && (request = (char *)malloc(strlen(PLAN))) != NULL) {
        memcpy(request, PLAN, strlen(PLAN));
        lxv_call_n("plan", 4, request, strlen(PLAN) + 1, &answer, NULL);
        lxv_free(answer);
        free(request);
    } else {
        puts("usage: boundary [leak | stale | beyond]");
    }
    return seen == 256 ? EXIT_FAILURE : EXIT_SUCCESS;
}

int main(int argc, char **argv)
{
    if (argc == 2)
        return planted(argv[1]);
    test_statuses();
    test_null();
    test_text();
    test_length();
    test_versions();
    printf("boundary.c: %s\n", failures == 0 ? "all holds" : "not as promised");
    return failures == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
