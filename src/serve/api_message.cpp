#include "api_message.h"

namespace fadewright::serve {

std::string ApiRequest::text(const char* key, const std::string& fallback) const {
    const auto found = body.find(key);
    return found != body.end() && found->is_string() ? found->get<std::string>() : fallback;
}

bool ApiRequest::boolean(const char* key) const {
    const auto found = body.find(key);
    return found != body.end() && found->is_boolean() && found->get<bool>();
}

std::optional<long> ApiRequest::integer(const char* key) const {
    const auto found = body.find(key);
    return found != body.end() && found->is_number_integer() ? std::optional(found->get<long>())
                                                             : std::nullopt;
}

// Bytes that are not UTF-8 become replacement characters.
ApiResponse json_response(const Json& json, int status) {
    return {status, json.dump(-1, ' ', false, Json::error_handler_t::replace), "application/json", {}};
}

ApiResponse error_response(int status, const std::string& message, const std::string& hint) {
    return json_response({{"error", message}, {"hint", hint}}, status);
}

}  // namespace fadewright::serve
