/*
 * Columns, seen from C: the digits of a plan in each row, statuses with reasons, and what is said
 * of columns that are missing or lie in each other.
 */

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <lixivium.h>

static int failures = 0;

static void check(int holds, const char *what, int line)
{
    if (!holds) {
        printf("columns.c:%d: does not hold: %s\n", line, what);
        failures++;
    }
}
#define CHECK(condition) check(condition, #condition, __LINE__)

enum { ROWS = 1000, FATS = 2, OUTPUTS = 4 };

static const char *const NAMES[OUTPUTS] = {"naoh_mass", "water_mass", "batter_mass", "superfat"};

/* Everything but the fats and the outputs. */
static const char COMMON[] =
    "\"superfat\": 5.5, \"alkali\": {\"koh_share\": 10, \"naoh_purity\": 98.5},"
    " \"water\": {\"lye_concentration\": 33}, \"scale_step\": 0.1";

static const char OUTPUT_NAMES[] =
    "\"outputs\": [\"naoh_mass\", \"water_mass\", \"batter_mass\", \"superfat\"]";

static double masses[FATS][ROWS], superfats[ROWS], numbers[OUTPUTS][ROWS];
static int32_t statuses[ROWS];
static const double *const fats[FATS] = {masses[0], masses[1]};
static double *const outputs[OUTPUTS] = {numbers[0], numbers[1], numbers[2], numbers[3]};
static char setting[1024];

/* Weighed to 0.1 g, computed with all the digits of a double, or left out. */
static void prepare(void)
{
    int row;

    for (row = 0; row < ROWS; row++) {
        masses[0][row] = (row * 7919 % 5000 + 1000) / 10.0;
        masses[1][row] = row % 7 == 0 ? 0 : (row * 104729 % 3000 + 500) / 10.0 * 1.1;
        superfats[row] = row % 80 / 10.0;
    }
    sprintf(setting, "{\"fats\": [{\"fat\": \"olive-oil\"}, {\"fat\": \"coconut-oil\"}], %s, %s}",
            COMMON, OUTPUT_NAMES);
}

/* The number of that name in a plan of the row. */
static double planned(int row, const char *name)
{
    char request[1024], wanted[64], *answer = NULL;
    const char *found;
    double number = NAN;
    int length;

    length = sprintf(request, "{\"fats\": [{\"fat\": \"olive-oil\", \"mass\": %.17g}",
                     masses[0][row]);
    if (masses[1][row] != 0) {
        /* The shortest decimal of the double, as JSON of a program would have it. */
        char shortest[32];
        int digits = 1;

        do
            sprintf(shortest, "%.*g", digits++, masses[1][row]);
        while (strtod(shortest, NULL) != masses[1][row]);
        length += sprintf(request + length, ", {\"fat\": \"coconut-oil\", \"mass\": %s}", shortest);
    }
    sprintf(request + length, "], %s}", COMMON);
    sprintf(wanted, "\"%s\":{\"value\":", name);
    if (lxv_call("plan", request, &answer) == LXV_OK) {
        found = strstr(answer, wanted);
        if (found != NULL)
            number = strtod(found + strlen(wanted), NULL);
    } else {
        printf("%s\n", answer);
    }
    lxv_free(answer);
    return number;
}

static void test_digits_of_a_plan(void)
{
    char *answer = NULL;
    int row, output, same = 0;

    CHECK(lxv_columns(setting, ROWS, fats, FATS, NULL, outputs, OUTPUTS, statuses, &answer)
          == LXV_OK);
    CHECK(strstr(answer, "{\"planned\":{\"value\":1000.0,\"exact\":\"1000\"},\"faults\":[]") == answer);
    CHECK(strstr(answer, "\"lye_burns\"") != NULL);
    lxv_free(answer);
    for (row = 0; row < ROWS; row += 13)
        for (output = 0; output < OUTPUTS; output++)
            same += numbers[output][row] == planned(row, NAMES[output]);
    CHECK(same == (ROWS + 12) / 13 * OUTPUTS);
}

static void test_rows_that_are_not_planned(void)
{
    double bad[FATS][3] = {{100, -1, 0}, {NAN, 100, 0}};
    const double *const columns[FATS] = {bad[0], bad[1]};
    double naoh[3];
    double *const column = naoh;
    char *answer = NULL;
    const char *const alone =
        "{\"fats\": [{\"fat\": \"olive-oil\"}, {\"fat\": \"coconut-oil\"}], \"superfat\": 5,"
        " \"water\": {\"lye_concentration\": 33}, \"outputs\": [\"naoh_mass\"]}";

    CHECK(lxv_columns(alone, 3, columns, FATS, NULL, &column, 1, statuses, &answer) == LXV_OK);
    CHECK(statuses[0] == LXV_ROW_BAD_NUMBER && statuses[1] == LXV_ROW_NEGATIVE
          && statuses[2] == LXV_ROW_NO_FATS);
    CHECK(isnan(naoh[0]) && isnan(naoh[1]) && isnan(naoh[2]));
    CHECK(strstr(answer, "{\"code\":\"bad_number\",\"at\":\"rows[0].fats[1]\"") != NULL);
    CHECK(strstr(answer, "{\"code\":\"negative\",\"at\":\"rows[1].fats[0]\"") != NULL);
    CHECK(strcmp(lxv_reason(statuses[1]), "a mass of the row is below 0") == 0);
    lxv_free(answer);
    CHECK(lxv_columns(alone, 3, columns, FATS, NULL, &column, 1, NULL, &answer) == LXV_OK);
    lxv_free(answer);
}

