/* Reads lines "operation TAB request", prints lines "status TAB answer"; see vectors.py. */

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <lixivium.h>

enum { LONGEST = 1 << 20 };

int main(void)
{
    char *line = (char *)malloc(LONGEST);

    while (line != NULL && fgets(line, LONGEST, stdin) != NULL) {
        char *request = strchr(line, '\t'), *answer;
        int32_t status;

        line[strcspn(line, "\n")] = '\0';
        if (request == NULL)
            return EXIT_FAILURE;
        *request++ = '\0';
        status = lxv_call(line, request, &answer);
        printf("%d\t%s\n", (int)status, answer);
        lxv_free(answer);
    }
    free(line);
    return EXIT_SUCCESS;
}
