#include "answer.h"

namespace fadewright::serve {

std::string Asked::text(const char* key, const std::string& otherwise) const {
    const auto found = body.find(key);
    return found != body.end() && found->is_string() ? found->get<std::string>() : otherwise;
}

bool Asked::truth(const char* key) const {
    const auto found = body.find(key);
    return found != body.end() && found->is_boolean() && found->get<bool>();
}

std::optional<long> Asked::whole(const char* key) const {
    const auto found = body.find(key);
    return found != body.end() && found->is_number_integer() ? std::optional(found->get<long>())
                                                             : std::nullopt;
}

// Text that is not UTF-8 is shown with marks in its place rather than not at all.
Answer answer(const Json& json, int status) {
    return {status, json.dump(-1, ' ', false, Json::error_handler_t::replace), "application/json", {}};
}

Answer refuse(int status, const std::string& message, const std::string& hint) {
    return answer({{"refused", message}, {"hint", hint}}, status);
}

}  // namespace fadewright::serve
