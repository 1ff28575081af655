#include "folder.h"

#include "fadewright/app/session.h"
#include "fadewright/base/files.h"
#include "fadewright/text/tree.h"

#include <fmt/chrono.h>
#include <fmt/core.h>

#include <sys/stat.h>

#include <algorithm>
#include <filesystem>

namespace fadewright::serve {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kMaxNameLength = 100;
constexpr std::string_view kExtension = ".toml";

// Plans to start a new job from.
struct StarterPlan {
    std::string name, title, about, text;
};

StarterPlan load_starter(std::string name, std::string title, std::string about, std::string_view file) {
    return {std::move(name), std::move(title), std::move(about), app::preset_text(file).value_or("")};
}

const std::vector<StarterPlan>& starter_plans() {
    static const std::vector<StarterPlan> all{
        load_starter("demo", "Demo: dusk fade", "deep plum to apricot on a cargo panel, made with one fade",
                     "plans/dusk-fade-short.toml"),
        load_starter("plain", "A plain panel", "one ground coat, a fade over it, clear",
                     "plans/plain-panel.toml"),
        load_starter("by-hand", "A fade pass by pass", "the dusk fade with every gun pass listed",
                     "plans/dusk-fade.toml"),
        load_starter("burst", "Sunburst along an outline",
                     "dark edge, light centre (sunburst) on a guitar body", "plans/guitar-burst.toml")};
    return all;
}

const StarterPlan* find_starter(std::string_view name) {
    const auto found = std::find_if(starter_plans().begin(), starter_plans().end(),
                                    [&](const StarterPlan& starter) { return starter.name == name; });
    return found == starter_plans().end() ? nullptr : &*found;
}

bool is_plain_file(const std::string& path) {
    struct stat found {};
    return ::lstat(path.c_str(), &found) == 0 && S_ISREG(found.st_mode);
}

bool exists(const std::string& path) {
    struct stat found {};
    return ::lstat(path.c_str(), &found) == 0;
}

std::string modified_time(const std::string& path) {
    struct stat found {};
    if (::stat(path.c_str(), &found) != 0) return "";
    return fmt::format("{:%Y-%m-%d %H:%M}", fmt::localtime(found.st_mtime));
}

struct PlanTitle {
    std::string title;
    bool valid = false;  // TOML without errors
};

// Nothing if the file is not a plan.
std::optional<PlanTitle> title_of(const std::string& path) {
    const Result<std::string> text = read_file_bytes(path, kTextFileLimit_bytes);
    if (!text) return std::nullopt;
    Diagnostics found;
    const auto tree = read_toml(std::make_shared<const Source>(path, text.value()), found);
    if (!tree) return PlanTitle{};
    if (!tree->root.find("plan")) return std::nullopt;
    const Node* title = tree->root.find("title");
    return PlanTitle{title ? title->text : "", !found.has_errors()};
}

ApiResponse invalid_name_response(const std::string& name) {
    return error_response(400, fmt::format("'{}' is not a valid file name for a plan", name),
                          "letters, digits, spaces, dots and dashes; ends in .toml");
}

ApiResponse opened_response(const std::string& name, const std::string& text) {
    return json_response({{"file", name}, {"text", text}, {"sha256", sha256_hex(text)}});
}

}  // namespace

bool is_plan_name(const std::string& name) {
    const auto fits = [](char c) {
        const auto u = static_cast<unsigned char>(c);
        return u >= 0x80 || std::isalnum(u) != 0 ||
               std::string_view(" ._-()+").find(c) != std::string_view::npos;
    };
    return name.size() > kExtension.size() && name.size() <= kMaxNameLength && name.ends_with(kExtension) &&
           name.front() != '.' && name.front() != '-' && std::all_of(name.begin(), name.end(), fits);
}

bool Folder::is_link_or_special(const std::string& name) const {
    return exists(path_of(name)) && !is_plain_file(path_of(name));
}

std::vector<std::string> Folder::plan_names() const {
    std::vector<std::string> names;
    std::error_code error;
    for (fs::directory_iterator entry(path_, error), end; !error && entry != end; entry.increment(error)) {
        std::string name = entry->path().filename().string();
        if (is_plan_name(name) && is_plain_file(entry->path().string())) names.push_back(std::move(name));
    }
    std::sort(names.begin(), names.end());
    return names;
}

