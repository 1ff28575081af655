#include "fadewright/report/cautions.h"

#include "embedded.h"
#include "fadewright/base/contract.h"

#include <sstream>

namespace fadewright::report {

std::vector<std::string> cautions(const std::vector<std::string>& extra) {
    std::vector<std::string> lines;
    for (const EmbeddedFile& file : embedded_report_texts()) {
        if (file.path != "cautions.txt") continue;
        std::istringstream text{std::string(file.text)};
        for (std::string line; std::getline(text, line);)
            if (!line.empty()) lines.push_back(line);
    }
    FW_ENSURES(!lines.empty());
    lines.insert(lines.end(), extra.begin(), extra.end());
    return lines;
}

}  // namespace fadewright::report
