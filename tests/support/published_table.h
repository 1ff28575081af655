// Loads a table of tests/published: comment lines start with '#', the first other line names the columns.
#pragma once

#include <map>
#include <string>
#include <vector>

namespace fadewright::test {

// One row; number("K") reads a column as a double and text("name") as text. A missing column fails the test
// by an exception, so a renamed column is noticed.
class Row {
public:
    Row(const std::vector<std::string>& names, const std::vector<std::string>& cells);
    [[nodiscard]] double number(const std::string& column) const;
    [[nodiscard]] const std::string& text(const std::string& column) const;

private:
    std::map<std::string, std::string> cells_;
};

[[nodiscard]] std::vector<Row> published_rows(const std::string& file);  // below tests/published
[[nodiscard]] std::string source_path(const std::string& below);         // below the source tree
[[nodiscard]] std::string scratch_path(const std::string& name);         // below the build tree

}  // namespace fadewright::test
