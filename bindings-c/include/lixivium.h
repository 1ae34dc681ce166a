/* Generated from bindings-c/src by cbindgen; change it there, then run
 *     WRITE_HEADER=1 cargo test -p lixivium-c --test header
 */

/*
 * Lixivium: exact soap arithmetic, from C and from everything that calls C.
 *
 * Lye burns. Answers that have lye in them carry cautions: show them to whoever will weigh. The
 * library computes; it does not replace the safety data sheet of the alkali, the rules of the
 * place or licensed practice.
 *
 * Three ways in, all to the same core and the same digits
 *
 * Requests   lxv_call() takes the name of an operation and a request in JSON, and gives an answer
 *            in JSON. README.md describes the operations; a new one adds no function here.
 *
 *                char *answer = NULL;
 *                int32_t status = lxv_call("plan",
 *                    "{\"fats\": [{\"fat\": \"olive-oil\", \"mass\": 500}], \"superfat\": 5,"
 *                    " \"water\": {\"lye_concentration\": 33}, \"scale_step\": 0.1}", &answer);
 *                puts(answer);
 *                lxv_free(answer);
 *
 * Cells      Plain functions of doubles give one figure each, for spreadsheets and small programs.
 *            They give NaN on a fault; the one whose name ends in _checked gives a status, and
 *            lxv_reason() a sentence for it.
 *
 *                double naoh_g;
 *                int32_t status = lxv_naoh_for_fat_checked(500, 190, 5, 98, 0.1, &naoh_g);
 *                if (status == LXV_OK)
 *                    printf("%g g\n", naoh_g);
 *                else
 *                    puts(lxv_reason(status));
 *
 * Columns    lxv_columns() plans as many recipes as an array has rows, without JSON for each.
 *
 * Conventions
 *
 * Names      Functions begin with lxv_, constants with LXV_.
 * Order      Parameters that are read come before those that are written.
 * Units      A parameter that is a double has its unit in its name: _g grams, _percent percent (5
 *            is 5 %), _cm3 cubic centimetres. Saponification values are in mg KOH per g of fat
 *            (ISO 3657), densities in g per cm3. In JSON a bare number is in the same units, and
 *            text carries a unit of its own: "10 oz".
 * Numbers    A double that goes in is taken as its shortest decimal, so that 0.1 is 1/10. What is
 *            computed is exact; a double that comes out is the one nearest to the exact value. In
 *            JSON every number of an answer has both views:
 *                {"value": 68.9, "exact": "689/10"}
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
 *
 * Building
 *
 *     cc program.c $(pkg-config --cflags --libs lixivium)           with the shared library
 *     cc program.c $(pkg-config --cflags --libs lixivium-static)    with the library inside
 *     find_package(lixivium)                                        CMake: lixivium::lixivium,
 *                                                                   lixivium::static
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
 * A text is not UTF-8.
 */
#define LXV_NOT_UTF8 3

/**
 * A text is longer than the library reads; the answer names the limit.
 */
#define LXV_TOO_LARGE 4

/**
 * The library has a defect, which it survived. Later calls work.
 */
#define LXV_INTERNAL 5

/**
 * The mass of the fat is not one from 0 to 10^15 g.
 */
#define LXV_BAD_FAT_MASS 101

/**
 * The saponification value is not one from 20 to 700 mg KOH/g.
 */
#define LXV_BAD_SAPONIFICATION_VALUE 102

/**
 * The superfat is neither 0 nor one from 1 to below 100 %.
 */
#define LXV_BAD_SUPERFAT 103

/**
 * The purity is not one from 1 to 100 %.
 */
#define LXV_BAD_PURITY 104

/**
 * The scale step is neither 0 nor a mass above 0.
 */
#define LXV_BAD_SCALE_STEP 105

/**
 * On this scale the alkali would round to nothing.
 */
#define LXV_SCALE_STEP_TOO_COARSE 106

