/*
 * The figures for cells, seen from C: the digits of a plan, NaN and a status on a fault, and a
 * reason for every status.
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
        printf("scalars.c:%d: does not hold: %s\n", line, what);
        failures++;
    }
}
#define CHECK(condition) check(condition, #condition, __LINE__)

/* Whether a plan of the same batch has the same figure: "koh_mass":{"value":190, */
static int planned(const char *request, const char *key, double figure)
{
    char *answer = NULL, wanted[64];
    const char *found;
    int same;

    sprintf(wanted, "\"%s\":{\"value\":", key);
    if (lxv_call("plan", request, &answer) != LXV_OK) {
        printf("%s\n", answer);
        lxv_free(answer);
        return 0;
    }
    found = strstr(answer, wanted);
    same = found != NULL && strtod(found + strlen(wanted), NULL) == figure;
    lxv_free(answer);
    return same;
}

static const double SAME_BATCHES[][5] = {
    /* fat, saponification value, superfat, purity, lye concentration */
    {500, 190, 5, 98, 33}, {1234.5, 187.3, 7.5, 97.25, 29}, {0.7, 256.5, 0, 100, 50},
    {1e6 + 0.1, 197.5, 99.9, 1, 99}, {283.4, 20, 1, 99.9, 1.5}, {33.3, 700, 33.25, 85.5, 40},
};

static void test_digits_of_a_plan(void)
{
    char request[512];
    size_t i;

    for (i = 0; i < sizeof SAME_BATCHES / sizeof *SAME_BATCHES; i++) {
        const double *b = SAME_BATCHES[i];
        int koh;

        for (koh = 0; koh < 2; koh++) {
            double alkali = koh ? lxv_koh_for_fat(b[0], b[1], b[2], b[3], 0.1)
                                : lxv_naoh_for_fat(b[0], b[1], b[2], b[3], 0.1);
            double water = lxv_water_for_lye_concentration(alkali, b[4], 0.1);
            double superfat = koh ? lxv_superfat(b[0], b[1], 0, 100, alkali, b[3])
                                  : lxv_superfat(b[0], b[1], alkali, b[3], 0, 100);

            sprintf(request,
                    "{\"fats\": [{\"fat\": {\"name\": \"emmer tallow\","
                    " \"saponification_value\": %.10g}, \"mass\": %.10g}], \"superfat\": %.10g,"
                    " \"alkali\": {\"koh_share\": %d, \"naoh_purity\": \"%g\","
                    " \"koh_purity\": \"%g\"}, \"water\": {\"lye_concentration\": \"%g\"},"
                    " \"scale_step\": 0.1}",
                    b[1], b[0], b[2], koh ? 100 : 0, b[3], b[3], b[4]);
            CHECK(planned(request, koh ? "koh_mass" : "naoh_mass", alkali));
            CHECK(planned(request, "water_mass", water));
            CHECK(planned(request, "superfat", superfat));
            CHECK(planned(request, "lye_concentration", lxv_lye_concentration(alkali, water)));
        }
    }
}

static void test_by_hand(void)
{
    /* The definition of the saponification value, ISO 3657. */
    CHECK(lxv_koh_for_fat(1000, 197.5, 0, 100, 0) == 197.5);
    CHECK(lxv_koh_for_fat(0, 197.5, 0, 100, 0.1) == 0);
    /* In binary doubles 0.1 + 0.2 is above 0.3. */
    CHECK(lxv_koh_for_fat(3, 100, 0, 100, 0.1) == 0.3);
    CHECK(lxv_water_for_lye_concentration(100, 25, 0) == 300);
    CHECK(lxv_lye_concentration(100, 300) == 25);
    CHECK(lxv_superfat(1000, 200, 0, 100, 210, 100) == -5);
    /* 1 oz = 28.349523125 g, 1 lb = 16 oz, NIST Handbook 44, Appendix C. */
    CHECK(lxv_convert(10, "oz", "g") == 283.49523125);
    CHECK(lxv_convert(1, "lb", "oz") == 16);
    CHECK(lxv_convert(212, "F", "C") == 100);
    CHECK(lxv_saponification_value("olive-oil") > 180 && lxv_saponification_value("olive-oil") < 200);
    /* The batter of so many fats has the volume that was asked for. */
    {
        double fats = lxv_fats_for_volume(1000, 1.05, 190, 5, 98, 33);
        double naoh = lxv_naoh_for_fat(fats, 190, 5, 98, 0);
        double water = lxv_water_for_lye_concentration(naoh, 33, 0);
        CHECK(fabs((fats + naoh + water) / 1.05 - 1000) < 1e-9);
    }
}

