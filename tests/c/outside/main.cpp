// The same as main.c, in C++.

#include <lixivium.h>

#include <iostream>

int main()
{
    double naoh_g;
    const int32_t status = lxv_naoh_for_fat_checked(500, 190, 5, 98, 0.1, &naoh_g);

    if (status != LXV_OK) {
        std::cout << lxv_reason(status) << '\n';
        return 1;
    }
    std::cout << "naoh " << naoh_g << " g, lixivium " << lxv_version() << '\n';
}
