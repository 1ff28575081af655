#include "fadewright/text/reference.h"

#include <fmt/core.h>

namespace fadewright {

std::string reference_markdown(const std::vector<ReferenceTable>& tables) {
    std::string out;
    for (const ReferenceTable& table : tables) {
        out += fmt::format(
            "## {}\n\n{}\n\n| name | type | allowed | default | meaning |\n|---|---|---|---|---|\n",
            table.name, table.about);
        for (const ReferenceRow& row : table.rows)
            out += fmt::format(
                "| `{}` | {} | {} | {} | {} |\n", row.name, row.type, row.allowed,
                row.default_value == "required" || row.default_value.empty() || row.default_value == "none"
                    ? row.default_value
                    : "`" + row.default_value + "`",
                row.about);
        out += "\n";
    }
    return out;
}

}  // namespace fadewright