/**
 * The mass of the alkali is not one from 0 to 10^15 g, or alkali and water are both 0.
 */
#define LXV_BAD_ALKALI_MASS 107

/**
 * The mass of the water is not one from 0 to 10^15 g.
 */
#define LXV_BAD_WATER_MASS 108

/**
 * The lye concentration is not one from 1 to below 100 %.
 */
#define LXV_BAD_LYE_CONCENTRATION 109

/**
 * The volume is not one from 0 to 10^15 cm3.
 */
#define LXV_BAD_VOLUME 110

/**
 * The density of the batter is not one from 0.1 to 10 g/cm3.
 */
#define LXV_BAD_BATTER_DENSITY 111

/**
 * The quantity to convert is not between 10^-15 and 10^15 base units in size, nor 0.
 */
#define LXV_BAD_QUANTITY 112

/**
 * The unit to convert from is not known.
 */
#define LXV_UNKNOWN_UNIT_FROM 113

/**
 * The unit to convert to is not known.
 */
#define LXV_UNKNOWN_UNIT_TO 114

/**
 * The two units do not measure the same.
 */
#define LXV_UNITS_DIFFER 115

/**
 * The fat is not in the catalogue.
 */
#define LXV_UNKNOWN_FAT 116

/**
 * A number of the row is missing: NaN or infinite.
 */
#define LXV_ROW_BAD_NUMBER 201

/**
 * A mass of the row is not 0 and not from 10^-15 to 10^15 g, or its superfat is not from 0 to
 * below 100 %.
 */
#define LXV_ROW_OUT_OF_RANGE 202

/**
 * A mass of the row is below 0.
 */
#define LXV_ROW_NEGATIVE 203

/**
 * All masses of the row are 0.
 */
#define LXV_ROW_NO_FATS 204

/**
 * A fat or all alkali of the row would round to nothing on the scale.
 */
#define LXV_ROW_SCALE_STEP_TOO_COARSE 205

/**
 * What is counted as water in the row is more than the water asked for.
 */
#define LXV_ROW_TOO_MUCH_WATER_COUNTED 206

/**
 * The stock solution of the row brings more water than asked for.
 */
#define LXV_ROW_STOCK_TOO_WEAK 207

/**
 * The acids of the row take up more alkali than there is.
 */
#define LXV_ROW_ACIDS_EXCEED_ALKALI 208

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

/**
 * What a status means: what is wrong, and what is accepted instead. For a cell, a log, a message.
 *
 * status: what a function of this library returned.
 *
 * Owner: the library; the text is never released. It is UTF-8 and never NULL; for a status that
 * is not known it says so.
 * Threads: any, at the same time too.
 */
const char *lxv_reason(int32_t status);

/**
 * Sodium hydroxide for a fat, in g as weighed: rounded down to the scale step, as `plan` does.
 *
 * fat_g: mass of the fat, in g, from 0. For several fats their sum, with the mean of their
 * saponification values by mass.
 * saponification_value: in mg KOH per g of fat (ISO 3657), from 20 to 700.
 * superfat_percent: 0, or from 1 to below 100; 5 is 5 %.
 * purity_percent: sodium hydroxide in the product as bought, from 1 to 100; 98 is 98 %.
 * scale_step_g: smallest step of the scale, in g; 0 rounds nothing.
 *
 * Returns: the mass in g, or NaN; lxv_naoh_for_fat_checked() tells why.
 * Threads: any, at the same time too.
 */
double lxv_naoh_for_fat(double fat_g,
                        double saponification_value,
                        double superfat_percent,
                        double purity_percent,
                        double scale_step_g);

/**
 * The same as lxv_naoh_for_fat(), with a status.
 *
 * naoh_g: where the mass goes, in g; NaN if there is none.
 *
 * NULL: a NULL naoh_g gives LXV_BAD_ARGUMENT.
 * Returns: LXV_OK, or a status that lxv_reason() explains.
 * Threads: any, at the same time too.
 */