/* Whether this status comes with an answer that has this part. */
static int said(int32_t got, int32_t status, char *answer, const char *part)
{
    int right = got == status && answer != NULL && strstr(answer, part) != NULL;

    if (!right)
        printf("status %d, answer %.300s\n", (int)got, answer == NULL ? "NULL" : answer);
    lxv_free(answer);
    return right;
}

static void test_arguments(void)
{
    const double *const missing[FATS] = {masses[0], NULL};
    double *const none[OUTPUTS] = {numbers[0], numbers[1], NULL, numbers[3]};
    double *const twice[OUTPUTS] = {numbers[0], numbers[1], numbers[0] + 1, numbers[3]};
    double *const in_place[OUTPUTS] = {numbers[0], numbers[1], masses[1], numbers[3]};
    const double *const huge = (const double *)(const void *)masses;
    char *answer = NULL;
    int32_t got;

#define GIVES(status, part, ...) \
    (got = lxv_columns(__VA_ARGS__, &answer), said(got, status, answer, part))
    CHECK(GIVES(LXV_FAULTS, "unknown_word", "{\"outputs\": [\"naoh\"]}", ROWS, fats, FATS, NULL,
                outputs, OUTPUTS, statuses));
    CHECK(GIVES(LXV_FAULTS, "\"at\":\"superfat\"", setting, ROWS, fats, FATS, superfats, outputs,
                OUTPUTS, statuses));
    CHECK(GIVES(LXV_FAULTS, "\"at\":\"fats\"", setting, ROWS, fats, FATS + 1, NULL, outputs,
                OUTPUTS, statuses));
    CHECK(GIVES(LXV_FAULTS, "\"at\":\"outputs\"", setting, ROWS, fats, FATS, NULL, outputs,
                (size_t)-1, statuses));
    CHECK(GIVES(LXV_BAD_ARGUMENT, "\"at\":\"setting\"", NULL, ROWS, fats, FATS, NULL, outputs,
                OUTPUTS, statuses));
    CHECK(GIVES(LXV_BAD_ARGUMENT, "\"at\":\"fats\"", setting, ROWS, NULL, FATS, NULL, outputs,
                OUTPUTS, statuses));
    CHECK(GIVES(LXV_BAD_ARGUMENT, "\"at\":\"fats[1]\"", setting, ROWS, missing, FATS, NULL,
                outputs, OUTPUTS, statuses));
    CHECK(GIVES(LXV_BAD_ARGUMENT, "\"at\":\"outputs[2]\"", setting, ROWS, fats, FATS, NULL, none,
                OUTPUTS, statuses));
    CHECK(GIVES(LXV_BAD_ARGUMENT, "columns_overlap", setting, ROWS, fats, FATS, NULL, twice,
                OUTPUTS, statuses));
    CHECK(GIVES(LXV_BAD_ARGUMENT, "columns_overlap", setting, ROWS, fats, FATS, NULL, in_place,
                OUTPUTS, statuses));
    CHECK(GIVES(LXV_TOO_LARGE, "\"at\":\"rows\"", setting, (size_t)-1, &huge, FATS, NULL, outputs,
                OUTPUTS, statuses));
    CHECK(GIVES(LXV_OK, "{\"planned\":{\"value\":0.0,", setting, 0, missing, FATS, NULL, none,
                OUTPUTS, NULL));
    CHECK(lxv_columns(setting, ROWS, fats, FATS, NULL, outputs, OUTPUTS, statuses, NULL)
          == LXV_BAD_ARGUMENT);
}

static void test_a_column_of_superfats(void)
{
    const char *const without =
        "{\"fats\": [{\"fat\": \"olive-oil\"}], \"water\": {\"water_to_lye\": 2},"
        " \"scale_step\": 0.01, \"outputs\": [\"superfat\"]}";
    char *answer = NULL;
    int row, close = 0;

    CHECK(lxv_columns(without, ROWS, fats, 1, superfats, outputs, 1, NULL, &answer) == LXV_OK);
    lxv_free(answer);
    for (row = 0; row < ROWS; row++)
        close += fabs(numbers[0][row] - superfats[row]) < 0.2;
    CHECK(close == ROWS);
}

int main(void)
{
    prepare();
    test_digits_of_a_plan();
    test_rows_that_are_not_planned();
    test_arguments();
    test_a_column_of_superfats();
    printf("columns.c: %s\n", failures == 0 ? "all holds" : "not as promised");
    return failures == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
