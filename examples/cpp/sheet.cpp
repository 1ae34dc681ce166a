// A batch sheet from C++: reads a recipe, plans it, prints what to weigh.
//
//     c++ -std=c++17 sheet.cpp $(pkg-config --cflags --libs lixivium) -o sheet
//     ./sheet ../recipes/winter-fair.json
//
// or with CMakeLists.txt beside it. Needs nlohmann/json (nlohmann-json3-dev). The recipe is an
// invented batch for a winter fair.

#include "lixivium.hpp"

#include <cstdio>
#include <fstream>
#include <iostream>

using lixivium::Json;

// Every number is {"value": double, "exact": "text"}.
static void line(const Json &number, const char *unit, const std::string &name)
{
    std::printf("%10.2f %s  %s\n", number.at("value").get<double>(), unit, name.c_str());
}

static void print_sheet(const Json &plan)
{
    for (const auto &caution : plan.at("cautions"))
        std::printf("! %s\n", caution.at("says").get<std::string>().c_str());
    line(plan.at("water_to_add_mass"), "g", "Water");
    line(plan.at("naoh_mass"), "g", "Sodium hydroxide, into the water");
    line(plan.at("koh_mass"), "g", "Potassium hydroxide, into the water");
    for (const auto list : {"fats", "acids", "additives"})
        for (const auto &item : plan.at(list))
            line(item.at("mass"), "g", item.at("name"));
    line(plan.at("batter_mass"), "g", "Batter, all together");
    line(plan.at("superfat"), "%", "Superfat, as weighed");
    line(plan.at("lye_concentration"), "%", "Lye concentration, as weighed");
}

int main(int argc, char **argv)
{
    if (argc != 2) {
        std::cerr << "usage: sheet RECIPE.json\n";
        return 2;
    }
    try {
        std::ifstream file(argv[1]);
        print_sheet(lixivium::call("plan", Json::parse(file)));
        return 0;
    } catch (const lixivium::Error &error) {
        std::cerr << error.what() << '\n';
    } catch (const Json::exception &error) {
        std::cerr << "The recipe is no JSON: " << error.what() << '\n';
    }
    return 1;
}