int32_t lxv_naoh_for_fat_checked(double fat_g,
                                 double saponification_value,
                                 double superfat_percent,
                                 double purity_percent,
                                 double scale_step_g,
                                 double *naoh_g);

/**
 * Potassium hydroxide for a fat, in g as weighed: rounded down to the scale step, as `plan` does.
 *
 * fat_g: mass of the fat, in g, from 0. For several fats their sum, with the mean of their
 * saponification values by mass.
 * saponification_value: in mg KOH per g of fat (ISO 3657), from 20 to 700.
 * superfat_percent: 0, or from 1 to below 100; 5 is 5 %.
 * purity_percent: potassium hydroxide in the product as bought, from 1 to 100; 90 is 90 %.
 * scale_step_g: smallest step of the scale, in g; 0 rounds nothing.
 *
 * Returns: the mass in g, or NaN; lxv_koh_for_fat_checked() tells why.
 * Threads: any, at the same time too.
 */
double lxv_koh_for_fat(double fat_g,
                       double saponification_value,
                       double superfat_percent,
                       double purity_percent,
                       double scale_step_g);

/**
 * The same as lxv_koh_for_fat(), with a status.
 *
 * koh_g: where the mass goes, in g; NaN if there is none.
 *
 * NULL: a NULL koh_g gives LXV_BAD_ARGUMENT.
 * Returns: LXV_OK, or a status that lxv_reason() explains.
 * Threads: any, at the same time too.
 */
int32_t lxv_koh_for_fat_checked(double fat_g,
                                double saponification_value,
                                double superfat_percent,
                                double purity_percent,
                                double scale_step_g,
                                double *koh_g);

/**
 * Water for a lye concentration, in g: alkali * (1 - c) / c, to the nearest scale step.
 *
 * alkali_g: mass of the alkali as weighed, in g, from 0.
 * lye_concentration_percent: alkali / (alkali + water), from 1 to below 100; 33 is 33 %.
 * scale_step_g: smallest step of the scale, in g; 0 rounds nothing.
 *
 * Returns: the mass in g, or NaN; lxv_water_for_lye_concentration_checked() tells why.
 * Threads: any, at the same time too.
 */
double lxv_water_for_lye_concentration(double alkali_g,
                                       double lye_concentration_percent,
                                       double scale_step_g);

/**
 * The same as lxv_water_for_lye_concentration(), with a status.
 *
 * water_g: where the mass goes, in g; NaN if there is none.
 *
 * NULL: a NULL water_g gives LXV_BAD_ARGUMENT.
 * Returns: LXV_OK, or a status that lxv_reason() explains.
 * Threads: any, at the same time too.
 */
int32_t lxv_water_for_lye_concentration_checked(double alkali_g,
                                                double lye_concentration_percent,
                                                double scale_step_g,
                                                double *water_g);

/**
 * The lye concentration, in percent: alkali / (alkali + water).
 *
 * alkali_g: mass of the alkali as weighed, in g, from 0.
 * water_g: mass of the water, in g, from 0; not both are 0.
 *
 * Returns: the share in percent, or NaN; lxv_lye_concentration_checked() tells why.
 * Threads: any, at the same time too.
 */
double lxv_lye_concentration(double alkali_g, double water_g);

/**
 * The same as lxv_lye_concentration(), with a status.
 *
 * lye_concentration_percent: where the share goes, in percent; NaN if there is none.
 *
 * NULL: a NULL lye_concentration_percent gives LXV_BAD_ARGUMENT.
 * Returns: LXV_OK, or a status that lxv_reason() explains.
 * Threads: any, at the same time too.
 */
int32_t lxv_lye_concentration_checked(double alkali_g,
                                      double water_g,
                                      double *lye_concentration_percent);

