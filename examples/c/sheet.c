/*
 * A batch sheet from C: reads a recipe, plans it, prints what to weigh.
 *
 *     cc sheet.c $(pkg-config --cflags --libs lixivium libcjson) -o sheet
 *     ./sheet ../recipes/winter-fair.json
 *
 * or with CMakeLists.txt beside it. lixivium.h says who owns what; cJSON (libcjson-dev) reads
 * the answer. The recipe is an invented batch for a winter fair.
 */

#include <stdio.h>
#include <stdlib.h>

#include <cjson/cJSON.h>
#include <lixivium.h>

/* The whole of a file, to be freed; NULL if it cannot be read. */
static char *read_file(const char *path)
{
    FILE *file = fopen(path, "rb");
    char *text = NULL;
    long bytes;

    if (file == NULL)
        return NULL;
    if (fseek(file, 0, SEEK_END) == 0 && (bytes = ftell(file)) >= 0
        && fseek(file, 0, SEEK_SET) == 0 && (text = malloc((size_t)bytes + 1)) != NULL)
        text[fread(text, 1, (size_t)bytes, file)] = '\0';
    fclose(file);
    return text;
}

static const char *text_of(const cJSON *object, const char *key)
{
    return cJSON_GetStringValue(cJSON_GetObjectItem(object, key));
}

/* Every number is {"value": double, "exact": "text"}. */
static void line(const cJSON *object, const char *key, const char *unit, const char *name)
{
    const cJSON *number = cJSON_GetObjectItem(object, key);

    printf("%10.2f %s  %s\n", cJSON_GetNumberValue(cJSON_GetObjectItem(number, "value")), unit,
           name);
}

static void print_sheet(const cJSON *plan)
{
    static const char *const lists[] = {"fats", "acids", "additives"};
    const cJSON *item;
    size_t i;

    cJSON_ArrayForEach(item, cJSON_GetObjectItem(plan, "cautions"))
        printf("! %s\n", text_of(item, "says"));
    line(plan, "water_to_add_mass", "g", "Water");
    line(plan, "naoh_mass", "g", "Sodium hydroxide, into the water");
    line(plan, "koh_mass", "g", "Potassium hydroxide, into the water");
    for (i = 0; i < sizeof lists / sizeof *lists; i++)
        cJSON_ArrayForEach(item, cJSON_GetObjectItem(plan, lists[i]))
            line(item, "mass", "g", text_of(item, "name"));
    line(plan, "batter_mass", "g", "Batter, all together");
    line(plan, "superfat", "%", "Superfat, as weighed");
    line(plan, "lye_concentration", "%", "Lye concentration, as weighed");
}

int main(int argc, char **argv)
{
    char *recipe, *answer;
    const cJSON *fault;
    cJSON *json;
    int32_t status;

    if (argc != 2 || (recipe = read_file(argv[1])) == NULL) {
        fputs("usage: sheet RECIPE.json\n", stderr);
        return 2;
    }
    if (lxv_abi_version() != LXV_ABI_VERSION) {
        fputs("liblixivium has another ABI than this program\n", stderr);
        return 2;
    }
    status = lxv_call("plan", recipe, &answer);
    free(recipe);
    json = cJSON_Parse(answer);
    lxv_free(answer);

    if (status == LXV_OK) {
        print_sheet(json);
    } else {
        const cJSON *error = cJSON_GetObjectItem(json, "error");
        cJSON_ArrayForEach(fault, cJSON_GetObjectItem(error, "faults"))
            fprintf(stderr, "%s: %s\n", text_of(fault, "at"), text_of(fault, "says"));
    }
    cJSON_Delete(json);
    return status == LXV_OK ? EXIT_SUCCESS : EXIT_FAILURE;
}
