/* A program outside of this repository: prints the alkali of a batch, and the version. */

#include <lixivium.h>
#include <stdio.h>

int main(void)
{
    double naoh_g;
    int32_t status = lxv_naoh_for_fat_checked(500, 190, 5, 98, 0.1, &naoh_g);

    if (status != LXV_OK) {
        puts(lxv_reason(status));
        return 1;
    }
    printf("naoh %g g, lixivium %s\n", naoh_g, lxv_version());
    return 0;
}