/**
 * The superfat that weights amount to, in percent. Below 0 there is more alkali than the fat
 * takes up: such soap keeps free alkali.
 *
 * fat_g: mass of the fat, in g, above 0. For several fats their sum.
 * saponification_value: in mg KOH per g of fat, from 20 to 700; of several fats the mean by mass.
 * naoh_g, naoh_purity_percent: sodium hydroxide as weighed, in g, from 0, and its purity, from 1
 * to 100; give 100 where there is none.
 * koh_g, koh_purity_percent: the same of potassium hydroxide.
 *
 * Returns: the share in percent, or NaN; lxv_superfat_checked() tells why.
 * Threads: any, at the same time too.
 */
double lxv_superfat(double fat_g,
                    double saponification_value,
                    double naoh_g,
                    double naoh_purity_percent,
                    double koh_g,
                    double koh_purity_percent);

/**
 * The same as lxv_superfat(), with a status.
 *
 * superfat_percent: where the share goes, in percent; NaN if there is none.
 *
 * NULL: a NULL superfat_percent gives LXV_BAD_ARGUMENT.
 * Returns: LXV_OK, or a status that lxv_reason() explains.
 * Threads: any, at the same time too.
 */
int32_t lxv_superfat_checked(double fat_g,
                             double saponification_value,
                             double naoh_g,
                             double naoh_purity_percent,
                             double koh_g,
                             double koh_purity_percent,
                             double *superfat_percent);

/**
 * The fats whose batter fills a volume, in g, with sodium hydroxide; nothing is rounded, and
 * additives are not counted. The operation `plan` with a `mould` knows more.
 *
 * volume_cm3: what the mould takes, in cm3 (mL), from 0.
 * batter_density: in g per cm3, as measured, from 0.1 to 10.
 * saponification_value: in mg KOH per g of fat, from 20 to 700; of several fats the mean by mass.
 * superfat_percent: 0, or from 1 to below 100.
 * purity_percent: sodium hydroxide in the product as bought, from 1 to 100.
 * lye_concentration_percent: alkali / (alkali + water), from 1 to below 100.
 *
 * Returns: the mass in g, or NaN; lxv_fats_for_volume_checked() tells why.
 * Threads: any, at the same time too.
 */
double lxv_fats_for_volume(double volume_cm3,
                           double batter_density,
                           double saponification_value,
                           double superfat_percent,
                           double purity_percent,
                           double lye_concentration_percent);

/**
 * The same as lxv_fats_for_volume(), with a status.
 *
 * fats_g: where the mass goes, in g; NaN if there is none.
 *
 * NULL: a NULL fats_g gives LXV_BAD_ARGUMENT.
 * Returns: LXV_OK, or a status that lxv_reason() explains.
 * Threads: any, at the same time too.
 */
int32_t lxv_fats_for_volume_checked(double volume_cm3,
                                    double batter_density,
                                    double saponification_value,
                                    double superfat_percent,
                                    double purity_percent,
                                    double lye_concentration_percent,
                                    double *fats_g);

/**
 * A quantity in another unit of the same kind: lxv_convert(10, "oz", "g") is 283.49523125.
 *
 * quantity: how many of the unit `from`.
 * from, to: units such as "g", "oz", "lb", "mL", "US fl oz", "cm", "in", "C", "F".
 *
 * NULL: a NULL from or to gives NaN.
 * Returns: how many of the unit `to`, or NaN; lxv_convert_checked() tells why.
 * Threads: any, at the same time too.
 */
double lxv_convert(double quantity,
                   const char *from,
                   const char *to);

/**
 * The same as lxv_convert(), with a status.
 *
 * converted: where the number goes; NaN if there is none.
 *
 * NULL: a NULL from, to or converted gives LXV_BAD_ARGUMENT.
 * Returns: LXV_OK, or a status that lxv_reason() explains.
 * Threads: any, at the same time too.
 */
int32_t lxv_convert_checked(double quantity,
                            const char *from,
                            const char *to,
                            double *converted);

