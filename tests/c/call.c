/* Carries out one operation: call OPERATION <request >answer. Exits with the status. */

#include <stdio.h>
#include <stdlib.h>

#include <lixivium.h>

enum { LONGEST = 1 << 26 };

int main(int argc, char **argv)
{
    char *request, *answer;
    size_t bytes;
    int32_t status;

    if (argc != 2) {
        fputs("usage: call OPERATION <request >answer\n", stderr);
        return EXIT_FAILURE;
    }
    request = (char *)malloc(LONGEST);
    if (request == NULL)
        return EXIT_FAILURE;
    bytes = fread(request, 1, LONGEST - 1, stdin);
    request[bytes] = '\0';
    status = lxv_call(argv[1], request, &answer);
    puts(answer);
    lxv_free(answer);
    free(request);
    return status;
}
