// Reads lines "operation TAB request", prints lines "status TAB answer"; see vectors.py.

#include <iostream>
#include <string>

#include "../../examples/cpp/lixivium.hpp"

int main()
{
    for (std::string line; std::getline(std::cin, line);) {
        const auto tab = line.find('\t');
        const auto [status, answer] = lixivium::ask(line.substr(0, tab), line.substr(tab + 1));
        std::cout << status << '\t' << answer << '\n';
    }
}
