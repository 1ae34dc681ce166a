// Lixivium for C++: lixivium.h with strings that release themselves and faults that are thrown.
// JSON values are those of nlohmann/json. Needs C++17. Any thread may call, several at once too.

#ifndef LIXIVIUM_HPP
#define LIXIVIUM_HPP

#include <lixivium.h>

#include <memory>
#include <nlohmann/json.hpp>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>

namespace lixivium {

using Json = nlohmann::json;

/// What is wrong with a request: `faults` is a list of {"code", "at", "says"}.
class Error : public std::runtime_error {
public:
    explicit Error(Json list) : std::runtime_error(sentence(list)), faults(std::move(list)) {}

    const Json faults;

private:
    static std::string sentence(const Json &list)
    {
        std::string all;
        for (const auto &fault : list) {
            const auto at = fault.at("at").get<std::string>();
            all += (all.empty() ? "" : "\n") + at + (at.empty() ? "" : ": ")
                + fault.at("says").get<std::string>();
        }
        return all;
    }
};

/// Carries out one operation, JSON text in and out; the number is the status, LXV_OK or another.
inline std::pair<int32_t, std::string> ask(std::string_view operation, std::string_view request)
{
    char *text = nullptr;
    std::size_t bytes = 0;
    const auto status = lxv_call_n(operation.data(), operation.size(), request.data(),
                                   request.size(), &text, &bytes);
    const std::unique_ptr<char, void (*)(char *)> owner(text, lxv_free);
    return {status, std::string(text == nullptr ? "" : text, bytes)};
}

/// Carries out one operation. Throws Error with all faults of the request.
inline Json call(std::string_view operation, const Json &request)
{
    const auto [status, text] = ask(operation, request.dump());
    auto answer = Json::parse(text);
    if (status != LXV_OK)
        throw Error(answer.at("error").at("faults"));
    return answer;
}

} // namespace lixivium

#endif
