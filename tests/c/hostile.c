/*
 * Carries out the requests of a file, each by lxv_call_n() and, where no NUL is inside, by
 * lxv_call() too; writes the answers to another file. The formats are those of
 * tests/hosts/hostile.py.
 *
 * Each text lies in memory of exactly its size, so that whoever watches sees one byte too many.
 */

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <lixivium.h>

static void stop(const char *why)
{
    fprintf(stderr, "hostile: %s\n", why);
    exit(EXIT_FAILURE);
}

static char *taken(FILE *file, size_t bytes)
{
    char *text = (char *)malloc(bytes == 0 ? 1 : bytes);

    if (text == NULL || fread(text, 1, bytes, file) != bytes)
        stop("the file of requests ends too early");
    return text;
}

/* The same with a NUL, in memory of its own. */
static char *terminated(const char *text, size_t bytes)
{
    char *copy = (char *)malloc(bytes + 1);

    if (copy == NULL)
        stop("no memory");
    memcpy(copy, text, bytes);
    copy[bytes] = '\0';
    return copy;
}

static void compare(const char *operation, size_t operation_bytes, const char *request,
                    size_t request_bytes, int32_t status, const char *answer)
{
    char *name = terminated(operation, operation_bytes);
    char *text = terminated(request, request_bytes);
    char *other = NULL;

    if (lxv_call(name, text, &other) != status || other == NULL || strcmp(other, answer) != 0)
        stop("lxv_call() and lxv_call_n() differ");
    lxv_free(other);
    free(text);
    free(name);
}

int main(int argc, char **argv)
{
    FILE *requests, *answers;
    size_t operation_bytes, request_bytes;

    if (argc != 3 || (requests = fopen(argv[1], "rb")) == NULL
        || (answers = fopen(argv[2], "wb")) == NULL)
        stop("usage: hostile REQUESTS ANSWERS");
    while (fscanf(requests, "%zu %zu", &operation_bytes, &request_bytes) == 2) {
        char *operation, *request, *answer = NULL;
        size_t bytes = 0;
        int32_t status;

        if (fgetc(requests) != '\n')
            stop("no end of line after the sizes");
        operation = taken(requests, operation_bytes);
        request = taken(requests, request_bytes);
        status = lxv_call_n(operation, operation_bytes, request, request_bytes, &answer, &bytes);
        if (answer == NULL || strlen(answer) != bytes)
            stop("an answer does not have the length that is stated");
        if (memchr(operation, '\0', operation_bytes) == NULL
            && memchr(request, '\0', request_bytes) == NULL)
            compare(operation, operation_bytes, request, request_bytes, status, answer);
        fprintf(answers, "%d %zu\n%s", (int)status, bytes, answer);
        lxv_free(answer);
        free(request);
        free(operation);
    }
    if (!feof(requests) || fclose(answers) != 0)
        stop("the file of requests is not as it should be");
    fclose(requests);
    return EXIT_SUCCESS;
}