/**
 * The saponification value of a fat of the catalogue, in mg KOH per g: the middle of the
 * published range. The operation `fats` has the range and its source; a supplier's certificate
 * is better than either.
 *
 * fat: an id or alias of the catalogue, such as "olive-oil".
 *
 * NULL: a NULL fat gives NaN.
 * Returns: the value, or NaN; lxv_saponification_value_checked() tells why.
 * Threads: any, at the same time too.
 */
double lxv_saponification_value(const char *fat);

/**
 * The same as lxv_saponification_value(), with a status.
 *
 * saponification_value: where the value goes; NaN if there is none.
 *
 * NULL: a NULL fat or saponification_value gives LXV_BAD_ARGUMENT.
 * Returns: LXV_OK, or a status that lxv_reason() explains.
 * Threads: any, at the same time too.
 */
int32_t lxv_saponification_value_checked(const char *fat, double *saponification_value);

/**
 * Plans many recipes at once, from columns of doubles to columns of doubles: for data frames and
 * databases. Each row has the digits that lxv_call("plan", ...) has for its recipe.
 *
 * setting: a JSON object, what all rows have in common. It is the request of "plan", but the
 * fats have no masses, and "outputs" names the numbers of the answer that are wanted:
 *     {"fats": [{"fat": "olive-oil"}, {"fat": "coconut-oil"}], "superfat": 5,
 *      "alkali": {"naoh_purity": 98.5}, "water": {"lye_concentration": 33}, "scale_step": 0.1,
 *      "outputs": ["naoh_mass", "water_mass", "superfat", "superfat_range.low"]}
 * Outputs can be: total_fats, naoh_mass, koh_mass, naoh_pure_mass, koh_pure_mass, batter_mass,
 * water_mass, water_to_add_mass, stock_solution.naoh_solution_mass,
 * stock_solution.koh_solution_mass (g), koh_share_by_moles, superfat, superfat_range.low,
 * superfat_range.high, lye_concentration, hydroxide_concentration (percent), water_to_lye.
 * rows: how many doubles each column has.
 * fats, fat_count: a column for each fat of the setting, in its order: the mass in g. With 0 the
 * row is without that fat. A double is taken as its shortest decimal: 0.1 is 1/10.
 * superfat: a column of the superfat in percent, or NULL. Where it is given, the setting has no
 * "superfat".
 * outputs, output_count: a column for each of the outputs, in their order; it is written. Each
 * number is the double nearest to the exact one. In a row that is not planned it is NaN, and so
 * is the mass of a stock solution that there is not.
 * row_status: what became of each row, LXV_OK or one of LXV_ROW_..., which lxv_reason()
 * explains; it is written. May be NULL.
 * answer: where the answer goes; it is set to NULL first, then to the answer:
 *     {"planned": {"value": 998.0, "exact": "998"},
 *      "faults": [{"code": "negative", "at": "rows[17].fats[1]", "says": "..."}, ...],
 *      "cautions": [{"code": "lye_burns", "says": "..."}, ...]}
 * The faults are those of the first 20 rows that are not planned; rows count from 0.
 *
 * Columns that are written overlap with no other column. For 0 rows columns may be NULL.
 *
 * NULL: a NULL setting or column gives LXV_BAD_ARGUMENT and an answer that says so; a NULL
 * answer gives LXV_BAD_ARGUMENT alone.
 * Owner: all columns stay the caller's, and are not used after the call. The caller owns the
 * answer and releases it with lxv_free().
 * Returns: LXV_OK if the rows were gone through, planned or not; or another status with an error
 * answer, and nothing written to the columns.
 * Threads: any, at the same time too: rows can be split among threads.
 */
int32_t lxv_columns(const char *setting,
                    size_t rows,
                    const double *const *fats,
                    size_t fat_count,
                    const double *superfat,
                    double *const *outputs,
                    size_t output_count,
                    int32_t *row_status,
                    char **answer);

#ifdef __cplusplus
}  // extern "C"
#endif  // __cplusplus

#endif  /* LIXIVIUM_H */
