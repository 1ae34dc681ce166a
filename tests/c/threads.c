/*
 * Many threads at once: each asks every request that is given, line by line as "operation TAB
 * request" on standard input, in an order of its own, and gets the answers that one thread gets.
 *
 * With the argument "race" the threads count without a lock, so that whoever watches them can
 * itself be checked.
 */

#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <lixivium.h>

enum { LONGEST = 1 << 16, MOST = 1000, THREADS = 16 };

static struct {
    char *operation, *request, *answer;
} asked[MOST];
static size_t count = 0;
static int race = 0, counted = 0;

static char *copied(const char *text)
{
    char *copy = (char *)malloc(strlen(text) + 1);

    if (copy == NULL)
        exit(EXIT_FAILURE);
    return strcpy(copy, text);
}

static void read_requests(void)
{
    static char line[LONGEST];

    while (count < MOST && fgets(line, LONGEST, stdin) != NULL) {
        char *tab = strchr(line, '\t');

        if (tab == NULL)
            continue;
        line[strcspn(line, "\n")] = '\0';
        *tab = '\0';
        asked[count].operation = copied(line);
        asked[count].request = copied(tab + 1);
        lxv_call(asked[count].operation, asked[count].request, &asked[count].answer);
        count++;
    }
}

static void *work(void *argument)
{
    size_t first = *(const size_t *)argument, i;
    size_t *wrong = (size_t *)argument;

    *wrong = 0;
    for (i = 0; i < count; i++) {
        size_t at = (first * 7 + i) % count;
        char *answer = NULL;

        lxv_call(asked[at].operation, asked[at].request, &answer);
        *wrong += answer == NULL || strcmp(answer, asked[at].answer) != 0;
        lxv_free(answer);
        *wrong += lxv_naoh_for_fat(500, 190, 5, 98, 0.1) != 65.6;
        if (race)
            counted++;
    }
    return NULL;
}

int main(int argc, char **argv)
{
    pthread_t threads[THREADS];
    size_t given[THREADS], wrong = 0, i;

    race = argc == 2 && strcmp(argv[1], "race") == 0;
    read_requests();
    for (i = 0; i < THREADS; i++) {
        given[i] = i;
        if (pthread_create(&threads[i], NULL, work, &given[i]) != 0)
            return EXIT_FAILURE;
    }
    for (i = 0; i < THREADS; i++) {
        pthread_join(threads[i], NULL);
        wrong += given[i];
    }
    for (i = 0; i < count; i++) {
        lxv_free(asked[i].answer);
        free(asked[i].request);
        free(asked[i].operation);
    }
    printf("threads.c: %d threads, %zu requests, %zu wrong\n", (int)THREADS, count, wrong);
    if (race)
        printf("counted %d\n", counted);
    return count > 0 && wrong == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
