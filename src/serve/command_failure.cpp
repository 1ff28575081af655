#include "command_failure.h"

#include <algorithm>

namespace fadewright::serve {
namespace {

// The rest of the line after a label; empty if the text has no such label.
std::string labelled_text(const std::string& text, const std::string& label) {
    const std::size_t position = text.find(label);
    if (position == std::string::npos) return "";
    const std::size_t begin = position + label.size();
    return text.substr(begin, std::min(text.find('\n', begin), text.size()) - begin);
}

}  // namespace

ApiResponse command_failure(const app::Outcome& outcome) {
    const int status = outcome.exit == app::Exit::system_error ? 500 : 422;
    const Json diagnostics = Json::parse(outcome.out, nullptr, false);
    if (diagnostics.is_array())
        for (const Json& diagnostic : diagnostics)
            if (diagnostic["severity"] == "error")
                return json_response({{"error", diagnostic["message"]},
                                      {"hint", diagnostic["hint"]},
                                      {"diagnostics", diagnostics}},
                                     status);
    const std::string message = labelled_text(outcome.err, "error: "),
                      hint = labelled_text(outcome.err, "hint: ");
    return error_response(status, message.empty() ? outcome.err : message,
                          hint.find("--") == std::string::npos ? hint : "");
}

}  // namespace fadewright::serve
