#include "case_file.h"

#include "published.h"

#include <algorithm>
#include <filesystem>
#include <sstream>
#include <stdexcept>

namespace fadewright::test {
namespace {

constexpr std::string_view kScratch = "$SCRATCH";

std::string replaced(std::string text, std::string_view what, std::string_view by) {
    for (std::size_t at = 0; (at = text.find(what, at)) != std::string::npos; at += by.size())
        text.replace(at, what.size(), by);
    return text;
}

std::vector<std::string> words_of(const std::string& line) {
    std::vector<std::string> words;
    bool quoted = false, open = false;
    for (const char c : line) {
        if (c == '"') {
            quoted = !quoted;
            if (!open) words.emplace_back();
            open = true;
        } else if (c == ' ' && !quoted) {
            open = false;
        } else {
            if (!open) words.emplace_back();
            open = true;
            words.back() += c;
        }
    }
    return words;
}

void read_head(const std::string& line, Case& one, const std::string& path) {
    const std::string key = line.substr(0, line.find(' '));
    const std::size_t start = line.find_first_not_of(' ', key.size());
    const std::string value = start == std::string::npos ? "" : line.substr(start);
    if (key == "command") {
        one.run.arguments = words_of(value);
    } else if (key == "exit") {
        one.exit = std::stoi(value);
    } else if (key == "environment") {
        one.run.environment.push_back(value);
    } else if (key == "input") {
        one.run.input = source_path(value);
    } else if (key == "output" && value == "closed") {
        one.run.output = Output::closed;
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
    Case one;
    Expected* section = nullptr;
    std::istringstream lines(replaced(file_text(path), kScratch, scratch));
    for (std::string line; std::getline(lines, line);) {
        if (line.starts_with("--- ")) {
            const std::vector<std::string> words = words_of(line);
            if (words.size() < 2 || (words[1] != "out" && words[1] != "talk"))
                throw std::runtime_error(path + ": what is '" + line + "'?");
            section = words[1] == "out" ? &one.out : &one.talk;
            section->match = words.size() > 2 && words[2] == "contains" ? Match::contains : Match::whole;
        } else if (section) {
            section->text += line + "\n";
        } else if (!line.empty() && line[0] != '#') {
            read_head(line, one, path);
        }
    }
    return one;
}

void accept_case(const std::string& path, const Ran& ran, const std::string& scratch) {
    std::string kept;
    bool keep = true;
    std::istringstream lines(file_text(path));
    for (std::string line; std::getline(lines, line);) {
        if (line.starts_with("--- ")) keep = true;
        if (keep) kept += line + "\n";
        if (line != "--- out" && line != "--- talk") continue;
        kept += replaced(line == "--- out" ? ran.out : ran.talk, scratch, kScratch);
        keep = false;
    }
    if (kept != file_text(path)) write_file(path, kept);
}

std::string missing_lines(const Expected& expected, const std::string& text) {
    std::string missing;
    std::istringstream lines(expected.text);
    for (std::string line; std::getline(lines, line);)
        if (text.find(line) == std::string::npos) missing += line + "\n";
    return missing;
}

}  // namespace fadewright::test
