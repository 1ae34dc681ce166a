/*
 * What a call from C costs: each kind of call beside the same figure in plain doubles.
 *
 *     cc -O2 benches/calls.c $(pkg-config --cflags --libs lixivium) -o calls && ./calls
 *
 * All kinds take turns in many short rounds, each is divided by the doubles of its own round, and
 * the median of the rounds counts.
 */

#define _POSIX_C_SOURCE 199309L

#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include <lixivium.h>

enum { ROUNDS = 201, KINDS = 5, ROWS = 1000 };

static volatile double fat_g = 500, naoh_g;
static double masses[ROWS], naoh[ROWS];

/* The same figure in doubles, unchecked, rounded down to 0.1 g. */
static double plain(double fat, double value, double superfat, double purity)
{
    double exact = fat * value / 1000 * (39.997 / 56.105) * (100 - superfat) / purity;
    return (double)(long)(exact * 10) / 10;
}

static void in_doubles(void)
{
    naoh_g = plain(fat_g, 190, 5, 98);
}

static void one_cell(void)
{
    naoh_g = lxv_naoh_for_fat(fat_g, 190, 5, 98, 0.1);
}

static void one_row(void)
{
    static const char setting[] =
        "{\"fats\": [{\"fat\": \"olive-oil\"}], \"superfat\": 5, \"alkali\": {\"naoh_purity\": 98},"
        " \"water\": {\"lye_concentration\": 33}, \"scale_step\": 0.1, \"outputs\": [\"naoh_mass\"]}";
    const double *fats[] = {masses};
    double *outputs[] = {naoh};
    char *answer;

    lxv_columns(setting, ROWS, fats, 1, NULL, outputs, 1, NULL, &answer);
    lxv_free(answer);
}

static void call(const char *request)
{
    char *answer;

    lxv_call("plan", request, &answer);
    lxv_free(answer);
}

static void bare_request(void)
{
    call("{\"fats\": [{\"fat\": \"olive-oil\", \"mass\": 500}], \"superfat\": 5,"
         " \"water\": {\"lye_concentration\": 33}, \"scale_step\": 0.1}");
}

static void full_request(void)
{
    call("{\"fats\": [{\"fat\": \"olive-oil\", \"mass\": 480}, {\"fat\": \"coconut-oil\","
         " \"mass\": \"10 oz\"}, {\"fat\": {\"name\": \"house tallow\", \"saponification_value\":"
         " 197.5, \"saponification_range\": [192, 203]}, \"mass\": 200}], \"superfat\": 5,"
         " \"alkali\": {\"koh_share\": 10, \"naoh_purity\": 98.5, \"koh_purity\": 90},"
         " \"water\": {\"lye_concentration\": 33}, \"scale_step\": \"0.1 g\"}");
}

static const struct {
    const char *name;
    void (*run)(void);
    int runs, figures;
} kinds[KINDS] = {
    {"plain doubles, unchecked", in_doubles, 20000, 1},
    {"lxv_naoh_for_fat", one_cell, 2000, 1},
    {"lxv_columns, each row of a plan", one_row, 1, ROWS},
    {"lxv_call, a plan of one fat", bare_request, 50, 1},
    {"lxv_call, a plan of three fats, both alkalis", full_request, 20, 1},
};

/* Nanoseconds for each figure. */
static double timed(int kind)
{
    struct timespec start, end;
    int i;

    clock_gettime(CLOCK_MONOTONIC, &start);
    for (i = 0; i < kinds[kind].runs; i++)
        kinds[kind].run();
    clock_gettime(CLOCK_MONOTONIC, &end);
    return ((double)(end.tv_sec - start.tv_sec) * 1e9 + (double)(end.tv_nsec - start.tv_nsec))
        / kinds[kind].runs / kinds[kind].figures;
}

static int in_order(const void *a, const void *b)
{
    return (*(const double *)a > *(const double *)b) - (*(const double *)a < *(const double *)b);
}

static double median(double *values)
{
    qsort(values, ROUNDS, sizeof *values, in_order);
    return values[ROUNDS / 2];
}

int main(void)
{
    static double times[KINDS][ROUNDS], ratios[KINDS][ROUNDS];
    int kind, round, i;

    for (i = 0; i < ROWS; i++)
        masses[i] = 100 + i * 0.1;
    for (round = 0; round < ROUNDS; round++)
        for (kind = 0; kind < KINDS; kind++) {
            times[kind][round] = timed(kind);
            ratios[kind][round] = times[kind][round] / times[0][round];
        }
    for (kind = 0; kind < KINDS; kind++)
        printf("%-46s %10.1f x %10.1f ns\n", kinds[kind].name, median(ratios[kind]),
               median(times[kind]));
    return EXIT_SUCCESS;
}
