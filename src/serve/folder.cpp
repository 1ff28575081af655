#include "folder.h"

#include "fadewright/base/files.h"
#include "fadewright/text/tree.h"
#include "starts.h"

#include <fmt/chrono.h>
#include <fmt/core.h>

#include <sys/stat.h>

#include <algorithm>
#include <filesystem>

namespace fadewright::serve {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kLongestName = 100;
constexpr std::string_view kEnding = ".toml";

bool is_plain_file(const std::string& name) {
    struct stat found {};
    return ::lstat(name.c_str(), &found) == 0 && S_ISREG(found.st_mode);
}

bool exists(const std::string& name) {
    struct stat found {};
    return ::lstat(name.c_str(), &found) == 0;
}

std::string changed_at(const std::string& name) {
    struct stat found {};
    if (::stat(name.c_str(), &found) != 0) return "";
    return fmt::format("{:%Y-%m-%d %H:%M}", fmt::localtime(found.st_mtime));
}

// Files of the folder that may be plans, in order.
std::vector<std::string> plan_names() {
    std::vector<std::string> names;
    std::error_code fault;
    for (fs::directory_iterator entry(".", fault), end; !fault && entry != end; entry.increment(fault)) {
        std::string name = entry->path().filename().string();
        if (is_plan_name(name) && is_plain_file(name)) names.push_back(std::move(name));
    }
    std::sort(names.begin(), names.end());
    return names;
}

// The title a plan gives itself; nothing if the file is no plan.
std::optional<std::string> title_of(const std::string& name, bool& sound) {
    const Result<std::string> text = read_whole(name, kTextFileLimit_bytes);
    if (!text) return std::nullopt;
    Diagnostics unheard;
    const auto tree = read_toml(std::make_shared<const Source>(name, text.value()), unheard);
    sound = tree && tree->whole;
    if (!tree) return "";
    if (!tree->root.find("plan")) return std::nullopt;
    const Node* title = tree->root.find("title");
    return title ? title->text : "";
}

Answer wrong_name(const std::string& name) {
    return refuse(400, fmt::format("'{}' cannot be the name of a plan", name),
                  "letters, digits, blanks, dots, dashes; it ends in .toml");
}

Answer opened(const std::string& name, const std::string& text) {
    return answer({{"file", name}, {"text", text}, {"stamp", sha256_hex(text)}});
}

Answer written(const std::string& name, const std::string& text) {
    if (const Result<Done> done = write_whole(name, text); !done) return refuse(500, done.refusal().message);
    return answer({{"file", name}, {"stamp", sha256_hex(text)}});
}

}  // namespace

bool is_plan_name(const std::string& name) {
    const auto fits = [](char c) {
        const auto u = static_cast<unsigned char>(c);
        return u >= 0x80 || std::isalnum(u) != 0 ||
               std::string_view(" ._-()+").find(c) != std::string_view::npos;
    };
    return name.size() > kEnding.size() && name.size() <= kLongestName && name.ends_with(kEnding) &&
           name.front() != '.' && name.front() != '-' && std::all_of(name.begin(), name.end(), fits);
}

bool leads_elsewhere(const std::string& name) { return exists(name) && !is_plain_file(name); }

Answer Folder::listed() const {
    Json plans = Json::array();
    for (const std::string& name : plan_names()) {
        bool sound = true;
        if (const auto title = title_of(name, sound))
            plans.push_back(
                {{"file", name}, {"title", *title}, {"changed", changed_at(name)}, {"sound", sound}});
    }
    Json offered = Json::array();
    for (const Start& start : starts())
        offered.push_back({{"name", start.name}, {"title", start.title}, {"about", start.about}});
    return answer({{"folder", title_}, {"plans", plans}, {"starts", offered}});
}

Answer Folder::open(const Asked& asked) const {
    const std::string name = asked.text("file");
    if (!is_plan_name(name)) return wrong_name(name);
    if (!is_plain_file(name)) return refuse(404, fmt::format("there is no plan '{}' in the folder", name));
    const Result<std::string> text = read_whole(name, kTextFileLimit_bytes);
    return text ? opened(name, text.value()) : refuse(500, text.refusal().message);
}

Answer Folder::begin(const Asked& asked) {
    const std::string name = asked.text("file");
    if (!is_plan_name(name)) return wrong_name(name);
    const Start* start = start_called(asked.text("start"));
    if (!start) return refuse(400, fmt::format("nothing begins with '{}'", asked.text("start")));
    const std::lock_guard lock(writing_);
    if (exists(name))
        return refuse(409, fmt::format("there is a '{}' already", name), "give it another name");
    const Answer done = written(name, start->text);
    return done.status == 200 ? opened(name, start->text) : done;
}

Answer Folder::save(const Asked& asked) {
    const std::string as = asked.text("as");
    const std::string name = as.empty() ? asked.text("file") : as;
    if (!is_plan_name(name)) return wrong_name(name);
    const std::string text = asked.text("text");
    const std::lock_guard lock(writing_);
    if (!as.empty() && exists(name))
        return refuse(409, fmt::format("there is a '{}' already", name), "give it another name");
    if (as.empty() && exists(name)) {
        if (leads_elsewhere(name)) return refuse(403, fmt::format("'{}' is not a file of this folder", name));
        const Result<std::string> there = read_whole(name, kTextFileLimit_bytes);
        if (!there) return refuse(500, there.refusal().message);
        const std::string stamp = sha256_hex(there.value());
        if (stamp != asked.text("stamp") && there.value() != text)
            return answer({{"refused", fmt::format("'{}' was changed on disk meanwhile", name)},
                           {"hint", "look at both and keep one, or save yours under another name"},
                           {"changed_on_disk", true},
                           {"text", there.value()},
                           {"stamp", stamp}},
                          409);
    }
    return written(name, text);
}

std::map<std::string, Folder::OnDisk> Folder::on_disk(const std::map<std::string, OnDisk>& known) const {
    std::map<std::string, OnDisk> found;
    for (const std::string& name : plan_names()) {
        struct stat file {};
        if (::lstat(name.c_str(), &file) != 0) continue;
        OnDisk now{"", file.st_ino, file.st_size, 1'000'000'000 * file.st_mtim.tv_sec + file.st_mtim.tv_nsec};
        const auto was = known.find(name);
        if (was != known.end() && was->second.file == now.file && was->second.size == now.size &&
            was->second.changed_ns == now.changed_ns) {
            found[name] = was->second;
        } else if (const Result<std::string> text = read_whole(name, kTextFileLimit_bytes)) {
            now.stamp = sha256_hex(text.value());
            found[name] = std::move(now);
        }
    }
    return found;
}

}  // namespace fadewright::serve