/* A call that is refused: its status, NaN in both variants, and words in the reason. */
#define REFUSED(name, arguments, status, words) \
    do { \
        double figure = 1; \
        CHECK(name##_checked arguments == status); \
        CHECK(figure != figure); \
        CHECK(strstr(lxv_reason(status), words) != NULL); \
    } while (0)

static void test_faults(void)
{
    const double nan = NAN, infinite = HUGE_VAL;

    REFUSED(lxv_naoh_for_fat, (-1, 190, 5, 98, 0, &figure), LXV_BAD_FAT_MASS, "from 0");
    REFUSED(lxv_naoh_for_fat, (nan, 190, 5, 98, 0, &figure), LXV_BAD_FAT_MASS, "grams");
    REFUSED(lxv_naoh_for_fat, (infinite, 190, 5, 98, 0, &figure), LXV_BAD_FAT_MASS, "grams");
    REFUSED(lxv_naoh_for_fat, (1, 0.19, 5, 98, 0, &figure), LXV_BAD_SAPONIFICATION_VALUE, "20");
    REFUSED(lxv_koh_for_fat, (1, 190, 0.05, 98, 0, &figure), LXV_BAD_SUPERFAT, "5 for 5 %");
    REFUSED(lxv_koh_for_fat, (1, 190, 100, 98, 0, &figure), LXV_BAD_SUPERFAT, "below 100");
    REFUSED(lxv_koh_for_fat, (1, 190, 5, 0.98, 0, &figure), LXV_BAD_PURITY, "98 for 98 %");
    REFUSED(lxv_koh_for_fat, (1, 190, 5, 98, -0.1, &figure), LXV_BAD_SCALE_STEP, "0.1");
    REFUSED(lxv_koh_for_fat, (1, 190, 5, 98, 10, &figure), LXV_SCALE_STEP_TOO_COARSE, "finer");
    REFUSED(lxv_water_for_lye_concentration, (-1, 33, 0, &figure), LXV_BAD_ALKALI_MASS, "grams");
    REFUSED(lxv_water_for_lye_concentration, (1, 0.33, 0, &figure), LXV_BAD_LYE_CONCENTRATION,
            "33 for 33 %");
    REFUSED(lxv_lye_concentration, (0, 0, &figure), LXV_BAD_ALKALI_MASS, "not both 0");
    REFUSED(lxv_lye_concentration, (1, -1, &figure), LXV_BAD_WATER_MASS, "water");
    REFUSED(lxv_superfat, (0, 190, 1, 98, 0, 100, &figure), LXV_BAD_FAT_MASS, "above 0");
    REFUSED(lxv_fats_for_volume, (-1, 1, 190, 5, 98, 33, &figure), LXV_BAD_VOLUME, "cm");
    REFUSED(lxv_fats_for_volume, (1, 1000, 190, 5, 98, 33, &figure), LXV_BAD_BATTER_DENSITY,
            "near 1");
    REFUSED(lxv_convert, (nan, "g", "kg", &figure), LXV_BAD_QUANTITY, "number");
    REFUSED(lxv_convert, (1, "grum", "kg", &figure), LXV_UNKNOWN_UNIT_FROM, "from");
    REFUSED(lxv_convert, (1, "g", "keg", &figure), LXV_UNKNOWN_UNIT_TO, "to");
    REFUSED(lxv_convert, (1, "g", "mL", &figure), LXV_UNITS_DIFFER, "mass");
    REFUSED(lxv_convert, (1, NULL, "g", &figure), LXV_BAD_ARGUMENT, "NULL");
    REFUSED(lxv_convert, (1, "g", "\xff", &figure), LXV_NOT_UTF8, "UTF-8");
    REFUSED(lxv_saponification_value, ("no such fat", &figure), LXV_UNKNOWN_FAT, "catalogue");
    REFUSED(lxv_saponification_value, (NULL, &figure), LXV_BAD_ARGUMENT, "NULL");

    CHECK(isnan(lxv_naoh_for_fat(-1, 190, 5, 98, 0)));
    CHECK(isnan(lxv_koh_for_fat(-1, 190, 5, 98, 0)));
    CHECK(isnan(lxv_water_for_lye_concentration(-1, 33, 0)));
    CHECK(isnan(lxv_lye_concentration(-1, 1)));
    CHECK(isnan(lxv_superfat(1, 190, nan, 98, 0, 100)));
    CHECK(isnan(lxv_fats_for_volume(1, 1, 190, 5, 98, 100)));
    CHECK(isnan(lxv_convert(1, "g", NULL)));
    CHECK(isnan(lxv_saponification_value(NULL)));
    CHECK(lxv_naoh_for_fat_checked(1, 190, 5, 98, 0, NULL) == LXV_BAD_ARGUMENT);
    CHECK(lxv_saponification_value_checked("olive-oil", NULL) == LXV_BAD_ARGUMENT);
}

static void test_reasons(void)
{
    int32_t status;

    for (status = -1; status < 200; status++)
        CHECK(lxv_reason(status) != NULL && strlen(lxv_reason(status)) > 10);
    CHECK(strcmp(lxv_reason(LXV_OK), "nothing is wrong") == 0);
}

int main(void)
{
    test_digits_of_a_plan();
    test_by_hand();
    test_faults();
    test_reasons();
    printf("scalars.c: %s\n", failures == 0 ? "all holds" : "not as promised");
    return failures == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
