#include "case_file.h"

#include "published_table.h"

#include <algorithm>
#include <filesystem>
#include <sstream>
#include <stdexcept>

namespace fadewright::test {
namespace {

constexpr std::string_view kScratch = "$SCRATCH";

std::string replace_all(std::string text, std::string_view from, std::string_view to) {
    for (std::size_t at = 0; (at = text.find(from, at)) != std::string::npos; at += to.size())
        text.replace(at, from.size(), to);
    return text;
}

std::vector<std::string> split_words(const std::string& line) {
    std::vector<std::string> parts;
    bool quoted = false, open = false;
    for (const char c : line) {
        if (c == '"') {
            quoted = !quoted;
            if (!open) parts.emplace_back();
            open = true;
        } else if (c == ' ' && !quoted) {
            open = false;
        } else {
            if (!open) parts.emplace_back();
            open = true;
            parts.back() += c;
        }
    }
    return parts;
}

void read_head(const std::string& line, Case& parsed, const std::string& path) {
    const std::string key = line.substr(0, line.find(' '));
    const std::size_t start = line.find_first_not_of(' ', key.size());
    const std::string value = start == std::string::npos ? "" : line.substr(start);
    if (key == "command") {
        parsed.run.arguments = split_words(value);
    } else if (key == "exit") {
        parsed.exit = std::stoi(value);
    } else if (key == "environment") {
        parsed.run.environment.push_back(value);
    } else if (key == "input") {
        parsed.run.input = source_path(value);
    } else if (key == "output" && value == "closed") {
        parsed.run.output = Output::closed;
    } else {
        throw std::runtime_error(path + ": what is '" + line + "'?");
    }
}

}  // namespace

std::vector<std::string> case_paths() {
    std::vector<std::string> paths;
    for (const auto& entry : std::filesystem::directory_iterator(source_path("tests/cli")))
        if (entry.path().extension() == ".test") paths.push_back(entry.path().string());
    std::sort(paths.begin(), paths.end());
    return paths;
}

Case read_case(const std::string& path, const std::string& scratch) {
    Case parsed;
    Expected* section = nullptr;
    std::istringstream lines(replace_all(file_text(path), kScratch, scratch));
    for (std::string line; std::getline(lines, line);) {
        if (line.starts_with("--- ")) {
            const std::vector<std::string> parts = split_words(line);
            if (parts.size() < 2 || (parts[1] != "out" && parts[1] != "err"))
                throw std::runtime_error(path + ": what is '" + line + "'?");
            section = parts[1] == "out" ? &parsed.out : &parsed.err;
            section->match = parts.size() > 2 && parts[2] == "contains" ? Match::contains : Match::exact;
        } else if (section) {
            section->text += line + "\n";
        } else if (!line.empty() && line[0] != '#') {
            read_head(line, parsed, path);
        }
    }
    return parsed;
}

void accept_case(const std::string& path, const RunResult& ran, const std::string& scratch) {
    std::string new_text;
    bool keep = true;
    std::istringstream lines(file_text(path));
    for (std::string line; std::getline(lines, line);) {
        if (line.starts_with("--- ")) keep = true;
        if (keep) new_text += line + "\n";
        if (line != "--- out" && line != "--- err") continue;
        new_text += replace_all(line == "--- out" ? ran.out : ran.err, scratch, kScratch);
        keep = false;
    }
    if (new_text != file_text(path)) write_file(path, new_text);
}

std::string missing_lines(const Expected& expected, const std::string& text) {
    std::string missing;
    std::istringstream lines(expected.text);
    for (std::string line; std::getline(lines, line);)
        if (text.find(line) == std::string::npos) missing += line + "\n";
    return missing;
}

}  // namespace fadewright::test