ApiResponse Folder::write_plan(const std::string& name, const std::string& text) const {
    if (const Result<Success> done = write_file_atomic(path_of(name), text); !done)
        return error_response(500, done.error().message);
    return json_response({{"file", name}, {"sha256", sha256_hex(text)}});
}

ApiResponse Folder::list() const {
    Json plans = Json::array();
    for (const std::string& name : plan_names())
        if (const auto found = title_of(path_of(name)))
            plans.push_back({{"file", name},
                             {"title", found->title},
                             {"modified", modified_time(path_of(name))},
                             {"valid", found->valid}});
    Json starters = Json::array();
    for (const StarterPlan& starter : starter_plans())
        starters.push_back({{"name", starter.name}, {"title", starter.title}, {"about", starter.about}});
    return json_response(
        {{"folder", fs::path(path_).filename().string()}, {"plans", plans}, {"starters", starters}});
}

ApiResponse Folder::open(const ApiRequest& api_request) const {
    const std::string name = api_request.text("file");
    if (!is_plan_name(name)) return invalid_name_response(name);
    if (!is_plain_file(path_of(name)))
        return error_response(404, fmt::format("no plan named '{}' in the folder", name));
    const Result<std::string> text = read_file_bytes(path_of(name), kTextFileLimit_bytes);
    return text ? opened_response(name, text.value()) : error_response(500, text.error().message);
}

ApiResponse Folder::create(const ApiRequest& api_request) {
    const std::string name = api_request.text("file");
    if (!is_plan_name(name)) return invalid_name_response(name);
    const StarterPlan* starter = find_starter(api_request.text("starter"));
    if (!starter)
        return error_response(400, fmt::format("no starter plan named '{}'", api_request.text("starter")));
    const std::lock_guard lock(write_mutex_);
    if (exists(path_of(name)))
        return error_response(409, fmt::format("'{}' already exists", name), "choose another name");
    const ApiResponse done = write_plan(name, starter->text);
    return done.status == 200 ? opened_response(name, starter->text) : done;
}

ApiResponse Folder::save(const ApiRequest& api_request) {
    const std::string save_as = api_request.text("save_as");
    const std::string name = save_as.empty() ? api_request.text("file") : save_as;
    if (!is_plan_name(name)) return invalid_name_response(name);
    const std::string text = api_request.text("text");
    const std::lock_guard lock(write_mutex_);
    if (!save_as.empty() && exists(path_of(name)))
        return error_response(409, fmt::format("'{}' already exists", name), "choose another name");
    if (save_as.empty() && exists(path_of(name))) {
        if (is_link_or_special(name))
            return error_response(403, fmt::format("'{}' is not a regular file of this folder", name));
        const Result<std::string> on_disk = read_file_bytes(path_of(name), kTextFileLimit_bytes);
        if (!on_disk) return error_response(500, on_disk.error().message);
        const std::string sha256 = sha256_hex(on_disk.value());
        if (sha256 != api_request.text("sha256") && on_disk.value() != text)
            return json_response({{"error", fmt::format("'{}' was changed outside this window", name)},
                                  {"hint", "compare both and keep one, or save yours under another name"},
                                  {"changed_on_disk", true},
                                  {"text", on_disk.value()},
                                  {"sha256", sha256}},
                                 409);
    }
    return write_plan(name, text);
}

std::map<std::string, Folder::FileState> Folder::scan(const std::map<std::string, FileState>& known) const {
    std::map<std::string, FileState> found;
    for (const std::string& name : plan_names()) {
        struct stat file {};
        if (::lstat(path_of(name).c_str(), &file) != 0) continue;
        FileState now{"", file.st_ino, file.st_size,
                      1'000'000'000 * file.st_mtim.tv_sec + file.st_mtim.tv_nsec};
        const auto previous = known.find(name);
        if (previous != known.end() && previous->second.inode == now.inode &&
            previous->second.size == now.size && previous->second.modified_ns == now.modified_ns) {
            found[name] = previous->second;
        } else if (const Result<std::string> text = read_file_bytes(path_of(name), kTextFileLimit_bytes)) {
            now.sha256 = sha256_hex(text.value());
            found[name] = std::move(now);
        }
    }
    return found;
}

}  // namespace fadewright::serve
